"""Breaks in the lesson."""
