"""What is on the shaft: inertia, friction and loads."""
