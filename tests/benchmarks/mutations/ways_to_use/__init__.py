"""Breaks of the ways to use the scenes."""
