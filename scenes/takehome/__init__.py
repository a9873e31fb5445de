"""A lesson, or some scenes, as one file that runs without the program: recorded as the bench shows it."""
