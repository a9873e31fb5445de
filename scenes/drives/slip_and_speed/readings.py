"""The figures of a motor that slips, each with its formula and this instant's numbers."""

from __future__ import annotations

from physics.speeds import rotor_frequency
from scenes.drives.slip_and_speed.snapshot import Snapshot
from scenes.scene.common_readings import load_torque, synchronous_speed
from scenes.scene.scene import Reading, minus
from scenes.scene.story import Look
from scenes.workings.inputs import of_circuit, of_plate, of_running

ASSUMED = ", assumed: not on the nameplate"
RESTS = " (rests on assumed figures)"


def readings(now: Snapshot, look: Look) -> list[Reading]:
    return [*_of_the_plate(now), *_of_speed(now), *_of_torque(now), *_of_motor(now)]


def workings(now: Snapshot) -> dict[str, dict[str, float | str]]:
    """The calculations that belong here, with this instant's inputs."""
    motor = now.motor.circuit
    calculations = of_running(motor.frequency, motor.poles, 60 * (1 - now.slip) * motor.synchronous_speed)
    calculations["equivalent-circuit"] = of_circuit(motor) | {"slip": 100 * now.slip}
    if now.motor.plate is not None:
        calculations["nameplate"] = of_plate(now.motor.plate)
    return calculations


def _of_the_plate(now: Snapshot) -> list[Reading]:
    wrong = now.setup.refused
    return [Reading("", "the nameplate as entered contradicts itself; the motor before it stays", "refused", "", wrong)] if wrong else []


def _of_speed(now: Snapshot) -> list[Reading]:
    circuit, slip = now.motor.circuit, now.slip
    field_rpm, rotor_rpm = 60 * circuit.synchronous_speed, 60 * now.speed
    pairs = f"{circuit.pole_pairs} pole pair{'s' * (circuit.pole_pairs > 1)}"
    field_turns, rotor_turns, laps = now.counted
    return [
        synchronous_speed(field_rpm, circuit.frequency, circuit.poles),
        Reading(
            "n",
            "speed of the rotor, with the field positive",
            minus(rotor_rpm, 0),
            "r/min",
            f"n = nₛ (1 − s) = {field_rpm:.0f} r/min × (1 − {minus(slip, 5)})",
        ),
        Reading(
            "s",
            "slip",
            minus(100 * slip, 2),
            "%",
            f"s = (nₛ − n) / nₛ = ({field_rpm:.0f} − {minus(rotor_rpm, 2)}) / {field_rpm:.0f} = {minus(slip, 4)}",
        ),
        Reading(
            "fᵣ",
            "frequency in the rotor",
            f"{float(rotor_frequency(circuit.frequency, slip)):.2f}",
            "Hz",
            f"fᵣ = s f = {abs(slip):.5f} × {circuit.frequency:g} Hz; {abs(slip) * field_rpm / 60:.2f} laps a second × {pairs}",
        ),
        Reading("", "laps of slip", laps, "", f"turns of field − rotor = {field_turns} − {rotor_turns}"),
    ]


def _of_torque(now: Snapshot) -> list[Reading]:
    motor, point, slip = now.motor, now.point, now.slip
    rests = RESTS if motor.rests_on_assumption(slip) else ""
    torque, current = float(point.torque), float(abs(point.stator_current))
    breakdown_slip, breakdown = motor.breakdown
    guessed = ASSUMED if "breakdown_torque" in motor.unknown else ""
    idle, field = motor.no_load_field, now.field
    return [
        Reading(
            "B",
            "field in the gap, peak",
            f"{field:.3f}",
            "T",
            f"{field / idle:.1%} of the {idle:.2f} T without load; these {motor.field_note}",
            tells=True,
        ),
        Reading(
            "T",
            f"torque in the gap{rests}",
            minus(torque, 2),
            "N m",
            f"{minus(100 * torque / motor.rated_torque, 0)} % of the rated {motor.rated_torque:.2f} N m",
            tells=True,
        ),
        load_torque(now.setup.load, now.setup.percent, motor.rated_torque, 2),
        Reading(
            "Tₘ",
            f"breakdown torque: the most it gives at the shaft{guessed}",
            f"{breakdown:.2f}",
            "N m",
            f"{breakdown / motor.rated_torque:.2f} times rated, at a slip of {100 * breakdown_slip:.0f} %",
            tells=True,
        ),
        Reading(
            "I", f"current in a line{rests}", f"{current:.2f}", "A", f"{now.times:.2f} × the rated {motor.rated_current:.2f} A", tells=True
        ),
        Reading(
            "q",
            f"heat per second in the rotor{rests}",
            f"{float(point.rotor_loss):.0f}",
            "W",
            f"slip × the power across the gap = {minus(slip, 5)} × {minus(float(point.airgap_power), 0)} W",
            tells=True,
        ),
    ]


def _of_motor(now: Snapshot) -> list[Reading]:
    motor = now.motor
    said = [Reading("", f"rated torque: {motor.words}", f"{motor.rated_torque:.2f}", "N m", motor.note, tells=False)]
    if motor.assumed:
        words = "not on the nameplate, taken as usual for such motors"
        said.append(Reading("", words, "assumed", "", "; ".join(motor.assumed), tells=True))
    return said
