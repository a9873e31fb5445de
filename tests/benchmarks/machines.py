"""How long the machines take to compute: `python tests/benchmarks/machines.py` from the repository's top level.

Prints a direct-on-line run-up beside scipy's solve_ivp at equal accuracy, a million operating points of the equivalent
circuit, and one cage state. Nothing passes or fails here.
"""

from __future__ import annotations

import cmath
import math
import sys
import time
import tracemalloc
from dataclasses import fields
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from physics.cage import Cage
from physics.induction import EquivalentCircuit
from physics.induction.gap import Bore, transient_cage  # noqa: E402
from physics.induction.run_up import run_up  # noqa: E402
from physics.induction.transient import AT_REST, star_wound, step  # noqa: E402
from physics.supply.space_vectors import supply_vector  # noqa: E402
from physics.supply.supplies import ThreePhaseSupply  # noqa: E402

FRAME = 0.033  # s
CIRCUIT = EquivalentCircuit(0.641, 1.106, 0.332, 0.464, 26.3, 460, 60, 4)
INERTIA, DURATION, LOAD = 0.1, 0.5, 5.0


def best_time(work, repeats: int = 5) -> float:
    """Processor seconds of the quickest of several runs: the one least disturbed by whatever else goes on."""
    times = []
    for _ in range(repeats):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


def by_solve_ivp(method: str, tolerance: float, moments: np.ndarray):
    """The same run-up by scipy, in the same equations, written for speed in plain numbers."""
    motor = star_wound(CIRCUIT, INERTIA)
    a, b, c = motor.inverse_inductances
    resistance, rotor_resistance = motor.stator_resistance, motor.rotor_resistance
    peak, turning = CIRCUIT.line_voltage * math.sqrt(2 / 3), 2j * math.pi * CIRCUIT.frequency
    electrical, torque_scale = 2j * math.pi * motor.pole_pairs, 1.5 * motor.pole_pairs * b
    inertia = 2 * math.pi * INERTIA

    def rates(moment, values):
        stator, rotor, speed = complex(values[0], values[1]), complex(values[2], values[3]), values[4]
        stator_rate = peak * cmath.exp(turning * moment) - resistance * (a * stator - b * rotor)
        rotor_rate = electrical * speed * rotor - rotor_resistance * (c * rotor - b * stator)
        torque = torque_scale * (stator.imag * rotor.real - stator.real * rotor.imag)
        return stator_rate.real, stator_rate.imag, rotor_rate.real, rotor_rate.imag, (torque - LOAD) / inertia

    return solve_ivp(rates, (0, DURATION), np.zeros(5), method=method, t_eval=moments, rtol=tolerance, atol=0.01 * tolerance)


def run_up_against_solve_ivp() -> None:
    """For each of our recording steps, the loosest tolerance with which scipy is as accurate over the whole run."""
    moments = np.arange(251) * DURATION / 250
    exact = by_solve_ivp("DOP853", 1e-12, moments).y

    def error(stator_flux, rotor_flux, speed) -> float:
        return max(
            np.max(np.abs(stator_flux - (exact[0] + 1j * exact[1]))),
            np.max(np.abs(rotor_flux - (exact[2] + 1j * exact[3]))),
            np.max(np.abs(speed - exact[4])) / 30.0,
        )

    print(f"Direct-on-line run-up of {DURATION} s against scipy.integrate.solve_ivp at equal accuracy")
    for recorded in (2e-3, 1e-4, 5e-5):

        def ours(recorded=recorded):
            return run_up(CIRCUIT, INERTIA, lambda speed: LOAD, DURATION, recorded)

        every = round(2e-3 / recorded)
        history = ours()
        our_error = error(*(values[::every] for values in (history.stator_flux, history.rotor_flux, history.speed)))
        our_time = best_time(ours)
        print(f"  recorded every {recorded:g} s: {1e3 * our_time:.1f} ms, largest error {our_error:.1e} (per unit)")
        for method in ("RK45", "DOP853", "LSODA"):
            tolerance = 1e-3
            while True:
                values = by_solve_ivp(method, tolerance, moments).y
                their_error = error(values[0] + 1j * values[1], values[2] + 1j * values[3], values[4])
                if their_error <= our_error or tolerance < 1e-12:
                    break
                tolerance /= 2.0
            their_time = best_time(lambda: by_solve_ivp(method, tolerance, moments), repeats=3)  # noqa: B023
            print(
                f"    {method:7s} {1e3 * their_time:6.1f} ms, largest error {their_error:.1e}: {their_time / our_time:.1f} times our time"
            )


def a_million_operating_points() -> None:
    slips = np.linspace(-1, 2, 1_000_000)
    seconds = best_time(lambda: CIRCUIT.at(slips), repeats=3)
    tracemalloc.start()
    points = CIRCUIT.at(slips)
    kept, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    print("A million operating points of the equivalent circuit")
    columns = len(fields(points))
    print(f"  {seconds:.3f} s, {1e-6 * kept:.0f} MB kept in {columns} columns, {1e-6 * peak:.0f} MB at most")


def a_frame_of_the_cage() -> None:
    healthy = Cage(28, 70e-6, 0.5e-6, 2e-6, 6e-9, 0.06, 0.12)
    broken = Cage(28, 70e-6, 0.5e-6, 2e-6, 6e-9, 0.06, 0.12, missing=(3, 4))
    rotor_resistance, rotor_reactance = healthy.referred(96, 0.925, 50, 2)
    motor = star_wound(EquivalentCircuit(0.6, 1.1, rotor_resistance, rotor_reactance, 30, 400, 50, 4), 0.05)
    supply = supply_vector(ThreePhaseSupply(400, 50).phase_phasors, 50)
    bore = Bore(0.06, 0.12, 96, 0.925)
    running = step(motor, AT_REST, 0.1, supply, lambda speed: 5.0)
    works = {
        "cage of 28 bars, healthy": lambda: healthy.steady(0.8, 2, 157.0, 150.0, 0.3),
        "cage of 28 bars, two missing": lambda: broken.steady(0.8, 2, 157.0, 150.0, 0.3),
        "cage of 28 bars from a transient state": lambda: transient_cage(motor, running, healthy, bore, supply),
        "transient advanced by the whole frame": lambda: step(motor, running, FRAME, supply, lambda speed: 5.0),
        "transient advanced by a hundredth": lambda: step(motor, running, FRAME / 100, supply, lambda speed: 5.0),
    }
    print("One frame of 33 ms")
    for name, work in works.items():
        seconds = best_time(lambda: [work() for _ in range(100)]) / 100  # noqa: B023
        print(f"  {name}: {1e6 * seconds:.0f} microseconds, {100 * seconds / FRAME:.2f} % of the frame")


if __name__ == "__main__":
    run_up_against_solve_ivp()
    a_million_operating_points()
    a_frame_of_the_cage()
