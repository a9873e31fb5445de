"""Practice for one student, and its results."""
