"""What is read of the machine with a commutator: speed, voltage, current and torque; the coil side looked at; what changes over."""

from __future__ import annotations

import numpy as np

from scenes.machines.demonstration_commutator import BRUSHES, LAMP_RESISTANCE, LENGTH, RADIUS, SIDES, TURNS
from scenes.scene.scene import Reading, minus
from visual.machines.commutator_machine import COILS


def of_the_machine(scene) -> list[Reading]:
    """Speed, voltage, current, EMF at the brushes, torque and what it costs."""
    state, by_hand = scene.state, scene.by_hand
    speed, torque, volts = float(state.speed), float(state.torque), float(state.terminal_voltage)
    current = scene.told_current
    sense = scene.seen(speed)
    seen = "at rest" if sense == "none" else f"{sense}, seen from {scene.end}"
    levers = TURNS * LENGTH * 2 * RADIUS * scene.field[0] * np.cos(state.side_angles[:, 0]) * state.coil_currents
    added = " + ".join(f"({minus(-lever * 1000, 1)})" for lever in levers)
    readings = [
        Reading("n", f"speed: {seen}" if scene.answers_shown or by_hand else "speed", minus(abs(speed) * 60 / (2 * np.pi), 0), "r/min",
                tells=not by_hand),
        Reading("U", "voltage at the brushes, A1 above A2", minus(volts, 2), "V", tells=by_hand),
        Reading("I", "current through the lamp" if by_hand else "current from the battery", minus(current, 2), "A",
                _current_formula(scene, volts, current), tells=by_hand),
        Reading("E", "EMF picked off by the brushes" if by_hand else "back-EMF picked off by the brushes", minus(scene.picked_off, 2), "V",
                "the EMFs of the coils that lie in series from brush to brush, added", tells=True),
        Reading("M", "torque on the coils, clockwise from the drive end positive", minus(-torque * 1000, 0), "mN m",
                f"M = Σ 2 r N B i l cos θ = {added} = {minus(-torque * 1000, 1)} mN m", tells=True),
    ]
    if by_hand:
        readings.append(Reading("P", "power that the hand must give", minus(-torque * speed, 2), "W",
                                f"P = M ω = {abs(torque):.3f} N m × {abs(speed):.1f} rad/s", tells=True))
    return readings


def of_the_side(scene) -> list[Reading]:
    """Force on the coil side that is looked at, and its EMF."""
    chosen = SIDES[scene["side"]]
    field, current = abs(scene.field[0]), abs(float(scene.state.side_currents[chosen]))
    emf, cosine = float(scene.state.side_emfs[chosen]), abs(float(np.cos(scene.state.side_angles[chosen])))
    along = "toward you" if scene.side > 0 else "away from you"
    wire = f"{TURNS} × {field:.3f} T"
    return [
        Reading("F", f"force on side {scene['side']}", minus(float(np.linalg.norm(scene.forces[chosen])), 2), "N",
                f"F = N B i l = {wire} × {current:.2f} A × {LENGTH:.3f} m = {TURNS * field * current * LENGTH:.2f} N", tells=True),
        Reading("e", f"EMF in side {scene['side']}, {along} positive", minus(emf, 2), "V",
                f"e = N B l v |cos θ| = {wire} × {LENGTH:.3f} m × {RADIUS * abs(float(scene.state.speed)):.3f} m/s × {cosine:.3f} = "
                f"{abs(emf):.2f} V", tells=True),
    ]


def _current_formula(scene, volts: float, current: float) -> str:
    if scene.by_hand:
        return f"I = U / R = {minus(volts, 2)} V / {LAMP_RESISTANCE:g} Ω" if scene["load"] == "lamp" else "nothing is connected"
    if abs(current) < 1e-6:
        return ""
    given, back = minus(scene["battery"], 2), minus(scene.picked_off, 2)
    resistance = (scene["battery"] - scene.picked_off) / current
    return f"I = (U₀ \N{MINUS SIGN} E) / R = ({given} V \N{MINUS SIGN} ({back} V)) / {resistance:.2f} Ω = {minus(current, 2)} A"


def changing_over(scene) -> Reading:
    """Which coil a brush short-circuits at this moment, and which brush."""
    bridged = scene.state.short_circuited
    said = [f"coil {k + 1}, under {BRUSHES[b]}" for b in range(2) for k in range(COILS) if bridged[b, k]]
    if scene["collector"] == "slip-rings":
        said = ["none: slip rings change nothing over"]
    return Reading("", f"changes over now: {' and '.join(said) or 'no coil now'}", "", "")
