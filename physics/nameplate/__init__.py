"""A motor from its nameplate."""

from physics.nameplate.fit import NameplateFit, fit_circuit
from physics.nameplate.plate import Nameplate

__all__ = ["Nameplate", "NameplateFit", "fit_circuit"]
