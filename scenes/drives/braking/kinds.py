"""The kinds of question on braking."""

from __future__ import annotations

import math
from dataclasses import replace

from scenes.drives.braking.motors import SWAPPED, SYNCHRONOUS, electrical
from scenes.drives.braking.question import METHODS, ONCE, REVERSES, STOPS, heat_is_clear, heat_question, result, result_question
from scenes.drives.braking.shaft import COAST, DIRECT_CURRENT, HOIST, PLUG, RAMP, SUPPLIED, Case
from scenes.drives.braking.snapshot import Setup
from scenes.questions.backward import backward
from scenes.questions.compare import Change, Measure, compare, one_of, times
from scenes.questions.figures import figure
from scenes.questions.kinds import Kind, SetUp, forward
from scenes.questions.mistakes import MINUTES, MOTION_ALONE, NOT_REVERSED, STOPS_BY_ITSELF, SUM, left_out
from scenes.questions.why import Reasons, why
from scenes.scene.typed import shown

STOPPED = {"zero": True, "friction": 0.0, "asked": "heat", "inertia": 5.0}
SAID = dict(METHODS)


def _one_end_or_another(dice, settings) -> dict:
    """The four results about as often as each other: two are of a hoist, one of plugging that nothing ends."""
    stopping = {"method": dice.choice((COAST, PLUG, DIRECT_CURRENT, RAMP)), "zero": True}
    hoist = {"method": HOIST, "weight": float(dice.choice((60, 120, 200, 440, 460, 480)))}
    drawn = dice.choice((stopping, {"method": PLUG, "zero": False}, hoist, hoist))
    return drawn | {"asked": "result", "friction": float(dice.choice((0, 5, 10)))}


def _mistaken_end(setup: SetUp) -> dict[str, str]:
    return {STOPS_BY_ITSELF: STOPS} if result(_case(setup)) == REVERSES else {}


def _mistaken_heat(setup: SetUp) -> dict[str, str]:
    return {MOTION_ALONE: ONCE}


def _of(setup: SetUp) -> Setup:
    return setup.typed


def _case(setup: SetUp) -> Case:
    return setup.typed.case


def _runs(case: Case) -> float:
    """r/min before, in whole revolutions."""
    return float(round(60 * SYNCHRONOUS * case.before))


def _slip(case: Case) -> float:
    """Of the plugged motor, %."""
    return 100 * (1 + _runs(case) / (60 * SYNCHRONOUS))


def _asks_slip(case: Case) -> str:
    return (
        f"A motor whose field turns at {60 * SYNCHRONOUS:.0f} r/min runs at {_runs(case):.0f} r/min. Two of its lines are "
        f"swapped. How large is its slip at that moment?"
    )


def _because_slip(case: Case) -> str:
    field = 60 * SYNCHRONOUS
    return f"The field turns the other way now: s = (−{field:.0f} − {_runs(case):.0f}) / −{field:.0f} = {shown(_slip(case))} %."


def _kilojoules(case: Case) -> float:
    return 0.5 * case.total_inertia * (2 * math.pi * _runs(case) / 60) ** 2 / 1000


def _asks_energy(case: Case) -> str:
    return (
        f"A rotor with its load has an inertia of {case.total_inertia:.3g} kg m² and turns at {_runs(case):.0f} r/min. How "
        f"much energy is in its motion?"
    )


def _because_energy(case: Case) -> str:
    return f"W = ½ J ω² = ½ × {case.total_inertia:.3g} kg m² × (2π × {_runs(case):.0f} / 60 s)² = {shown(_kilojoules(case))} kJ."


def _at_first(case: Case) -> float:
    """A in a line at the first moment of the braking."""
    return float(electrical(SUPPLIED[case.method], case.before, case.direct).line)


def _why(setup: SetUp) -> Reasons | None:
    """What turns the shaft, or does not, once it is slow."""
    case, answer = _case(setup), result(_case(setup))
    if case.method not in (PLUG, DIRECT_CURRENT, COAST):
        return None
    field = {SWAPPED: "its field turns against the shaft"}.get(SUPPLIED[case.method])
    causes = {
        "its field turns against the shaft, and nothing switches it off at standstill": case.method == PLUG and not case.stops,
        "its field turns against the shaft, and a zero-speed switch takes it away": case.method == PLUG and case.stops,
        "its field stands still, and drives nothing": case.method == DIRECT_CURRENT,
        "it has no field, and only load and bearings act": case.method == COAST,
    }
    asked = result_question(setup.now)
    (true,) = [words for words, so in causes.items() if so]
    if field and answer == "stops" and not case.stops:
        return None  # it has too little torque to start, which is another matter
    return Reasons(
        f"{asked.text.removesuffix(' What does the shaft do?')} Result: {dict(asked.choices)[answer]}. Why?",
        true,
        [(words, "") for words, so in causes.items() if not so],
        asked.reason,
    )


def _where_it_is_clear(kind: Kind) -> Kind:
    """The same, not put where the heat lies between what is offered."""
    return replace(kind, put=lambda setup: kind.put(setup) if heat_is_clear(_case(setup)) else None)


KINDS = (
    forward("what the shaft does", _mistaken_end, even=False, setup=_one_end_or_another),
    _where_it_is_clear(
        forward(
            "how much heat the rotor gets",
            _mistaken_heat,
            name="heat",
            even=False,
            setup=lambda dice, settings: STOPPED | {"method": dice.choice((PLUG, DIRECT_CURRENT, RAMP, COAST))},
            aside=("inertia", "friction"),
        )
    ),
    backward(
        "method",
        "by which method it was braked",
        "method",
        asks=lambda setup, heat: (
            f"A motor and a load with {_of(setup).inertia:g} times its rotor's inertia are braked to standstill, and nothing but "
            f"the bearings has friction. The motor's rotor gets heat, compared with the energy of motion of motor and load at first: "
            f"{heat}. By which method?"
        ),
        says=lambda setup: SAID[setup.settings["method"]],
        values=lambda setup: (COAST, PLUG, DIRECT_CURRENT, RAMP),
        hidden=None,
        result=lambda setup: heat_question(setup.now),
        mistaken=_mistaken_heat,
        setup=lambda dice, settings: STOPPED | {"method": dice.choice((PLUG, DIRECT_CURRENT, RAMP, COAST))},
        aside=("inertia",),
    ),
    figure(
        "figure",
        "how large the slip is when plugging begins",
        "%",
        of=_case,
        asks=_asks_slip,
        size=_slip,
        because=_because_slip,
        slips=lambda case: {NOT_REVERSED: 200 - _slip(case), SUM: _slip(case) + 100},
        tolerance=0.005,
        setup=lambda dice, settings: {"method": PLUG, "friction": float(dice.choice((10, 20, 50, 80, 100)))},
    ),
    figure(
        "energy",
        "how much energy is in the motion",
        "kJ",
        of=_case,
        asks=_asks_energy,
        size=_kilojoules,
        because=_because_energy,
        slips=lambda case: {left_out("the factor ½"): 2 * _kilojoules(case), MINUTES: _kilojoules(case) * 3600},
        setup=lambda dice, settings: {"method": COAST, "inertia": float(dice.choice((1, 2, 3, 5, 8, 10)))},
        aside=("method",),
    ),
    compare(
        lambda setup: f"A motor and a load with {_of(setup).inertia:g} times its rotor's inertia are braked: {SAID[_of(setup).method]}.",
        (
            Change("inertia", times(2, 0.5, low=1, high=20)),
            Change("direct", times(2, 0.5, low=50, high=400)),
            Change("method", one_of(PLUG, DIRECT_CURRENT)),
        ),
        (
            Measure("the energy of motion at the beginning", _kilojoules, "kJ", "W = ½ J ω²."),
            Measure(
                "the current in a line at the first moment",
                _at_first,
                "A",
                "The current hangs on the slip and on what is put on, not on the inertia.",
                {"inertia": "", "direct": "With two lines swapped no direct current is put on."},
            ),
        ),
        of=_case,
        setup=lambda dice, settings: {
            "method": dice.choice((PLUG, DIRECT_CURRENT)),
            "direct": dice.choice((100.0, 200.0)),
            "inertia": float(dice.choice((2, 4, 8))),
            "friction": 10.0,
            "zero": True,
        },
        aside=("friction", "zero"),
    ),
    why(
        _why,
        words="why it stops, or does not",
        setup=lambda dice, settings: {
            "method": dice.choice((PLUG, PLUG, DIRECT_CURRENT, COAST)),
            "friction": 5.0,
            "zero": dice.random() < 0.5,
        },
        aside=("friction",),
    ),
)
