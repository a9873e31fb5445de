"""The force between two wires: the settings, how they swing, and everything physical at one instant."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from physics.conductors.hung_pair import HungPair, PairSwing
from physics.directions import Hand, left_hand
from physics.fields import segment_field
from scenes.conductors.earth import EARTH

SIDES = {"left": -1.0, "right": 1.0}  # where each wire hangs, along x
ALONG = np.array([0.0, 0.0, 1.0])  # toward end P: the direction of a positive current
LEADS = 0.120  # m, from the rail down to the wires
MASS_PER_METRE = 0.0134  # kg/m: 1.5 mm^2 of copper at 8.9 g/cm^3 (memory); the beads are light
BEADS = 0.012  # m, across the beads that keep the wires apart when they are drawn together
DAMPING_TIME = 0.5  # s, in which a swing dies down to 1 / e
LONGEST = 0.240  # m
FLOOR = -0.060  # m, the top of the base
POST = -0.150  # m, where the post stands, behind the wires
# where the field is shown: away from the wires, and from the leads on the base with their own strong field
PLACES = np.array(
    [
        [x, y, 0.0]
        for y, least, most in ((0.042, 0.0, 0.1), (0.0, 0.05, 0.1), (-0.042, 0.0, 0.07))
        for x in np.linspace(-0.09, 0.09, 6)
        if least < abs(x) < most
    ]
)

# The right wire's circuit outside of wire and rail, metres; the left one's is its mirror image. Go and return
# run side by side along the rail and down the post, and have hardly any field there.
AT_POST = {"P": (0.060, 0.124, POST), "Q": (0.060, 0.116, POST)}
FROM_P = np.array([[0.064, 0.05, POST + 0.002], [0.064, FLOOR + 0.012, POST + 0.004], [0.074, FLOOR + 0.006, -0.122]])
SWITCH = np.array([[0.088, FLOOR + 0.012, -0.0525], [0.088, FLOOR + 0.012, -0.0975]])  # hinge and jaw
TO_BATTERY = np.array([[0.095, FLOOR + 0.02, -0.042], [0.116, FLOOR + 0.03, -0.045]])
BATTERY = np.array([[0.122, FLOOR + 0.037, -0.090], [0.122, FLOOR + 0.037, -0.060]])  # its left and its right terminal
TO_Q = np.array([[0.115, FLOOR + 0.034, -0.12], [0.068, FLOOR + 0.014, POST], [0.067, 0.05, POST]])
OUTSIDE = np.vstack([AT_POST["P"], FROM_P, SWITCH[::-1], TO_BATTERY, BATTERY[::-1], TO_Q, AT_POST["Q"]])


@dataclass(frozen=True)
class Setup:
    """The settings. set_currents: A in the left and the right wire while the switches are closed, positive toward end P;
    spacing, length: m; wire: the one that is looked at."""

    closed: bool
    set_currents: tuple[float, float]
    spacing: float
    length: float
    wire: str

    @classmethod
    def of(cls, settings: dict) -> Setup:
        return cls(
            settings["switch"],
            (settings["current"], settings["other"]),
            settings["spacing"] / 1000,
            settings["length"] / 1000,
            settings["wire"],
        )

    @property
    def currents(self) -> dict[str, float]:
        """A in each wire, positive toward end P. A wire set to carry none has its switch open."""
        return {wire: current * self.closed for wire, current in zip(SIDES, self.set_currents, strict=True)}

    @property
    def other(self) -> str:
        """The wire that is not looked at."""
        return "right" if self.wire == "left" else "left"

    @property
    def pair(self) -> HungPair:
        return pair_of(self.spacing, self.length)


@lru_cache(maxsize=32)
def pair_of(spacing: float, length: float) -> HungPair:
    inertia = MASS_PER_METRE * length * LEADS**2
    hinge, half = np.array([spacing / 2, LEADS, 0.0]), length / 2 * ALONG
    rail = [hinge + half, hinge - half]  # the current's return; from there to the post go and return run together
    fixed = np.stack([np.vstack([[rail[0]], OUTSIDE[:-1]]), np.vstack([[rail[1]], OUTSIDE[1:]])], axis=1)
    return HungPair(length, spacing, LEADS, MASS_PER_METRE, BEADS, damping=2 * inertia / DAMPING_TIME, fixed=fixed, outside=EARTH)


def begin(setup: Setup) -> PairSwing:
    return PairSwing()


def advance(setup: Setup, swing: PairSwing, seconds: float) -> PairSwing:
    return setup.pair.swings(swing, list(setup.currents.values()), seconds)


@dataclass(frozen=True)
class Snapshot:
    """Everything physical at one instant; of both wires, the left one first.

    angles, middles   rad from hanging straight down, positive to the right; where their middles are, (2, 3), m
    apart             m from wire to wire
    fields            of the other wire at the middle of each, (2, 3), T
    pushes            of the other wire on each, (2, 3), N;  push: their size, positive together
    of_earth          of the Earth's field on each, (2, 3), N
    of_leads          effect of the leads on each, as the force along x at the wire with the same torque, (2,), N
    around            the field of everything at `PLACES`, (n, 3), T
    hand              the left hand for the wire that is looked at
    """

    setup: Setup
    angles: tuple[float, float]
    middles: np.ndarray
    apart: float
    fields: np.ndarray
    pushes: np.ndarray
    push: float
    of_earth: np.ndarray
    of_leads: np.ndarray
    around: np.ndarray
    hand: Hand

    @property
    def looked_at(self) -> int:
        return list(SIDES).index(self.setup.wire)

    def toward_the_other(self, force_along_x: float) -> float:
        """A force along x on the wire that is looked at, positive toward the other."""
        return -SIDES[self.setup.wire] * float(force_along_x)


def observe(setup: Setup, swing: PairSwing) -> Snapshot:
    pair, currents = setup.pair, list(setup.currents.values())
    middles = pair.middles(swing.angles)
    on_left = pair.between(swing.angles, currents)
    looked_at = list(SIDES).index(setup.wire)
    half = setup.length / 2 * ALONG
    fields = np.array(
        [
            segment_field(here[np.newaxis], (there - half)[np.newaxis], (there + half)[np.newaxis], current)[0]
            for here, there, current in zip(middles, middles[::-1], currents[::-1], strict=True)
        ]
    )
    return Snapshot(
        setup=setup,
        angles=swing.angles,
        middles=middles,
        apart=float(np.linalg.norm(middles[1] - middles[0])),
        fields=fields,
        pushes=np.array([on_left, -on_left]),
        push=float(np.sign(np.prod(currents)) * np.linalg.norm(on_left)),
        of_earth=pair.of_outside(currents),
        of_leads=pair.lead_torques(swing.angles, currents) / LEADS,
        around=pair.of_currents(PLACES, swing.angles, currents) + EARTH,
        hand=left_hand(fields[looked_at], currents[looked_at] * ALONG),
    )
