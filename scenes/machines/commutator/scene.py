"""Coils on a shaft between magnet poles: cranked by hand they generate, fed from a battery they turn; the action of the commutator."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from scenes.machines.commutator import kinds, picture, question, readings, snapshot
from scenes.machines.commutator.machine import LARGEST_FIELD, SIDES
from scenes.machines.commutator.snapshot import NEAR_A_POLE, Snapshot, settled
from scenes.scene.controls import Choice, Number, slow_motion
from scenes.scene.curves import Chart
from scenes.scene.scene import Key
from scenes.scene.story import Look, Story
from scenes.scene.views import View
from visual import palette
from visual.machines.commutator.machine import COIL_HEX, MOST_COILS


def sentence(now: Snapshot, look: Look) -> str:
    setup, direction = now.setup, look.view.turning(now.speed)
    moving = "the machine is at standstill"
    if direction != "none":
        moving = f"the machine turns {direction}, looking at {look.view.end}, at {abs(now.speed) * 60 / (2 * np.pi):.0f} r/min"
    if setup.by_hand:
        higher = f"brush A1 is {abs(now.volts):.1f} V {'below' if now.volts < 0 else 'above'} A2"
        return f"Cranked by hand {moving}; {higher if abs(now.volts) >= 0.05 else 'there is no voltage between the brushes'}."
    fed = (
        f"Fed with {abs(setup.battery):.1f} V, + on brush {'A1' if setup.battery > 0 else 'A2'},"
        if setup.battery
        else "With the battery flat"
    )
    return f"{fed} {moving} and draws {abs(now.current):.1f} A; back-EMF {abs(now.picked_off):.1f} V."


def chart(now: Snapshot, look: Look) -> list[float]:
    if not look.reveals_answer:
        return [now.time] + [0.0] * (MOST_COILS + 2)
    left_out = [float("nan")] * (MOST_COILS - now.setup.coils)
    return [now.time, *map(float, now.machine.coil_emfs), *left_out, now.picked_off, now.current]


# the brushes with their posts, and the segments
COMMUTATOR = (((-0.064, -0.012, -0.124), (0.064, 0.012, -0.084)), ((-0.012, -0.03, -0.126), (0.012, 0.03, -0.084)))


class CoilsAndCommutator(Story, parts=(snapshot, picture, readings, question, kinds)):
    name = "coils-and-commutator"
    title = "Coils and commutator"
    principle = (
        "A commutator reverses the current in each coil as its sides pass between the poles: cranked by hand the brushes give a voltage "
        "of one polarity; fed from a battery the machine runs in one direction."
    )
    controls = (
        Choice("mode", "The machine is", "battery", (("battery", "a motor on a battery"), ("hand", "a generator cranked by hand"))),
        Number("battery", "Battery, + on brush A1", 3.0, "V", -6.0, 6.0, 0.5, role="current", only_with=("mode", "battery")),
        Number("brake", "Brake on the shaft", 0.02, "N m", 0.0, 0.4, 0.01, only_with=("mode", "battery")),
        Number("crank", "Crank, clockwise looking at the drive end", 120.0, "r/min", -240.0, 240.0, 10.0, only_with=("mode", "hand")),
        Choice(
            "load", "Across the brushes", "open", (("open", "a voltmeter only"), ("lamp", "a lamp as well")), only_with=("mode", "hand")
        ),
        Number(
            "field",
            "Field at a pole, from the A1 side to the A2 side",
            200.0,
            "mT",
            -LARGEST_FIELD * 1000,
            LARGEST_FIELD * 1000,
            10.0,
            role="field",
        ),
        Choice("coils", "Coils on the armature", "1", (("1", "one"), ("2", "two"), ("3", "three"))),
        Choice("collector", "On the shaft", "commutator", (("commutator", "a commutator"), ("slip-rings", "two slip rings on coil 1"))),
        Choice(
            "side",
            "Coil side shown",
            NEAR_A_POLE,
            ((NEAR_A_POLE, "the one at the N pole"), *((name, f"coil {name[0]}, side {name[1]}") for name in SIDES)),
        ),
        slow_motion("5"),
    )
    arrows = (
        Key("i", "current in a coil side: a dot at the end to which it flows, a cross at the other", palette.HEX["current"]),
        Key("B", "field at the coil side shown", palette.HEX["field"], "T"),
        Key("F", "force on each coil side", palette.HEX["force"], "N"),
        Key("e", "EMF in a coil side", palette.HEX["emf"], "V"),
        Key("v", "motion of the coil side shown", palette.HEX["motion"], "m/s"),
    )
    subject = (
        ((-0.1, -0.09, -0.13), (0.1, 0.05, 0.112)),
        ((-0.223, -0.03, 0.0), (-0.1, 0.07, 0.05)),
        ((0.115, -0.06, -0.04), (0.228, 0.04, -0.02)),
    )
    letters = ("N", "S", "A1", "A2", "hand", "F", "B", "+", "post")
    views = (
        View("drive-end", "from the drive end", (0.21, -0.43, -1.0)),
        View(
            "other-end",
            "from the non-drive end",
            (-0.45, -0.58, 0.8),
            subject=(
                ((-0.1, -0.09, -0.13), (0.1, 0.05, 0.1)),
                ((-0.223, -0.03, -0.05), (-0.1, 0.07, 0.0)),
                ((0.115, -0.06, -0.04), (0.228, 0.04, -0.02)),
            ),
        ),
        View("commutator", "into the commutator", (0.12, -0.5, 0.9), subject=COMMUTATOR),
    )
    caution = (
        "Larger machines of this kind spark at the brushes, and their field windings give a dangerous voltage when "
        "switched off; a series motor without load runs away. Keep fingers and sleeves clear of moving parts, and leave live work to "
        "those "
        "trained and licensed for it under your local rules."
    )
    leaves_out = (
        "The currents in the coils distort the magnets' field a little (armature reaction): by less than a "
        "twentieth, as there is no iron in the rotor.",
        "The coils have no inductance; a real current takes about a millisecond longer to reverse, and that is what makes brushes spark.",
        "The end turns, outside the magnets, feel no force and generate nothing.",
        "The yoke makes the field fall off a little more slowly away from the poles: by at most 3 % of the field at a pole.",
        "The brushes are taken as metal-graphite with a fixed contact resistance; carbon would take about 1 V at each brush.",
        "The shaft has the inertia of a flywheel that is not drawn, so that the run-up can be watched.",
        "The coils stay at 20 °C and the battery keeps its voltage.",
    )
    narration = (
        "A coil on a shaft gets its current through a commutator, a ring cut in two. It reverses the current in the coil each time "
        "its sides have passed the poles, so the torque keeps its direction."
    )
    chart = Chart(
        "EMF",
        "V",
        1.5,
        (
            *((f"coil {k + 1}" if k == 0 else str(k + 1), COIL_HEX[k]) for k in range(MOST_COILS)),
            ("E", palette.HEX["emf"]),
        ),
        below=("current", "A", (("I", palette.HEX["current"]),)),
    )
    shaft_of = staticmethod(lambda now: now.angle)

    def shown_whole(self, passed: float) -> bool:
        return self.setup.by_hand or settled(self.setup, self.state.speed)

    def changed(self, name: str) -> None:
        super().changed(name)
        if name in ("mode", "load", "coils"):
            time = self.state.time
            self.restart()
            self.state = replace(self.state, time=time)  # the chart continues
