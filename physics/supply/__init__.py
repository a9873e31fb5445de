"""Three-phase supplies, inverters, star and delta, and space vectors."""
