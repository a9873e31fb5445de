"""The moved conductor's figures, each with its formula and this instant's numbers, and its sentence."""

from __future__ import annotations

import numpy as np

from scenes.conductors.moved_conductor.snapshot import ALONG_ROD, AT_REST, LENGTH, SHORT, TO_AND_FRO, Snapshot
from scenes.scene.scene import Reading, minus, sign_before
from scenes.scene.story import Look

CUTS_NOTHING = {
    "along-field": "moving along the field, the rod cuts no flux: E = 0",
    "along-rod": "moving along its own length, the rod cuts no flux: E = 0",
}
MANY = 20  # turns: with so many a tenth of a millivolt is enough


def readings(now: Snapshot, look: Look) -> list[Reading]:
    setup, seen = now.setup, look.view.directions.words
    size, speed, millivolts = float(np.linalg.norm(now.field)), float(np.linalg.norm(now.velocity)), now.emf * 1000
    product = f"{setup.turns} × {size:.6f} T × {LENGTH:.3f} m × {speed:.5f} m/s"
    places = 2 if setup.turns < MANY else 1
    sign = sign_before(millivolts, places)
    return [
        Reading(
            "E",
            "EMF, positive toward the marked end of the rod",
            minus(millivolts, places),
            "mV",
            CUTS_NOTHING.get(setup.way) or f"E = {sign}N B l v = {sign}{product} = {minus(millivolts, places)} mV",
            tells=True,
        ),
        Reading(
            "B",
            "field, mean along the rod",
            minus(size * 1000, 1),
            "mT",
            f"it points {seen(now.field)}; stronger between the poles, weaker beyond them",
        ),
        Reading("v", "speed of the rod", minus(speed, 2), "m/s", f"it moves {seen(now.velocity)}" if speed > AT_REST else "it is at rest"),
        Reading("l", "length of the rod", minus(LENGTH * 1000, 0), "mm", "from end to end; B is the mean over it"),
        Reading("N", "turns: wires in series, side by side in the rod", str(setup.turns), ""),
        Reading(
            "dΨ/dt",
            "flux cut each second",
            minus(now.flux_rate * 1000, 2),
            "mWb/s",
            f"flux cut in {SHORT * 1000:g} ms, divided by that time",
            tells=True,
        ),
        *_loaded(now, speed),
    ]


def workings(now: Snapshot) -> dict[str, dict[str, float | str]]:
    """The calculations that belong here, with this instant's inputs."""
    if now.setup.way == "along-rod":  # the calculation is of a conductor moved across its length
        return {}
    angle = 90 if now.setup.way == "across" else 0
    field, speed = float(np.linalg.norm(now.field)), abs(now.state.speed)
    return {"conductor-emf": {"field": field, "speed": speed, "length": 1000 * LENGTH, "angle": angle, "turns": now.setup.turns}}


def _loaded(now: Snapshot, speed: float) -> list[Reading]:
    """Current, voltage and force, for a closed circuit."""
    setup, own, millivolts = now.setup, now.setup.own_resistance, minus(now.emf * 1000, 2)
    whole = f"({setup.resistor:g} Ω + {own:.3g} Ω)"
    return [
        Reading(
            "I",
            "current, positive toward the marked end of the rod",
            minus(now.current * 1000, 1),
            "mA",
            f"I = E / (R + Rᵢ) = {millivolts} mV / {whole}, Rᵢ of rod and leads" if setup.closed else "the resistor's switch is open",
            tells=True,
        ),
        Reading(
            "U",
            "voltage at the meter, + at the marked end",
            minus(now.voltage * 1000, 2),
            "mV",
            f"U = I R = {minus(now.current * 1000, 3)} mA × {setup.resistor:g} Ω" if setup.closed else "U = E, as hardly any current flows",
            tells=True,
        ),
        Reading(
            "F",
            "force that opposes the motion",
            minus(np.linalg.norm(now.force) * 1000, 2),
            "mN",
            f"F v = {abs(now.force @ now.velocity) * 1000:.3f} mW = I² (R + Rᵢ) = {now.current**2 * (setup.resistor + own) * 1000:.3f} mW"
            if setup.closed
            else "without current no force",
            tells=True,
        ),
    ]


def sentence(now: Snapshot, look: Look) -> str:
    """The sentence; to and fro it covers both directions, or it would change faster than it can be heard."""
    setup, seen = now.setup, look.view.directions.words
    if setup.motion == TO_AND_FRO:
        if setup.way != "across":
            along = "the field" if setup.way == "along-field" else "its own length"
            return f"The rod moves to and fro along {along}, cuts no flux and generates nothing."
        drives = np.cross(setup.direction, now.field)
        return (
            f"The field points {seen(now.field)}. While the rod moves {seen(setup.direction)} its EMF drives current {seen(drives)}, "
            f"while it moves {seen(-setup.direction)} current {seen(-drives)}."
        )
    if np.linalg.norm(now.velocity) < AT_REST:
        return "The rod is at rest and generates nothing."
    if not now.generates:
        return f"The rod moves {seen(now.velocity)}, cuts no flux and generates nothing."
    return f"The field points {seen(now.field)} and the rod moves {seen(now.velocity)}: its EMF drives current {seen(now.emf * ALONG_ROD)}."
