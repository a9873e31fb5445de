"""A visitor to a tour's stops."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from scenes.exhibit.exhibit import ExhibitBench
from scenes.exhibit.tour import said
from visual.host.server import LONGEST_STEP, Host


@pytest.fixture
def visit():
    """A visitor at the stop whose caption holds these words, who can press the buttons by their words."""

    class Visit:
        def __init__(self, tour, words: str, language: str = "en"):
            self.bench = ExhibitBench(Host(), replace(tour, quiet=1e6))
            self.bench.go_to(next(place for place, stop in enumerate(tour.stops) if words in said(stop.caption, language)))
            self.scene = self.bench.scene

        def press(self, words: str) -> None:
            self.bench.receive({"do": "try", "number": [each["words"] for each in self.screen["tries"]].index(words)})

        def watch(self, seconds: float) -> None:
            pictures = math.ceil(seconds / LONGEST_STEP - 1e-9)
            for _ in range(pictures):
                self.scene.step(seconds / pictures / self.scene.slowness)
                self.bench.attempts.pass_time(seconds / pictures)
            self.bench.read_out()

        @property
        def screen(self) -> dict:
            return self.bench.host.published["exhibit"]

        def figure(self, symbol: str) -> float:
            value = next(reading.value for reading in self.scene.readings() if reading.symbol == symbol)
            return float(value.replace("\N{MINUS SIGN}", "-"))

    return Visit
