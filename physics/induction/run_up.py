"""Runs of the induction motor over time: what an oscilloscope on its lines and shaft would have recorded."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from physics import arguments
from physics.induction.transient import AT_REST, LoadTorque, Motor, MotorState, moments, star_wound
from physics.supply.space_vectors import STAR, Connection, Supply, phase_values, supply_vector
from physics.supply.supplies import ThreePhaseSupply

if TYPE_CHECKING:
    from physics.induction.circuit import EquivalentCircuit


@dataclass(frozen=True)
class History:
    """n moments of a motor, first to last."""

    time: np.ndarray  #: (n,) s
    speed: np.ndarray  #: (n,) rev/s
    torque: np.ndarray  #: (n,) N m in the air gap
    phase_currents: np.ndarray  #: (n, 3) A through the windings U, V, W
    line_currents: np.ndarray  #: (n, 3) A drawn from the lines; in star the same as through the windings
    stator_loss: np.ndarray  #: (n,) W, heat in the stator windings
    rotor_loss: np.ndarray  #: (n,) W, heat in the rotor
    stator_flux: np.ndarray  #: (n,) complex Wb, space vector
    rotor_flux: np.ndarray  #: (n,) complex Wb, space vector, referred
    angle: np.ndarray  #: (n,) mechanical rad turned
    running_flux: np.ndarray  #: (n,) complex Wb, of the running cage of a rotor with two, likewise

    @property
    def rotor_heat(self) -> np.ndarray:
        """J in the rotor from the first moment to each, (n,); the loss between two moments taken as their mean."""
        pieces = 0.5 * (self.rotor_loss[1:] + self.rotor_loss[:-1]) * np.diff(self.time)
        return np.concatenate([[0.0], np.cumsum(pieces)])

    def state(self, index: int) -> MotorState:
        """The motor at one of the moments, to go on from or to draw."""
        return MotorState(
            float(self.time[index]),
            complex(self.stator_flux[index]),
            complex(self.rotor_flux[index]),
            float(self.speed[index]),
            float(self.angle[index]),
            complex(self.running_flux[index]),
        )


def run(
    motor: Motor,
    state: MotorState,
    duration: float,
    step: float,
    supply: Supply,
    load_torque: LoadTorque,
    connection: Connection = STAR,
) -> History:
    """What happens from `state` for `duration` s, recorded every `step` s: the first moment, and as many as fit.

    `step` does not decide how finely it is computed, unless it is finer than need be. For a supply, a connection or a
    rotor resistance that changes on the way, run again from `state(-1)` of what has been.
    """
    duration = arguments.not_negative("duration", duration)
    step = arguments.positive("step", step)
    count = math.floor(duration / step * (1.0 + 1e-12) + 1e-9)
    rows = moments(motor, state, step, count, supply, load_torque, connection)
    columns: list[Any] = [np.array(column) for column in zip(*rows, strict=True)]
    return _history(motor, connection, MotorState(*columns))


def _history(motor: Motor, connection: Connection, states: Any) -> History:
    """History of `states`, a MotorState with arrays for its values."""
    winding_current = motor.stator_current(states)
    return History(
        time=states.time,
        speed=states.speed,
        torque=motor.torque(states),
        phase_currents=phase_values(winding_current),
        line_currents=phase_values(winding_current * connection.ratio.conjugate()),
        stator_loss=1.5 * motor.stator_resistance * np.abs(winding_current) ** 2,
        rotor_loss=motor.rotor_loss(states),
        stator_flux=states.stator_flux,
        rotor_flux=states.rotor_flux,
        angle=states.angle,
        running_flux=states.running_flux,
    )


def run_up(circuit: EquivalentCircuit, inertia: float, load_torque: LoadTorque, duration: float, step: float) -> History:
    """A direct-on-line start from rest: the circuit's windings, in star, put on its own supply at time 0.

    `inertia` kg m^2 of rotor and load; `load_torque` function of the speed in rev/s to N m holding back; `duration`
    and `step` s as for `run`. At time 0 phase U is at the peak of its voltage.
    """
    mains = ThreePhaseSupply(circuit.line_voltage, circuit.frequency)
    supply = supply_vector(mains.phase_phasors, mains.frequency)
    return run(star_wound(circuit, inertia), AT_REST, duration, step, supply, load_torque)
