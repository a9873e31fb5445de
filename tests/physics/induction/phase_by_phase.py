"""An induction motor phase by phase, and the supplies that feed it, as the tests have them."""

import math
from dataclasses import replace

import numpy as np
from hypothesis import settings
from scipy.integrate import solve_ivp

from physics.induction import EquivalentCircuit
from physics.supply.space_vectors import supply_vector
from physics.supply.supplies import ThreePhaseSupply

FIFTY = settings(max_examples=50, deadline=None)
CIRCUIT = EquivalentCircuit(0.641, 1.106, 0.332, 0.464, 26.3, 460, 60, 4)  # Chapman's, see references in test_induction
MAINS = ThreePhaseSupply(460, 60)
SUPPLY = supply_vector(MAINS.phase_phasors, 60)


def no_load(speed):
    return 0.0


def supply_of(mains):
    return supply_vector(mains.phase_phasors, mains.frequency)


class PhaseByPhase:
    """The same motor without space vectors: three stator and three rotor windings, their mutual inductances as cosines
    of the angles between their axes, and Kirchhoff's laws as a matrix that says which currents can flow.

    `paths` (6, m): winding currents are paths @ loop currents. `loop_voltage` time to (m,). An independent formulation
    (the "phase-variable" machine of Krause, Analysis of Electric Machinery), integrated by scipy at tight tolerance.
    """

    ROTOR = np.eye(6)[:, 3:]  # each rotor phase short-circuited on itself

    def __init__(self, motor, stator_paths, stator_voltage, load_torque):
        self.motor, self.load_torque, self.stator_voltage = motor, load_torque, stator_voltage
        stator_paths = np.vstack([stator_paths, np.zeros((3, np.shape(stator_paths)[1]))])
        self.paths = np.hstack([stator_paths, self.ROTOR])
        self.resistances = np.diag([motor.stator_resistance] * 3 + [motor.rotor_resistance] * 3)

    def inductances(self, angle):
        """(6, 6) H, and their rates with the mechanical angle."""
        motor = self.motor
        mutual = 2 / 3 * motor.magnetising_inductance
        leakage = np.repeat([motor.stator_inductance, motor.rotor_inductance], 3) - motor.magnetising_inductance
        third = 2 * math.pi / 3
        axes = np.concatenate([third * np.arange(3), third * np.arange(3) + motor.pole_pairs * angle])
        moving = np.concatenate([np.zeros(3), np.full(3, motor.pole_pairs)])
        between = axes[:, None] - axes[None, :]
        rate = -mutual * np.sin(between) * (moving[:, None] - moving[None, :])
        return mutual * np.cos(between) + np.diag(leakage), rate

    def currents(self, loop_flux, angle):
        inductances, rate = self.inductances(angle)
        loops = np.linalg.solve(self.paths.T @ inductances @ self.paths, loop_flux)
        current = self.paths @ loops
        return current, 0.5 * current @ rate @ current

    def rates(self, time, values):
        loop_flux, speed, angle = values[:-2], values[-2], values[-1]
        current, torque = self.currents(loop_flux, angle)
        voltage = np.concatenate([self.stator_voltage(time), np.zeros(3)])
        flux_rate = voltage - self.paths.T @ self.resistances @ current
        acceleration = (torque - self.load_torque(speed)) / (2 * math.pi * self.motor.inertia)
        return np.concatenate([flux_rate, [acceleration, 2 * math.pi * speed]])

    def run(self, times, speed=0.0):
        start = np.concatenate([np.zeros(self.paths.shape[1]), [speed, 0.0]])
        solved = solve_ivp(self.rates, (0, times[-1]), start, method="DOP853", t_eval=times, rtol=1e-11, atol=1e-11)
        pairs = [self.currents(column[:-2], column[-1]) for column in solved.y.T]
        return solved.y[-2], np.array([pair[0][:3] for pair in pairs]), np.array([pair[1] for pair in pairs])


STAR_PATHS = np.array([[1, 0], [0, 1], [-1, -1]])


def two_line_voltages(phases):
    """U-W and V-W of a function that gives three phase values: what drives the two loops of a star."""
    return lambda time: phases(time)[:2] - phases(time)[2]


def every(history, count):
    """Only each `count`-th moment."""
    return replace(history, **{name: getattr(history, name)[::count] for name in history.__dataclass_fields__})


def check(history, reference, rel):
    speed, currents, torque = reference
    for ours, theirs in ((history.speed, speed), (history.phase_currents, currents), (history.torque, torque)):
        np.testing.assert_allclose(ours, theirs, rtol=0, atol=rel * np.max(np.abs(theirs)))
