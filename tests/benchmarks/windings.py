"""What a drawn frame asks of windings, alternator and armature, and what share of a 33 ms frame that is.

python tests/benchmarks/windings.py
"""

import sys
from dataclasses import replace
from functools import partial
from pathlib import Path
from timeit import repeat

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from physics.commutated.armature import Armature
from physics.commutated.averages import settled_speed
from physics.commutated.motion import step
from physics.commutated.network import OpenCircuit, Source
from physics.fields.pole_field import PoleField
from physics.shaft.shafts import FreeShaft
from physics.supply.supplies import ThreePhaseSupply
from physics.synchronous.alternator import Alternator, RotorMagnet
from physics.windings import Winding

FRAME = 0.033  # s


def report(what, action, times=500):
    """Microseconds."""
    taken = min(repeat(action, number=times, repeat=5)) / times * 1e6
    print(f"{what:58s} {taken:10.0f} us  {taken / (FRAME * 1e6):8.2%} of a 33 ms frame")
    return taken


def windings():
    winding = Winding(36, 4, turns=20, coil_pitch=8, layers=2)
    machine = Alternator(winding, RotorMagnet.with_even_poles(4, 0.1, 0.1, 0.5), resistance=0.5, inductance=1e-3)
    mains = ThreePhaseSupply(400, 50)
    round_the_bore = np.linspace(0, 2 * np.pi, 360)
    currents = np.array([1.0, -0.3, -0.7])
    running = machine.on_lamps(10, 5)
    report("MMF at 360 angles", lambda: winding.mmf(round_the_bore, currents))
    report("field axis", lambda: winding.field_axis(currents))
    report("currents of 36 slots", lambda: winding.slot_currents(currents))
    report("three mains voltages", lambda: mains.phase_voltages(0.003))
    report("EMFs of 36 coils", lambda: machine.coil_emfs(0.3, 10.0))
    report("EMFs of three phases", lambda: machine.emfs(0.3, 10.0))
    report("alternator put on lamps", lambda: machine.on_lamps(10, 5))
    report("lamp currents", lambda: running.currents(0.3))
    report("winding built with its tables", lambda: Winding(36, 4, coil_pitch=8, layers=2).mmf(0.0, currents))


def armature(coils):
    supply, shaft = Source(6.0, 0.5), FreeShaft(1e-4)
    around = np.linspace(0.0, 2 * np.pi, 360)
    motor = Armature(PoleField(0.3, np.radians(100)), 20, 0.05, 0.03, 1.5, coils=coils, coil_inductance=5e-4)
    speed = 0.9 * settled_speed(motor, supply)
    running = replace(motor.state(0.0, 0.0, OpenCircuit()), speed=np.asarray(speed))
    print(f"an armature of {coils} coils at {speed:.0f} rad/s")
    one = report("one position, solved and everything read", partial(motor.state, 0.3, speed, supply), 200)
    for slower in (100, 10, 1):
        what = f"a frame's step, shown {slower} times slower" if slower > 1 else "a frame's step at full speed"
        report(what, partial(step, motor, running, shaft, supply, FRAME / slower), slower + 2)
    chart = report("a revolution in 360 positions at once", partial(motor.state, around, speed, supply), 10)
    print(f"{'at once against one by one':58s} {360 * one / chart:10.0f} times faster")


if __name__ == "__main__":
    windings()
    for number in (3, 12):
        armature(number)
