"""A motor from its nameplate."""

from physics.nameplate.fit import fit_circuit
from physics.nameplate.plate import Nameplate

__all__ = ["Nameplate", "fit_circuit"]
