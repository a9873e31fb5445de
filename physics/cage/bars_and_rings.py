"""The squirrel cage: what every bar generates, carries and is pushed with.

Angles are mechanical, counter-clockwise seen from +z (the drive end), measured from bar 0. EMF and current count
positive toward +z; force and torque positive counter-clockwise.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from physics import arguments
from physics.cage import network as cage_network


@dataclass(frozen=True)
class CageState:
    """A cage at one instant; arrays hold one value a bar, bar k at theta = 2 pi k / bars."""

    emf: np.ndarray  #: V, positive toward +z; at a missing bar, what a bar there would generate
    current: np.ndarray  #: A, positive toward +z
    ring_current: np.ndarray  #: A in the ring segment from bar k to bar k + 1 at the +z end, positive
    #: counter-clockwise; the ring at the other end carries the opposite
    force: np.ndarray  #: N, tangential, positive counter-clockwise
    torque: float  #: N m, the forces at their radius, summed
    reaction_mmf: float  #: A, crest of the rotor's own MMF wave of the field's pole pairs
    reaction_axis: float  #: mechanical rad, a crest of that wave (outward), within half a wave of angle 0; nan without
    lag: float  #: electrical rad from that crest counter-clockwise to the gap field's, in (-pi, pi]; nan without. Its
    #: sign is the torque's: a field that turns counter-clockwise and drives the cage is a quarter wave or more ahead


@dataclass(frozen=True)
class Cage:
    """Bars on a cylinder, joined by a ring at each end.

    `bars` their number; `bar_resistance` ohm and `bar_inductance` H (leakage) of one bar; `ring_resistance` and
    `ring_inductance` of one ring segment between neighbouring bars; `radius` m of the bars' circle, `length` m in the
    field; `missing` positions, 0 to bars - 1, at which a bar is broken or was left out. Raises ValueError for fewer
    than 2 bars, a bar resistance or a dimension of 0, anything negative, and positions that do not exist.
    """

    bars: int
    bar_resistance: float
    bar_inductance: float
    ring_resistance: float
    ring_inductance: float
    radius: float
    length: float
    missing: tuple[int, ...] = ()

    def __post_init__(self):
        checks = {
            "bar_resistance": arguments.positive,
            "bar_inductance": arguments.not_negative,
            "ring_resistance": arguments.not_negative,
            "ring_inductance": arguments.not_negative,
            "radius": arguments.positive,
            "length": arguments.positive,
        }
        object.__setattr__(self, "bars", arguments.whole("bars", self.bars, least=2))
        for name, check in checks.items():
            object.__setattr__(self, name, check(name, getattr(self, name)))
        missing = np.atleast_1d(arguments.numbers("missing", self.missing))
        positions = {arguments.whole("missing", position, least=0) for position in missing}
        if any(position >= self.bars for position in positions):
            raise ValueError(f"missing must hold bar positions from 0 to {self.bars - 1}, not {max(positions)}")
        object.__setattr__(self, "missing", tuple(sorted(positions)))

    @cached_property
    def bar_angles(self) -> np.ndarray:
        """Mechanical rad of every bar from bar 0, (bars,); read only."""
        angles = 2.0 * math.pi / self.bars * np.arange(self.bars)
        angles.flags.writeable = False
        return angles

    @cached_property
    def whole(self) -> np.ndarray:
        """Positions of the bars that are not missing, ascending; read only."""
        positions = np.setdiff1d(np.arange(self.bars), self.missing)
        positions.flags.writeable = False
        return positions

    def bar_impedance(self, slip_frequency: float) -> complex:
        """Ohm of one bar at `slip_frequency`, electrical rad/s in the rotor, negative past synchronous speed."""
        return complex(self.bar_resistance, slip_frequency * self.bar_inductance)

    def ring_impedance(self, slip_frequency: float) -> complex:
        """Ohm of one ring segment at `slip_frequency`, electrical rad/s, signed like that of `bar_impedance`."""
        return complex(self.ring_resistance, slip_frequency * self.ring_inductance)

    def effective_impedance(self, pole_pairs: int, slip_frequency: float) -> complex:
        """Ohm of one bar with its share of both rings: Z_bar + Z_ring / (2 sin^2(pi p / bars)), all bars whole.

        Standard handbook result; it follows from the bar currents being equal but for a phase step of 2 pi p / bars.
        """
        pole_pairs = self._pole_pairs(pole_pairs)
        ring_share = 1.0 / (2.0 * math.sin(math.pi * pole_pairs / self.bars) ** 2)
        return self.bar_impedance(slip_frequency) + self.ring_impedance(slip_frequency) * ring_share

    def steady(
        self, field: float, pole_pairs: int, field_speed: float, rotor_speed: float, angle: float
    ) -> CageState:
        """The cage turning steadily in a steadily turning field, at this instant.

        Gap field = `field` (T, outward positive) * cos(`pole_pairs` * (theta - `angle`)), with `angle` in mechanical
        rad from bar 0; both speeds in mechanical rad/s, positive counter-clockwise, either may be 0 or negative.

        Each bar generates B l v by its speed against the field. The currents are sinusoidal at slip frequency and lag
        by the leakage reactance; with missing bars the whole network is solved.
        """
        field = arguments.number("field", field)
        pole_pairs = arguments.whole("pole_pairs", pole_pairs)
        cutting_speed = arguments.number("field_speed", field_speed) - arguments.number("rotor_speed", rotor_speed)
        angle = arguments.number("angle", angle)
        slip_frequency = pole_pairs * cutting_speed
        # cos(p (theta - angle)), and angle grows with the cutting speed: the phasors turn by +j at slip frequency
        crest = field * self.length * self.radius * cutting_speed
        phasors = crest * np.exp(1j * pole_pairs * (angle - self.bar_angles))
        if self.missing:
            currents = cage_network.bar_currents(
                phasors, self.bar_impedance(slip_frequency), self.ring_impedance(slip_frequency), self.whole
            )
        elif pole_pairs % self.bars == 0:
            currents = np.zeros_like(phasors)  # all bars generate alike, none is a way back
        else:
            currents = phasors / self.effective_impedance(pole_pairs, slip_frequency)
        return self.pushed(field, pole_pairs, angle, phasors.real, currents.real)

    def pushed(
        self, field: float, pole_pairs: int, angle: float, emf: np.ndarray, current: np.ndarray
    ) -> CageState:
        """The state of a cage whose bars carry `current` (bars,) in the gap field that `steady` describes.

        Force = B i l on each bar: +z current in an outward field is pushed counter-clockwise.
        """
        force = field * np.cos(pole_pairs * (self.bar_angles - angle)) * current * self.length
        arriving = np.cumsum(current)
        # A current toward +z under the crest of its wave magnetises outward a quarter wave behind (clockwise of) it.
        mmf = -1j * np.sum(current * np.exp(1j * pole_pairs * self.bar_angles)) / (math.pi * pole_pairs)
        unmagnetised = abs(mmf) <= 1e-12 * np.max(np.abs(current))
        mmf_angle = math.nan if unmagnetised else float(np.angle(mmf))
        sign = math.pi if field < 0 else 0.0
        return CageState(
            emf=emf,
            current=current,
            ring_current=arriving - np.mean(arriving),
            force=force,
            torque=float(force.sum()) * self.radius,
            reaction_mmf=float(abs(mmf)),
            reaction_axis=mmf_angle / pole_pairs,
            lag=_wrapped(pole_pairs * angle + sign - mmf_angle) if field else math.nan,
        )

    def referred(
        self, series_turns: float, winding_factor: float, frequency: float, pole_pairs: int
    ) -> tuple[float, float]:
        """Rotor resistance and leakage reactance per phase, ohm, as a three-phase stator sees them.

        `series_turns` in series per stator phase, `winding_factor` of the fundamental in (0, 1], `frequency` Hz of the
        supply. The effective bar impedance times 12 (N k_w)^2 / bars (standard handbook result): the same rotor heat
        from 2 N k_w times the EMF in three phases as from one EMF in every bar. All bars must be whole.
        """
        if self.missing:
            raise ValueError("missing must be empty for a cage to be referred to the stator: its phases are not alike")
        transformation = 12.0 * turns_in_effect(series_turns, winding_factor) ** 2 / self.bars
        angular_frequency = 2.0 * math.pi * arguments.positive("frequency", frequency)
        impedance = transformation * self.effective_impedance(pole_pairs, angular_frequency)
        return impedance.real, impedance.imag

    def _pole_pairs(self, pole_pairs: int) -> int:
        pole_pairs = arguments.whole("pole_pairs", pole_pairs)
        if pole_pairs % self.bars == 0:
            raise ValueError(f"pole_pairs must not be a multiple of the {self.bars} bars: all would generate alike")
        return pole_pairs


def turns_in_effect(series_turns: float, winding_factor: float) -> float:
    """N k_w, turns of a concentrated full-pitch coil that link the fundamental like the winding does."""
    winding_factor = arguments.positive("winding_factor", winding_factor)
    if winding_factor > 1.0:
        raise ValueError(f"winding_factor must be greater than 0 and at most 1, not {winding_factor:g}")
    return arguments.positive("series_turns", series_turns) * winding_factor


def _wrapped(angle: float) -> float:
    """`angle` brought into (-pi, pi]; nan stays."""
    return math.pi - (math.pi - angle) % (2.0 * math.pi)
