"""Coils on a spindle between magnet poles: spun by hand they generate, fed from a battery they turn; what the commutator does."""

from __future__ import annotations

from functools import cached_property

import numpy as np

from physics.commutated.armature import Armature
from physics.commutated.motion import step
from physics.commutated.network import LoadResistor, OpenCircuit, Source
from physics.directions import left_hand, right_hand
from physics.shaft.shafts import DrivenShaft, FreeShaft
from scenes.machines.commutator_questions import which_brush, which_way
from scenes.machines.commutator_readings import changing_over, of_the_machine, of_the_side
from scenes.machines.demonstration_commutator import (
    AT_FIRST,
    BATTERY_RESISTANCE,
    BRUSHES,
    COIL_RESISTANCE,
    COMMUTATOR,
    FRICTION,
    GAP,
    INERTIA,
    LAMP_POWER,
    LAMP_RESISTANCE,
    LENGTH,
    RADIUS,
    SIDES,
    TURNS,
    armature_of,
)
from scenes.scene.controls import Choice, Number, slow_motion
from scenes.scene.scene import Chart, Key, Question, Reading, View, minus
from scenes.scene.seen_from_an_end import AXIS, SeenFromAnEnd
from visual import palette
from visual.machines.commutator_bench import CommutatorBench
from visual.machines.commutator_machine import COIL_HEX, COILS

NEWTON_SCALES = (0.1, 0.05, 0.02, 0.01)  # m for each newton; the longest is used that the strongest push allows
METRES_PER_TESLA = 0.04 / 0.15
METRES_PER_SPEED = 0.06  # m for each m/s
LARGEST_CURRENT = 1.5  # A in a coil, from which on dots and crosses grow no more
LARGEST_TURN, LONGEST_SUBSTEP = np.radians(15.0), 0.003  # rad and s: finer than the eye follows; coils without inductance have no swifter doings


class CoilsAndCommutator(SeenFromAnEnd):
    name = "coils-and-commutator"
    title = "Coils and commutator"
    other_end = "the commutator end"
    principle = ("A commutator changes each coil over as its sides pass between the poles: spun by hand the brushes give a voltage of one "
                 "direction, fed from a battery the coils are pushed round one way.")
    controls = (
        Choice("mode", "The machine is", "battery", (("battery", "fed from a battery"), ("hand", "spun by hand"))),
        Number("battery", "Battery, + on brush A1", 3.0, "V", -6.0, 6.0, 0.5, role="current", only_with=("mode", "battery")),
        Number("brake", "Brake on the shaft", 0.06, "N m", 0.0, 0.4, 0.01, only_with=("mode", "battery")),
        Number("crank", "Crank, clockwise from the drive end", 120.0, "r/min", -240.0, 240.0, 10.0, only_with=("mode", "hand")),
        Choice("load", "Across the brushes", "open", (("open", "a voltmeter only"), ("lamp", "a lamp as well")), only_with=("mode", "hand")),
        Number("field", "Field, to the right at the drive end", 150.0, "mT", -200.0, 200.0, 10.0, role="field"),
        Choice("collector", "On the spindle", "commutator", (("commutator", "a commutator"), ("slip-rings", "two slip rings on coil 1"))),
        Choice("side", "Coil side looked at", "1a", tuple((name, f"coil {name[0]}, side {name[1]}") for name in SIDES)),
        slow_motion("5"),
    )
    arrows = (
        Key("I", "current in a coil side: dot toward you, cross away", palette.HEX["current"]),
        Key("B", "field at the side looked at", palette.HEX["field"]),
        Key("F", "force on each coil side", palette.HEX["force"]),
        Key("E", "EMF in a coil side", palette.HEX["emf"]),
        Key("v", "motion of the side looked at", palette.HEX["motion"]),
    )
    views = (
        View("drive-end", "from the drive end", (-0.1, -0.6, -0.9), (0.0, -0.005, 0.0), 0.115),
        View("other-end", "from the commutator end", (0.1, -0.6, 0.9), (0.0, -0.012, -0.02), 0.12),
        View("commutator", "into the commutator", (0.12, -0.5, 0.9), (0.0, -0.004, -0.095), 0.056),
    )
    caution = (
        "Larger machines of this kind throw sparks at the brushes, and their field windings give a dangerous voltage when they are "
        "switched off; a series motor without load runs away. Keep fingers and sleeves from what turns, and leave live work to those who "
        "are trained and allowed to do it under your local rules."
    )
    narration = ("Three coils on a spindle get their current through a commutator. Each coil is changed over as it passes between the "
                 "poles, so the push goes on the same way round.")
    chart = Chart("EMFs, I", "V, A", 1.5, (
        *((f"coil {k + 1}" if k == 0 else str(k + 1), COIL_HEX[k]) for k in range(COILS)), ("E", palette.HEX["emf"]), ("I", palette.HEX["current"])))

    def __init__(self):
        self.clock = 0.0
        super().__init__()

    # the physics of this moment

    @property
    def by_hand(self) -> bool:
        return self["mode"] == "hand"

    @property
    def field(self) -> np.ndarray:
        """The even field across the coils, tesla."""
        return np.array([self["field"] / 1000, 0.0, 0.0])

    @cached_property
    def armature(self) -> Armature:
        return armature_of(self["field"] / 1000, self["collector"])

    @property
    def circuit(self):
        if not self.by_hand:
            return Source(self["battery"], BATTERY_RESISTANCE)
        return LoadResistor(LAMP_RESISTANCE) if self["load"] == "lamp" else OpenCircuit()

    @property
    def cranked(self) -> float:
        """The speed that the hand gives the spindle, rad/s counter-clockwise seen from the drive end."""
        return -self["crank"] * 2 * np.pi / 60 + 0.0

    @property
    def shaft(self):
        return DrivenShaft(self.cranked) if self.by_hand else FreeShaft(INERTIA, FRICTION + self["brake"])

    def changed(self, name: str) -> None:
        self.forget("armature")
        if name == "mode":
            self.restart()
        self._at(self.state.angle, self.cranked if self.by_hand else self.state.speed)

    def _at(self, angle, speed) -> None:
        self.state = self.armature.state(angle, speed, self.circuit)
        self.forget("picked_off")

    def at_rest(self):
        """The machine as it stands before it starts."""
        return self.armature.state(AT_FIRST, 0.0, self.circuit)

    def restart(self) -> None:
        self._at(AT_FIRST, self.cranked if self.by_hand else 0.0)

    def step(self, seconds: float) -> None:
        self.clock += seconds
        self.state = step(self.armature, self.state, self.shaft, self.circuit, seconds, LARGEST_TURN, LONGEST_SUBSTEP)
        self.forget("picked_off")

    @cached_property
    def picked_off(self) -> float:
        """The EMF that the brushes pick off at this moment, A1 above A2; a motor's back-EMF."""
        return float(self.armature.state(self.state.angle, self.state.speed, OpenCircuit()).terminal_voltage)

    @property
    def places(self) -> np.ndarray:
        """The middles of the coil sides, shape (3, 2, 3)."""
        angles = self.state.side_angles
        return RADIUS * np.stack([np.cos(angles), np.sin(angles), np.zeros_like(angles)], axis=-1)

    @property
    def forces(self) -> np.ndarray:
        """The force on all conductors of each coil side in the even field, F = N i l x B, newtons, shape (3, 2, 3)."""
        return TURNS * LENGTH * np.cross(self.state.side_currents[..., None] * AXIS, self.field)

    def velocity(self, side) -> np.ndarray:
        return np.cross(float(self.state.speed) * AXIS, self.places[side])

    def as_seen(self, vector) -> np.ndarray:
        """A direction as it is for who looks from the present end: left and right change places at the other one."""
        return np.asarray(vector) * [self.side, 1, self.side]

    def chart_point(self) -> list[float]:
        if not self.answers_shown:
            return [self.clock] + [0.0] * 5
        return [self.clock, *map(float, self.state.coil_emfs), self.picked_off, self.told_current]

    # what is drawn

    def build(self, host) -> None:
        edges = COMMUTATOR.segment_edges(0.0, COILS), COMMUTATOR.brush_edges(0.0)
        self.drawn = CommutatorBench(SIDES, RADIUS, LENGTH, GAP, *edges, BRUSHES)
        self.drawn.name_for_tests(host)

    def draw(self) -> None:
        state, shown, bench, machine = self.state, self.answers_shown, self.drawn, self.drawn.machine
        volts, current = float(state.terminal_voltage), float(state.terminal_current)
        bench.look_from(self.side, self.view == "commutator")
        machine.turn(float(state.angle))
        machine.magnetise(self["field"])
        machine.collect_with(self["collector"])
        machine.drive(self.by_hand, self["brake"] > 0)
        machine.bridge(state.short_circuited.any(axis=0) & (self["collector"] == "commutator"))
        telling = shown and abs(volts) > 1e-6
        machine.sign(self["battery"] if not self.by_hand else volts if telling else 0.0)
        machine.charge((state.segment_potentials - min(volts, 0.0)) / abs(volts) if telling else np.full(COILS, 0.5))
        self._draw_sides()
        if self.by_hand:
            bench.load(self["load"] == "lamp", -volts * current / LAMP_POWER if shown else 0.0)
            bench.measure(volts if shown else 0.0, 3.0, "V")
        else:
            bench.feed(self["battery"])
            bench.measure(current if shown else 0.0, 5.0, "A")

    def _draw_sides(self) -> None:
        """Every coil side with what happens in it, and field, motion and hand at the one that is looked at."""
        state, shown, bench, chosen = self.state, self.answers_shown, self.drawn, SIDES[self["side"]]
        places, forces = self.places, self.forces
        volts_long, arrows = self._metres_per_volt, (self._metres_per_newton * shown * forces).tolist()
        middles = places.tolist()  # plain numbers, which small arrays are slower than
        for name, at in SIDES.items():
            # the battery's currents are given, those of a generator are part of the answer
            current = float(state.side_currents[at]) if shown or not self.by_hand else 0.0
            emf = float(state.side_emfs[at]) if shown and (self.by_hand or at == chosen) else 0.0
            coil, part = at
            bench.put_side(name, middles[coil][part], current / LARGEST_CURRENT, arrows[coil][part], volts_long * emf)
        velocity = self.velocity(chosen)
        bench.point_out(self["side"], places[chosen], METRES_PER_TESLA * self.field, METRES_PER_SPEED * velocity if self.by_hand else np.zeros(3))
        if self.by_hand:
            hand, live = right_hand(self.field, velocity), abs(state.side_emfs[chosen]) > 0.01
        else:
            hand, live = left_hand(self.field, float(state.side_currents[chosen]) * AXIS), np.linalg.norm(forces[chosen]) > 0.01
        bench.hold_out(hand if shown and live else None)

    @property
    def _metres_per_volt(self) -> float:
        return 0.05 if self.by_hand else 0.025

    @property
    def _metres_per_newton(self) -> float:
        """By the strongest push of this set-up: of the motor at rest, or of the crank with the lamp between the brushes."""
        volts = 2 * self.cranked * TURNS * LENGTH * RADIUS * self.field[0] if self.by_hand else self["battery"]
        ohms = LAMP_RESISTANCE if self.by_hand else BATTERY_RESISTANCE
        strongest = TURNS * LENGTH * abs(self.field[0] * volts) / (ohms + 2 / 3 * COIL_RESISTANCE)
        return next((scale for scale in NEWTON_SCALES if scale * strongest < 0.1), NEWTON_SCALES[-1])

    # what is read and asked

    def readings(self) -> list[Reading]:
        return [*of_the_machine(self), *of_the_side(self), changing_over(self)]

    @property
    def told_current(self) -> float:
        """Out of A1 through the lamp, or from the battery into A1; amperes."""
        return float(-self.state.terminal_current if self.by_hand else self.state.terminal_current) + 0.0

    def scales(self) -> dict[str, str]:
        return {
            "B": f"10 mm is {0.01 / METRES_PER_TESLA * 1000:.0f} mT", "F": f"10 mm is {0.01 / self._metres_per_newton:.2f} N",
            "E": f"10 mm is {0.01 / self._metres_per_volt:.2f} V", "v": f"10 mm is {0.01 / METRES_PER_SPEED:.2f} m/s",
        }

    def says(self) -> str:
        speed, sense = abs(float(self.state.speed)) * 60 / (2 * np.pi), self.seen(float(self.state.speed))
        moving = "the machine stands still"
        if sense != "none":
            moving = f"the machine turns {sense} seen from {self.end} at {speed:.0f} r/min"
        if self.by_hand:
            volts = float(self.state.terminal_voltage)
            return f"By hand {moving}; brush A1 is {abs(volts):.1f} V {'below' if volts < 0 else 'above'} A2."
        return (f"Fed with {minus(self['battery'], 1)} V on brush A1 {moving} and draws {abs(self.told_current):.1f} A; "
                f"back-EMF {abs(self.picked_off):.1f} V.")

    def question(self) -> Question:
        return which_brush(self) if self.by_hand else which_way(self)

    def random_setup(self, random) -> dict:
        return {
            "mode": random.choice(("battery", "hand")),
            "battery": random.choice((-1, 1)) * random.choice((2.0, 3.0, 4.0)),
            "brake": random.choice((0.0, 0.0, 0.02, 0.06)),
            "crank": random.choice((-1, 1)) * float(random.choice((60, 120, 180))),
            "field": random.choice((-1, 1)) * float(random.choice((100, 150, 200))) * random.choice((1, 1, 1, 1, 1, 1, 0)) + 0.0,
            "collector": random.choice(("commutator",) * 4 + ("slip-rings",)),
            "load": random.choice(("open", "lamp")),
        }
