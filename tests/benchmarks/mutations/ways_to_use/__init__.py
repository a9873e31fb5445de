"""Of the ways to use the scenes."""
