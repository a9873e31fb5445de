"""The cage rotor: bars and end rings, what the field induces in them, and how they move."""

from physics.cage.bars_and_rings import Cage, CageState

__all__ = ["Cage", "CageState"]
