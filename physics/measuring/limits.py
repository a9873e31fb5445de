"""What the figures of instruments are held against."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

LEAST_INSULATION = 1e6  # ohm with `board.TEST_VOLTAGE`: IEC 60364-6, circuits up to 500 V (memory)
GOOD_INSULATION = 5e6  # ohm: IEEE 43, random-wound coils below 1 kV (memory)
DEAD_BELOW = 12.0  # V between conductors and to earth: the lowest voltage that IEC 61243-3 has a two-pole detector show (memory)
SHOWS_FROM = 100.0  # V between lines from which a phase-rotation indicator works: usual, common practice, no source
ONE_WAY = 3.0  # times by which one order of phases must exceed the other: a rotating-field indicator of ours


def unbalance(values: ArrayLike) -> float:
    """The largest deviation of three magnitudes from their mean, over that mean (NEMA MG 1, memory); 0 where all are 0."""
    sizes = np.abs(np.asarray(values))
    mean = float(sizes.mean())
    return float(np.abs(sizes - mean).max() / mean) if mean > 0 else 0.0


def phase_order(phasors: ArrayLike) -> str:
    """What a phase-rotation indicator shows for the voltages of its three clips, complex V: "clockwise" when the second lags the
    first and the third the second, "counter-clockwise" when they lead, "none" when a phase is missing or too low.

    By symmetrical components (C. L. Fortescue, 1918): one order must be `ONE_WAY` times the other.
    """
    volts = np.asarray(phasors, complex)
    between = np.abs(volts - np.roll(volts, -1))
    turn = np.exp(2j * np.pi / 3 * np.arange(3))
    forward, backward = abs(volts @ turn), abs(volts @ turn.conj())
    if between.min() < SHOWS_FROM or max(forward, backward) < ONE_WAY * min(forward, backward):
        return "none"
    return "clockwise" if forward > backward else "counter-clockwise"
