"""The figures of a start by the starter, each with its formula and this instant's numbers."""

from __future__ import annotations

import math

import numpy as np

from scenes.drives.starting.motors import RATED_TORQUE
from scenes.drives.terminal_box.case import case_of
from scenes.drives.terminal_box.motors import POLES
from scenes.drives.terminal_box.starter.settings import DELTA, MAIN, joining, other_way
from scenes.drives.terminal_box.starter.snapshot import Snapshot
from scenes.drives.terminal_box.starter.words import judged, named, rated, way, why
from scenes.scene.common_readings import load_torque
from scenes.scene.scene import Reading, minus
from scenes.scene.story import Look

STEPS = {
    "isolated": "isolator open",
    "star": "in star",
    "open": "star and delta both open",
    "delta": "in delta",
    "fuse": "fuses blown",
    "relay": "overload relay tripped",
}


def readings(now: Snapshot, look: Look) -> list[Reading]:
    return [*_of_the_starter(now), *_of_currents(now), *_of_the_shaft(now, look), *_of_the_changeover(now), *_of_protection(now)]


def _of_the_starter(now: Snapshot) -> list[Reading]:
    started = now.step != "isolated"
    return [
        Reading("", "step of the starter", STEPS[now.step], "", why(now), tells=started),
        Reading("", "contactors closed", named(now.closed), "", f"timer {now.timed:.0%} of {now.setup.timer:.1f} s", tells=started),
        Reading("", "right for plate and supply", "no" if now.case.wrong else "yes", "", judged(now.case), tells=True),
    ]


def _of_currents(now: Snapshot) -> list[Reading]:
    plate, line = now.setup.plate, rated(now)
    return [
        Reading("I", "current in a line", minus(now.line, 1), "A", f"{now.line / line:.2f} × the rated {line:.1f} A", tells=True),
        Reading(
            "I U",
            "current of winding U, V and W alike",
            minus(now.amperes, 1),
            "A",
            f"{now.amperes / plate.winding_current:.2f} × the rated {plate.winding_current:.1f} A of a winding",
            tells=True,
        ),
        Reading(
            "U U",
            "voltage of winding U, V and W alike",
            minus(now.volts, 0),
            "V",
            f"{now.volts / plate.delta_voltage:.2f} × the {plate.delta_voltage:.0f} V it is made for"
            + ("; induced by the rotor's field alone" if now.step not in ("star", "delta", "isolated") else ""),
            tells=True,
        ),
    ]


def _of_the_shaft(now: Snapshot, look: Look) -> list[Reading]:
    synchronous = 120 * now.setup.frequency / POLES
    turning = look.view.turns(now.speed)
    given = -2 * math.pi * now.speed * now.torque
    return [
        Reading("n", "speed of the shaft", f"{60 * abs(now.speed):.0f}", "r/min", f"{turning}; field {synchronous:.0f} r/min", tells=True),
        Reading("T", "torque of the motor", minus(abs(now.torque), 1), "N m", f"{abs(now.torque) / RATED_TORQUE:.2f} × rated", tells=True),
        load_torque(now.setup.load, now.setup.percent, RATED_TORQUE),
        Reading(
            "P",
            "power drawn",
            minus(now.power / 1000, 2),
            "kW",
            f"shaft {minus(given / 1000, 3)} kW + heat {minus(now.heat / 1000, 3)} kW, the rest to or from the fields",
            tells=True,
        ),
    ]


def _of_the_changeover(now: Snapshot) -> list[Reading]:
    case = now.case
    if case.miswired:
        return []
    both = (case.leads, other_way(case.leads))
    nothing = dict.fromkeys(("difference", *both, "direct", "torque"), ("0", case.wrong))  # it is not switched on
    told = _peaks(now) if case.may_run else nothing
    figures = (
        ("U", "voltage across each winding at closing, put on less induced", "V", "difference"),
        *[("I", f"current peak after the change-over, delta {way(leads)}", "A", leads) for leads in both],
        ("I", "current peak direct on line, for comparison", "A", "direct"),
        ("T", "torque peak after the change-over", "N m", "torque"),
    )
    return [Reading(symbol, words, told[which][0], unit, told[which][1], tells=True) for symbol, words, unit, which in figures]


def _peaks(now: Snapshot) -> dict:
    """Value and formula of each figure of the change-over."""
    case, direct = now.case, now.case.direct
    seen = f"{minus(now.peak_current, 0)} A so far since Q2 closed" if now.changed_over else "Q2 has not closed yet"
    own, induced = case.peak, abs(case.start.residual) / math.sqrt(2)
    difference = now.difference or own.difference
    told: dict = {
        "difference": (
            minus(difference, 0),
            f"{'now, all open' if now.difference else 'when Q2 closes'}; delta puts on {case.supply:.0f} V, and the rotor's field still "
            f"induces {induced:.0f} V then, fallen behind",
        ),
        "direct": (minus(direct.current, 0), f"{direct.current / (math.sqrt(2) * rated(now)):.1f} × the peak value of the rated current"),
        "torque": (minus(own.torque, 0), f"{own.torque / RATED_TORQUE:.1f} × the rated; direct on line {direct.torque:.0f} N m"),
    }
    for leads, peak in case.peaks.items():
        how = f"as it is wired, {seen}" if leads == case.leads else "the other way round"
        told[leads] = minus(peak.current, 0), f"{peak.current / direct.current:.2f} × the peak direct on line; {how}"
    return told


def _of_protection(now: Snapshot) -> list[Reading]:
    setup = now.setup
    relay, fuse = setup.plate.relay(setup.supply), setup.plate.fuse(setup.supply)
    both = setup.lines_shorted
    delta = case_of(joining(setup.leads, frozenset((MAIN, DELTA))), setup.plate, setup.supply, setup.frequency, setup.load)
    amperes = "short circuit" if delta.short else f"{np.max(np.abs(delta.at_first.line_currents)):.0f} A"
    return [
        Reading(
            "",
            "interlock of Q2 and Q3",
            "fitted" if setup.interlock else "missing",
            "",
            f"both closed would join {both}, a short circuit" if both else "",
        ),
        Reading(
            "",
            "at standstill in delta, steady, the lines would carry",
            amperes,
            "",
            "r.m.s.; with the iron's curve as joined by hand",
            True,
        ),
        Reading("", "protection", f"relay set to {relay.setting:.1f} A, fuses {fuse.rating} A", "", "class 10, gG, in the lines"),
    ]
