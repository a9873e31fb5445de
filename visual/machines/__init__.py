"""Machines as one sees them."""
