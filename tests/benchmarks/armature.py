"""How long an armature takes: one position, one sub-step, a frame, a chart. Run: python tests/benchmarks/armature.py"""

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

FRAME = 0.033


def microseconds(action, times):
    return min(repeat(action, number=times, repeat=5)) / times * 1e6


def report(what, action, times):
    taken = microseconds(action, times)
    print(f"{what:58s} {taken:10.0f} us  {taken / (FRAME * 1e6):8.2%} of a 33 ms frame")
    return taken


def main():
    supply, shaft = Source(6.0, 0.5), FreeShaft(1e-4)
    around = np.linspace(0.0, 2 * np.pi, 360)
    for coils in (3, 12):
        motor = Armature(PoleField(0.3, np.radians(100)), 20, 0.05, 0.03, 1.5, coils=coils, coil_inductance=5e-4)
        speed = 0.9 * settled_speed(motor, supply)
        running = replace(motor.state(0.0, 0.0, OpenCircuit()), speed=np.asarray(speed))
        print(f"{coils} coils at {speed:.0f} rad/s")
        one = report("one position, solved and everything read", partial(motor.state, 0.3, speed, supply), 200)
        for slower in (100, 10, 1):
            what = f"a frame's step, shown {slower} times slower" if slower > 1 else "a frame's step at full speed"
            report(what, partial(step, motor, running, shaft, supply, FRAME / slower), slower + 2)
        chart = report("a revolution in 360 positions at once", partial(motor.state, around, speed, supply), 10)
        print(f"{'at once against one by one':58s} {360 * one / chart:10.0f} times faster")


if __name__ == "__main__":
    main()
