"""Force between two currents: a pair of parallel wires hung side by side."""

from scenes.conductors.two_wires.scene import TwoWires

__all__ = ["TwoWires"]
