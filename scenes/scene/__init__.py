"""What the scenes have in common."""
