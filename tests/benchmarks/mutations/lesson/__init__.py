"""Breaks in a lesson: as it is made, and as it is taken home."""
