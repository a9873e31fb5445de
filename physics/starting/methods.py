"""How a three-phase induction motor can be started: each method as the stages it takes the motor through.

What comes of it is worked out in `starting` (by the equivalent circuit, quickly) and in `starting_transients` (moment
by moment). Methods and their relations: any handbook of electrical drives.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from physics import arguments
from physics.induction import EquivalentCircuit
from physics.starting.stages import Feed, Pause, Stage, through_rectifier, through_transformer
from physics.supply.space_vectors import STAR
from physics.supply.supplies import Inverter


class Method(Protocol):
    """A way to start."""

    @property
    def name(self) -> str:
        """As it stands in a table."""

    def stages(self, motor: EquivalentCircuit) -> tuple[Stage | Pause, ...]:
        """What it does with `motor`, first to last; the last stage is without end."""


ON_THE_LINES = Stage("on full voltage", Feed())


@dataclass(frozen=True)
class DirectOnLine:
    """Full voltage at once."""

    name: str = "direct on line"

    def stages(self, motor: EquivalentCircuit) -> tuple[Stage | Pause, ...]:
        """One stage."""
        return (ON_THE_LINES,)


@dataclass(frozen=True)
class StarDelta:
    """In star up to `change_over_slip`, then off the lines for `pause` s, then in delta (open transition).

    In star each winding has 1 / sqrt(3) of its voltage; current from the lines and torque are a third.
    """

    change_over_slip: float = 0.1
    pause: float = 0.05
    name: str = "star-delta"

    def __post_init__(self) -> None:
        _slip("change_over_slip", self.change_over_slip)
        arguments.positive("pause", self.pause)

    def stages(self, motor: EquivalentCircuit) -> tuple[Stage | Pause, ...]:
        """Star, pause, delta."""
        star = Stage("star", Feed(connection=STAR), until_slip=self.change_over_slip)
        return (star, Pause("change-over", self.pause), Stage("delta", Feed()))


@dataclass(frozen=True)
class Autotransformer:
    """On a tap of an autotransformer up to `change_over_slip`, then, without being off the lines, on full voltage.

    tap: its voltage as a fraction of the lines'. The motor draws this fraction of the direct current; the lines carry
    its square, as the torque has its square.
    """

    tap: float = 0.65
    change_over_slip: float = 0.1
    name: str = "autotransformer"

    def __post_init__(self) -> None:
        _fraction("tap", self.tap)
        _slip("change_over_slip", self.change_over_slip)

    def stages(self, motor: EquivalentCircuit) -> tuple[Stage | Pause, ...]:
        """Tap, lines."""
        tap = Stage(
            f"{100 * self.tap:.0f} % tap",
            Feed(voltage=self.tap),
            until_slip=self.change_over_slip,
            line_current=through_transformer,
        )
        return (tap, ON_THE_LINES)


@dataclass(frozen=True)
class SoftStarter:
    """The voltage is brought up evenly from `first_voltage`, a fraction of the lines', to full in `seconds`.

    Only its fundamental is counted: what the thyristors cut out of the waves adds heat and noise that are not here.
    """

    first_voltage: float = 0.4
    seconds: float = 5.0
    name: str = "soft starter"

    def __post_init__(self) -> None:
        _fraction("first_voltage", self.first_voltage)
        arguments.positive("seconds", self.seconds)

    def stages(self, motor: EquivalentCircuit) -> tuple[Stage | Pause, ...]:
        """Ramp, lines."""
        ramp = Stage("voltage ramp", Feed(voltage=self.first_voltage), Feed(), self.seconds)
        return (ramp, ON_THE_LINES)


@dataclass(frozen=True)
class RotorResistance:
    """For a wound rotor: resistors on the slip rings, taken out step by step.

    resistances: ohm per phase of all that is in at each step, referred to the stator, falling; change_over_slips: the
    slip at which each is left for the next, falling; after the last the slip rings are short-circuited.
    """

    resistances: tuple[float, ...]
    change_over_slips: tuple[float, ...]
    name: str = "rotor resistance"

    def __post_init__(self) -> None:
        resistances = arguments.numbers("resistances", self.resistances)
        slips = arguments.numbers("change_over_slips", self.change_over_slips)
        if resistances.ndim != 1 or not resistances.size or np.any(np.diff(resistances, append=0.0) >= 0.0):
            raise ValueError(f"resistances must fall from step to step and stay above 0, not {self.resistances!r}")
        if slips.shape != resistances.shape or np.any(np.diff(slips, prepend=1.0, append=0.0) >= 0.0):
            raise ValueError(
                "change_over_slips must fall from step to step between 1 and 0, one for each of the "
                f"{resistances.size} resistances, not {self.change_over_slips!r}"
            )
        object.__setattr__(self, "resistances", tuple(resistances.tolist()))
        object.__setattr__(self, "change_over_slips", tuple(slips.tolist()))

    @classmethod
    def between_torques(cls, motor: EquivalentCircuit, steps: int, highest_torque: float) -> RotorResistance:
        """Steps that begin each with `highest_torque`, N m, and end all with one lower torque.

        Torque and current depend on rotor resistance over slip alone. So the slips of change-over, and with them the
        whole resistances of the rotor circuit, form a geometric series from standstill to the slip at which the short-
        circuited motor has the highest torque (handbook result, exact here): the more steps, the nearer the torques.
        """
        if motor.two_cages:
            raise ValueError("motor must have a single rotor resistance: a rotor with two cages has no slip rings")
        steps = arguments.whole("steps", steps)
        highest_torque = arguments.number("highest_torque", highest_torque)
        breakdown = motor.breakdown()[1]
        if not 0 < highest_torque <= breakdown:
            raise ValueError(
                f"highest_torque must be above 0 and at most the breakdown torque of {breakdown:g} N m, not {highest_torque:g}"
            )
        last = motor.slip_at_torque(highest_torque)
        if last >= 1:
            raise ValueError("highest_torque must be one that the short-circuited motor has at a slip below 1")
        slips = last ** (np.arange(steps + 1) / steps)
        whole = motor.rotor_resistance * slips / last
        return cls(tuple((whole[:-1] - motor.rotor_resistance).tolist()), tuple(slips[1:].tolist()))

    def stages(self, motor: EquivalentCircuit) -> tuple[Stage | Pause, ...]:
        """One for each resistance, then short-circuited."""
        steps = tuple(
            Stage(f"resistance step {number}", Feed(rotor_resistance=resistance), until_slip=slip)
            for number, (resistance, slip) in enumerate(zip(self.resistances, self.change_over_slips, strict=True), start=1)
        )
        return (*steps, Stage("slip rings short-circuited", Feed()))


@dataclass(frozen=True)
class InverterRamp:
    """An inverter brings the frequency up evenly in `seconds`, from `first_frequency`, Hz, to the motor's own, with
    constant volts per hertz and, at standstill, `boost` V between lines more (see `supplies.Inverter`)."""

    seconds: float = 5.0
    boost: float = 0.0
    first_frequency: float = 1.0
    name: str = "inverter ramp"

    def __post_init__(self) -> None:
        arguments.positive("seconds", self.seconds)
        arguments.not_negative("boost", self.boost)
        arguments.positive("first_frequency", self.first_frequency)

    def stages(self, motor: EquivalentCircuit) -> tuple[Stage | Pause, ...]:
        """Ramp, full frequency."""
        if self.first_frequency >= motor.frequency:
            raise ValueError(f"first_frequency must be below the motor's {motor.frequency:g} Hz, not {self.first_frequency:g}")
        inverter = Inverter(motor.line_voltage, motor.frequency, self.boost)
        first = Feed(
            voltage=float(inverter.voltage(self.first_frequency)) / motor.line_voltage,
            frequency=self.first_frequency / motor.frequency,
        )
        ramp = Stage("frequency ramp", first, Feed(), self.seconds, line_current=through_rectifier)
        return (ramp, Stage("full frequency", Feed(), line_current=through_rectifier))


def standard_methods(motor: EquivalentCircuit) -> tuple[Method, ...]:
    """One of each, as one would first think of them: for the boost the drop that the magnetising current makes in the
    stator's resistance, and four steps of rotor resistance that keep near the breakdown torque, if the motor has not
    that torque at standstill without, and has not two cages, which have no slip rings."""
    boost = np.sqrt(3.0) * motor.stator_resistance * abs(motor.at(0.0).stator_current)
    methods: list[Method] = [DirectOnLine(), StarDelta(), Autotransformer(), SoftStarter(), InverterRamp(boost=float(boost))]
    highest = 0.95 * motor.breakdown()[1]
    if not motor.two_cages and motor.slip_at_torque(highest) < 1.0:
        methods.insert(4, RotorResistance.between_torques(motor, 4, highest))
    return tuple(methods)


def _slip(name: str, value: float) -> None:
    if not 0 < arguments.number(name, value) < 1:
        raise ValueError(f"{name} must be between 0 and 1, not {value:g}")


def _fraction(name: str, value: float) -> None:
    if not 0 < arguments.number(name, value) <= 1:
        raise ValueError(f"{name} must be above 0 and at most 1, not {value:g}")
