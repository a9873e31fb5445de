"""The kinds of question on two wires with currents."""

from __future__ import annotations

import numpy as np

from physics.constants import VACUUM_PERMEABILITY
from physics.directions import direction_words, field_direction, force_direction
from scenes.conductors.two_wires.question import flowing, together
from scenes.conductors.two_wires.snapshot import ALONG, SIDES, Snapshot
from scenes.questions.backward import backward
from scenes.questions.compare import Change, Measure, compare, reverse, times
from scenes.questions.figures import figure
from scenes.questions.kinds import SetUp, forward
from scenes.questions.mistakes import LIKE_POLES, OTHER_HAND, left_out
from scenes.questions.why import Reasons, statements, why
from scenes.scene.question import DRAWN, Question
from scenes.scene.typed import shown

PERMEABILITY = round(VACUUM_PERMEABILITY * 1e6, 5)  # µN/A², as it is told


def _both(dice, settings) -> dict:
    """Both wires carry a current."""
    return {"switch": True, **{name: float(dice.choice((-1, 1)) * dice.choice((30, 40, 50))) for name in ("current", "other")}}


def _vectors(now: Snapshot) -> tuple[np.ndarray, np.ndarray]:
    """At the wire looked at: its current, and the field of the other."""
    setup = now.setup
    return setup.currents[setup.wire] * ALONG, field_direction(setup.currents[setup.other] * ALONG, [SIDES[setup.wire], 0, 0])


def _mistaken(setup: SetUp) -> dict[str, str]:
    """With the other hand, or taken for poles, like currents repel."""
    current, field = _vectors(setup.now)
    of = setup.now.setup
    product = of.currents["left"] * of.currents["right"]
    toward = SIDES[of.other] - SIDES[of.wire]
    return {
        OTHER_HAND: direction_words(-force_direction(field, current)),
        LIKE_POLES: direction_words([-np.sign(product) * toward, 0, 0]),
    }


def _do(setup: SetUp) -> Question:
    """What the wires do to each other."""
    left, right = setup.now.setup.currents.values()
    said = {value: together(product) for value, product in (("attract", 1.0), ("repel", -1.0))}
    return Question("", tuple(said.items()), "attract" if left * right > 0 else "repel", setup.question().reason)


def _asks_back(setup: SetUp, do: str) -> str:
    flows = setup.look.view.directions.words(setup.settings["current"] * ALONG)
    return (
        f"The current in the left wire flows {flows}, and the wires {do}. The picture shows the right wire without its current. "
        "Which way does that current flow?"
    )


def _per_metre(now: Snapshot) -> float:
    """mN/m of long wires."""
    first, second = now.setup.currents.values()
    return PERMEABILITY * abs(first * second) / (2 * np.pi * now.setup.spacing) / 1000


def _slips(now: Snapshot) -> dict[str, float]:
    return {left_out("the factor 2π"): 2 * np.pi * _per_metre(now)}


def _because(now: Snapshot) -> str:
    first, second = (abs(each) for each in now.setup.currents.values())
    return (
        f"F / l = µ₀ I₁ I₂ / (2π d) = {PERMEABILITY} µN/A² × {first:g} A × {second:g} A / (2π × {now.setup.spacing:.3f} m) = "
        f"{shown(_per_metre(now))} mN/m."
    )


def _why(setup: SetUp) -> Reasons:
    now, seen = setup.now, setup.look.view.directions.words
    current, field = _vectors(now)
    force, of = force_direction(field, current), now.setup
    return statements(
        f"{flowing(now, setup.look)}. Why is the {of.wire} wire pushed as it is by the {of.other} one?",
        "the field there points {}, so by the {} hand it is pushed {}",
        (seen(field), "left", seen(force)),
        [
            ((seen(field), "right", seen(-force)), OTHER_HAND),
            ((seen(-field), "left", seen(-force)), ""),
            ((seen(-field), "right", seen(force)), ""),
        ],
        setup.question().reason,
    )


KINDS = (
    forward("which way a wire is pushed", _mistaken, without=("up", "down", "nowhere"), setup=_both, answered=DRAWN),
    backward(
        "current",
        "which way the other current must flow",
        "other",
        asks=_asks_back,
        says=lambda setup: setup.look.view.directions.words(setup.settings["other"] * ALONG),
        hidden=0.0,
        result=_do,
        setup=_both,
        mistaken=lambda setup: {LIKE_POLES: "repel" if _do(setup).answer == "attract" else "attract"},
    ),
    figure(
        "figure",
        "how large the force per metre is",
        "mN/m",
        asks=lambda now: (
            f"Two long wires {1000 * now.setup.spacing:g} mm apart carry {abs(now.setup.currents['left']):g} A and "
            f"{abs(now.setup.currents['right']):g} A. How large is the force on each metre of one of them? (µ₀ = {PERMEABILITY} µN/A²)"
        ),
        size=_per_metre,
        because=_because,
        slips=_slips,
        setup=_both,
        works="wires-force",
        given=lambda now: {
            "current": abs(now.setup.currents["left"]),
            "other_current": abs(now.setup.currents["right"]),
            "distance": 1000 * now.setup.spacing,
            "length": "",
        },
    ),
    compare(
        lambda setup: "Two wires hang side by side and carry currents.",
        (
            Change("current", times(2, 0.5, low=-50, high=50)),
            Change("other", times(2, 0.5, low=-50, high=50)),
            Change("spacing", times(2, 0.5, low=30, high=80)),
            Change("current", reverse),
            Change("other", reverse),
        ),
        (Measure("the size of the force per metre between them", _per_metre, "mN/m", "F / l = µ₀ I₁ I₂ / (2π d)."),),
        setup=lambda dice, settings: {
            "switch": True,
            "current": float(dice.choice((-1, 1)) * dice.choice((20, 24))),
            "other": float(dice.choice((-1, 1)) * dice.choice((20, 24))),
            "spacing": dice.choice((30.0, 40.0, 60.0, 80.0)),
        },
    ),
    why(_why, words="why the wires attract or repel", setup=_both),
)
