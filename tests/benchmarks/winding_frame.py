"""What a drawn frame asks of windings and alternator, and what share of a 33 ms frame that is.

python tests/benchmarks/winding_frame.py
"""

import sys
import timeit
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from physics.supply.supplies import ThreePhaseSupply  # noqa: E402
from physics.synchronous.alternator import Alternator, RotorMagnet  # noqa: E402
from physics.windings import Winding

FRAME = 1 / 30
REPEATS = 500


def main():
    winding = Winding(36, 4, turns=20, coil_pitch=8, layers=2)
    machine = Alternator(winding, RotorMagnet.with_even_poles(4, 0.1, 0.1, 0.5), resistance=0.5, inductance=1e-3)
    mains = ThreePhaseSupply(400, 50)
    round_the_bore = np.linspace(0, 2 * np.pi, 360)
    currents = np.array([1.0, -0.3, -0.7])
    running = machine.on_lamps(10, 5)
    calls = {
        "MMF at 360 angles": lambda: winding.mmf(round_the_bore, currents),
        "field axis": lambda: winding.field_axis(currents),
        "currents of 36 slots": lambda: winding.slot_currents(currents),
        "three mains voltages": lambda: mains.phase_voltages(0.003),
        "EMFs of 36 coils": lambda: machine.coil_emfs(0.3, 10.0),
        "EMFs of three phases": lambda: machine.emfs(0.3, 10.0),
        "alternator put on lamps": lambda: machine.on_lamps(10, 5),
        "lamp currents": lambda: running.currents(0.3),
        "winding built with its tables": lambda: Winding(36, 4, coil_pitch=8, layers=2).mmf(0.0, currents),
    }
    print(f"{'':32}{'microseconds':>14}{'of a frame':>14}")
    for name, call in calls.items():
        call()
        seconds = min(timeit.repeat(call, number=REPEATS, repeat=5)) / REPEATS
        print(f"{name:32}{seconds * 1e6:14.1f}{seconds / FRAME:14.3%}")


if __name__ == "__main__":
    main()
