"""A commutated armature between two magnet poles, as generator and as motor.

Any number of full-pitch coils on a spindle, joined as `commutator` describes, in the field of `pole_field` or of
`block_poles`. The EMF of every coil comes from the field at its two sides and the speed, the currents from the solved circuit of
`armature_network`, the torque from the force on every coil side.

Signs. The shaft is z and angles run counter-clockwise seen from +z. EMF and current of a coil side are positive
toward +z; of a coil, from its beginning through its first side toward +z and back through its second side. Force on
a side and torque are positive counter-clockwise. With an outward field B a side then has the EMF -B l v and the
force B i l (Fleming's rules), so what the EMFs give out electrically the shaft takes up as torque times speed with
the opposite sign: a motor's EMF is a back-EMF. The terminal voltage is the positive brush above the negative one, the
terminal current flows from outside into the positive brush: positive power goes into the machine.

Left out: the magnet poles' field is not bent by the armature's own (no armature reaction), teeth do not pull (no
cogging), coils have self-inductance but no mutual inductance, and there are no iron losses.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from dataclasses import field as dataclass_field
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from physics.arguments import NumberOrArray, not_negative, numbers, positive, whole
from physics.commutated.block_poles import BlockPoles
from physics.commutated.commutator import FULL_TURN, Commutator, SlipRings, winding_ends
from physics.commutated.network import NetworkSolution, OutsideCircuit, coil_ends, contact_conductances, solve_network
from physics.fields.pole_field import PoleField

# a coil's current runs toward +z in its first side and back in its second
SIDE_SIGNS = np.array([1.0, -1.0])


@dataclass(frozen=True)
class ArmatureState:
    """Everything about an armature at one instant, to draw and to read. Leading axes `...` are those of `angle` and
    `speed` together; arrays over segments have one entry for each end of the winding when there are slip rings.

    angle, speed        (...)               rad; rad/s
    side_angles         (..., coils, 2)     rad, first and second side of each coil
    side_fields         (..., coils, 2)     T, radial, outward positive
    side_emfs           (..., coils, 2)     V, all turns, toward +z
    side_currents       (..., coils, 2)     A in each conductor, toward +z
    side_forces         (..., coils, 2)     N, all turns, counter-clockwise
    coil_emfs           (..., coils)        V, driving current from the coil's beginning to its end
    coil_currents       (..., coils)        A, from beginning to end
    coil_voltages       (..., coils)        V, potential of the beginning above the end
    segment_potentials  (..., segments)     V above the negative brush
    contact_shares      (..., 2, segments)  share of each brush that lies on each segment; brush 0 is the positive one
    contact_currents    (..., 2, segments)  A, from brush into segment
    contact_losses      (..., 2, segments)  W, heat in each contact
    short_circuited     (..., 2, coils)     whether a brush bridges the two segments of a coil
    terminal_voltage, terminal_current, torque, copper_loss      (...)     V, A, N m, W
    """

    angle: np.ndarray
    speed: np.ndarray
    side_angles: np.ndarray
    side_fields: np.ndarray
    side_emfs: np.ndarray
    side_currents: np.ndarray
    side_forces: np.ndarray
    coil_emfs: np.ndarray
    coil_currents: np.ndarray
    coil_voltages: np.ndarray
    segment_potentials: np.ndarray
    contact_shares: np.ndarray
    contact_currents: np.ndarray
    contact_losses: np.ndarray
    short_circuited: np.ndarray
    terminal_voltage: np.ndarray
    terminal_current: np.ndarray
    torque: np.ndarray
    copper_loss: np.ndarray

    @property
    def terminal_power(self) -> np.ndarray:
        """W into the machine at its terminals, negative from a generator."""
        return self.terminal_voltage * self.terminal_current

    @property
    def mechanical_power(self) -> np.ndarray:
        """W out of the air gap into the shaft, torque times speed, negative in a generator."""
        return self.torque * self.speed

    @property
    def contact_loss(self) -> np.ndarray:
        """W of heat in all brush contacts."""
        return self.contact_losses.sum(axis=(-2, -1))

    @property
    def magnetic_power(self) -> np.ndarray:
        """W going into the magnetic energy of the coils' own inductance; zero where it is left out."""
        into_coils = self.coil_currents * (self.coil_voltages + self.coil_emfs)
        return into_coils.sum(axis=-1) - self.copper_loss


@lru_cache(maxsize=64)
def _side_angles_at_zero(coils: int) -> np.ndarray:
    """rad of the coil sides at rotor angle 0: (coils, 2)."""
    angles = FULL_TURN * np.arange(coils)[:, np.newaxis] / winding_ends(coils) + np.array([0.0, np.pi])
    angles.setflags(write=False)
    return angles


@dataclass(frozen=True)
class Armature:
    """Coils on a spindle in a two-pole field, with a commutator or slip rings.

    field             PoleField or BlockPoles round the rotor
    turns             turns of each coil
    length            m, of a conductor in the field
    radius            m, from the shaft to the coil sides
    coil_resistance   ohm of each coil, more than 0
    coils             how many, 1 or more, evenly spaced; one or two are an open winding, more a closed one
    coil_inductance   H of each coil by itself; used where time passes (`armature_motion`). `state` leaves it out
    collector         Commutator or SlipRings

    Raises `ValueError` naming the argument that is out of range.
    """

    field: PoleField | BlockPoles
    turns: int
    length: float
    radius: float
    coil_resistance: float
    coils: int = 3
    coil_inductance: float = 0.0
    collector: Commutator | SlipRings = dataclass_field(default_factory=Commutator)

    def __post_init__(self) -> None:
        checks = {
            "turns": whole,
            "length": positive,
            "radius": positive,
            "coil_resistance": positive,
            "coils": whole,
            "coil_inductance": not_negative,
        }
        for name, check in checks.items():
            object.__setattr__(self, name, check(name, getattr(self, name)))
        self.collector.segment_arc(self.coils)

    def side_angles(self, angle: ArrayLike) -> np.ndarray:
        """rad of the first and the second side of each coil at rotor `angle` (any shape): angle.shape + (coils, 2)."""
        return numbers("angle", angle)[..., np.newaxis, np.newaxis] + _side_angles_at_zero(self.coils)

    def flux_linkages(self, angle: ArrayLike) -> np.ndarray:
        """Flux linkage of each coil in Wb turns at rotor `angle`: angle.shape + (coils,).

        Positive when the flux goes through the coil the way a positive coil current would drive it.
        """
        through = self.field.summed(self.side_angles(angle))
        return self.turns * self.radius * self.length * (through[..., 0] - through[..., 1])

    def respond(self, angle: ArrayLike, circuit: OutsideCircuit, impedance: float = 0.0) -> Response:
        """The solved circuit at rotor `angle` (any shape), for any speed.

        impedance  ohm that a coil shows beyond its resistance when a step in time is taken with its inductance; then
                   the answer also holds what a voltage that drives each coil on would do
        """
        side_angles = self.side_angles(angle)
        side_fields = self.field.at(side_angles)
        lever = self.turns * self.length * self.radius
        torque_factors = lever * (side_fields @ SIDE_SIGNS)
        shares = self.collector.contact_shares(angle, self.coils, self.field.axis)
        coil_emfs = np.zeros(torque_factors.shape + (2 + (self.coils if impedance else 0),))
        coil_emfs[..., 1] = -torque_factors
        coil_emfs[..., 2:] = np.eye(self.coils, coil_emfs.shape[-1] - 2)
        contacts = contact_conductances(shares, self.collector.contact_resistance, self.coils)
        network = solve_network(coil_emfs, self.coil_resistance + impedance, contacts, circuit)
        return Response(self, side_angles, side_fields, shares, contacts, torque_factors, network)

    def state(self, angle: ArrayLike, speed: ArrayLike, circuit: OutsideCircuit) -> ArmatureState:
        """Everything at rotor `angle` (rad) and `speed` (rad/s, both any shapes that broadcast) with `circuit` outside.

        The currents are those that EMFs and resistances alone give (resistance commutation). A whole revolution for a
        chart: `state(numpy.linspace(0, 2 * numpy.pi, 360), speed, circuit)`.
        """
        angle, speed = np.broadcast_arrays(numbers("angle", angle), numbers("speed", speed))
        return self.respond(angle, circuit).state(angle, speed)


@dataclass(frozen=True)
class Response:
    """The circuit of an armature at a rotor position, solved once for all speeds: it is linear in the speed.

    The arrays of `network` have a column for what flows at standstill, one for what each rad/s adds and, in a step in
    time with inductance, one for each volt that drives a coil on.
    `torque_factors` (..., coils): N m for one ampere in a coil, and minus the V of EMF for one rad/s.
    """

    armature: Armature
    side_angles: np.ndarray
    side_fields: np.ndarray
    contact_shares: np.ndarray
    contact_conductances: np.ndarray
    torque_factors: np.ndarray
    network: NetworkSolution

    @property
    def torques(self) -> np.ndarray:
        """N m at standstill, that each rad/s adds (zero or negative: generating brakes), and each volt: columns."""
        return (self.torque_factors[..., np.newaxis] * self.network.coil_currents).sum(axis=-2)

    def state(self, angle: NumberOrArray, speed: NumberOrArray, driven_on: Sequence[np.ndarray] | np.ndarray = ()) -> ArmatureState:
        """All there is to draw and read, at this speed in rad/s and of its shape; `driven_on` the V in each coil."""
        armature, network = self.armature, self.network
        speed = np.asarray(speed)
        weights = np.empty(speed.shape + (2 + len(driven_on),))
        weights[..., 0], weights[..., 1], weights[..., 2:] = 1.0, speed, driven_on
        of_nodes = weights[..., np.newaxis, :]
        conductor = armature.turns * armature.length

        segments = (network.segment_potentials * of_nodes).sum(axis=-1)
        brushes = (network.brush_potentials * of_nodes).sum(axis=-1)
        drops = brushes[..., np.newaxis] - segments[..., np.newaxis, :]
        contact_currents = self.contact_conductances * drops
        touching = self.contact_shares > 0.0
        begins, ends = coil_ends(armature.coils)

        coil_currents = (network.coil_currents * of_nodes).sum(axis=-1)
        side_currents = coil_currents[..., np.newaxis] * SIDE_SIGNS
        side_emfs = -conductor * armature.radius * self.side_fields * speed[..., np.newaxis, np.newaxis]
        return ArmatureState(
            angle=angle,
            speed=speed,
            side_angles=self.side_angles,
            side_fields=self.side_fields,
            side_emfs=side_emfs,
            side_currents=side_currents,
            side_forces=conductor * self.side_fields * side_currents,
            coil_emfs=side_emfs[..., 0] - side_emfs[..., 1],
            coil_currents=coil_currents,
            coil_voltages=segments[..., begins] - segments[..., ends],
            segment_potentials=segments - brushes[..., 1:],
            contact_shares=self.contact_shares,
            contact_currents=contact_currents,
            contact_losses=contact_currents * drops,
            short_circuited=touching[..., begins] & touching[..., ends],
            terminal_voltage=brushes[..., 0] - brushes[..., 1],
            terminal_current=(network.terminal_current * weights).sum(axis=-1),
            torque=(self.torque_factors * coil_currents).sum(axis=-1),
            copper_loss=armature.coil_resistance * (coil_currents**2).sum(axis=-1),
        )
