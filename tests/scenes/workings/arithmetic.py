"""The arithmetic on the board, redone from what it shows."""

from __future__ import annotations

import pytest

from scenes.workings import writing as workings
from tests import printed_sums

FACTORS = {"rev/s": 1, "r/min": 60, "": 1, "%": 100, "µT": 1, "T": 1e-6, "µN/m": 1, "N/m": 1e-6, "µN": 1, "N": 1e-6, "J": 1, "kJ": 1e-3}


def check_arithmetic(working: workings.Working) -> None:
    """Every step's numbers give its first result, as it is printed; the others are the same in other units."""
    for step in working.steps:
        first = step.results[0]
        found = printed_sums.of(step.numbers, first.text)
        assert found.off <= printed_sums.HALF, found
        for other in step.results[1:]:
            ratio = FACTORS[other.unit] / FACTORS[first.unit]
            assert other.value == pytest.approx(first.value * ratio, rel=1e-12), step
