"""The cage's figures, each with its formula and this instant's numbers."""

from __future__ import annotations

import numpy as np

from physics.speeds import rotor_frequency
from scenes.machines.cage_rotor.motor import LENGTH, RADIUS, RPM, rated_torque
from scenes.machines.cage_rotor.snapshot import Snapshot
from scenes.scene.scene import Reading, minus, sign_before
from scenes.scene.story import Look
from scenes.workings.inputs import of_circuit, of_running


def readings(now: Snapshot, look: Look) -> list[Reading]:
    return [*_of_motion(now, look), *_of_supply(now), *_of_the_bar(now), *_of_the_rotor(now, look)]


def workings(now: Snapshot) -> dict[str, dict[str, float | str]]:
    """The calculations that belong here, with this instant's inputs."""
    setup, motor = now.setup, now.fed.circuit
    if setup.stands:
        return {}
    calculations = of_running(setup.frequency, setup.poles, 60 * (1 - now.slip) * motor.synchronous_speed)
    if setup.held is None and setup.broken == "none":
        calculations["equivalent-circuit"] = of_circuit(motor) | {"slip": 100 * now.slip}
    return calculations


def _of_motion(now: Snapshot, look: Look) -> list[Reading]:
    view, stands = look.view, now.setup.stands
    field_rpm, rotor_rpm = now.field_speed * now.sense * RPM, now.moment.rotor_speed * now.sense * RPM
    synchronous_rpm, frequency, poles = abs(now.synchronous) * RPM, now.setup.frequency, now.setup.poles
    return [
        Reading(
            "nₛ",
            "speed of the field",
            minus(field_rpm, 0),
            "r/min",
            "the inverter holds still: direct current in the windings, so the field stands"
            if stands
            else f"nₛ = 120 f / poles = 120 × {frequency:g} Hz / {poles} = {synchronous_rpm:.0f} r/min",
        ),
        Reading(
            "n",
            "speed of the rotor, with the field positive",
            minus(rotor_rpm, 0),
            "r/min",
            f"seen from {view.end} it turns {view.turning(now.moment.rotor_speed)}" if abs(rotor_rpm) > 0.5 else "it is at standstill",
        ),
        Reading(
            "s",
            "slip",
            minus(100 * now.slip, 1),
            "%",
            "as if the bars were at standstill and the field swept past them at this speed"
            if stands
            else f"s = (nₛ − n) / nₛ = ({synchronous_rpm:.0f} − {minus(rotor_rpm, 1)}) / {synchronous_rpm:.0f}",
            tells=True,
        ),
        Reading(
            "fᵣ",
            "frequency in the rotor",
            f"{float(rotor_frequency(frequency, now.slip)):.1f}",
            "Hz",
            f"fᵣ = s f = {abs(now.slip):.5g} × {frequency:g} Hz",
            tells=True,
        ),
    ]


def _of_supply(now: Snapshot) -> list[Reading]:
    """The field in the gap and, where it turns, what the supply gives for it."""
    if now.stator is None:
        return [Reading("B", "field in the gap, peak", f"{now.peak:.3f}", "T", "held constant", tells=True)]
    circuit, point, held = now.fed.circuit, now.stator, now.setup.held
    lines = np.sqrt(3) * abs(point.phase_voltage)
    induced = f"it induces {abs(point.gap_voltage):.0f} V of the {abs(point.phase_voltage):.0f} V per phase; the rest drops in the stator"
    return [
        Reading(
            "B",
            "field in the gap, peak",
            f"{now.peak:.3f}",
            "T",
            "held constant, whatever the rotor draws" if held else induced,
            tells=True,
        ),
        Reading(
            "U",
            "voltage between lines",
            f"{lines:.0f}",
            "V",
            f"what it takes to hold the field: {induced}"
            if held
            else f"fixed, whatever the rotor draws: {circuit.line_voltage:.0f} V at {circuit.frequency:g} Hz",
            tells=bool(held),
        ),
        Reading(
            "I₁",
            "current in a line",
            f"{abs(point.stator_current):.2f}",
            "A",
            "by the equivalent circuit: the magnetising current and what balances the bars",
            tells=True,
        ),
    ]


def _of_the_bar(now: Snapshot) -> list[Reading]:
    state, k = now.state, now.bar.number
    field, cutting = float(np.linalg.norm(now.bar.field)), float(np.linalg.norm(now.bar.motion))
    emf, force = 1000 * state.emf[k], now.sense * state.force[k]
    emf_sign, force_sign = sign_before(emf, 1), sign_before(force, 2)
    return [
        Reading(
            "E",
            f"EMF of bar {k + 1}, toward the drive end positive",
            minus(emf, 1),
            "mV",
            f"E = {emf_sign}B l v = {emf_sign}{field:.5f} T × {LENGTH:.3f} m × {cutting:.4f} m/s",
            tells=True,
        ),
        Reading(
            "I",
            f"current of bar {k + 1}, toward the drive end positive",
            minus(state.current[k], 0),
            "A",
            f"it lags its EMF: the cage's network at {abs(now.slip) * now.setup.frequency:.1f} Hz",
            tells=True,
        ),
        Reading(
            "F",
            f"force on bar {k + 1}, with the field's rotation positive",
            minus(force, 2),
            "N",
            f"F = {force_sign}B I l = {force_sign}{field:.5f} T × {abs(state.current[k]):.1f} A × {LENGTH:.3f} m",
            tells=True,
        ),
    ]


def _of_the_rotor(now: Snapshot, look: Look) -> list[Reading]:
    view, setup, state = look.view, now.setup, now.state
    rated, forces, sense = rated_torque(setup.poles), float(np.sum(state.force)), view.turning(state.torque)
    lag = "none" if np.isnan(state.lag) or state.reaction_mmf < 1e-6 else minus(np.degrees(now.sense * state.lag), 0)
    return [
        Reading("", f"direction of the torque, seen from {view.end}", sense if sense != "none" else "no torque", "", tells=True),
        Reading(
            "T",
            "torque on the rotor, with the field's rotation positive",
            minus(now.sense * state.torque, 2),
            "N m",
            f"T = Σ F r = {minus(now.sense * forces, 2)} N × {RADIUS:.3f} m",
            tells=True,
        ),
        Reading(
            "T\N{LATIN SUBSCRIPT SMALL LETTER L}",
            "load on the shaft",
            f"{setup.load:.2f}",
            "N m",
            f"{100 * setup.load / rated:.0f} % of the rated {rated:.2f} N m" if setup.free else "the shaft is held or driven",
        ),
        Reading(
            "β",
            "electrical angle by which the rotor's field is behind the field in the gap",
            lag,
            "°",
            "90° and what the current lags its EMF",
            tells=True,
        ),
    ]
