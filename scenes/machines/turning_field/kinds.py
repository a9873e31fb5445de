"""The kinds of question on the rotating field."""

from __future__ import annotations

import numpy as np

from physics.windings.coils_in_slots import PHASES
from scenes.machines.turning_field.snapshot import Snapshot
from scenes.machines.turning_field.windings import SHAPE
from scenes.questions.backward import backward
from scenes.questions.compare import Change, Measure, compare, one_of, times
from scenes.questions.figures import figure
from scenes.questions.kinds import Kind, SetUp, forward, with_mistakes
from scenes.questions.mistakes import AS_MARKED, OTHER_END, POLES
from scenes.questions.speeds import field_speed_because, field_speed_slips
from scenes.questions.why import Reasons, statements, why
from scenes.scene.drawn_arrow import DrawnArrow
from scenes.scene.question import DRAWN, Question
from scenes.scene.typed import shown

WHOLE = {"lost": "none", "reversed": "none"}
ENDS = ("drive-end", "other-end")
MARKED, SWAPPED = "L1-L2-L3", "L2-L1-L3"


def _fed(dice, settings) -> dict:
    return WHOLE | {"frequency": dice.choice((10.0, 25.0, 40.0, 50.0, 60.0)), "poles": dice.choice(("2", "4", "6", "8"))}


def _in_either_order(dice, settings) -> dict:
    swapped = dice.choice((SWAPPED, "L1-L3-L2", "L3-L2-L1"))
    return {"lost": "none", "lines": swapped if dice.random() < 0.5 else MARKED}


def _rotation(setup: SetUp) -> str:
    return setup.look.view.turning(setup.now.rotation)


def _mistaken(setup: SetUp) -> dict[str, str]:
    view = setup.look.view
    return {OTHER_END: view.turning(-setup.now.rotation), AS_MARKED: view.turning(-1.0)}


def _rpm(now: Snapshot) -> float:
    return 60 * now.synchronous_speed


def _hour(setup: SetUp, angle: float) -> str:
    """A direction across the shaft as it is seen, by the clock: rad, counter-clockwise looking at the drive end."""
    return str(round((np.pi / 2 - angle) * setup.look.view.side / (np.pi / 6)) % 12 or 12)


def _axis(setup: SetUp) -> Question:
    """Toward where the field points some time later, to be drawn; it may be taken to turn the other way, or half as far."""
    now, scene, view = setup.now, setup.scene, setup.look.view
    degrees = setup.dice.choice((60, 120, 300))
    after = scene.advance(now.setup, scene.begin(now.setup), degrees / 360 / now.setup.frequency)
    turned = scene.observe(now.setup, after).peak - now.peak
    halved = np.copysign(np.radians(degrees) / 2, now.rotation)
    angles = {_hour(setup, now.peak + each): now.peak + each for each in (turned, -turned, halved, -halved)}
    answer, backwards, half, _ = angles
    feeds = setup.question().text.split(".")[0]
    choices = setup.shuffled((hour, f"toward {hour} o'clock") for hour in angles)
    question = Question(
        f"{feeds}. L1 is at its peak, and looking at {view.end} the field of this 2-pole stator points toward {_hour(setup, now.peak)} "
        f"o'clock. Where does it point {degrees}° of the cycle later?",
        choices,
        answer,
        f"A 2-pole field makes one revolution in a cycle, so {degrees}° in {degrees}° of it, here {_rotation(setup)}. "
        f"{setup.question().reason}",
        arrow=DrawnArrow(
            "B",
            (0.0, 0.0, view.side * SHAPE.half_length),
            tuple((hour, (float(np.cos(angle)), float(np.sin(angle)), 0.0)) for hour, angle in angles.items()),
        ),
    )
    mistaken = {OTHER_END: backwards, POLES: half} | ({} if now.order == list(PHASES) else {AS_MARKED: backwards})
    return question.of_kind("axis", choices, with_mistakes(mistaken, answer))


def _speed(setup: SetUp) -> Question:
    answer = shown(_rpm(setup.now))
    return Question("", ((answer, f"{answer} r/min"),), answer, field_speed_because(setup.now.setup.frequency, setup.now.setup.poles))


def _why(setup: SetUp) -> Reasons:
    now, view = setup.now, setup.look.view
    order, reverse = "-".join(now.order), "-".join((now.order[0], now.order[2], now.order[1]))
    with_it, against = view.turning(-1.0), view.turning(1.0)
    feeds = setup.question().text.split(".")[0]
    return statements(
        f"{feeds}. Looking at {view.end}, the field rotates {_rotation(setup)}. Why?",
        "the currents peak in the order {}, and the axes of U, V, W follow each other {}",
        (order, with_it),
        [
            ((order, against), OTHER_END),
            ((reverse, with_it), AS_MARKED if reverse == "U-V-W" else ""),
            ((reverse, against), ""),
        ],
        setup.question().reason,
    )


KINDS = (
    forward("which way the field rotates", _mistaken, without=("none",), setup=_in_either_order, views=ENDS),
    Kind(
        "axis",
        "where the field points a little later",
        _axis,
        answered=DRAWN,
        setup=lambda dice, settings: WHOLE | {"poles": "2"},
        even=False,
        views=ENDS,
    ),
    backward(
        "lines",
        "whether two lines are exchanged",
        "lines",
        asks=lambda setup, rotates: (
            f"Looking at {setup.look.view.end}, the field rotates {rotates}. How are the lines L1, L2, L3 on the windings U, V, W?"
        ),
        says=lambda setup: "in their order" if setup.settings["lines"] == MARKED else "two of them exchanged",
        values=lambda setup: (MARKED, SWAPPED),
        hidden=None,
        mistaken=lambda setup: {OTHER_END: setup.look.view.turning(-setup.now.rotation)},
        setup=lambda dice, settings: WHOLE | {"lines": dice.choice((MARKED, SWAPPED))},
        views=ENDS,
    ),
    backward(
        "poles",
        "how many poles it has",
        "poles",
        asks=lambda setup, speed: f"On {setup.now.setup.frequency:g} Hz the field rotates at {speed}. How many poles has it?",
        says=lambda setup: f"{setup.now.setup.poles} poles",
        hidden=None,
        result=_speed,
        mistaken=lambda setup: {POLES: shown(field_speed_slips(setup.now.setup.frequency, setup.now.setup.poles)[POLES])},
        setup=_fed,
    ),
    figure(
        "figure",
        "how fast the field rotates",
        "r/min",
        asks=lambda now: f"A stator of {now.setup.poles} poles is fed with {now.setup.frequency:g} Hz. How fast does its field rotate?",
        size=_rpm,
        because=lambda now: field_speed_because(now.setup.frequency, now.setup.poles),
        slips=lambda now: field_speed_slips(now.setup.frequency, now.setup.poles),
        setup=_fed,
        works="synchronous-speed",
    ),
    compare(
        lambda setup: f"A stator of {setup.now.setup.poles} poles is fed with {setup.now.setup.frequency:g} Hz.",
        (
            Change("frequency", times(2, 0.5, low=5, high=100)),
            Change("poles", one_of("2", "4", "8")),
            Change("current", times(2, 0.5, low=2, high=20), "the peak current"),
        ),
        (
            Measure("the speed of the field, in r/min", _rpm, "r/min", "nₛ = 120 f / poles."),
            Measure("the field at its peak", lambda now: 1000 * now.field, "mT", "The field goes with the current in the slots."),
        ),
        setup=lambda dice, settings: _fed(dice, settings) | {"current": 10.0, "lines": dice.choice((MARKED, SWAPPED))},
        aside=("current", "lines"),
    ),
    why(_why, words="why it rotates so", setup=lambda dice, settings: WHOLE, views=ENDS),
)
