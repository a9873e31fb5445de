"""The moving conductor's settings, how it moves, and everything physical at one instant."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np

from physics.conductors.force_and_emf import flux_cut, generate, mean_field
from physics.constants import COPPER_RESISTIVITY
from physics.directions import Hand, right_hand
from physics.fields.block_magnets import gap_field

GAP = 0.060  # m
POLE = np.array([0.070, 0.030])  # m, across the motion and toward the gap; along the rod as the control says
DEPTHS = (20, 40, 60)  # mm
HALF_ROD = 0.075  # m
LENGTH = 2 * HALF_ROD
ALONG_ROD = np.array([0.0, 0.0, 1.0])  # toward its marked end: the direction in which a positive EMF drives current
WAYS = {"across": np.array([1.0, 0, 0]), "along-field": np.array([0, 1.0, 0]), "along-rod": ALONG_ROD}
# m, how far it can be moved either way. Across, the mean field along the rod is reversed beyond 64 mm from the middle (poles of 20 mm,
# 66 mm with poles of 60 mm): the rod turns back before that, so that one passage drives current in one direction.
REACH = {"across": 0.060, "along-field": 0.022, "along-rod": 0.040}
TRAVEL = {"across": 0.048, "along-field": 0.0132, "along-rod": 0.024}  # m, the greatest displacement to and fro
MASS = 0.08  # kg: the rod's 67 g of copper and its grip
HAND = 9.0  # 1/s: how quickly the hand follows the slider
HAND_SPEED = 0.6  # m/s, about the greatest when it is moved by hand
RANGES = {"20 mV": 0.02, "200 mV": 0.2, "2 V": 2.0}  # V, the meter's ranges to choose from
FULL_SCALES = (0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0)  # V
SHORT = 1e-4  # s, over which the rate of flux linkage is taken
ROD_COPPER, CABLE_COPPER, CABLE = 50e-6, 25e-6, 0.6  # m^2 of copper in rod and flexible cables together; m of cables
AT_REST = 1e-3  # m/s
BY_HAND, TO_AND_FRO = "hand", "to-and-fro"


@dataclass(frozen=True)
class Setup:
    """The settings. motion: by hand or to and fro; mark: m from the middle, where the hand is; speed: m/s, the greatest to and fro;
    way: the direction of the motion; polarisation: T, negative for a field downward; depth: m, of the poles along the rod; turns:
    wires in series, side by side in the rod; chosen_scale: V of the meter, None for one that fits; closed, resistor: whether
    a resistor is connected to the rod, and its ohms; slowness: how many times slower than real time it is shown."""

    motion: str
    mark: float
    speed: float
    way: str
    polarisation: float
    depth: float
    turns: int
    chosen_scale: float | None
    closed: bool
    resistor: float
    slowness: float

    @classmethod
    def of(cls, settings: dict) -> Setup:
        return cls(
            motion=settings["motion"],
            mark=settings["place"] / 100 * REACH[settings["way"]],
            speed=settings["speed"],
            way=settings["way"],
            polarisation=settings["strength"] * (1.0 if settings["field"] == "up" else -1.0),
            depth=int(settings["depth"]) / 1000,
            turns=round(settings["turns"]),
            chosen_scale=RANGES.get(settings["meter"]),
            closed=settings["closed"],
            resistor=settings["resistance"],
            slowness=float(settings["slow"]),
        )

    @property
    def sense(self) -> float:
        return float(np.sign(self.polarisation))

    @property
    def direction(self) -> np.ndarray:
        """Unit vector along which the rod is moved when its displacement grows."""
        return WAYS[self.way]

    @property
    def own_resistance(self) -> float:
        """Resistance of rod and cables, ohms: the turns share the copper, so it grows with the square of their number."""
        return self.turns**2 * COPPER_RESISTIVITY * (LENGTH / ROD_COPPER + CABLE / CABLE_COPPER)

    @property
    def fitting_scale(self) -> float:
        """The smallest usual range, V, for this set-up at its greatest speed across the field."""
        fastest = self.speed if self.motion == TO_AND_FRO else HAND_SPEED
        needed = 1.1 * self.turns * _emf_in_the_middle(abs(self.polarisation), self.depth) * fastest
        return next((scale for scale in FULL_SCALES if scale >= needed), FULL_SCALES[-1])

    @property
    def full_scale(self) -> float:
        """Full scale of the meter, V."""
        return self.chosen_scale or self.fitting_scale


@lru_cache(maxsize=64)
def poles_field(depth: float, polarisation: float):
    """The field of the two poles, `depth` metres along the rod; a function of points."""
    return gap_field(GAP, (POLE[0], POLE[1], depth), polarisation, direction=(0, 1, 0))


@lru_cache(maxsize=64)
def _emf_in_the_middle(polarisation: float, depth: float) -> float:
    """EMF of one wire at 1 m/s across the middle of the gap, V."""
    return abs(generate(path(0.0, WAYS["across"]), [1.0, 0, 0], poles_field(depth, polarisation), 1.0).emf)


def path(displacement: float, direction) -> np.ndarray:
    """Where the rod is, from its plain to its marked end, shape (2, 3)."""
    return HALF_ROD * np.array([-ALONG_ROD, ALONG_ROD]) + displacement * np.asarray(direction)


@dataclass(frozen=True)
class Moving:
    """The motion: displacement from the middle, m, and speed, m/s, along its direction; phase of the to-and-fro, rad; chart time, s."""

    displacement: float
    speed: float
    phase: float = 0.0
    clock: float = 0.0


def begin(setup: Setup) -> Moving:
    """To and fro: in the middle, moving in the positive direction. By hand: on the far side, about to follow the slider."""
    return Moving(0.0, setup.speed) if setup.motion == TO_AND_FRO else Moving(-setup.mark, 0.0)


def advance(setup: Setup, state: Moving, seconds: float) -> Moving:
    clock = state.clock + seconds
    if setup.motion == TO_AND_FRO:
        # the phase continues, so that a change of speed does not make the rod jump
        travel = TRAVEL[setup.way]
        phase = state.phase + setup.speed / travel * seconds
        return Moving(travel * float(np.sin(phase)), setup.speed * float(np.cos(phase)), phase, clock)
    steps = max(1, int(np.ceil(seconds / 0.004)))
    for _ in range(steps):
        state = _follow(setup, state, seconds / steps)
    return replace(state, clock=clock)


def _follow(setup: Setup, state: Moving, dt: float) -> Moving:
    """One implicit step: the hand pulls the rod to its mark like a critically damped spring, and the field's drag slows it."""
    drag = 0.0
    if setup.closed:  # drag in newtons per metre per second, from the field where the rod is
        field, rod = poles_field(setup.depth, setup.polarisation), path(state.displacement, setup.direction)
        drag = generate(rod, setup.direction, field, setup.resistor + setup.own_resistance, setup.turns).mechanical_power
    pull = HAND**2 * (setup.mark - state.displacement)
    speed = (state.speed + dt * pull) / (1 + dt * (2 * HAND + drag / MASS) + dt * dt * HAND**2)
    return replace(state, displacement=state.displacement + dt * speed, speed=speed)


@dataclass(frozen=True, eq=False)
class Snapshot:
    """Everything physical at one instant.

    middle    of the rod, (3,) m;  velocity  (3,) m/s;  field  mean along the rod, (3,) T
    emf       V, current A, both positive toward the marked end;  force  on the rod, (3,) N
    voltage   V at the meter, its + on the marked end: the EMF less the drop in the rod's own resistance
    coming    +1 or -1: moving, or about to move, along or against its direction; 0 for neither
    hand      the right hand for field and velocity
    """

    setup: Setup
    state: Moving
    middle: np.ndarray
    velocity: np.ndarray
    field: np.ndarray
    emf: float
    current: float
    voltage: float
    force: np.ndarray
    coming: float
    hand: Hand

    @cached_property
    def flux_rate(self) -> float:
        """Flux the rod cuts per second at this instant, Wb/s, positive like the EMF: an independent way to the same figure."""
        field, step = poles_field(self.setup.depth, self.setup.polarisation), 0.5 * SHORT * self.state.speed
        before, after = (path(self.state.displacement + sign * step, self.setup.direction) for sign in (-1, 1))
        return flux_cut(before, after, field, self.setup.turns, stations=3) / SHORT

    @property
    def asked_about(self) -> Hand:
        """The right hand for the field between the poles and the motion that is made, or about to be."""
        return right_hand([0.0, self.setup.sense, 0.0], self.coming * self.setup.direction)

    @property
    def generates(self) -> bool:
        return abs(self.emf) > 1e-9


def observe(setup: Setup, state: Moving) -> Snapshot:
    """The snapshot at the rod's present position."""
    field, direction = poles_field(setup.depth, setup.polarisation), setup.direction
    rod, velocity = path(state.displacement, direction), state.speed * direction
    own = setup.own_resistance
    made = generate(rod, velocity, field, setup.resistor + own, setup.turns)
    mean = mean_field(rod, field)
    current = made.current if setup.closed else 0.0
    return Snapshot(
        setup=setup,
        state=state,
        middle=rod.mean(axis=0),
        velocity=velocity,
        field=mean,
        emf=made.emf,
        current=current,
        voltage=made.emf - current * own,
        force=made.force if setup.closed else np.zeros(3),
        coming=_coming(setup, state),
        hand=right_hand(mean, velocity if setup.way != "along-field" else np.zeros(3)),
    )


def _coming(setup: Setup, state: Moving) -> float:
    if abs(state.speed) > 1e-6:
        return float(np.sign(state.speed))
    return float(np.sign(setup.mark - state.displacement)) if setup.motion == BY_HAND else 1.0
