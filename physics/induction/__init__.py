"""The induction motor: its equivalent circuit, its transients, and what follows from them."""

from physics.induction.circuit import EquivalentCircuit, OperatingPoint
from physics.induction.run_up import History, run_up

__all__ = ["EquivalentCircuit", "History", "OperatingPoint", "run_up"]
