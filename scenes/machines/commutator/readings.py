"""The commutator machine's figures, each with its formula and this instant's numbers."""

from __future__ import annotations

import numpy as np

from scenes.machines.commutator.machine import BRUSHES, LAMP, LENGTH, RADIUS, TURNS
from scenes.machines.commutator.snapshot import NEAR_A_POLE, Snapshot
from scenes.scene.scene import Reading, minus, sign_before
from scenes.scene.story import Look

NO_CURRENT = 1e-6  # A


def readings(now: Snapshot, look: Look) -> list[Reading]:
    return [*_of_the_machine(now, look), *_of_the_side(now), _commutating(now)]


def workings(now: Snapshot) -> dict[str, dict[str, float | str]]:
    """The calculations that belong here, with this instant's inputs."""
    field, speed = abs(float(now.machine.side_fields[now.shown.at])), RADIUS * abs(now.speed)
    return {"conductor-emf": {"field": field, "speed": speed, "length": 1000 * LENGTH, "turns": TURNS}}


def _of_the_machine(now: Snapshot, look: Look) -> list[Reading]:
    """Speed, voltage, current, EMF at the brushes, torque and power."""
    by_hand, speed = now.setup.by_hand, now.speed
    return [
        Reading(
            "n",
            f"speed: {look.view.turns(speed)}" if look.reveals_answer or by_hand else "speed",
            minus(abs(speed) * 60 / (2 * np.pi), 0),
            "r/min",
            tells=not by_hand,
        ),
        Reading("U", "voltage at the brushes, A1 above A2", minus(now.volts, 2), "V", tells=by_hand),
        Reading(
            "I",
            "current out of A1 through the lamp" if by_hand else "current from the battery into A1",
            minus(now.current, 2),
            "A",
            _current_formula(now),
            tells=by_hand,
        ),
        Reading(
            "E",
            "EMF between the brushes" if by_hand else "back-EMF between the brushes",
            minus(now.picked_off, 2),
            "V",
            "sum of the EMFs of the coils in series from brush to brush"
            if now.setup.coils > 2
            else "EMF of the coil that the brushes touch",
            tells=True,
        ),
        Reading(
            "T",
            "torque on the coils, positive clockwise looking at the drive end",
            minus(-now.torque * 1000, 0),
            "mN m",
            _torque_formula(now),
            tells=True,
        ),
        *_circulating(now),
        *_powers(now),
    ]


def _circulating(now: Snapshot) -> list[Reading]:
    """The current that flows round a closed winding; an open one has none."""
    if now.setup.coils < 3:
        return []
    why = "the field round the rotor is not a sine wave, so the EMFs of the three coils do not add up to zero"
    mean = minus(float(now.machine.coil_currents.mean()), 2)
    return [Reading("i₀", "circulating current in the closed winding", mean, "A", f"i₀ = Σ e / Σ R: {why}", tells=True)]


def _torque_formula(now: Snapshot) -> str:
    products = 2 * TURNS * LENGTH * RADIUS * now.machine.side_fields[:, 0] * now.machine.coil_currents  # counter-clockwise
    added = " + ".join(f"({minus(-product * 1000, 2)})" for product in products)
    return f"T = Σ 2 r N B i l = {added} = {minus(-now.torque * 1000, 1)} mN m, B across the path of each coil's two sides"


def _powers(now: Snapshot) -> list[Reading]:
    if not now.setup.by_hand:
        return []
    torque, speed = abs(now.torque), abs(now.speed)
    given = Reading(
        "P",
        "power needed at the crank",
        minus(-now.torque * now.speed, 2),
        "W",
        f"P = T ω = {torque:.4f} N m × {speed:.3f} rad/s",
        tells=True,
    )
    if not now.setup.lamp:
        return [given]
    return [
        given,
        Reading(
            "P₂",
            f"power of the lamp, rated {LAMP.voltage:g} V, {LAMP.power:g} W",
            minus(now.lamp_power, 2),
            "W",
            f"P = U² / R = ({minus(now.volts, 3)} V)² / {now.lamp_resistance:.3f} Ω",
            tells=True,
        ),
    ]


def _current_formula(now: Snapshot) -> str:
    setup = now.setup
    if setup.by_hand:
        return (
            f"I = U / R = {minus(now.volts, 3)} V / {now.lamp_resistance:.3f} Ω, at the filament's present temperature"
            if setup.lamp
            else "nothing is connected"
        )
    if abs(now.current) < NO_CURRENT:
        return ""
    battery, back = minus(setup.battery, 2), f"{minus(now.picked_off, 3)} V"
    back = f"({back})" if back.startswith("\N{MINUS SIGN}") else back
    resistance = (setup.battery - now.picked_off) / now.current
    return f"I = (U₀ \N{MINUS SIGN} E) / R = ({battery} V \N{MINUS SIGN} {back}) / {resistance:.4f} Ω = {minus(now.current, 2)} A"


def _of_the_side(now: Snapshot) -> list[Reading]:
    """Force on the coil side shown, and its EMF."""
    at, speed = now.shown.at, RADIUS * abs(now.speed)
    which = f"side {now.shown.name}" + (", at the N pole" if now.setup.side == NEAR_A_POLE and now.setup.flux_density else "")
    field, across = float(np.linalg.norm(now.fields[at])), abs(float(now.machine.side_fields[at]))
    current, emf = abs(float(now.machine.side_currents[at])), float(now.machine.side_emfs[at])
    sign = sign_before(emf, 2)
    return [
        Reading(
            "F",
            f"force on {which}",
            minus(float(np.linalg.norm(now.forces[at])), 2),
            "N",
            f"F = N B i l = {TURNS} × {field:.5f} T × {current:.3f} A × {LENGTH:.3f} m = {TURNS * field * current * LENGTH:.2f} N",
            tells=True,
        ),
        Reading(
            "e",
            f"EMF in {which}, positive toward the drive end",
            minus(emf, 2),
            "V",
            f"e = {sign}N B l v = {sign}{TURNS} × {across:.5f} T × {LENGTH:.3f} m × {speed:.4f} m/s = {minus(emf, 2)} V, B across its path",
            tells=True,
        ),
    ]


def _commutating(now: Snapshot) -> Reading:
    """Which coil a brush short-circuits at this instant, and which brush; of two coils, whether both are at the brushes."""
    if now.setup.rings:
        return Reading("", "commutating", "nothing: slip rings", "")
    touched = np.max(np.sum(now.machine.contact_shares > 0, axis=-1))
    if now.setup.coils == 1:
        return Reading("", "commutating", "no coil" if touched else "the coil: its brushes stand on the gaps", "")
    if now.setup.coils == 2:
        return Reading("", "commutating", "both coils, side by side at the brushes" if touched > 1 else "no coil", "")
    bridged = now.machine.short_circuited
    coils = [f"coil {k + 1} under {BRUSHES[b]}" for b in range(2) for k in range(now.setup.coils) if bridged[b, k]]
    return Reading("", "commutating", " and ".join(coils) or "no coil", "")
