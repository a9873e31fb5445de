"""The figures of a braking, each with its formula and this instant's numbers."""

from __future__ import annotations

import numpy as np

from physics.induction.direct_current import EQUIVALENT
from scenes.drives.braking.motors import (
    BY_INVERTER,
    DIRECT,
    FREQUENCY,
    INVERTER,
    JOINED,
    LINES,
    OFF,
    POLES,
    RATED_CURRENT,
    RATED_TORQUE,
    SWAPPED,
    SYNCHRONOUS,
    VOLTAGE,
)
from scenes.drives.braking.shaft import HOIST, RAMP, Case
from scenes.drives.braking.snapshot import Snapshot
from scenes.scene.common_readings import load_torque
from scenes.scene.scene import Reading, minus
from scenes.scene.story import Look
from scenes.workings.inputs import of_running

STATES = {LINES: "K1 closed", OFF: "all open", SWAPPED: "K2 closed", DIRECT: "K3 closed", BY_INVERTER: "inverter"}


def readings(now: Snapshot, look: Look) -> list[Reading]:
    return [*_of_speed(now, look), *_of_torque(now), *_of_energy(now)]


def workings(now: Snapshot) -> dict[str, dict[str, float | str]]:
    """The calculations that belong here, with this instant's inputs; while no field rotates, those of the rated frequency."""
    frequency = FREQUENCY * (now.ratio if now.supplied == BY_INVERTER and now.ratio else 1.0)
    sense = -1.0 if now.supplied == SWAPPED else 1.0
    return of_running(frequency, POLES, -60 * sense * now.shaft_speed)


def rest_after(now: Snapshot) -> str:
    """When it first comes to rest, in words."""
    history = now.case.history
    still = np.flatnonzero(history.speed <= 1e-3)
    return f"{history.time[still[0]]:.1f} s" if still.size else "never"


def opening(case: Case) -> str:
    """What a zero-speed switch opens, and at which speed."""
    return f"the contactor just before standstill, at {case.opens_at:.0f} r/min"


def _of_speed(now: Snapshot, look: Look) -> list[Reading]:
    turning, field = look.view.turns(now.shaft_speed), 60 * now.field_speed
    slip = 100 * (now.field_speed - now.speed * SYNCHRONOUS) / now.field_speed if now.field_speed else None
    rotates = look.view.turning(-now.field_speed)
    return [
        Reading("", "contactors", STATES[now.supplied], "", _words_of(now), tells=True),
        Reading("n", "speed of the shaft", minus(60 * abs(now.shaft_speed), 0), "r/min", turning, tells=True),
        Reading(
            "nₛ",
            "synchronous speed: that of the field",
            minus(abs(field), 0),
            "r/min",
            f"{rotates}, looking at {look.view.end}" if field else "no field rotates",
            tells=True,
        ),
        Reading(
            "s",
            "slip",
            "none" if slip is None else minus(slip, 1),
            "" if slip is None else "%",
            "no field rotates" if slip is None else _slip(now, slip),
            tells=True,
        ),
        Reading(
            "",
            "zero-speed switch",
            "there" if now.case.stops else "none",
            "",
            f"opens {opening(now.case)}" if now.case.stops else "nothing opens the contactor at standstill",
        ),
        Reading("", "standstill after", rest_after(now), "", "counted from the beginning of the braking", tells=True),
    ]


def _words_of(now: Snapshot) -> str:
    if now.setup.method == RAMP and now.supplied == BY_INVERTER:
        return f"{now.ratio * FREQUENCY:.1f} Hz, coming down in {now.case.ramp:g} s"
    if now.supplied == DIRECT:
        share = EQUIVALENT[JOINED]
        return f"{now.case.direct:.0f} A through two windings is like {share * now.case.direct:.0f} A of three phases: {share:.3f} of it"
    return {LINES: "on the lines", SWAPPED: "L1 and L2 swapped"}.get(now.supplied, "no current flows")


def _slip(now: Snapshot, slip: float) -> str:
    """The formula with numbers: the shaft's speed counted positive with the field."""
    field, along = 60 * abs(now.field_speed), 60 * now.speed * SYNCHRONOUS * (1 if now.field_speed > 0 else -1)
    means = "the motor generates" if slip < 0 else "it brakes" if slip > 100 else "it motors"
    less = f"− {along:.1f}" if along >= 0 else f"+ {-along:.1f}"
    return f"s = (nₛ − n) / nₛ = ({field:.5g} {less}) / {field:.5g} = {minus(slip, 1)} %: {means}"


def _power(now: Snapshot) -> str:
    """With numbers; the power factor is below 0 where power flows back."""
    watts, amperes = float(now.running.input_power), float(now.running.line)
    if now.supplied == DIRECT:
        return "what the two windings take as heat, through the rectifier"
    if not amperes:
        return "no current flows"
    volts = float(INVERTER.voltage(now.ratio * FREQUENCY)) if now.supplied == BY_INVERTER else VOLTAGE
    factor = watts / (3**0.5 * volts * amperes)
    back = ": it goes back" if watts < 0 else ""
    return f"P = √3 U I cos φ = √3 × {volts:.5g} V × {amperes:.2f} A × {minus(factor, 5)}{back}"


def _of_torque(now: Snapshot) -> list[Reading]:
    torque, amperes = float(now.running.torque), float(now.running.line)
    acts = "none" if abs(torque) < 0.005 else "with the motion" if torque * now.speed > 0 else "against the motion"
    return [
        Reading(
            "T",
            "torque of the motor",
            minus(torque, 1),
            "N m",
            f"{minus(torque / RATED_TORQUE, 2)} × rated, clockwise positive; {acts}",
            tells=True,
        ),
        load_torque(now.setup.load, now.setup.percent, RATED_TORQUE, also=", driving" if now.setup.method == HOIST else ", friction"),
        Reading(
            "I",
            "current in a line" if now.supplied != DIRECT else "direct current",
            minus(amperes, 1),
            "A",
            f"{amperes / RATED_CURRENT:.2f} × the rated {RATED_CURRENT:.1f} A",
            tells=True,
        ),
        Reading(
            "P",
            "power from the lines",
            minus(float(now.running.input_power) / 1000, 2),
            "kW",
            _power(now),
            tells=True,
        ),
    ]


def _of_energy(now: Snapshot) -> list[Reading]:
    motion, rotor, stator, taken, drawn = now.energies
    whole = now.case.energy / 1000
    return [
        Reading(
            "W",
            "heat in the rotor since braking began",
            minus(rotor * whole, 2),
            "kJ",
            f"{minus(rotor, 2)} × the {whole:.2f} kJ of motion at the beginning",
            tells=True,
        ),
        Reading(
            "",
            "energy in motion",
            minus(motion * whole, 2),
            "kJ",
            f"½ × {now.case.total_inertia:.2f} kg m² × ω², {minus(motion, 2)} × that at the beginning",
            tells=True,
        ),
        Reading(
            "",
            "energy from the lines",
            minus(drawn * whole, 2),
            "kJ",
            f"and {minus(stator * whole, 2)} kJ of heat in the stator, {minus(taken * whole, 2)} kJ taken by load and bearings",
            tells=True,
        ),
    ]
