"""Machines as drawn."""
