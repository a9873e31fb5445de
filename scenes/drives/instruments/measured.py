"""The five instruments: what each shows, in figures as on its display, and what a sound board would have it show."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from physics.measuring.board import TEST_VOLTAGE
from physics.measuring.limits import GOOD_INSULATION, LEAST_INSULATION
from scenes.drives.instruments.case import KNOWN, Case, Condition, case_of
from scenes.drives.instruments.faults import SOUND, Fault

CLAMP, VOLTMETER, OHMMETER, INSULATION, ROTATION = "clamp", "voltmeter", "ohmmeter", "insulation", "rotation"
WORDS = {
    CLAMP: "clamp meter",
    VOLTMETER: "voltmeter",
    OHMMETER: "ohmmeter",
    INSULATION: "insulation tester",
    ROTATION: "phase-rotation indicator",
}
POINTS = {CLAMP: 1, VOLTMETER: 2, OHMMETER: 2, INSULATION: 2, ROTATION: 3}  # that each is laid on
QUANTITIES = {CLAMP: "current", VOLTMETER: "voltage", OHMMETER: "resistance", INSULATION: "insulation resistance", ROTATION: "phase order"}
SYMBOLS = {CLAMP: "I", VOLTMETER: "U", OHMMETER: "R", INSULATION: "R", ROTATION: ""}
OHM_RANGE, INSULATION_RANGE = 20e6, 999e6  # ohm: the most that is shown
ALIKE = 0.004  # share by which two figures may differ and count as the same


@dataclass(frozen=True)
class Laid:
    """What is measured: the instrument, the points that it is on, and how the board is."""

    instrument: str
    points: tuple[str, ...]
    condition: Condition

    @property
    def symbol(self) -> str:
        """The quantity and where, as "U U1-V1"; "" for one that has no letter."""
        letter = SYMBOLS[self.instrument]
        return f"{letter} {'-'.join(self.points)}" if letter else ""

    @property
    def words(self) -> str:
        """How it was measured."""
        condition = self.condition
        state = "live" if condition.on else "dead"
        taken_off = [name for name, on in (("links", condition.links), ("leads", condition.leads)) if not on]
        at = "" if SYMBOLS[self.instrument] else f" of {'-'.join(self.points)}"
        off = f", {' and '.join(taken_off)} off" if taken_off else ""
        return f"{QUANTITIES[self.instrument]}{at} by the {WORDS[self.instrument]}, {state}{off}"


@dataclass(frozen=True)
class Measured:
    """What an instrument shows. value: V, A or ohm, inf beyond its range, or for a phase-rotation indicator 1 clockwise, -1
    counter-clockwise, 0 neither."""

    laid: Laid
    value: float

    @property
    def figures(self) -> tuple[str, str]:
        """Figure and unit as on the display."""
        value, instrument = self.value, self.laid.instrument
        if instrument == ROTATION:
            return {1: "clockwise", -1: "counter-clockwise", 0: "no rotation"}[round(value)], ""
        if instrument == VOLTMETER:
            return f"{value:.1f}", "V"
        if instrument == CLAMP:
            return f"{value:.1f}", "A"
        if instrument == INSULATION:
            return (f"> {INSULATION_RANGE / 1e6:.0f}", "MΩ") if value == math.inf else (_significant(value / 1e6), "MΩ")
        if value == math.inf:
            return f"> {OHM_RANGE / 1e6:.0f}", "MΩ"
        return (f"{value:.3f}", "Ω") if value < 100 else (f"{value / 1e3:.2f}", "kΩ") if value < 1e5 else (f"{value / 1e6:.2f}", "MΩ")

    @property
    def shown(self) -> str:
        return " ".join(self.figures).strip()

    def like(self, other: Measured) -> bool:
        """Whether both show the same, but for the last figures."""
        if math.inf in (self.value, other.value):
            return self.value == other.value
        least = {VOLTMETER: 0.3, CLAMP: 0.15, OHMMETER: 0.002, INSULATION: 500.0, ROTATION: 0.5}[self.laid.instrument]
        return abs(self.value - other.value) <= max(ALIKE * max(abs(self.value), abs(other.value)), least)


@lru_cache(maxsize=4096)
def measure(case: Case, laid: Laid) -> Measured:
    """What the instrument shows there."""
    if case.sticks and laid.condition.on:  # a pole that does not open is no different while it is closed
        return measure(case_of(case.joined, case.fault), laid)
    points, condition = laid.points, laid.condition
    if laid.instrument == CLAMP:
        return Measured(laid, case.amperes(condition, points[0]))
    if laid.instrument == VOLTMETER:
        return Measured(laid, case.volts(condition, *points))
    if laid.instrument == ROTATION:
        return Measured(laid, {"clockwise": 1.0, "counter-clockwise": -1.0, "none": 0.0}[case.order(condition, points)])
    ohms = case.ohms(condition, *points)
    most = OHM_RANGE if laid.instrument == OHMMETER else INSULATION_RANGE
    return Measured(laid, ohms if ohms <= most else math.inf)


def sound(case: Case, laid: Laid) -> Measured:
    """What it would show on the same motor without a fault, and with an isolator that opens."""
    return measure(case_of(case.joined, Fault(SOUND)), laid)


def expected(case: Case, laid: Laid) -> str:
    """What a sound board has, with its closed form where there is one."""
    healthy = sound(case, laid)
    if set(laid.points) == set(KNOWN):
        return f"the proving unit gives {healthy.shown}"
    if laid.instrument == OHMMETER:
        return f"sound: {_in_windings(healthy.value, case.winding_ohm) or healthy.shown}"
    if laid.instrument == INSULATION:
        if healthy.value < LEAST_INSULATION:
            return "joined by copper here: this says nothing of insulation"
        return (
            f"{TEST_VOLTAGE:.0f} V d.c.; sound: {healthy.shown}; at least {LEAST_INSULATION / 1e6:.0f} MΩ, "
            f"better {GOOD_INSULATION / 1e6:.0f} MΩ"
        )
    if laid.instrument == CLAMP:
        return f"sound: {healthy.shown}; plate: {case.plate.line_current(400.0):.1f} A"
    return f"sound: {healthy.shown}"


def _in_windings(ohms: float, winding: float) -> str:
    """2 R, 2/3 R or R in figures, "" for anything else."""
    for share, written in ((2.0, "2 R = 2 ×"), (2 / 3, "2/3 R = 2/3 ×"), (1.0, "R = 1 ×")):
        if abs(ohms / (share * winding) - 1) < 1e-6:
            return f"{written} {winding:.3f} Ω = {ohms:.3f} Ω"
    return ""


def _significant(megohms: float) -> str:
    return f"{megohms:.3f}" if megohms < 1 else f"{megohms:.1f}" if megohms < 100 else f"{megohms:.0f}"
