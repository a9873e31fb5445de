"""A marked test: each trainee with other figures, answers kept in a file, marks for the instructor alone."""
