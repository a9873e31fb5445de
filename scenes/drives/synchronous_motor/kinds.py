"""The kinds of question on the synchronous motor."""

from __future__ import annotations

import math
from dataclasses import replace

from scenes.drives.synchronous_motor import motors
from scenes.drives.synchronous_motor.snapshot import IN_STEP, LAGGING, LEADING, Setup
from scenes.questions.backward import backward
from scenes.questions.compare import Change, Measure, compare, one_of, times
from scenes.questions.figures import figure
from scenes.questions.kinds import Kind, SetUp, forward
from scenes.questions.mistakes import INVERSE, MINUTES, SLIPS, left_out
from scenes.questions.speeds import field_speed, field_speed_because, field_speed_slips
from scenes.questions.why import Reasons, why
from scenes.scene.question import Question
from scenes.scene.typed import shown

WEAK, STRONG = (60.0, 80.0), (130.0, 160.0)  # excitation, % of the line voltage
CLEARLY = 0.2  # rad from where the current leads or lags beyond doubt: a power factor of 0.98


def _of(setup: SetUp) -> Setup:
    return setup.typed


def _in_step(dice, settings) -> dict:
    return {
        "start": IN_STEP,
        "damper": True,
        "load": float(dice.choice((20, 40))),
        "excitation": dice.choice((*WEAK, *STRONG)),
        "poles": dice.choice(("2", "4")),
    }


def _running(of: Setup):
    return motors.carrying(of.poles, of.emf, of.load)


def _phase(of: Setup) -> float:
    running = _running(of)
    return running.phase_angle if running else math.nan


def _where_it_is_clear(kind: Kind) -> Kind:
    """The same, put in step only, and not near unity power factor."""
    return replace(kind, put=lambda setup: kind.put(setup) if abs(_phase(_of(setup))) > CLEARLY else None)


def _stands(setup: SetUp) -> Question:
    """How its current stands to the voltage, in step under its load."""
    of = _of(setup)
    phase = _phase(of)
    answer = LAGGING if phase > 0 else LEADING
    unity = "more" if answer == LEADING else "less"
    because = (
        f"Its EMF is {unity} than this load takes at unity power factor: the current {'leads' if phase < 0 else 'lags'} by "
        f"{abs(math.degrees(phase)):.0f}°."
    )
    return Question("", ((LEADING, "leads"), (LAGGING, "lags")), answer, because)


def _asks_excitation(setup: SetUp, stands: str) -> str:
    return (
        f"A synchronous motor runs in step, its load {_of(setup).percent:g} % of rated torque, and its current {stands} the "
        f"voltage. For which EMF is it excited, of the line voltage?"
    )


def _rpm(of: Setup) -> float:
    return field_speed(motors.FREQUENCY, of.poles)


def _watts(of: Setup) -> float:
    """At the shaft."""
    return motors.POWER * of.percent / 100


def _torque(of: Setup) -> float:
    return _watts(of) / (2 * math.pi * _rpm(of) / 60)


def _load_angle(of: Setup) -> float:
    running = _running(of)
    return math.degrees(running.load_angle) if running else math.nan


def _why(setup: SetUp) -> Reasons:
    of = _of(setup)
    phase = _phase(of)
    stands, ends = _stands(setup), field_speed_because(motors.FREQUENCY, of.poles)
    less = f"its EMF of {100 * of.emf / motors.VOLTAGE:.0f} % is less than this load takes at unity power factor"
    more = less.replace("less", "more")
    slower, faster = "its rotor turns a little slower than the field", "its rotor turns a little faster than the field"
    true, false = (less, more) if phase > 0 else (more, less)
    return Reasons(
        f"A synchronous motor runs in step, its load {of.percent:g} % of rated torque, and its current "
        f"{dict(stands.choices)[stands.answer]} the voltage. Why?",
        true,
        [(false, INVERSE), (slower, SLIPS), (faster, "")],
        f"{stands.reason} In step the rotor has the field's speed, whatever the load. {ends}",
    )


KINDS = (
    forward("what the motor does", without=("in-phase",), even=False),
    _where_it_is_clear(
        backward(
            "excitation",
            "how it is excited",
            "excitation",
            asks=_asks_excitation,
            says=lambda setup: f"{setup.settings['excitation']:g} %",
            values=lambda setup: (*WEAK, *STRONG),
            most=2,
            hidden=None,
            result=_stands,
            setup=_in_step,
            settled=True,
        )
    ),
    figure(
        "figure",
        "how fast it runs",
        "r/min",
        of=_of,
        asks=lambda of: (
            f"A synchronous motor of {of.poles} poles on {motors.FREQUENCY:g} Hz runs in step, its load {of.percent:g} % of rated "
            f"torque. How fast does it run?"
        ),
        size=_rpm,
        because=lambda of: f"In step it has the field's speed, whatever the load. {field_speed_because(motors.FREQUENCY, of.poles)}",
        slips=lambda of: field_speed_slips(motors.FREQUENCY, of.poles),
        setup=_in_step,
        settled=True,
        tolerance=0.005,
        works="synchronous-speed",
    ),
    figure(
        "torque",
        "how large its torque is",
        "N m",
        of=_of,
        asks=lambda of: (
            f"A synchronous motor of {of.poles} poles on {motors.FREQUENCY:g} Hz gives {_watts(of) / 1000:g} kW at its shaft. "
            f"How large is its torque?"
        ),
        size=_torque,
        because=lambda of: f"T = P / ω = {_watts(of):g} W / (2π × {_rpm(of):.0f} / 60 s) = {shown(_torque(of))} N m.",
        slips=lambda of: {MINUTES: _torque(of) / 60, left_out("the factor 2π"): _torque(of) * 2 * math.pi},
        setup=_in_step,
        settled=True,
    ),
    compare(
        lambda setup: (
            f"A synchronous motor of {_of(setup).poles} poles runs in step, its load {_of(setup).percent:g} % of rated torque, "
            f"excited for {100 * _of(setup).emf / motors.VOLTAGE:.0f} % of the line voltage."
        ),
        (
            Change("load", times(2, 0.5, low=10, high=100)),
            Change("excitation", one_of(80.0, 160.0)),
            Change("poles", one_of("2", "4")),
        ),
        (
            Measure("its speed, in r/min", _rpm, "r/min", "In step it has the field's speed: nₛ = 120 f / poles."),
            Measure(
                "its load angle",
                _load_angle,
                "°",
                "The poles fall back until the pull of the field meets the load; stronger poles fall back less.",
                {"poles": "The torque at each load angle and the rated torque grow alike with the number of poles."},
            ),
        ),
        of=_of,
        setup=lambda dice, settings: _in_step(dice, settings) | {"excitation": dice.choice((80.0, 160.0))},
        settled=True,
    ),
    _where_it_is_clear(why(_why, words="why its current stands so", setup=_in_step, settled=True)),
)
