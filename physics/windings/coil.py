"""A coil and its sides, and the three phases that coils belong to."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

PHASES = ("U", "V", "W")

BALANCED = np.exp(-2j * np.pi / 3 * np.arange(3))
"""Peak phasors of balanced currents of 1 A in the order U-V-W: V lags U by 120 degrees, W lags V by 120 degrees."""
BALANCED.setflags(write=False)

_SIGNS = {1: "+", -1: "-", 0: "0"}


class Coil(NamedTuple):
    """One coil: its phase, the slots (from 0) of its go and return side, and how it is connected.

    sign: +1 as wound, -1 the other way round, 0 left out of circuit.
    """

    phase: str
    go: int
    back: int
    sign: int = 1


class CoilSide(NamedTuple):
    """One side of a coil in a slot.

    slot and coil count from 0; layer 1 is toward the bore, 2 at the bottom of the slot; sign is +1 where positive
    phase current flows toward +z, -1 where it flows away, 0 where the coil is left out.
    """

    slot: int
    layer: int
    phase: str
    sign: int
    coil: int

    def __str__(self) -> str:
        return f"{_SIGNS[self.sign]}{self.phase} coil {self.coil + 1}"
