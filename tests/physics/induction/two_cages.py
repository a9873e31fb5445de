"""A double-cage motor by its own branches and by a matrix of inductances."""

from __future__ import annotations

import math

import numpy as np
from hypothesis import settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import minimize_scalar

from physics.induction import EquivalentCircuit
from physics.supply.space_vectors import supply_vector
from physics.supply.supplies import ThreePhaseSupply

FIFTY = settings(max_examples=50, deadline=None)


# about 37 kW, four poles, 400 V, 50 Hz: ordinary per-unit values (common practice, no source)
TWO = EquivalentCircuit(0.08, 0.2, 0.07, 0.2, 9.0, 400, 50, 4, 0.18, 0.49)
ONE = EquivalentCircuit(0.08, 0.2, 0.07, 0.2, 9.0, 400, 50, 4)
SLIPS = np.array([-0.9, -0.02, 0.004, 0.015, 0.1, 0.4, 1.0, 1.7])
SUPPLY = supply_vector(ThreePhaseSupply(400, 50).phase_phasors, 50)
RANDOM = dict(
    stator_resistance=st.floats(0.01, 0.2),
    stator_reactance=st.floats(0.05, 0.5),
    rotor_resistance=st.floats(0.02, 0.3),
    rotor_reactance=st.floats(0.02, 0.5),
    magnetising_reactance=st.floats(3.0, 20.0),
    line_voltage=st.just(400),
    frequency=st.sampled_from([50, 60]),
    poles=st.sampled_from([2, 4, 6]),
    starting_cage_resistance=st.floats(0.05, 1.0),
    running_cage_reactance=st.floats(0.05, 1.5),
)
circuits = st.builds(EquivalentCircuit, **RANDOM)


def solved(circuit: EquivalentCircuit, slip: float) -> tuple[complex, float, float]:
    """Stator current, torque and rotor heat by the branches one by one, slip not 0."""
    running = circuit.rotor_resistance / slip + 1j * circuit.running_cage_reactance
    starting = circuit.starting_cage_resistance / slip
    rotor = 1j * circuit.rotor_reactance + running * starting / (running + starting)
    gap = 1j * circuit.magnetising_reactance * rotor / (1j * circuit.magnetising_reactance + rotor)
    current = circuit.line_voltage / math.sqrt(3) / (circuit.stator_resistance + 1j * circuit.stator_reactance + gap)
    cages = current * gap / rotor * (running * starting / (running + starting))
    heat = 3 * circuit.rotor_resistance * abs(cages / running) ** 2
    heat += 3 * circuit.starting_cage_resistance * abs(cages / starting) ** 2
    return current, heat / slip / (4 * math.pi * circuit.frequency / circuit.poles), heat


def most_torque(torque_at, slips, top) -> float:
    """The peak of a torque curve between the neighbours of the highest of some `slips`, the one at `top`."""
    between = math.log(slips[max(0, top - 1)]), math.log(slips[min(top + 1, slips.size - 1)])
    return -minimize_scalar(lambda at: -torque_at(math.exp(at)), bounds=between, method="bounded").fun


class Matrix:
    """The same motor as coils that link each other: currents from the inverse of one matrix of inductances, its rates by
    scipy's integrator. Stator, starting cage, running cage; axes at rest with the stator."""

    def __init__(self, circuit: EquivalentCircuit, winding_to_star: float = 1.0):
        henry = winding_to_star / (2 * math.pi * circuit.frequency)
        x1, x2, xm, xr = (circuit.stator_reactance, circuit.rotor_reactance, circuit.magnetising_reactance, circuit.running_cage_reactance)
        self.inductances = henry * np.array([[x1 + xm, xm, xm], [xm, x2 + xm, x2 + xm], [xm, x2 + xm, x2 + xm + xr]])
        self.resistances = winding_to_star * np.array(
            [circuit.stator_resistance, circuit.starting_cage_resistance, circuit.rotor_resistance]
        )
        self.pairs = circuit.poles // 2

    def currents(self, fluxes):
        return np.linalg.solve(self.inductances, fluxes)

    def run(self, seconds, inertia, load, voltage, speed=0.0):
        def rates(time, state):
            fluxes, speed = state[:3], state[3].real
            currents = self.currents(fluxes)
            turning = 1j * self.pairs * 2 * math.pi * speed * np.array([0, 1, 1])
            torque = 1.5 * self.pairs * (fluxes[0].conjugate() * currents[0]).imag
            rate = np.array([voltage(time), 0, 0]) - self.resistances * currents + turning * fluxes
            heat = 1.5 * np.sum(self.resistances * np.abs(currents) ** 2)
            drawn = 1.5 * (voltage(time) * currents[0].conjugate()).real
            return np.array([*rate, (torque - load(speed)) / (2 * math.pi * inertia), heat, drawn])

        begun = np.array([0, 0, 0, speed, 0, 0], dtype=complex)
        return solve_ivp(rates, (0, seconds), begun, method="DOP853", rtol=1e-9, atol=1e-9).y[:, -1]

    def energy(self, fluxes):
        return 0.75 * (np.conj(fluxes) @ self.currents(fluxes)).real
