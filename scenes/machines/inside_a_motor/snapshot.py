"""The settings, how far the motor is apart, and everything about it at one instant."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from scenes.machines.inside_a_motor.parts import Part, part_of
from scenes.machines.inside_a_motor.taking_apart import in_sight, offsets, step_now

REST, WORK = 2.5, 16.0  # s that it stays together or apart, and that taking it apart takes


@dataclass(frozen=True)
class Setup:
    """What is set. by: "itself" or "hand"; share: 0 to 1 of the whole way apart, by hand, or at which it begins by itself; number: of the
    part that is lit; asked: what the question is about."""

    motor: str
    by: str
    share: float
    number: int
    asked: str

    @classmethod
    def of(cls, settings: dict) -> Setup:
        return cls(settings["motor"], settings["by"], settings["apart"] / 100, round(settings["part"]), settings["asked"])

    @property
    def part(self) -> Part | None:
        return part_of(self.motor, self.number)


@dataclass(frozen=True)
class Progress:
    """time: s since it began to come apart or together by itself."""

    time: float = 0.0


def begin(setup: Setup) -> Progress:
    return Progress()


def advance(setup: Setup, state: Progress, seconds: float) -> Progress:
    return replace(state, time=state.time + seconds)


@dataclass(frozen=True)
class Snapshot:
    """Everything at one instant. share: 0 to 1 of the way apart; closing: whether it is being put together; places: of each part how far it
    is from where it is in the motor, m."""

    setup: Setup
    share: float
    closing: bool
    step: str
    places: dict[str, np.ndarray]
    seen: set[str]

    @property
    def part(self) -> Part | None:
        return self.setup.part

    @property
    def hides_lit(self) -> bool:
        """Whether there is a part lit that others still cover."""
        return self.part is not None and self.part.key not in self.seen


def share_at(start: float, time: float) -> tuple[float, bool]:
    """How far apart it is by itself, and whether it is being put together: from `start` first to the end that is further away, with a
    rest at either end."""
    closes_first = start >= 0.5
    way = start if closes_first else 1.0 - start  # to the end it goes to first, as a share of the whole way
    laps, within = divmod(time + (1.0 - way) * WORK, WORK + REST)
    done = min(within / WORK, 1.0)
    closing = (int(laps) % 2 == 0) == closes_first
    return (1.0 - done if closing else done), closing


def observe(setup: Setup, state: Progress) -> Snapshot:
    share, closing = (setup.share, False) if setup.by == "hand" else share_at(setup.share, state.time)
    return Snapshot(setup, share, closing, step_now(setup.motor, share), offsets(setup.motor, share), in_sight(setup.motor, share))
