"""A lesson as illustrated notes to print."""
