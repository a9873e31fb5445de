"""Worksheets: exercises to print."""
