"""The kinds of question on the cage rotor."""

from __future__ import annotations

import numpy as np

from scenes.machines.cage_rotor.motor import LENGTH, RADIUS
from scenes.machines.cage_rotor.question import words_of
from scenes.machines.cage_rotor.snapshot import Snapshot
from scenes.questions.backward import backward
from scenes.questions.compare import Change, Measure, compare, one_of, times
from scenes.questions.figures import figure
from scenes.questions.kinds import Kind, SetUp, forward
from scenes.questions.mistakes import ALWAYS_WITH, ELECTRONS, FINGERS, OTHER_END, OTHER_HAND
from scenes.questions.speeds import rotor_frequency_slips, slip_because, slip_slips
from scenes.questions.why import Reasons, hands, why
from scenes.scene.drawn_arrow import place_of
from scenes.scene.question import PRESSED, Question
from visual.machines.stator import polar

RPM = 60 / 6.283185307179586
ENDS = ("drive-end", "other-end")
MARKED, SWAPPED = "L1-L2-L3", "L2-L1-L3"
ANY_LINES = ("lines",)  # as they are, the field turns one way or the other, and that is told
TOGETHER = "The rotor is driven at a share of the field's speed, so that both speeds change together with poles and frequency."
OPPOSITE = {"toward": "away", "away": "toward", "none": "none"}


def _moving(dice, settings) -> dict:
    """Slower than the field, among that at standstill or against it, faster, or just with it, each as often."""
    slower = (("free", 100.0), ("held", 100.0), ("driven", -40.0), ("driven", 50.0), ("driven", 80.0))
    faster = (("driven", 120.0), ("driven", 130.0), ("driven", 150.0))
    rotor, speed = dice.choice(dice.choice((slower, faster, (("driven", 100.0),))))
    return {"rotor": rotor, "speed": speed, "lines": dice.choice((MARKED, SWAPPED))}


def _driven(setup: SetUp) -> str:
    share = 100 * setup.now.setup.share
    return f"A cage rotor is driven at {abs(share):g} % of the speed of its field{', against it' if share < 0 else ''}."


def _slower(dice, settings) -> dict:
    return {
        "rotor": "driven",
        "speed": float(dice.choice((50, 60, 80, 90, 95))),
        "lines": dice.choice((MARKED, SWAPPED)),
        "frequency": dice.choice((40.0, 50.0, 60.0)),
    }


def _faster_or_slower(dice, settings) -> dict:
    rotor, speed = dice.choice((("held", 100.0), ("driven", 60.0), ("driven", 130.0), ("driven", 150.0)))
    return {"rotor": rotor, "speed": speed, "lines": dice.choice((MARKED, SWAPPED))}


def _proof(dice, settings) -> dict:
    return {"rotor": "proof", "lines": dice.choice((MARKED, SWAPPED)), "bar": dice.choice(("N", "S")), "poles": "2"}


def _mistaken(setup: SetUp) -> dict[str, str]:
    now, view = setup.now, setup.look.view
    always = {ALWAYS_WITH: view.turning(now.field_speed)}
    return always if setup.question().answer == "none" else always | {OTHER_END: view.turning(-now.state.torque)}


def _mistaken_current(setup: SetUp) -> dict[str, str]:
    other = OPPOSITE[setup.question().answer]
    return {OTHER_HAND: other, FINGERS: other, ELECTRONS: other}


def _bar(setup: SetUp) -> Question | None:
    """In which of the bars in the middle of an N pole and of the S pole beside it the current flows toward the drive end, to be pressed;
    not asked where the current of one lags so far that it flows against its EMF."""
    now, view = setup.now, setup.look.view
    angles = now.cage.bar_angles + now.moment.rotor_angle
    middles = {"N": now.peak_angle + np.pi / now.fed.pole_pairs, "S": now.peak_angle}
    at = {pole: int(np.argmin(np.abs(np.angle(np.exp(1j * (angles - middle)))))) for pole, middle in middles.items()}
    if any(now.state.emf[number] * now.state.current[number] <= 0 for number in at.values()):
        return None
    answer, other = sorted(at, key=lambda pole: -float(now.state.current[at[pole]]))
    choices = setup.shuffled((pole, f"bar {number + 1}, at the {pole} pole") for pole, number in at.items())
    held = now.bar.hand("right").words(words_of(view))
    question = Question(
        f"The field stands still and the bars are turned {view.turning(now.moment.rotor_speed)}, seen from {view.end}. In which of these "
        "two does current flow toward the drive end?",
        choices,
        answer,
        f"Bar {now.bar.number + 1}, at an {now.bar.pole} pole: {held} At the other pole the current flows the other way.",
        pressed=True,
        spots=tuple((pole, place_of(polar(RADIUS, angles[number], view.side * LENGTH / 2))) for pole, number in at.items()),
    )
    return question.of_kind("bar", choices, {other: [OTHER_HAND, FINGERS, ELECTRONS]})


def _asks_field(setup: SetUp, pushed: str) -> str:
    of, end = setup.now.setup, setup.look.view.end
    driven = f"driven the way the field turns, {'faster' if of.share > 1 else 'slower'} than the field,"
    shaft = driven if of.share else "held at standstill"
    return f"Seen from {end}, the rotor is {shaft} and the forces on its bars push it {pushed}. Which way does the field turn?"


def _speeds(now: Snapshot) -> tuple[float, float]:
    """Of field and rotor, r/min, with the field positive."""
    return now.field_speed * now.sense * RPM, now.moment.rotor_speed * now.sense * RPM


def _slip(now: Snapshot) -> float:
    return 100 * now.slip


def _rotor_frequency(now: Snapshot) -> float:
    return abs(now.slip) * now.setup.frequency


def _asks_slip(now: Snapshot) -> str:
    field, rotor = _speeds(now)
    return f"The field turns at {field:.0f} r/min, the rotor at {rotor:.0f} r/min the same way. How large is the slip?"


def _asks_frequency(now: Snapshot) -> str:
    return f"A motor on {now.setup.frequency:g} Hz runs with a slip of {_slip(now):g} %. What is the frequency of the currents in its bars?"


def _because_frequency(now: Snapshot) -> str:
    return (
        f"The bars meet the field's poles only as fast as they fall behind them: s f = {now.slip:g} × {now.setup.frequency:g} "
        f"Hz = {_rotor_frequency(now):g} Hz."
    )


def _why(setup: SetUp) -> Reasons:
    seen, bar = setup.look.view.directions.words, setup.now.bar
    hand, end = bar.hand("right"), setup.look.view.end
    return hands(
        f"The field stands still, {seen(bar.field)} at bar {bar.number + 1}, and this bar moves {seen(bar.motion)}, seen from {end}.",
        "the way its EMF drives current",
        hand,
        seen,
        hand.words(seen),
    )


KINDS = (
    forward("which way the bars are pushed", _mistaken, setup=_moving, views=ENDS, aside=ANY_LINES),
    forward(
        "which way the current of a bar flows",
        _mistaken_current,
        name="current",
        without=("none",),
        setup=_proof,
        views=ENDS,
        aside=(*ANY_LINES, "bar"),
    ),
    Kind(
        "bar",
        "in which bar the current flows toward the drive end",
        _bar,
        answered=PRESSED,
        setup=lambda dice, settings: _proof(dice, settings) | {"poles": dice.choice(("2", "4"))},
        views=ENDS,
        aside=(*ANY_LINES, "bar"),
    ),
    backward(
        "field",
        "which way the field turns",
        "lines",
        asks=_asks_field,
        says=lambda setup: setup.look.view.turning(setup.now.field_speed),
        values=lambda setup: (MARKED, SWAPPED),
        hidden=None,
        setup=_faster_or_slower,
        mistaken=_mistaken,
    ),
    figure(
        "slip",
        "how large the slip is",
        "%",
        asks=_asks_slip,
        size=lambda now: _slip(now) if _speeds(now)[1] >= 0 else 0.0,  # turned against the field it is another question
        because=lambda now: slip_because(*_speeds(now)),
        slips=lambda now: slip_slips(*_speeds(now)),
        setup=_slower,
        aside=ANY_LINES,
        works="slip-from-speeds",
        given=lambda now: dict(zip(("field_speed", "speed"), _speeds(now), strict=True)),
    ),
    figure(
        "figure",
        "at what frequency the rotor's currents are",
        "Hz",
        asks=_asks_frequency,
        size=_rotor_frequency,
        because=_because_frequency,
        slips=lambda now: rotor_frequency_slips(now.setup.frequency, now.slip),
        setup=_slower,
        aside=ANY_LINES,
        works="rotor-frequency",
        given=lambda now: {"frequency": now.setup.frequency, "slip": _slip(now)},
    ),
    compare(
        _driven,
        (
            Change("speed", one_of(40.0, 60.0, 80.0, 90.0), "the speed at which it is driven"),
            Change("frequency", times(2, 0.5, low=20, high=100)),
            Change("poles", one_of("2", "4", "8")),
        ),
        (
            Measure("the slip", _slip, "%", "s = (nₛ − n) / nₛ.", dict.fromkeys(("poles", "frequency"), TOGETHER)),
            Measure("the frequency in the rotor", _rotor_frequency, "Hz", "fᵣ = s f.", {"poles": TOGETHER}),
            Measure("the speed of the field, in r/min", lambda now: _speeds(now)[0], "r/min", "nₛ = 120 f / poles."),
        ),
        setup=lambda dice, settings: _slower(dice, settings) | {"speed": dice.choice((60.0, 80.0)), "frequency": dice.choice((40.0, 50.0))},
        aside=ANY_LINES,
    ),
    why(_why, words="which hand shows it, and how it is held", setup=_proof, views=ENDS, aside=(*ANY_LINES, "bar")),
)
