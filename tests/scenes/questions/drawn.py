"""Questions of every kind and scene, drawn once for all tests that look at them."""

from __future__ import annotations

import os
import random
import re
from contextlib import suppress
from functools import lru_cache
from typing import NamedTuple

from scenes import catalogue
from scenes.questions.kinds import as_it_stands, draw
from scenes.scene.question import Question

STATES = int(os.environ.get("THUMBWISE_STATES", "0"))  # questions of each kind
RUNS = int(os.environ.get("THUMBWISE_RUNS", STATES))  # of those for whose answer a run is worked out, where that is to be fewer
BY_HAND = 12  # times that settings are chosen for each kind
DRAWS = 100  # or else of a scene, all its kinds together
FEW = 4  # of a kind for whose answer a run is worked out, unless all are asked for
WORKED_OUT = {
    ("one-phase", "forward"), ("one-phase", "trips"), ("synchronous-motor", "forward"), ("starting", "forward"),
    ("coils-and-commutator", "forward"), ("terminal-box", "forward"),
    ("terminal-box", "way"),
    ("terminal-box", "peak"), ("terminal-box", "contactors"),
}  # fmt: skip
OF_RUNS = WORKED_OUT | {("terminal-box", "trips"), *(("braking", kind) for kind in ("forward", "heat", "method"))}


class Put(NamedTuple):
    """A question that was put, by which kind, about which set-up."""

    scene: str
    kind: str
    settings: dict
    question: Question

    @property
    def numbers(self) -> list[float]:
        """The figures in its text, in their order."""
        return [
            float(found.replace("\N{MINUS SIGN}", "-"))
            for found in re.findall(r"(?<![\w.])[-\N{MINUS SIGN}]?\d+(?:\.\d+)?", self.question.text)
        ]


@lru_cache(maxsize=32)
def scene(name: str):
    return catalogue.scene_class(name)()


@lru_cache(maxsize=32)
def drawn(name: str) -> tuple[Put, ...]:
    """So many of each kind that all together are about `DRAWS`, or `STATES` of each."""
    of, found = scene(name), []
    for kind in of.kinds:
        usual = FEW if (name, kind.name) in WORKED_OUT else DRAWS // len(of.kinds)
        for seed in range(1, 1 + ((RUNS if (name, kind.name) in OF_RUNS else STATES) or usual)):
            each = draw(of, kind, seed)
            found.append(Put(name, kind.name, each.settings, each.question(of)))
    return tuple(found)


def set_by_hand(of, dice: random.Random) -> dict:
    """Some controls, each at any of its values."""
    found = {}
    for control in dice.sample(of.controls, dice.randint(1, 3)):
        if control.kind == "number":
            found[control.name] = control.low + control.step * dice.randint(0, round((control.high - control.low) / control.step))
        else:
            found[control.name] = dice.choice([name for name, _ in control.choices]) if control.kind == "choice" else dice.random() < 0.5
    return found


@lru_cache(maxsize=32)
def by_hand(name: str) -> tuple[Put, ...]:
    """Questions with settings that somebody has chosen: kept over what a number brings, and about a set-up as it stands."""
    of, found = scene(name), []
    for kind in of.kinds:
        if (name, kind.name) in OF_RUNS:
            continue
        for number in range(1, BY_HAND + 1):
            dice = random.Random(f"{name} {kind.name} {number}")
            chosen, stands = set_by_hand(of, dice), of.defaults | of.random_setup(dice)
            for about_it in (False, True):
                with suppress(ValueError):
                    each = as_it_stands(of, kind, stands | chosen) if about_it else draw(of, kind, number, chosen)
                    found.append(Put(name, kind.name, each.settings, each.question(of)))
    return tuple(found)


def of_kind(scene_name: str, kind: str) -> list[Put]:
    found = [put for put in drawn(scene_name) if put.kind == kind]
    assert found, f"{scene_name} was asked no {kind}"
    return found + [put for put in by_hand(scene_name) if put.kind == kind]
