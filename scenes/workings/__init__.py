"""The arithmetic, as one writes it on the board."""
