"""What everybody knows on a machine's shaft at a stop, and how fast it goes."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from scenes.exhibit.tour import TourStop
from scenes.scene.scene import Scene
from scenes.scene.views import Box, round_the_shaft
from visual.apparatus import driven
from visual.apparatus.driven import Driven
from visual.apparatus.lift import Lift


@dataclass(frozen=True)
class Kind:
    """What draws it, with its gear, and boxes round what has to be seen of it, metres."""

    drawn: Callable[[float], Driven]
    boxes: tuple[Box, ...]


KINDS: Mapping[str, Kind] = {
    "fan": Kind(driven.Fan, round_the_shaft(0.173, -0.14, -0.12)),
    "turbine": Kind(driven.Turbine, round_the_shaft(0.165, -0.14, -0.12)),
    "saw": Kind(driven.Saw, round_the_shaft(0.178, -0.11, -0.09)),
    "wind": Kind(driven.WindRotor, (*round_the_shaft(0.2, 0.16, 0.18), ((-0.05, -0.238, 0.09), (0.05, -0.2, 0.19)))),
    "drill": Kind(driven.Chuck, (((-0.022, -0.022, 0.15), (0.022, 0.022, 0.275)),)),
    "train": Kind(driven.TrainWheel, (((-0.18, -0.165, -0.12), (0.18, 0.212, -0.1)),)),
    "bicycle": Kind(driven.BicycleWheel, (((-0.125, 0.02, 0.075), (0.125, 0.27, 0.095)),)),
    "lift": Kind(Lift, (((-0.115, -0.314, 0.05), (0.135, -0.1, 0.12)),)),
}


class OnTheShaft:
    """The things on the shafts of a tour's machines: each is made once, and one at most is seen."""

    def __init__(self) -> None:
        self.made: dict[tuple[str, float], Driven] = {}
        self.seen: Driven | None = None

    def show(self, stop: TourStop) -> None:
        """What this stop has, as it stands at first."""
        if self.seen:
            self.seen.visible = False
        self.seen = None
        if stop.drives:
            key = stop.drives, stop.gear
            self.made[key] = self.made.get(key) or KINDS[stop.drives].drawn(stop.gear)
            self.seen = self.made[key]
            self.seen.visible = True
            self.seen.begin()

    def follow(self, scene: Scene) -> None:
        """Turn it as the shaft is turned by now."""
        if self.seen and scene.shaft_angle is not None:
            self.seen.follow(scene.shaft_angle)


def speed_of(stop: TourStop, scene: Scene) -> str:
    """How fast the wheel goes along at the scene's own reading of its shaft's speed; "" where the stop has none."""
    speed = shaft_speed(scene)
    if not stop.wheel or speed is None:
        return ""
    return f"{abs(speed) / 60 / stop.gear * math.pi * stop.wheel * 3.6:.0f} km/h"


def shaft_speed(scene: Scene) -> float | None:
    """The reading of the shaft's speed, r/min."""
    values = [reading.value for reading in scene.readings() if reading.symbol == "n"]
    return float(values[0].replace("\N{MINUS SIGN}", "-")) if values else None
