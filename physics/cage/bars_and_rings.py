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
    reaction_mmf: float  #: A, peak of the rotor's own MMF wave of the field's pole pairs
    reaction_axis: float  #: mechanical rad, a peak of that wave (outward), within half a wave of angle 0; nan without
    lag: float  #: electrical rad from that peak counter-clockwise to the gap field's, in (-pi, pi]; nan without. Its
    #: sign is the torque's: a field that turns counter-clockwise and drives the cage is a quarter wave or more ahead


# Long, half of it docstrings: EMFs, currents, forces and torque follow from the same mesh of bars and rings.
@dataclass(frozen=True)
class Cage:
    """Bars on a cylinder, joined by a ring at each end.

    A bar may be in two layers with leakage flux between them, each a conductor from ring to ring: a double cage, or a
    deep bar, whose current crowds toward the gap as its frequency rises. `starting_bar_resistance` is that of the layer
    next to the gap, `bar_resistance` that of the deeper one, `running_bar_inductance` the leakage that links the deeper
    one alone, and `bar_inductance` what links both. The layers are in parallel (handbook result, Boucherot's double cage).
    For a deep bar of one piece `deep_bar_layers` gives the three.

    `bars` their number; `bar_resistance` ohm and `bar_inductance` H (leakage) of one bar; `ring_resistance` and
    `ring_inductance` of one ring segment between neighbouring bars; `radius` m of the bars' circle, `length` m in the
    field; `missing` positions, 0 to bars - 1, at which a bar is broken or was left out. Raises ValueError for fewer
    than 2 bars, a bar resistance or a dimension of 0, anything negative, one value of a second layer without the other,
    and positions that do not exist.
    """

    bars: int
    bar_resistance: float
    bar_inductance: float
    ring_resistance: float
    ring_inductance: float
    radius: float
    length: float
    missing: tuple[int, ...] = ()
    starting_bar_resistance: float = math.inf
    running_bar_inductance: float = 0.0

    def __post_init__(self) -> None:
        checks = {
            "bar_resistance": arguments.positive,
            "bar_inductance": arguments.not_negative,
            "ring_resistance": arguments.not_negative,
            "ring_inductance": arguments.not_negative,
            "radius": arguments.positive,
            "length": arguments.positive,
            "running_bar_inductance": arguments.not_negative,
        }
        if self.two_layers:
            checks["starting_bar_resistance"] = arguments.positive
        object.__setattr__(self, "bars", arguments.whole("bars", self.bars, least=2))
        for name, check in checks.items():
            object.__setattr__(self, name, check(name, getattr(self, name)))
        if self.two_layers != (self.running_bar_inductance > 0.0):
            raise ValueError("starting_bar_resistance and running_bar_inductance must be given together, the latter above 0")
        missing = np.atleast_1d(arguments.numbers("missing", self.missing))
        positions = {arguments.whole("missing", position, least=0) for position in missing}
        if any(position >= self.bars for position in positions):
            raise ValueError(f"missing must hold bar positions from 0 to {self.bars - 1}, not {max(positions)}")
        object.__setattr__(self, "missing", tuple(sorted(positions)))

    @cached_property
    def bar_angles(self) -> np.ndarray:
        """Mechanical angle of every bar from bar 0, rad, counter-clockwise, shape (bars,); read only."""
        angles = 2.0 * math.pi / self.bars * np.arange(self.bars)
        angles.flags.writeable = False
        return angles

    @cached_property
    def whole(self) -> np.ndarray:
        """Numbers of the bars that are not missing, ascending; read only."""
        positions = np.setdiff1d(np.arange(self.bars), self.missing)
        positions.flags.writeable = False
        return positions

    @property
    def two_layers(self) -> bool:
        """Whether each bar has a starting layer beside its running layer."""
        return self.starting_bar_resistance != math.inf

    def bar_impedance(self, slip_frequency: float) -> complex:
        """Impedance of one bar, ohm, at `slip_frequency`, electrical rad/s in the rotor, negative above synchronous speed."""
        running = complex(self.bar_resistance, slip_frequency * self.running_bar_inductance)
        shared = complex(0.0, slip_frequency * self.bar_inductance)
        return shared + running / (1.0 + running / self.starting_bar_resistance)

    def ring_impedance(self, slip_frequency: float) -> complex:
        """Impedance of one ring segment, ohm, at `slip_frequency` as in `bar_impedance`."""
        return complex(self.ring_resistance, slip_frequency * self.ring_inductance)

    def effective_impedance(self, pole_pairs: int, slip_frequency: float) -> complex:
        """Impedance of one bar with its share of both rings, ohm: Z_bar + Z_ring / (2 sin^2(pi p / bars)), all bars whole.

        Standard handbook result; it follows from the bar currents being equal but for a phase step of 2 pi p / bars.
        """
        ring_share = self._ring_share(pole_pairs)
        return self.bar_impedance(slip_frequency) + self.ring_impedance(slip_frequency) * ring_share

    def steady(self, field: float, pole_pairs: int, field_speed: float, rotor_speed: float, angle: float) -> CageState:
        """The state of the cage at one instant, turning steadily in a steadily rotating field.

        Gap field = `field` (T, outward positive) * cos(`pole_pairs` * (theta - `angle`)), with `angle` in mechanical
        rad from bar 0; both speeds in mechanical rad/s, positive counter-clockwise, either may be 0 or negative.

        Each bar generates B l v by its speed against the field. The currents are sinusoidal at slip frequency and lag
        by the leakage reactance; with missing bars the whole network is solved.
        """
        phasors, currents = self._steady(field, pole_pairs, field_speed, rotor_speed, angle)
        return self.pushed(field, pole_pairs, angle, phasors.real, currents.real)

    def steady_torque(self, field: float, pole_pairs: int, field_speed: float, rotor_speed: float, angle: float) -> float:
        """The torque alone, N m, of what `steady` describes."""
        _, currents = self._steady(field, pole_pairs, field_speed, rotor_speed, angle)
        return float(self._force(field, pole_pairs, angle, currents.real).sum()) * self.radius

    def _steady(self, field: float, pole_pairs: int, field_speed: float, rotor_speed: float, angle: float) -> tuple[np.ndarray, np.ndarray]:
        """What each bar generates, V, and carries, A, as phasors (bars,) whose real part is that of this instant."""
        field = arguments.number("field", field)
        pole_pairs = arguments.whole("pole_pairs", pole_pairs)
        cutting_speed = arguments.number("field_speed", field_speed) - arguments.number("rotor_speed", rotor_speed)
        angle = arguments.number("angle", angle)
        slip_frequency = pole_pairs * cutting_speed
        # cos(p (theta - angle)), and angle grows with the cutting speed: the phasors turn by +j at slip frequency
        peak = field * self.length * self.radius * cutting_speed
        phasors = peak * np.exp(1j * pole_pairs * (angle - self.bar_angles))
        if self.missing:
            currents = cage_network.bar_currents(
                phasors, self.bar_impedance(slip_frequency), self.ring_impedance(slip_frequency), self.whole
            )
        elif pole_pairs % self.bars == 0:
            currents = np.zeros_like(phasors)  # all bars generate alike, there is no return path
        else:
            currents = phasors / self.effective_impedance(pole_pairs, slip_frequency)
        return phasors, currents

    def pushed(self, field: float, pole_pairs: int, angle: float, emf: np.ndarray, current: np.ndarray) -> CageState:
        """The state of a cage whose bars carry `current` (bars,) in the gap field that `steady` describes.

        Force = B i l on each bar: +z current in an outward field is pushed counter-clockwise.
        """
        force = self._force(field, pole_pairs, angle, current)
        arriving = np.cumsum(current)
        # A current toward +z under the peak of its wave magnetises outward a quarter wave behind (clockwise of) it.
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

    def _force(self, field: float, pole_pairs: int, angle: float, current: np.ndarray) -> np.ndarray:
        return field * np.cos(pole_pairs * (self.bar_angles - angle)) * current * self.length

    def referred(self, series_turns: float, winding_factor: float, frequency: float, pole_pairs: int) -> tuple[float, float]:
        """Rotor resistance and leakage reactance per phase, ohm, as a three-phase stator sees them.

        `series_turns` in series per stator phase, `winding_factor` of the fundamental in (0, 1], `frequency` Hz of the
        supply. The effective bar impedance times 12 (N k_w)^2 / bars (standard handbook result): the same rotor heat
        from 2 N k_w times the EMF in three phases as from one EMF in every bar. All bars must be whole, and of one layer:
        of two, resistance and leakage are no two numbers, and `referred_rotor` has all four.
        """
        if self.two_layers:
            raise ValueError("the bars must have one layer to be two numbers; referred_rotor refers a cage of two layers")
        rotor = self.referred_rotor(series_turns, winding_factor, frequency, pole_pairs)
        return rotor["rotor_resistance"], rotor["rotor_reactance"]

    def referred_rotor(self, series_turns: float, winding_factor: float, frequency: float, pole_pairs: int) -> dict[str, float]:
        """This rotor's arguments for `induction.EquivalentCircuit`, by their names there, in ohm; arguments as in `referred`.

        The circuit has the rings with neither layer alone, as the cage has, but all resistance in the layers. With the
        rings' share added, the cage has R_0 at slip frequency 0 and R_0 + rise far above, and half of the rise where
        w L = R_bar + R_start; the circuit's two cages are those that have the same.
        """
        if self.missing:
            raise ValueError("missing must be empty for a cage to be referred to the stator: its phases are not alike")
        transformation = 12.0 * turns_in_effect(series_turns, winding_factor) ** 2 / self.bars
        angular_frequency = 2.0 * math.pi * arguments.positive("frequency", frequency)
        if not self.two_layers:
            impedance = transformation * self.effective_impedance(pole_pairs, angular_frequency)
            return {"rotor_resistance": impedance.real, "rotor_reactance": impedance.imag}
        at_rest = self.effective_impedance(pole_pairs, 0.0).real
        ring = at_rest - self.bar_impedance(0.0).real
        ring_inductance = self.ring_inductance * self._ring_share(pole_pairs)
        starting = self.starting_bar_resistance + ring
        running = at_rest * starting / (starting - at_rest)
        layers = self.bar_resistance + self.starting_bar_resistance
        inductance = self.running_bar_inductance * (running + starting) / layers
        to_reactance = transformation * angular_frequency
        return {
            "rotor_resistance": transformation * running,
            "rotor_reactance": to_reactance * (self.bar_inductance + ring_inductance),
            "starting_cage_resistance": transformation * starting,
            "running_cage_reactance": to_reactance * inductance,
        }

    def _ring_share(self, pole_pairs: int) -> float:
        """Ring segments' impedances that count with each bar: 1 / (2 sin^2(pi p / bars)), of both rings."""
        return 1.0 / (2.0 * math.sin(math.pi * self._pole_pairs(pole_pairs) / self.bars) ** 2)

    def _pole_pairs(self, pole_pairs: int) -> int:
        pole_pairs = arguments.whole("pole_pairs", pole_pairs)
        if pole_pairs % self.bars == 0:
            raise ValueError(f"pole_pairs must not be a multiple of the {self.bars} bars: all would generate alike")
        return pole_pairs


def deep_bar_layers(resistance: float, inductance: float) -> tuple[float, float, float]:
    """Two layers that stand for a bar of rectangular section, as deep as may be: (bar_resistance, running_bar_inductance,
    starting_bar_resistance) of `Cage`.

    `resistance` ohm and `inductance` H of the flux that crosses the bar in its slot, both for steady current. Exactly its
    impedance is R z coth z with z^2 = 3 j w L / R (handbook result; with z = (1 + j) xi the factors of skin effect, memory:
    K_R = xi (sinh 2 xi + sin 2 xi) / (cosh 2 xi - cos 2 xi), K_X = 3 / (2 xi) (sinh 2 xi - sin 2 xi) / (the same)). Two
    layers are its continued fraction 1 + z^2 / (3 + z^2 / 5): within 3 % up to xi = 1.5, within 12 % at xi = 2.
    """
    resistance = arguments.positive("resistance", resistance)
    return 1.2 * resistance, 1.44 * arguments.positive("inductance", inductance), 6.0 * resistance


def turns_in_effect(series_turns: float, winding_factor: float) -> float:
    """Effective turns N k_w: those of a concentrated full-pitch coil with the same fundamental flux linkage. `winding_factor` in
    (0, 1]."""
    winding_factor = arguments.positive("winding_factor", winding_factor)
    if winding_factor > 1.0:
        raise ValueError(f"winding_factor must be greater than 0 and at most 1, not {winding_factor:g}")
    return arguments.positive("series_turns", series_turns) * winding_factor


def _wrapped(angle: float) -> float:
    """`angle` brought into (-pi, pi]; nan stays."""
    return math.pi - (math.pi - angle) % (2.0 * math.pi)
