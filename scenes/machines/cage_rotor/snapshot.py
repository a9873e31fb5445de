"""The cage's settings, how it turns, and everything physical at one instant."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

import numpy as np

from physics.cage import Cage, CageState
from physics.cage import motion as cage_motion
from physics.cage.motion import Field, RotorMoment
from physics.directions import Hand, left_hand, right_hand
from physics.induction.fed_cage import CageOnSupply, StatorPoint
from physics.shaft.shafts import DrivenShaft, FreeShaft
from physics.supply.supplies import ThreePhaseSupply
from scenes.machines.cage_rotor import motor
from scenes.machines.cage_rotor.motor import INERTIA, RADIUS, VOLTAGE, Curves

PROOF_SPEED = 0.4  # of synchronous speed, at which the bars are turned the other way past a field that stands
WITHIN_THE_POLE = np.pi / 3  # electrical rad from its middle: further off its field is weak, or another pole's
SEEN_BEST = 2  # how well a hand is seen: not at all 0, with a finger behind its palm 1, whole
AXIS = np.array([0.0, 0.0, 1.0])  # of the shaft, toward the drive end: counter-clockwise seen from there
NEAR = 0.01  # by what share of its load the torque may differ at a speed that is as good as constant
NO_CURRENT = 1e-9  # V: an EMF below this is none


@dataclass(frozen=True)
class Setup:
    """What is set. rotor: "free", "held", "driven" or "proof", in which the field is stopped; share: of synchronous speed at which
    the shaft is held or driven; load: N m, asked of a free shaft; inertia: kg m2; lines: on U, V, W; frequency: Hz; held: T at which
    the field is held, None where the supply's voltage is; hand: the one shown, or none; pole: of the bar it is at, "N", "S" or
    "either";
    iron: how it is shown, "shown", "edges" or "off"."""

    rotor: str
    share: float
    load: float
    inertia: float
    lines: tuple[str, ...]
    poles: int
    frequency: float
    held: float | None
    broken: str
    hand: str
    pole: str
    iron: str

    @classmethod
    def of(cls, settings: dict) -> Setup:
        rotor, poles = settings["rotor"], int(settings["poles"])
        return cls(
            rotor=rotor,
            share={"driven": settings["speed"] / 100, "proof": -PROOF_SPEED}.get(rotor, 0.0),
            load=settings["load"] / 100 * motor.rated_torque(poles) if rotor == "free" else 0.0,
            inertia=INERTIA * settings["inertia"],
            lines=tuple(settings["lines"].split("-")),
            poles=poles,
            frequency=settings["frequency"],
            held=settings["field"] if settings["fed"] == "field" else None,
            broken=settings["broken"],
            hand=settings["hand"],
            pole=settings["bar"],
            iron=settings["iron"],
        )

    @property
    def free(self) -> bool:
        return self.rotor == "free"

    @property
    def stands(self) -> bool:
        """Whether the field is stopped: an inverter holds still and gives direct current."""
        return self.rotor == "proof"

    @property
    def sense(self) -> float:
        """+1 where the lines as joined turn the field counter-clockwise seen from the drive end, -1 where clockwise."""
        return -1.0 if ThreePhaseSupply(VOLTAGE, self.frequency, self.lines).sequence == "positive" else 1.0

    @property
    def fed(self) -> CageOnSupply:
        """Stator and cage on the supply as it is set."""
        return motor.on_supply(self.poles, self.frequency, self.broken, self.sense)

    @property
    def field(self) -> Field:
        """What the bars are in."""
        return motor.field_of(self.fed, self.held, self.stands)

    @property
    def shaft(self) -> FreeShaft | DrivenShaft:
        return FreeShaft(self.inertia, dry_friction=self.load) if self.free else DrivenShaft(self.share * self.fed.speed)

    def on_shaft(self, moment: RotorMoment) -> RotorMoment:
        """The same with the speed that the shaft imposes, where it is held or driven."""
        return moment if self.free else replace(moment, rotor_speed=self.share * self.fed.speed)


def begin(setup: Setup) -> RotorMoment:
    """The field's peak upward; a free rotor at rest."""
    speed = setup.on_shaft(RotorMoment()).rotor_speed
    ahead = cage_motion.peak_at(setup.field, RotorMoment(rotor_speed=speed))[1]
    return RotorMoment(np.pi / 2 - ahead, np.pi / 2, speed)


def advance(setup: Setup, moment: RotorMoment, seconds: float) -> RotorMoment:
    return cage_motion.advance(setup.fed.cage, setup.field, setup.on_shaft(moment), setup.shaft, seconds)


@dataclass(frozen=True)
class Bar:
    """The bar of that `number`, from 0, at that `angle`, rad: at it `field`, T, `motion` relative to the field, m/s, and `current`
    along the shaft, A, all (3,)."""

    number: int
    angle: float
    field: np.ndarray
    motion: np.ndarray
    current: np.ndarray

    @property
    def pole(self) -> str:
        """The stator's pole over it: where flux comes in, its north pole."""
        return "N" if float(self.field @ [np.cos(self.angle), np.sin(self.angle), 0.0]) < 0 else "S"

    def hand(self, side: str) -> Hand:
        """The "right" or the "left" hand at it."""
        return right_hand(self.field, self.motion) if side == "right" else left_hand(self.field, self.current)


@dataclass(frozen=True)
class Snapshot:
    """Everything physical at one instant. Angles and speeds mechanical, counter-clockwise positive seen from the drive end."""

    setup: Setup
    moment: RotorMoment
    fed: CageOnSupply
    curves: Curves
    state: CageState
    peak: float  # T
    peak_angle: float  # rad
    field_speed: float  # rad/s
    slip: float  # where the field stands, as if it turned past bars at rest with the speed that the bars have
    rotor_field: float  # T, peak of what the rotor's currents would make alone
    stator: StatorPoint | None  # None where the field stands: direct current
    bar: Bar  # the one spoken of

    @property
    def cage(self) -> Cage:
        return self.fed.cage

    @property
    def synchronous(self) -> float:
        """rad/s of the field that the lines as joined make."""
        return self.fed.speed

    @property
    def sense(self) -> float:
        """+1 where that field turns counter-clockwise, -1 where clockwise."""
        return self.fed.sense

    @property
    def generates(self) -> bool:
        """Whether there is an EMF in that bar."""
        return abs(float(self.state.emf[self.bar.number])) > NO_CURRENT

    @property
    def lags(self) -> bool:
        """Whether the current of that bar is so far behind the EMF that at this moment it flows against it."""
        return bool(_against(self.state)[self.bar.number])

    @property
    def stalled(self) -> bool:
        """Whether the rotor is free to turn, but rests because its load asks for more than the bars give."""
        load = self.setup.load
        return self.setup.free and self.moment.rotor_speed == 0.0 and abs(self.state.torque) <= load and load > 0

    @property
    def settled(self) -> bool:
        """Whether its speed is as good as constant."""
        if not self.setup.free or self.stalled:
            return True
        load = self.setup.load
        return abs(self.sense * self.state.torque - load) <= NEAR * max(load, motor.rated_torque(self.setup.poles) / 10)


def observe(setup: Setup, moment: RotorMoment, seen: Callable[[Hand], int] = lambda hand: 0) -> Snapshot:
    """The motor at that moment, and the whole bar that is nearest to the middle of the pole that is set, or another at such a pole
    whose hand is `seen` better: up to `SEEN_BEST`."""
    moment, fed, field, held = setup.on_shaft(moment), setup.fed, setup.field, setup.held
    state = cage_motion.bars(fed.cage, field, moment)
    peak, peak_angle = cage_motion.peak_at(field, moment)

    def bar(number: int) -> Bar:
        angle = float(fed.cage.bar_angles[number]) + moment.rotor_angle
        outward, onward = np.array([np.cos(angle), np.sin(angle), 0.0]), np.array([-np.sin(angle), np.cos(angle), 0.0])
        return Bar(
            number=number,
            angle=angle,
            field=peak * np.cos(field.pole_pairs * (angle - peak_angle)) * outward,
            motion=(moment.rotor_speed - field.speed) * RADIUS * onward,
            current=state.current[number] * AXIS,
        )

    numbers = _bars_at(setup.pole, fed.cage, field, peak_angle, moment.rotor_angle, _against(state))
    slip = -moment.rotor_speed / fed.speed if setup.stands else fed.slip(moment.rotor_speed)
    stator = None if setup.stands else fed.running(slip) if held is None else fed.with_field(held, slip)
    return Snapshot(
        setup=setup,
        moment=moment,
        fed=fed,
        curves=motor.curves(fed, peak if setup.stands else held),
        state=state,
        peak=peak,
        peak_angle=peak_angle,
        field_speed=field.speed,
        slip=slip,
        rotor_field=fed.rotor_field(state.reaction_mmf),
        stator=stator,
        bar=next(map(bar, numbers)) if setup.hand == "none" else _seen_best(map(bar, numbers), setup.hand, seen),
    )


def _seen_best(bars: Iterable[Bar], side: str, seen: Callable[[Hand], int]) -> Bar:
    """The first of the bars at which that hand is seen best."""
    best, how_well = None, -1
    for bar in bars:
        if (this_well := seen(bar.hand(side))) > how_well:
            best, how_well = bar, this_well
        if how_well == SEEN_BEST:
            break
    assert best is not None  # a cage has bars
    return best


def _against(state: CageState) -> np.ndarray:
    """In which bars the current flows against the EMF, (bars,) bool."""
    return state.emf * state.current < 0


def _bars_at(pole: str, cage: Cage, field: Field, peak_angle: float, rotor_angle: float, against: np.ndarray) -> list[int]:
    """The whole bars at the poles of that name, the nearest to the middle of the first of them first, but those last in which the
    current is `against` the EMF; where broken bars leave none there, the one that is nearest to such a pole."""
    middle, alike = peak_angle + (0.0 if pole == "S" else np.pi / field.pole_pairs), 2 if pole == "either" else 1
    past = cage.bar_angles + rotor_angle - middle
    away, within = np.abs(np.angle(np.exp(1j * past))), np.abs(np.angle(np.exp(1j * alike * field.pole_pairs * past))) / alike
    within[list(cage.missing)] = np.inf
    at_poles = [number for number in np.lexsort((away, against)).tolist() if within[number] <= WITHIN_THE_POLE]
    return at_poles or [int(np.argmin(within))]
