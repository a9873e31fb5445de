"""Braking: two lines swapped, direct current, and a motor driven past synchronous speed."""
