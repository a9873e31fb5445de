"""What can be worked out about a part: of the motor of 11 kW that other scenes start and wire, at rated load.

What its data do not give is assumed and said so: the field in the gap, the motor's weight, the pressure on the brushes.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from physics.constants import VACUUM_PERMEABILITY
from physics.induction import EquivalentCircuit, OperatingPoint
from scenes.drives.slip_and_speed.motors import USUAL_FIELD
from scenes.drives.starting.motors import MOTOR, WOUND
from scenes.drives.terminal_box.motors import POWER, RATED_SLIP, RATED_SPEED
from scenes.machines.inside_a_motor.parts import CAGE
from scenes.scene.scene import Reading
from visual.machines.opened import sizes
from visual.machines.opened.housing import SLOTS
from visual.machines.opened.rotors import BARS, ROTOR_SLOTS

WEIGHT_OF = 75.0  # kg: a motor of this size, common practice, no source
BRUSH_PRESSURE = 20e3  # Pa: common practice, no source
GRAVITY = 9.81  # m/s2


@dataclass(frozen=True)
class Rated:
    """The motor at rated load. turns: in series a phase, as they count (with the winding factor); gap: m, iron and slots counted as air."""

    circuit: EquivalentCircuit
    point: OperatingPoint
    flux: float  # Wb of a pole, no load
    turns: float
    gap: float

    @property
    def torque(self) -> float:
        """N m at the shaft."""
        return POWER * 1000 / (2 * math.pi * RATED_SPEED / 60)

    @property
    def bar_current(self) -> float:
        """A, r.m.s.: the rotor's current of the circuit in so many bars, for the same MMF."""
        return 6 * self.turns * abs(complex(self.point.rotor_current)) / BARS

    @property
    def ring_current(self) -> float:
        """A, r.m.s. in an end ring between two bars."""
        return self.bar_current / (2 * math.sin(math.pi * self.circuit.poles / 2 / BARS))


@lru_cache(maxsize=2)
def rated(motor: str) -> Rated:
    """Turns and gap follow from the usual field and from the magnetising reactance."""
    circuit = MOTOR if motor == CAGE else WOUND
    pairs, length, diameter = circuit.poles / 2, 2 * sizes.CORE_HALF, 2 * sizes.BORE
    flux = USUAL_FIELD * diameter * length / circuit.poles * 2
    turns = abs(complex(circuit.at(0.0).gap_voltage)) / (math.sqrt(2) * math.pi * circuit.frequency * flux)
    inductance = circuit.magnetising_reactance / (2 * math.pi * circuit.frequency)
    gap = 3 / math.pi * VACUUM_PERMEABILITY * diameter * length * turns**2 / (pairs**2 * inductance)
    return Rated(circuit, circuit.at(RATED_SLIP), flux, turns, gap)


GAP = rated(CAGE).gap  # m, as it is drawn


def figure(motor: str, key: str) -> Reading | None:
    """What can be reckoned of that part, with its formula; None where there is nothing."""
    made = _FIGURES.get(key)
    return None if made is None else made(rated(motor))


def _torque(now: Rated) -> Reading:
    return Reading(
        "T", "torque that it carries at rated load", f"{now.torque:.1f}", "N m",
        f"T = P / ω = {POWER * 1000:.0f} W / {2 * math.pi * RATED_SPEED / 60:.1f} rad/s = {now.torque:.1f} N m",
    )  # fmt: skip


def _key(now: Rated) -> Reading:
    force = now.torque / sizes.SHAFT_END_RADIUS
    return Reading(
        "F", "force on its flank at rated torque", f"{force:.0f}", "N",
        f"F = T / r = {now.torque:.1f} N m / {sizes.SHAFT_END_RADIUS:.3f} m = {force:.0f} N",
    )  # fmt: skip


def _bearing(now: Rated) -> Reading:
    middle = sizes.BEARING_BORE + sizes.BEARING_OUTSIDE
    speed = math.pi * middle * RATED_SPEED / 60
    return Reading(
        "v", "speed of the inner ring past the outer, on the circle of the balls", f"{speed:.1f}", "m/s",
        f"v = π d n = π × {middle:.4f} m × {RATED_SPEED / 60:.2f} rev/s = {speed:.1f} m/s",
    )  # fmt: skip


def _frame(now: Rated) -> Reading:
    stator, rotor = float(now.point.stator_loss), float(now.point.rotor_loss)
    return Reading(
        "q", "heat per second of both windings that it gives off at rated load", f"{stator + rotor:.0f}", "W",
        f"stator {stator:.1f} W + rotor {rotor:.1f} W; iron and friction come on top",
    )  # fmt: skip


def _stator_core(now: Rated) -> Reading:
    each = SLOTS // (3 * now.circuit.poles)
    return Reading("", "slots for each pole and phase", f"{each}", "", f"{SLOTS} slots / ({now.circuit.poles} poles × 3 phases) = {each}")


def _stator_winding(now: Rated) -> Reading:
    current = abs(complex(now.point.stator_current))
    return Reading(
        "I", "current in each line at rated load", f"{current:.1f}", "A",
        f"{float(now.point.input_power):.0f} W / (√3 × {now.circuit.line_voltage:.0f} V × {float(now.point.power_factor):.4f})",
    )  # fmt: skip


def _board(now: Rated) -> Reading:
    return Reading("U", "voltage between lines in delta, as on the plate", f"{now.circuit.line_voltage:.0f}", "V",
                   f"in star {math.sqrt(3) * now.circuit.line_voltage:.0f} V")  # fmt: skip


def _fan(now: Rated) -> Reading:
    tip = 2 * math.pi * sizes.FAN_RADIUS * RATED_SPEED / 60
    return Reading(
        "v", "speed of the tips of its blades", f"{tip:.1f}", "m/s",
        f"v = π d n = π × {2 * sizes.FAN_RADIUS:.2f} m × {RATED_SPEED / 60:.2f} rev/s = {tip:.1f} m/s",
    )  # fmt: skip


def _plate(now: Rated) -> Reading:
    synchronous = 60 * float(now.circuit.synchronous_speed)
    return Reading(
        "n", f"rated speed: {now.circuit.poles} poles and {100 * RATED_SLIP:.2f} % slip", f"{RATED_SPEED}", "r/min",
        f"{synchronous:.0f} r/min × (1 − {RATED_SLIP:.4f}) = {RATED_SPEED} r/min",
    )  # fmt: skip


def _eye_bolt(now: Rated) -> Reading:
    force = WEIGHT_OF * GRAVITY
    return Reading(
        "F", f"force on it, the motor being taken to have {WEIGHT_OF:.0f} kg", f"{force:.0f}", "N",
        f"{WEIGHT_OF:.0f} kg × {GRAVITY} m/s² = {force:.0f} N",
    )  # fmt: skip


def _rotor_core(now: Rated) -> Reading:
    return Reading(
        "d", "distance between it and the bore, with iron and slots counted as air", f"{1000 * now.gap:.2f}", "mm",
        f"3 µ₀ D l N² / (π p² L): what the magnetising reactance of {now.circuit.magnetising_reactance:g} Ω asks for, with {USUAL_FIELD} T "
        f"in the gap and so {now.turns:.0f} turns a phase as they count",
    )  # fmt: skip


def _bars(now: Rated) -> Reading:
    return Reading(
        "I", f"current of each of the {BARS} at rated load", f"{now.bar_current:.0f}", "A",
        f"6 × N × I / {BARS} = 6 × {now.turns:.0f} × {abs(complex(now.point.rotor_current)):.1f} A / {BARS} = {now.bar_current:.0f} A",
    )  # fmt: skip


def _end_rings(now: Rated) -> Reading:
    pairs = now.circuit.poles // 2
    return Reading(
        "I", "current round each, between two bars", f"{now.ring_current:.0f}", "A",
        f"{now.bar_current:.0f} A / (2 sin(π × {pairs} / {BARS})) = {now.ring_current:.0f} A",
    )  # fmt: skip


def _rotor_winding(now: Rated) -> Reading:
    frequency = RATED_SLIP * now.circuit.frequency
    return Reading(
        "fᵣ", f"frequency of its currents at rated load, in {ROTOR_SLOTS} slots", f"{frequency:.2f}", "Hz",
        f"fᵣ = s f = {RATED_SLIP:.4f} × {now.circuit.frequency:.0f} Hz = {frequency:.2f} Hz; at standstill {now.circuit.frequency:.0f} Hz",
    )  # fmt: skip


def _sliding(now: Rated) -> Reading:
    speed = 2 * math.pi * sizes.RING_RADIUS * RATED_SPEED / 60
    return Reading(
        "v", "speed of the rings past the brushes", f"{speed:.1f}", "m/s",
        f"v = π d n = π × {2 * sizes.RING_RADIUS:.3f} m × {RATED_SPEED / 60:.2f} rev/s = {speed:.1f} m/s",
    )  # fmt: skip


def _springs(now: Rated) -> Reading:
    across, along = sizes.BRUSH
    force = BRUSH_PRESSURE * across * along
    return Reading(
        "F", "force with which each spring presses", f"{force:.1f}", "N",
        f"{BRUSH_PRESSURE / 1000:.0f} kPa × {1000 * across:.0f} mm × {1000 * along:.0f} mm = {force:.1f} N, at the usual pressure",
    )  # fmt: skip


_FIGURES = {
    "shaft": _torque, "key": _key, "drive-bearing": _bearing, "other-bearing": _bearing, "frame": _frame, "stator-core": _stator_core,
    "stator-winding": _stator_winding, "terminal-board": _board, "fan": _fan, "nameplate": _plate, "eye-bolt": _eye_bolt,
    "rotor-core": _rotor_core, "bars": _bars, "end-rings": _end_rings, "rotor-winding": _rotor_winding, "slip-rings": _sliding,
    "brushes": _sliding, "brush-holders": _springs,
}  # fmt: skip
