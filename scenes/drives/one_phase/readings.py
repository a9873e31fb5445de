"""The figures of a motor on one phase, each with its formula and this instant's numbers."""

from __future__ import annotations

import cmath
import math

import numpy as np

from scenes.drives.one_phase import shaft
from scenes.drives.one_phase.motors import FARAD, FREQUENCY, POLES, SYNCHRONOUS, VOLTS, rated, running_at
from scenes.drives.one_phase.snapshot import Snapshot
from scenes.scene.common_readings import load_torque, synchronous_speed
from scenes.scene.scene import Reading, minus
from scenes.scene.story import Look
from scenes.workings.inputs import of_running

FORWARD, BACKWARD = "T\N{SUBSCRIPT PLUS SIGN}", "T\N{SUBSCRIPT MINUS}"


def readings(now: Snapshot, look: Look) -> list[Reading]:
    return [*_of_the_shaft(now, look), *_of_torques(now), *_of_currents(now), *_of_powers(now), *_of_the_relay(now)]


def workings(now: Snapshot) -> dict[str, dict[str, float | str]]:
    """The calculations that belong here, with this instant's inputs; the slip in the field that turns with the rotor."""
    return of_running(FREQUENCY, POLES, 60 * abs(now.speed))


def after(seconds: float) -> str:
    """A time until something trips, in words that fit how well it is known."""
    if seconds == shaft.NEVER:
        return "never"
    return f"after {seconds:.0f} s" if seconds < 120 else f"after {seconds / 60:.0f} min"


def _of_the_shaft(now: Snapshot, look: Look) -> list[Reading]:
    rpm = 60 * abs(now.speed)
    with_it = 1 - abs(now.state.speed)
    return [
        Reading("n", "speed of the rotor", f"{rpm:.0f}", "r/min", look.view.turns(now.speed), tells=True),
        synchronous_speed(60 * SYNCHRONOUS, FREQUENCY, POLES, "that of both fields"),
        Reading(
            "s",
            "slip in the field that turns with the rotor",
            minus(100 * with_it, 1),
            "%",
            f"s = (nₛ − n) / nₛ = ({60 * SYNCHRONOUS:.0f} − {rpm:.1f}) / {60 * SYNCHRONOUS:.0f} = {minus(100 * with_it, 1)} %; "
            f"in the other field 200 % minus that, {minus(200 - 100 * with_it, 1)} %",
            tells=True,
        ),
    ]


def _of_torques(now: Snapshot) -> list[Reading]:
    running, full = now.running, rated(now.setup.feed.motor)[0]
    parts = [float(running.forward_torque), float(running.backward_torque)]
    swing = float(abs(running.pulsation))
    return [
        Reading(
            "T",
            "torque on the rotor, its mean",
            minus(running.torque, 2),
            "N m",
            f"T = {FORWARD} + {BACKWARD} = {minus(parts[0], 3)} N m + ({minus(parts[1], 3)} N m), clockwise positive",
            tells=True,
        ),
        Reading(FORWARD, "torque by the clockwise field", minus(parts[0], 2), "N m", "", tells=True),
        Reading(BACKWARD, "torque by the counter-clockwise field", minus(parts[1], 2), "N m", "", tells=True),
        Reading(
            "",
            f"swing of the torque, {2 * FREQUENCY:.0f} times a second",
            f"± {swing:.2f}",
            "N m",
            "each field acts on the rotor current of the other, twice in a cycle",
            tells=True,
        ),
        load_torque(now.setup.load, now.setup.percent, full, 2, f"; the bearings take {100 * shaft.BEARINGS:g} % besides"),
    ]


def _of_currents(now: Snapshot) -> list[Reading]:
    running, feed = now.running, now.setup.feed
    amperes = np.abs(running.currents)
    full = rated(feed.motor)[1]
    names = {"Z": "the auxiliary winding", "U": "winding U" if feed.three_phase else "the main winding"}
    found = [
        Reading(
            "I",
            "current in a line, the largest",
            minus(np.abs(running.lines).max(), 1),
            "A",
            f"{now.times:.2f} × the rated {full:.1f} A",
            tells=True,
        ),
        *_of_a_lost_phase(now),
        *[
            Reading(f"I {letter}", f"current of {names.get(letter, f'winding {letter}')}", minus(amperes[k], 1), "A", "r.m.s.", tells=True)
            for k, letter in enumerate(running.letters)
        ],
    ]
    if feed.motor in FARAD:
        volts, flows = float(abs(running.capacitor)), amperes[1] > 0
        ahead = math.degrees(cmath.phase(running.currents[1] * running.currents[0].conjugate())) if flows else 0.0
        micro, kept = 1e6 * FARAD[feed.motor], now.state.charge
        how = f"U = I / (2π f C) = {minus(amperes[1], 3)} A / (2π × {FREQUENCY:.0f} Hz × {micro:g} µF)"
        found += [
            Reading(
                "U C",
                "voltage of the capacitor",
                minus(kept or volts, 0),
                "V",
                "direct, kept since its switch opened: it stays until it is discharged through a resistor" if kept else how,
                tells=True,
            ),
            Reading(
                "φ",
                "phase angle from the main winding's current to the auxiliary's",
                minus(ahead, 0) if flows else "none",
                "°" if flows else "",
                "90° and equal fields would be a round rotating field" if flows else "the auxiliary winding carries no current",
                tells=True,
            ),
        ]
    return found


def _of_a_lost_phase(now: Snapshot) -> list[Reading]:
    """While two lines carry what three did: why the current is what it is, of what three phases would take for the same load."""
    before = shaft.on_all_phases(now.setup.case)
    if not now.live or not shaft.lost(now.setup.case) or min(abs(now.state.speed), abs(before.speed)) < 0.5:
        return []
    whole = running_at(now.setup.feed.whole, round(before.speed, 6), False)
    currents = [float(np.abs(point.lines).max()) for point in (whole, now.running)]
    powers = [float(point.input_power) for point in (whole, now.running)]
    factors = [power / (root * VOLTS[True] * amperes) for root, power, amperes in zip((3**0.5, 1), powers, currents, strict=True)]
    slips = [f"{100 * (1 - abs(speed)):.1f} %" for speed in (before.speed, now.state.speed)]
    return [
        Reading(
            "",
            "current compared with three phases, at the same load",
            f"{currents[1] / currents[0]:.2f}",
            "×",
            f"√3 at the same power and power factor, × {powers[1] / powers[0]:.2f} for the power (slip {slips[1]}, with three "
            f"{slips[0]}), × {factors[0] / factors[1]:.2f} for the power factor ({factors[1]:.2f}, with three {factors[0]:.2f})",
            tells=True,
        ),
    ]


def _of_powers(now: Snapshot) -> list[Reading]:
    running = now.running
    drawn, copper, rotor, shaft_power = (
        float(getattr(running, name)) for name in ("input_power", "stator_loss", "rotor_loss", "converted_power")
    )
    return [
        Reading(
            "P",
            "power drawn",
            minus(drawn / 1000, 2),
            "kW",
            f"shaft {minus(shaft_power / 1000, 3)} kW + stator heat {copper / 1000:.3f} kW + rotor heat {rotor / 1000:.3f} kW",
            tells=True,
        ),
        Reading(
            "q",
            "heat per second in the rotor",
            minus(rotor, 0),
            "W",
            f"slip × the power across the gap, in each field by itself; in the stator {copper:.0f} W",
            tells=True,
        ),
    ]


def _of_the_relay(now: Snapshot) -> list[Reading]:
    case, state = now.setup.case, now.state
    share = 100 * state.heat / case.bears
    says, why = after(shaft.trips_after(case, now.setup.start)), f"class 10, set to {case.relay.setting:.1f} A, counted from the start"
    if state.tripped:
        says, why = "has tripped", "isolated by the relay; start again from the beginning"
    elif shaft.lost(case):
        why += f"; one that does not notice a lost phase: {after(shaft.trips_unaware(case, now.setup.start))}"
    return [
        Reading("", "overload relay trips", says, "", why, tells=True),
        Reading(
            "",
            "overload relay warmed up to",
            f"{min(100.0, share):.0f}",
            "%",
            "of what trips it; its strips warm with I² and trip sooner where one of three stays cold",
            tells=True,
        ),
    ]
