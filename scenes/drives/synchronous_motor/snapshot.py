"""Settings of a synchronous motor, how it goes on, and everything physical at one instant."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

from physics.shaft.shafts import FreeShaft
from physics.supply.supplies import ThreePhaseSupply
from physics.synchronous.motion import Mains, Moment, RisingFrequency, in_step, instant
from physics.synchronous.motion import advance as advanced
from physics.synchronous.round_rotor import RoundRotorMachine, running_at_load
from scenes.drives.synchronous_motor import motors

IN_STEP, ON_MAINS, BY_INVERTER = "in-step", "mains", "inverter"
UPWARD = math.pi / 2  # where a north pole stands before a start from rest
EXCITED_AT = 0.95  # of synchronous speed: common practice, no source
LOOK = 0.005  # s between two looks of what switches the excitation on
SINCE_A_SLIP, NEAR = 0.5, 2.5  # s without a pole slipped, and Hz between field and rotor, after and within which it counts as in step
AT_REST, STARTED = 0.005, 0.06  # of synchronous speed: what counts as standstill, and as a start
LONGEST = 5.0  # s until it is judged what became of it
LEADING, LAGGING, IN_PHASE, SLIPS, STAYS = "leading", "lagging", "in-phase", "slips", "stays"
UNITY = 0.995  # power factor from which the current counts as in phase
NEVER = -math.inf


@dataclass(frozen=True)
class Setup:
    """What is set. load: N m, a brake, percent: the same of rated torque; emf: line value at rated speed, V r.m.s.; start: IN_STEP,
    ON_MAINS or BY_INVERTER; excited: whether it is before the start; lines: on U, V, W; flashing: whether it is seen in a lamp that
    flashes with the supply."""

    poles: int
    percent: float
    emf: float
    start: str
    damper: bool
    excited: bool
    lines: tuple[str, ...]
    flashing: bool
    curves: str

    @classmethod
    def of(cls, settings: dict) -> Setup:
        return cls(
            poles=int(settings["poles"]),
            percent=settings["load"],
            emf=settings["excitation"] / 100 * motors.VOLTAGE,
            start=settings["start"],
            damper=settings["damper"],
            excited=settings["start"] != ON_MAINS or settings["excited"] == "before",
            lines=tuple(settings["lines"].split("-")),
            flashing=settings["lamp"] == "flashing",
            curves=settings["curves"],
        )

    @property
    def machine(self) -> RoundRotorMachine:
        return motors.machine(self.poles, self.damper)

    @property
    def supply(self) -> Mains | RisingFrequency:
        return motors.INVERTER if self.start == BY_INVERTER else motors.MAINS

    @property
    def load(self) -> float:
        return self.percent / 100 * motors.rated_torque(self.poles)

    @cached_property
    def sense(self) -> float:
        """+1 where the lines as joined turn the field counter-clockwise looking at the drive end, -1 where clockwise."""
        return -1.0 if ThreePhaseSupply(motors.VOLTAGE, motors.FREQUENCY, self.lines).sequence == "positive" else 1.0


@dataclass(frozen=True)
class Begun:
    """moment: of the machine; excited: whether the excitation is on; slipped: time, s, of the last pole slipped."""

    moment: Moment
    excited: bool
    slipped: float = NEVER


def begin(setup: Setup) -> Begun:
    """In step without load, or at rest; with an inverter the poles lie along the field of its direct current."""
    machine = setup.machine
    if setup.start == IN_STEP:
        running = running_at_load(machine, motors.VOLTAGE, setup.emf, 0.0)
        return Begun(in_step(machine, setup.supply, setup.sense, running), True)
    excitation = machine.excitation(setup.emf) if setup.excited else 0.0
    if setup.start == BY_INVERTER:  # it has drawn the poles to the field of its direct current before it turns that
        own, mutual, _ = machine.inductances
        direct = setup.supply.peak(0.0) / machine.resistance
        return Begun(Moment(0.0, 0.0, 0.0, own * direct + excitation + 0j, mutual * direct + excitation + 0j, excitation), True, 0.0)
    return Begun(Moment(0.0, UPWARD, 0.0, complex(excitation), complex(excitation), excitation), setup.excited, 0.0)


def settle(setup: Setup) -> Begun:
    """In step under its load, or as it begins where it cannot be."""
    running = motors.carrying(setup.poles, setup.emf, setup.load) if setup.start == IN_STEP else None
    return Begun(in_step(setup.machine, setup.supply, setup.sense, running), True) if running else begin(setup)


def advance(setup: Setup, state: Begun, seconds: float) -> Begun:
    machine, supply, sense = setup.machine, setup.supply, setup.sense
    shaft = FreeShaft(motors.inertia(setup.poles), setup.load)
    looks = max(1, math.ceil(seconds / LOOK))
    for _ in range(looks):
        before = state.moment
        excited = state.excited or sense * before.speed > EXCITED_AT * machine.speed
        moment = advanced(machine, supply, sense, shaft, before, machine.excitation(setup.emf) if excited else 0.0, seconds / looks)
        past = abs(cmath.phase(before.stator) - cmath.phase(moment.stator)) > math.pi
        slow = abs(sense * moment.speed * machine.pole_pairs / (2 * math.pi) - supply.frequency(moment.time)) > NEAR
        state = Begun(moment, excited, moment.time if past or slow or not excited else state.slipped)
    return state


@dataclass(frozen=True)
class Snapshot:
    """Everything physical at one instant. Positive in the field's sense: `speed` and `field_speed`, rev/s; `torque`, N m;
    `load_angle`, electrical rad by which the pole axis lags the field. The angles at which field and rotor are seen in rad,
    counter-clockwise looking at the drive end. field, rotor_field: T, peak; current: A r.m.s. of a line; phase_angle: rad by which
    it lags the voltage; power: W from the lines; voltage: V r.m.s. between lines."""

    setup: Setup
    time: float
    speed: float
    frequency: float
    voltage: float
    load_angle: float
    torque: float
    field: float
    rotor_field: float
    field_angle: float
    rotor_angle: float
    current: float
    phase_angle: float
    power: float
    excited: bool
    in_step: bool

    @property
    def sense(self) -> float:
        return self.setup.sense

    @property
    def field_speed(self) -> float:
        return self.frequency / self.setup.machine.pole_pairs

    @property
    def standstill(self) -> str:
        """ "at" or "near" where it is at standstill or shakes about it, else nothing."""
        share = abs(self.speed) * 2 * math.pi / self.setup.machine.speed
        return "" if self.in_step or share > STARTED else "near" if share > AT_REST else "at"

    @property
    def magnetised(self) -> bool:
        """Whether the rotor has a field of its own, and so a pole axis."""
        return self.rotor_field > 0.02


def observe(setup: Setup, state: Begun) -> Snapshot:
    machine, supply, sense, moment = setup.machine, setup.supply, setup.sense, state.moment
    now = instant(machine, supply, sense, moment)
    ahead = cmath.phase(moment.stator)  # of the field's axis before the rotor's, counter-clockwise
    seen_from = sense * supply.angle(moment.time) - UPWARD * (machine.pole_pairs + sense) if setup.flashing else 0.0
    rotor_angle = moment.angle - seen_from / machine.pole_pairs
    power = 1.5 * now.voltage * now.current.conjugate()
    return Snapshot(
        setup=setup,
        time=moment.time,
        speed=sense * moment.speed / (2 * math.pi),
        frequency=supply.frequency(moment.time),
        voltage=abs(now.voltage) * math.sqrt(1.5),
        load_angle=sense * ahead,
        torque=sense * now.torque,
        field=motors.USUAL_FIELD * abs(moment.stator) / motors.FLUX_LINKAGE,
        rotor_field=motors.USUAL_FIELD * moment.excitation / motors.FLUX_LINKAGE,
        field_angle=rotor_angle + ahead / machine.pole_pairs,
        rotor_angle=rotor_angle,
        current=abs(now.current) / math.sqrt(2),
        phase_angle=sense * cmath.phase(power) if power else 0.0,
        power=power.real,
        excited=state.excited,
        in_step=state.excited and setup.emf > 0 and _stays_in_step(setup, state),
    )


def _stays_in_step(setup: Setup, state: Begun) -> bool:
    """Whether no pole has slipped for a while. One that slips slowly takes longer than that, and under more load than the pull-out
    torque a motor that has slipped once slips on."""
    holds = state.slipped == NEVER or motors.carrying(setup.poles, setup.emf, setup.load) is not None
    return holds and state.moment.time - state.slipped > SINCE_A_SLIP


@lru_cache(maxsize=512)
def result_of(setup: Setup) -> tuple[str, Snapshot]:
    """The result, LEADING, LAGGING, IN_PHASE, SLIPS or STAYS, and the last instant of a run from the start until it is steady."""
    state, speeds = begin(setup), []
    while state.moment.time < LONGEST:
        state = advance(setup, state, 0.05)
        speeds.append(setup.sense * state.moment.speed / setup.machine.speed)
        if len(speeds) > 60 and max(speeds[-8:]) - min(speeds[-8:]) < 1e-4 and abs(speeds[-1] - 1) < 1e-4:
            break
    last = observe(setup, state)
    if last.in_step:
        return (IN_PHASE if math.cos(last.phase_angle) > UNITY else LAGGING if last.phase_angle > 0 else LEADING), last
    return (SLIPS if sum(speeds[-20:]) / 20 > STARTED else STAYS), last


def outcome(setup: Setup) -> tuple[str, Snapshot]:
    """`result_of`, worked out once for set-ups that differ only in how they are looked at."""
    return result_of(replace(setup, flashing=False, curves="", lines=("L1", "L2", "L3")))
