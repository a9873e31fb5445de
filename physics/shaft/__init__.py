"""What stands on the shaft: inertia, friction and loads."""
