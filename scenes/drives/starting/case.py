"""One case of starting: a motor, what it drives and the starter, and so everything on which the result depends."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

from physics.induction import EquivalentCircuit
from physics.shaft.loads import REST_SPEED, Conveyor, Fan, Flywheel, Friction, Load, Pump, Shaft
from physics.starting.methods import Method
from physics.starting.stages import Pause, Stage
from scenes.drives.starting.motors import BREAKAWAY, RATED_TORQUE, ROTOR_INERTIA, SYNCHRONOUS, motor_for
from scenes.drives.starting.starters import starter


@dataclass(frozen=True)
class Case:
    """load: torque of what is driven over rated torque; inertia: of what is driven, over the rotor's; tap: share of the voltage,
    1 without a transformer; ramp: s, 0 without one."""

    method: str
    drive: str
    load: float
    inertia: float
    tap: float = 1.0
    ramp: float = 0.0

    @property
    def motor(self) -> EquivalentCircuit:
        return motor_for(self.method)

    @cached_property
    def shaft(self) -> Shaft:
        """All that turns."""
        torque, inertia = RATED_TORQUE * self.load, ROTOR_INERTIA * self.inertia
        loads: dict[str, Callable[[], Load]] = {
            "fan": lambda: Fan(SYNCHRONOUS, torque, inertia),
            "pump": lambda: Pump(SYNCHRONOUS, torque, inertia),
            "conveyor": lambda: Conveyor(inertia, Friction(torque, BREAKAWAY * torque)),
            "flywheel": lambda: Flywheel(inertia),
        }
        return Shaft(ROTOR_INERTIA, loads[self.drive]())

    @cached_property
    def starter(self) -> Method:
        return starter(self.method, self.motor, self.tap, self.ramp)

    @cached_property
    def stages(self) -> tuple[Stage | Pause, ...]:
        return self.starter.stages(self.motor)

    @property
    def torque_to_move(self) -> float:
        """N m that the load takes to be moved from rest."""
        return float(self.shaft.torque(REST_SPEED))
