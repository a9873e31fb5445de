"""The figures of a synchronous motor, each with its formula and this instant's numbers."""

from __future__ import annotations

import math

from scenes.drives.synchronous_motor import motors
from scenes.drives.synchronous_motor.snapshot import UNITY, Snapshot
from scenes.scene.common_readings import load_torque, synchronous_speed
from scenes.scene.scene import Reading, minus
from scenes.scene.story import Look


def phase_words(now: Snapshot) -> str:
    """How the current stands to the voltage, as the word after "it is"."""
    if abs(math.cos(now.phase_angle)) > UNITY:
        return "in phase" if now.power >= 0 else "opposite in phase"
    return "lagging" if now.phase_angle > 0 else "leading"


def readings(now: Snapshot, look: Look) -> list[Reading]:
    return [*_of_speed(now), *_of_torque(now), *_of_current(now)]


def workings(now: Snapshot) -> dict[str, dict[str, float | str]]:
    """The calculations that belong here, with this instant's inputs; before an inverter begins, those of rated frequency."""
    return {"synchronous-speed": {"frequency": now.frequency or motors.FREQUENCY, "poles": now.setup.poles}}


def _of_speed(now: Snapshot) -> list[Reading]:
    setup, field, rotor = now.setup, 60 * now.field_speed, 60 * now.speed
    turned = f"{minus(math.degrees(now.load_angle) / setup.machine.pole_pairs, 1)}°"
    return [
        Reading("f", "frequency of the supply", f"{now.frequency:.1f}", "Hz", f"{now.voltage:.0f} V between lines"),
        synchronous_speed(field, now.frequency, setup.poles),
        Reading("n", "speed of the rotor, with the field positive", minus(rotor, 0), "r/min", "in step n = nₛ, whatever the load"),
        Reading(
            "δ",
            "load angle, electrical, by which the pole axis lags the field",
            minus(math.degrees(now.load_angle), 1) if now.magnetised else "none",
            "°" if now.magnetised else "",
            f"{setup.machine.pole_pairs} pole pair{'s' * (setup.poles > 2)} × {turned} in the picture"
            if now.magnetised
            else "the rotor is not excited: it has no poles",
            tells=True,
        ),
    ]


def _of_torque(now: Snapshot) -> list[Reading]:
    setup, rated = now.setup, motors.rated_torque(now.setup.poles)
    most = motors.most(setup.poles, setup.emf)
    return [
        Reading(
            "T",
            "torque in the gap",
            minus(now.torque, 1),
            "N m",
            f"{minus(100 * now.torque / rated, 0)} % of the rated {rated:.2f} N m",
            tells=True,
        ),
        load_torque(setup.load, setup.percent, rated),
        Reading(
            "Tₘ",
            "pull-out torque: the most it holds in step",
            f"{most.torque:.1f}",
            "N m",
            f"about √3 V E / (X ω): {100 * most.torque / rated:.0f} % of rated, at δ = {math.degrees(most.load_angle):.0f}°"
            if setup.emf
            else "without excitation there is nothing to hold it",
            tells=True,
        ),
        Reading("B", "field of the stator, peak", f"{now.field:.3f}", "T", f"{motors.USUAL_FIELD:g} T on rated voltage, taken as usual"),
    ]


def _of_current(now: Snapshot) -> list[Reading]:
    setup, current = now.setup, now.current
    degrees, rated = math.degrees(now.phase_angle), motors.POWER / (math.sqrt(3) * motors.VOLTAGE)
    at_speed = motors.VOLTAGE * now.rotor_field / motors.USUAL_FIELD
    return [
        Reading(
            "E",
            "EMF that the excitation makes at synchronous speed, between lines",
            f"{at_speed:.0f}",
            "V",
            f"set to {100 * setup.emf / motors.VOLTAGE:.0f} % × {motors.VOLTAGE:.0f} V{'' if now.excited else '; not switched on yet'}",
        ),
        Reading(
            "I",
            "current in a line, r.m.s.",
            f"{current:.1f}",
            "A",
            f"{current / rated:.2f} × the rated {rated:.1f} A at unity power factor",
            tells=True,
        ),
        Reading(
            "",
            "power factor, and how the current stands to the voltage",
            f"{minus(math.cos(now.phase_angle), 2)} {phase_words(now)}",
            "",
            f"cos φ, φ = {minus(degrees, 0)}°, positive where the current lags",
            tells=True,
        ),
        Reading(
            "P",
            "power from the lines",
            minus(now.power / 1000, 2),
            "kW",
            f"P = √3 U I cos φ = √3 × {now.voltage:.5g} V × {current:.2f} A × {minus(math.cos(now.phase_angle), 5)}",
            tells=True,
        ),
    ]
