"""Of the drives."""
