"""A motor being braked: its contactors, and where the energy goes."""
