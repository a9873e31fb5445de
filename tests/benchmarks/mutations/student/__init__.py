"""Breaks of what a student meets."""
