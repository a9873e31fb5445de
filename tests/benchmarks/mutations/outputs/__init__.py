"""What is written to a file: which line, broken, must make which test fail."""
