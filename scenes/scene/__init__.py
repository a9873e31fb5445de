"""What every scene is."""
