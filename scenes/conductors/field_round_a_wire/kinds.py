"""The kinds of question on the field round a wire."""

from __future__ import annotations

import numpy as np

from physics.constants import VACUUM_PERMEABILITY
from physics.directions import direction_words, field_direction
from scenes.conductors.field_round_a_wire.snapshot import IN_WORDS, PLACES, UP, Snapshot
from scenes.questions.backward import backward
from scenes.questions.compare import Change, Measure, compare, one_of, reverse, times
from scenes.questions.figures import figure
from scenes.questions.kinds import SetUp, forward
from scenes.questions.mistakes import ALONG, ELECTRONS, OTHER_HAND, left_out
from scenes.questions.why import Reasons, why
from scenes.scene.question import DRAWN
from scenes.scene.typed import shown

FLOWS = {"switch": True}
PERMEABILITY = round(VACUUM_PERMEABILITY * 1e6, 5)  # µT m/A, as it is told


def _mistaken(setup: SetUp) -> dict[str, str]:
    of = setup.now.setup
    current, out = of.current * UP, PLACES[of.place]
    return {
        OTHER_HAND: direction_words(-field_direction(current, out)),
        ELECTRONS: direction_words(field_direction(-current, out)),
        ALONG: direction_words(np.sign(of.current) * out),
    }


def _flows(setup: SetUp) -> str:
    return f"A current flows {setup.look.view.directions.words(setup.now.setup.current * UP)} through the table."


def _in_sight(dice, settings) -> dict:
    """Not the compass that the wire and the hand round it stand before: there an arrow is drawn, and the answer's is shown."""
    return FLOWS | ({"compass": dice.choice(("right", "left", "front"))} if settings["compass"] == "back" else {})


def _microtesla(now: Snapshot) -> float:
    """Of a long wire."""
    return PERMEABILITY * abs(now.setup.current) / (2 * np.pi * now.setup.radius)


def _because(now: Snapshot) -> str:
    return (
        f"B = µ₀ I / (2π r) = {PERMEABILITY} µT m/A × {abs(now.setup.current):g} A / (2π × {now.setup.radius:.3f} m) = "
        f"{shown(_microtesla(now))} µT: round the "
        "wire it spreads over a circle of 2π r."
    )


def _why(setup: SetUp) -> Reasons:
    of, seen = setup.now.setup, setup.look.view.directions.words
    up, down = seen(of.current * UP), seen(-of.current * UP)

    def held(hand: str, thumb: str) -> str:
        return f"{hand} hand, thumb {thumb}"

    return Reasons(
        f"{_flows(setup)} Which hand round the wire, its thumb which way, shows with its curled fingers how the field points "
        f"{IN_WORDS[of.place]} it?",
        held("right", up),
        [(held("left", up), OTHER_HAND), (held("right", down), ELECTRONS), (held("right", "outward"), ALONG)],
        setup.question().reason,
        {held("right", "outward"): "The thumb lies along the current."},
    )


KINDS = (
    forward("which way the field points", _mistaken, without=("nowhere",), setup=_in_sight, answered=DRAWN),
    backward(
        "current",
        "which way the current must flow",
        "current",
        asks=lambda setup, points: (
            f"{IN_WORDS[setup.now.setup.place].capitalize()} the wire its own field points {points}. Which way does the current "
            f"flow through the table?"
        ),
        says=lambda setup: setup.look.view.directions.words(setup.now.setup.current * UP),
        hidden=0.0,
        mistaken=_mistaken,
        setup=lambda dice, settings: FLOWS,
    ),
    backward(
        "place",
        "where the field points that way",
        "compass",
        asks=lambda setup, points: f"{_flows(setup)} On which side of the wire does its own field point {points}?",
        says=lambda setup: IN_WORDS[setup.now.setup.place] + " the wire",
        hidden=None,
        mistaken=_mistaken,
        setup=lambda dice, settings: FLOWS,
    ),
    figure(
        "figure",
        "how strong the field is",
        "µT",
        asks=lambda now: (
            f"A long wire carries {abs(now.setup.current):g} A. How strong is its field {1000 * now.setup.radius:g} mm from it? "
            f"(µ₀ = {PERMEABILITY} µT m/A)"
        ),
        size=_microtesla,
        because=_because,
        slips=lambda now: {left_out("the factor 2π"): 2 * np.pi * _microtesla(now)},
        setup=lambda dice, settings: FLOWS,
        works="wire-field",
        given=lambda now: {"current": abs(now.setup.current), "distance": 1000 * now.setup.radius},
    ),
    compare(
        lambda setup: "A current flows through the wire, and a compass stands beside it.",
        (
            Change("current", times(2, 0.5, low=-50, high=50)),
            Change("current", reverse),
            Change("distance", one_of(50.0, 100.0)),
            Change("earth", one_of(True, False), "the Earth's field"),
        ),
        (
            Measure("the size of the current's own field at the compass", _microtesla, "µT", "B = µ₀ I / (2π r)."),
            Measure(
                "the size of the Earth's field at the compass",
                lambda now: float(np.linalg.norm(now.earth)) * 1e6,
                "µT",
                "The Earth's field is there whatever the current.",
            ),
        ),
        setup=lambda dice, settings: (
            FLOWS
            | {"current": float(dice.choice((-1, 1)) * dice.choice((16, 20, 24))), "distance": dice.choice((50.0, 100.0))}
            | {"earth": dice.random() < 0.5}
        ),
    ),
    why(_why, words="which hand shows it, and how it is held", setup=lambda dice, settings: FLOWS),
)
