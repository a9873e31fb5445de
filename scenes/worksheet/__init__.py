"""Exercises to print."""
