"""The kinds of question on slip and speed."""

from __future__ import annotations

import math
from dataclasses import replace

from scenes.drives.slip_and_speed.snapshot import Setup
from scenes.questions.backward import backward
from scenes.questions.compare import Change, Measure, compare, one_of, times
from scenes.questions.figures import figure
from scenes.questions.kinds import Kind, SetUp, forward
from scenes.questions.mistakes import MINUTES, POLES, ROTOR_FOR_FIELD, SUM
from scenes.questions.speeds import field_speed, field_speed_because, rotor_frequency_slips, slip_because, slip_slips
from scenes.questions.why import Reasons, statements, why
from scenes.scene.question import Question
from scenes.scene.typed import shown

OWN = {"plate": False, "lines": "L1-L2-L3", "lamp": "steady"}
AS_SEEN = ("lines", "lamp")  # neither speed nor slip hangs on them
ALIKE = {
    "poles": "The torque at each slip and the rated torque grow alike with the number of poles: the same part of it takes the same slip."
}


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


def _running(of: Setup) -> dict[str, float | str]:
    """For the workings."""
    return {"frequency": of.motor.circuit.frequency, "poles": of.motor.circuit.poles, "speed": _rotor(of)}


def _asks_frequency(of: Setup) -> str:
    return f"{_runs(of)} What is the frequency of the currents in its rotor?"


def _because_frequency(of: Setup) -> str:
    return (
        f"{slip_because(_synchronous(of), _rotor(of))} fᵣ = s f = {_slip(of):.6g} × {of.motor.circuit.frequency:g} Hz = "
        f"{shown(_slip(of) * of.motor.circuit.frequency)} Hz."
    )


def _field_speed(setup: SetUp) -> Question:
    of = _of(setup)
    circuit = of.motor.circuit
    answer = f"{field_speed(circuit.frequency, circuit.poles):.0f}"
    because = "The rotor is a little slower than its field, so the field has the nearest synchronous speed above the rotor's. "
    because += field_speed_because(circuit.frequency, circuit.poles)
    return Question("", ((answer, f"{answer} r/min"),), answer, because)


def _asks_poles(setup: SetUp, field: str) -> str:
    of = _of(setup)
    return f"A cage motor on {of.motor.circuit.frequency:g} Hz runs at {_rotor(of):.0f} r/min under its load. How many poles has it?"


def _mistaken_poles(setup: SetUp) -> dict[str, str]:
    circuit = _of(setup).motor.circuit
    return {POLES: f"{60 * circuit.frequency / circuit.poles:.0f}"}


def _why(setup: SetUp) -> Reasons:
    of = _of(setup)
    field, rotor, hertz = _synchronous(of), _rotor(of), of.motor.circuit.frequency

    def passing(rpm: float) -> tuple[str, str]:
        """How fast the field passes the bars, and the frequency of that."""
        return f"{rpm:.0f}", shown(hertz * rpm / field)

    less = [((field - rotor) / divided, mistake) for divided, mistake in ((2, POLES), (3, ""), (60, MINUTES))]
    more = [(field + rotor, SUM), (rotor, ROTOR_FOR_FIELD), (field, "")]
    below = setup.dice.randint(0, len(less))  # so many are less than the right one, which is the least of those that mistakes give
    return statements(
        f"{_runs(of)} What makes its torque?",
        "the field passes the bars at {} r/min, and induces currents of {} Hz in them",
        passing(field - rotor),
        [(passing(rpm), mistake) for rpm, mistake in (*less[:below], *more[: len(more) - below])],
        _because_frequency(of),
    )


def _while_it_runs(kind: Kind) -> Kind:
    """The same, not put to a load under which the motor stands still, and shown as it runs under it."""
    return replace(kind, settled=True, put=lambda setup: kind.put(setup) if _rotor(_of(setup)) > 0 else None)


_of_all_loads = (
    forward("what the motor does under its load"),
    backward(
        "poles",
        "how many poles it has",
        "poles",
        asks=_asks_poles,
        says=lambda setup: f"{setup.settings['poles']} poles",
        hidden=None,
        result=_field_speed,
        mistaken=_mistaken_poles,
        setup=_loaded,
        aside=AS_SEEN,
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
        aside=(*AS_SEEN, "plate"),
        works="slip",
        given=_running,
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
        aside=(*AS_SEEN, "plate"),
        works="rotor-frequency",
        given=_running,
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
        ),
        (
            Measure("the slip at which it settles", _percent_or_none, "%", "The motor slips until its torque meets the load.", ALIKE),
            Measure("the speed of its field, in r/min", _synchronous, "r/min", "nₛ = 120 f / poles, whatever the load."),
        ),
        of=_of,
        setup=lambda dice, settings: (
            OWN | {"load": float(dice.choice((40, 60))), "frequency": float(dice.choice((25, 50))), "poles": dice.choice(("2", "4", "8"))}
        ),
        aside=(*AS_SEEN, "poles"),
        settled=True,
    ),
    why(_why, words="what makes its torque", setup=_loaded, aside=(*AS_SEEN, "plate")),
)
OF_ITS_SPEED = ("poles", "slip", "figure", "why")
KINDS = tuple(_while_it_runs(kind) if kind.name in OF_ITS_SPEED else kind for kind in _of_all_loads)
