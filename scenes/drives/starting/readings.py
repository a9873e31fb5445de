"""The figures of a start, each with its formula and this moment's numbers, and the six methods side by side."""

from __future__ import annotations

import math

from physics.starting.starts import STAYS_AT_REST, Start
from scenes.drives.starting.motors import BREAKAWAY, MOTOR, RATED_CURRENT, RATED_TORQUE, ROTOR_INERTIA, WOUND
from scenes.drives.starting.snapshot import Snapshot
from scenes.drives.starting.starters import WORDS
from scenes.scene.scene import Reading, minus
from scenes.scene.story import Look
from scenes.workings.inputs import of_circuit, of_running

NOT_YET = "…"  # while it is worked out


def readings(now: Snapshot, look: Look) -> list[Reading]:
    moment, current = now.moment, now.moment.line_current
    when = f"{moment.stage_name}, {moment.time:.2f} s after switching on" if now.start else moment.stage_name
    return [
        Reading(
            "I",
            "line current",
            minus(current, 1),
            "A",
            f"I / rated current = {current:.2f} A / {RATED_CURRENT:.2f} A = {current / RATED_CURRENT:.2f}",
            tells=True,
        ),
        Reading("n", "speed", minus(60 * moment.speed, 0), "r/min", when, tells=True),
        _winding_voltage(now),
        Reading("T", "motor torque", minus(moment.torque, 1), "N m", _torques(now), tells=True),
        *_of_the_whole_start(now.start, look),
        _motor(now),
        *[_row(name, start, look) for name, start in now.others.items()],
    ]


def workings(now: Snapshot) -> dict[str, dict[str, float | str]]:
    """The calculations that belong here, with this instant's inputs."""
    case, motor = now.case, now.case.motor
    load: dict[str, float | str] = {"rotor_inertia": ROTOR_INERTIA, "load": case.drive, "load_inertia": ROTOR_INERTIA * case.inertia}
    if case.drive != "flywheel":
        load["load_torque"] = RATED_TORQUE * case.load
    if case.drive == "conveyor":
        load["breakaway_torque"] = BREAKAWAY * RATED_TORQUE * case.load
    return {"run-up-of-circuit": of_circuit(motor) | load} | of_running(motor.frequency, motor.poles, 60 * now.moment.speed)


def _torques(now: Snapshot) -> str:
    if now.start is None or now.start.outcome == STAYS_AT_REST:
        return f"it would take {now.case.torque_to_move:.1f} N m to move the load"
    return f"the load takes {now.moment.load_torque:.1f} N m"


def _winding_voltage(now: Snapshot) -> Reading:
    """What the supply has put across each winding, and how that comes of the voltage between lines."""
    moment, line = now.moment, MOTOR.line_voltage
    if moment.stage is None:
        formula = moment.stage_name
    elif not moment.winding_voltage:
        formula = "off the supply while the contactors change over"
    elif now.case.method == "star-delta" and moment.stage == 0:
        formula = f"U / √3 = {line:.0f} V / √3"
    else:
        formula = f"in delta: {100 * moment.winding_voltage / line:.0f} % of the {line:.0f} V between lines, at {moment.frequency:.1f} Hz"
    return Reading("U", "voltage across each winding", minus(moment.winding_voltage, 0), "V", formula)


def _of_the_whole_start(start: Start | None, look: Look) -> list[Reading]:
    result = ("", "result"), ("Iₘₐₓ", "largest line current, r.m.s."), ("W", "heat in the rotor")
    if start is None:
        return [Reading(*names, NOT_YET, unit, tells=True) for names, unit in zip(result, ("", "A", "kJ"), strict=True)]
    return [
        Reading(*result[0], start.outcome, "", f"It {start.sentence}.", tells=True),
        Reading(
            *result[1],
            minus(start.largest_line_current, 0),
            "A",
            f"{start.largest_line_current / RATED_CURRENT:.1f} times rated; momentary peak {_peak(start)}",
            tells=True,
        ),
        _heat(start, look),
    ]


def _peak(start: Start) -> str:
    """The highest momentary current: of the wave itself, or above it for where in the wave one switches."""
    peak = math.sqrt(2) * start.largest_line_current
    if start.peak_line_current <= peak * 1.001:
        return f"{start.peak_line_current:.0f} A, the peak of the wave"
    return f"up to {start.peak_line_current:.0f} A if switched at the worst instant"


def _heat(start: Start, look: Look) -> Reading:
    """Where it does not run up the heat goes on; before the answer that is named no other way than where it does."""
    if not start.starts and look.reveals_answer:
        return Reading(
            "q",
            "heat per second in the windings",
            minus(start.settled_heating / 1000, 1),
            "kW",
            "in stator and rotor together, until something trips or burns",
            tells=True,
        )
    outside = start.resistor_heat / 1000
    where = f"and {outside:.1f} kJ in the resistors outside" if outside > 1e-3 else "all of it inside the motor"
    return Reading("W", "heat in the rotor", minus(start.rotor_heat / 1000, 1), "kJ", where, tells=True)


def _motor(now: Snapshot) -> Reading:
    motor = now.case.motor
    at_rest = motor.at(1.0)
    current, torque = abs(at_rest.stator_current) / RATED_CURRENT, at_rest.torque / RATED_TORQUE
    return Reading(
        "",
        "the motor: of 11 kW, with " + ("a wound rotor" if motor is WOUND else "a deep-bar cage"),
        "11",
        "kW",
        f"{motor.line_voltage:g} V, {motor.frequency:g} Hz, {motor.poles} poles; at standstill {current:.1f} times rated current and "
        f"{torque:.1f} times rated torque direct-on-line: usual values, assumed",
        tells=True,
    )


def _row(name: str, start: Start | None, look: Look) -> Reading:
    """One method of the table side by side: largest current, time, heat in the rotor; dots while it is worked out or hidden."""
    if start is None or not look.reveals_answer:
        return Reading("", WORDS[name], NOT_YET, "", tells=True)
    if not start.starts:
        current = start.settled_line_current / RATED_CURRENT
        return Reading("", WORDS[name], start.outcome, "", f"on {current:.1f} times rated current", tells=True)
    return Reading(
        "",
        WORDS[name],
        f"{start.largest_line_current / RATED_CURRENT:.1f}",
        "× rated",
        f"largest line current; up to speed in {start.time:.1f} s, {start.rotor_heat / 1000:.1f} kJ in the rotor",
        tells=True,
    )
