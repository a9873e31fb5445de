"""The kinds of question on the commutator machine."""

from __future__ import annotations

from scenes.machines.commutator.machine import LENGTH, RADIUS, TURNS
from scenes.machines.commutator.snapshot import Snapshot
from scenes.questions.backward import backward
from scenes.questions.compare import Change, Measure, compare, reverse, times
from scenes.questions.figures import figure
from scenes.questions.kinds import SetUp, forward
from scenes.questions.mistakes import ELECTRONS, FINGERS, OTHER_HAND, left_out
from scenes.questions.why import Reasons, hands, why
from scenes.scene.question import PRESSED
from scenes.scene.typed import shown

ENDS = ("drive-end", "other-end")
CRANK, FIELD = "the speed of the crank, clockwise looking at the drive end", "the field at a pole, positive toward the A2 side"
FIELDED = {"collector": "commutator", "side": "n-pole", "slow": "5"}
OTHER = {"A1": "A2", "A2": "A1", "clockwise": "counter-clockwise", "counter-clockwise": "clockwise", "none": "none"}


def _field(dice) -> dict:
    return FIELDED | {"field": float(dice.choice((-1, 1)) * dice.choice((150, 200, 250)))}


def _cranked(dice, settings) -> dict:
    return _field(dice) | {"mode": "hand", "load": "open", "crank": float(dice.choice((-1, 1)) * dice.choice((60, 120, 180)))}


def _on_a_battery(dice, settings) -> dict:
    return _field(dice) | {"mode": "battery", "battery": float(dice.choice((-1, 1)) * dice.choice((2, 3, 4))), "brake": 0.0}


def _mistaken_turning(setup: SetUp) -> dict[str, str]:
    other = OTHER[setup.question().answer]
    return {OTHER_HAND: other, FINGERS: other, ELECTRONS: other}


def _mistaken_brush(setup: SetUp) -> dict[str, str]:
    other = OTHER[setup.question().answer]
    return {OTHER_HAND: other, FINGERS: other}


def _poles(setup: SetUp) -> str:
    north = setup.look.view.directions.words(setup.now.setup.north).replace("to the ", "on the ")
    return f"Looking at {setup.look.view.end}, the N pole is {north}."


def _asks_crank(setup: SetUp, brush: str) -> str:
    return (
        f"{_poles(setup)} The machine is cranked, with a commutator on the shaft, and brush {brush} is positive. Which way is it cranked?"
    )


def _asks_north(setup: SetUp, brush: str) -> str:
    view = setup.look.view
    return (
        f"Looking at {view.end}, the machine is cranked {view.turning(setup.now.setup.cranked)}, with a commutator on the "
        f"shaft, and brush {brush} is positive. On which side is the N pole?"
    )


def _side(now: Snapshot) -> float:
    """T at the coil side shown, as it is told."""
    return round(abs(float(now.machine.side_fields[now.shown.at])), 4)


def _speed(now: Snapshot) -> float:
    """m/s of the coil sides, as it is told."""
    return round(RADIUS * abs(now.speed), 3)


def _side_emf(now: Snapshot) -> float:
    return TURNS * _side(now) * LENGTH * _speed(now)


def _asks_emf(now: Snapshot) -> str:
    return (
        f"A coil side of {TURNS} wires in series, {1000 * LENGTH:.0f} mm long, passes a pole at {_speed(now):.3f} m/s, in a field of "
        f"{1000 * _side(now):g} mT. How large is its EMF?"
    )


def _because_emf(now: Snapshot) -> str:
    return f"e = N B l v = {TURNS} × {_side(now):.4f} T × {LENGTH:.3f} m × {_speed(now):.3f} m/s = {shown(_side_emf(now))} V."


def _why(setup: SetUp) -> Reasons:
    seen, start = setup.look.view.directions.words, setup.now
    return hands(
        f"{_poles(setup)} The machine is cranked {setup.look.view.turning(start.setup.cranked)}.",
        "the way current is driven in the coil side at the N pole",
        start.shown.hand,
        seen,
        start.shown.hand.words(seen),
    )


KINDS = (
    forward(
        "which way it turns",
        _mistaken_turning,
        without=("none",),
        even=False,
        setup=_on_a_battery,
        views=ENDS,
        in_text=False,
        aside=("brake", "slow"),
    ),
    forward(
        "which brush is positive",
        _mistaken_brush,
        name="brush",
        without=("changes", "neither"),
        even=False,
        setup=_cranked,
        aside=("slow",),
        in_text=False,
        answered=PRESSED,
    ),
    backward(
        "crank",
        "which way it must be cranked",
        "crank",
        asks=_asks_crank,
        says=lambda setup: setup.look.view.turning(setup.now.setup.cranked),
        hidden=0.0,
        mistaken=_mistaken_brush,
        setup=_cranked,
        aside=("slow",),
        in_text=False,
    ),
    backward(
        "poles",
        "where N is",
        "field",
        asks=_asks_north,
        says=lambda setup: setup.look.view.directions.words(setup.now.setup.north).replace("to the ", "on the "),
        hidden=0.0,
        mistaken=_mistaken_brush,
        setup=_cranked,
        aside=("slow",),
        in_text=False,
    ),
    figure(
        "figure",
        "how large the EMF of a coil side is",
        "V",
        asks=_asks_emf,
        size=_side_emf,
        because=_because_emf,
        slips=lambda now: {left_out("the number of turns"): _side_emf(now) / TURNS},
        setup=_cranked,
        aside=("slow",),
        works="conductor-emf",
        given=lambda now: {"field": _side(now), "speed": _speed(now), "length": 1000 * LENGTH, "turns": TURNS},
    ),
    compare(
        lambda setup: "The machine is cranked, with nothing across its brushes.",
        (
            Change("crank", times(2, 0.5, low=-240, high=240), CRANK),
            Change("crank", reverse, CRANK),
            Change("field", times(2, 0.5, low=-250, high=250), FIELD),
            Change("field", reverse, FIELD),
        ),
        (Measure("the EMF of a coil side at the pole", _side_emf, "V", "e = N B l v: the EMF goes with the field and with the speed."),),
        setup=lambda dice, settings: (
            _cranked(dice, settings) | {"field": float(dice.choice((-1, 1)) * 120), "crank": float(dice.choice((-1, 1)) * 100)}
        ),
        aside=("slow",),
    ),
    why(_why, words="which hand shows it, and how it is held", setup=_cranked, aside=("slow",)),
)
