"""How long it takes to compare all methods of starting, against running each moment by moment; and to fit a nameplate.

python tests/benchmarks/starting.py
"""

import sys
from functools import partial
from pathlib import Path
from time import perf_counter

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from physics.induction import EquivalentCircuit
from physics.nameplate import Nameplate
from physics.nameplate.fit import fit_circuit  # noqa: E402
from physics.shaft.loads import Fan, Friction, Shaft  # noqa: E402
from physics.starting.methods import standard_methods  # noqa: E402
from physics.starting.starts import start
from physics.starting.transients import record  # noqa: E402


def seconds(task):
    """Best of three."""
    times = []
    for _ in range(3):
        began = perf_counter()
        task()
        times.append(perf_counter() - began)
    return min(times)


def main():
    motor = EquivalentCircuit(0.641, 1.106, 0.332, 0.464, 26.3, 460, 60, 4)
    shaft = Shaft(0.1, Fan(29.0, 60.0, 1.0, Friction(1.0, 2.0)))
    whole = whole_moments = 0.0
    for method in standard_methods(motor):
        quick = seconds(partial(start, motor, shaft, method))
        duration = float(start(motor, shaft, method).run_up.time[-1])
        moments = seconds(partial(record, motor, shaft, method, duration, 1e-3))
        whole, whole_moments = whole + quick, whole_moments + moments
        print(f"{method.name:17s} {duration:5.2f} s: {quick:6.3f} s, moment by moment {moments / quick:4.1f} times that")
    print(f"all methods: {whole:.2f} s; moment by moment {whole_moments / whole:.1f} times that")
    plate = Nameplate(7500, 400, 50, 1465 / 60, 14.1, 0.85, "delta", 7.5, 2.4, 3.0)
    print(f"a nameplate: {seconds(lambda: fit_circuit(plate)):.3f} s")


if __name__ == "__main__":
    main()
