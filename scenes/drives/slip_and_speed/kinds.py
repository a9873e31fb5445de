"""The kinds of question on slip and speed."""

from __future__ import annotations

import math

from scenes.drives.slip_and_speed.snapshot import Setup
from scenes.questions.backward import backward
from scenes.questions.compare import Change, Measure, compare, one_of, times
from scenes.questions.figures import figure
from scenes.questions.kinds import SetUp, forward
from scenes.questions.mistakes import POLES
from scenes.questions.speeds import field_speed, field_speed_because, rotor_frequency_slips, slip_because, slip_slips
from scenes.questions.why import Reasons, why
from scenes.scene.question import Question
from scenes.scene.typed import shown

OWN = {"plate": False, "lines": "L1-L2-L3", "lamp": "steady"}


def _of(setup: SetUp) -> Setup:
    return setup.typed


def _loaded(dice, settings) -> dict:
    return OWN | {"load": float(dice.choice((60, 80, 100, 120))), "frequency": float(dice.choice((40, 50, 60)))}


def _synchronous(of: Setup) -> float:
    """r/min"""
    return 60 * of.motor.circuit.synchronous_speed


def _rotor(of: Setup) -> float:
    """r/min under its load, in whole revolutions as a tachometer shows it."""
    return float(round(_synchronous(of) * (1 - of.settles)))


def _slip(of: Setup) -> float:
    """As a share, of the speeds as they are told."""
    return (_synchronous(of) - _rotor(of)) / _synchronous(of)


def _percent_or_none(of: Setup) -> float:
    return 100 * of.settles if of.settles < 1 else math.nan


def _runs(of: Setup) -> str:
    return f"A motor of {of.motor.circuit.poles} poles on {of.motor.circuit.frequency:g} Hz runs at {_rotor(of):.0f} r/min under its load."


def _asks_frequency(of: Setup) -> str:
    return f"{_runs(of)} What is the frequency of the currents in its rotor?"


def _because_frequency(of: Setup) -> str:
    return (
        f"{slip_because(_synchronous(of), _rotor(of))} fᵣ = s f = {_slip(of):.4f} × {of.motor.circuit.frequency:g} Hz = "
        f"{shown(_slip(of) * of.motor.circuit.frequency)} Hz."
    )


def _field_speed(setup: SetUp) -> Question:
    of = _of(setup)
    circuit = of.motor.circuit
    answer = f"{field_speed(circuit.frequency, circuit.poles):.0f}"
    because = (
        f"The rotor is a little slower than the field: the nearest speed above it. {field_speed_because(circuit.frequency, circuit.poles)}"
    )
    return Question("", ((answer, f"{answer} r/min"),), answer, because)


def _asks_poles(setup: SetUp, field: str) -> str:
    of = _of(setup)
    return f"A cage motor on {of.motor.circuit.frequency:g} Hz runs at {_rotor(of):.0f} r/min under its load. How many poles has it?"


def _mistaken_poles(setup: SetUp) -> dict[str, str]:
    circuit = _of(setup).motor.circuit
    return {POLES: f"{60 * circuit.frequency / circuit.poles:.0f}"}


def _why(setup: SetUp) -> Reasons:
    of = _of(setup)
    most, percent = 100 * of.motor.breakdown[1] / of.motor.rated_torque, of.percent
    answer = setup.question()
    does = dict(answer.choices)[answer.answer]
    causes = {
        "the load asks for more than its breakdown torque": percent > most,
        "the load asks for more than its rated torque, and less than its breakdown torque": 100 < percent <= most,
        "the load asks for no more than its rated torque": percent <= 100,
    }
    (true,) = [words for words, so in causes.items() if so]
    return Reasons(
        f"A motor has at most {most:.0f} % of its rated torque. Its load comes to {percent:g} %, and {does}. Why?",
        true,
        [(words, "") for words, so in causes.items() if not so],
        answer.reason,
    )


KINDS = (
    forward("what the motor does under its load"),
    backward(
        "poles",
        "how many poles it has",
        "poles",
        asks=_asks_poles,
        says=lambda setup: f"{setup.settings['poles']} poles",
        values=lambda setup: ("2", "4", "6", "8"),
        hidden=None,
        result=_field_speed,
        mistaken=_mistaken_poles,
        setup=_loaded,
    ),
    figure(
        "slip",
        "how large the slip is",
        "%",
        of=_of,
        asks=lambda of: f"{_runs(of)} How large is its slip?",
        size=lambda of: 100 * _slip(of),
        because=lambda of: slip_because(_synchronous(of), _rotor(of)),
        slips=lambda of: (
            slip_slips(_synchronous(of), _rotor(of)) | {POLES: 100 * (_synchronous(of) / 2 - _rotor(of)) / (_synchronous(of) / 2)}
        ),
        setup=_loaded,
    ),
    figure(
        "figure",
        "at what frequency the rotor's currents are",
        "Hz",
        of=_of,
        asks=_asks_frequency,
        size=lambda of: _slip(of) * of.motor.circuit.frequency,
        because=_because_frequency,
        slips=lambda of: rotor_frequency_slips(of.motor.circuit.frequency, _slip(of)),
        setup=_loaded,
    ),
    compare(
        lambda setup: (
            f"A motor of {_of(setup).motor.circuit.poles} poles on {_of(setup).motor.circuit.frequency:g} Hz carries "
            f"{_of(setup).percent:g} % of its rated torque."
        ),
        (
            Change("load", times(2, 0.5, low=10, high=150)),
            Change("poles", one_of("2", "4", "8")),
            Change("frequency", one_of(25.0, 50.0)),
            Change("lines", one_of("L1-L2-L3", "L2-L1-L3")),
        ),
        (
            Measure("the slip at which it settles", _percent_or_none, "%", "It slips until its torque meets the load."),
            Measure("the speed of its field, in r/min", _synchronous, "r/min", "nₛ = 60 f / pole pairs, whatever the load."),
        ),
        of=_of,
        setup=lambda dice, settings: (
            OWN | {"load": float(dice.choice((40, 60))), "frequency": float(dice.choice((25, 50))), "poles": dice.choice(("2", "4", "8"))}
        ),
    ),
    why(
        _why,
        words="why the motor does it",
        even=True,
        setup=lambda dice, settings: OWN | {"load": float(dice.choice((40, 80, 95, 130, 160, 180, 260, 300)))},
    ),
)
