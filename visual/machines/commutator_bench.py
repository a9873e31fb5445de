"""The machine of `commutator_machine` as it stands on the bench: what is connected to its brushes, and the arrows, dots,
crosses and hand that tell what happens in its coil sides."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.apparatus.circuit import Battery
from visual.apparatus.lamp import Lamp
from visual.apparatus.meter import Meter
from visual.apparatus.wiring import Inside, Lead, Terminal
from visual.hand.hand_on_bench import FlemingHand
from visual.machines.commutator_machine import COIL_COLOURS, FLOOR, NEAR, CoilSide, CommutatorMachine
from visual.solid.mesh import block, joined, rod
from visual.solid.solids import Arrow, Group, Letters, Solid
from visual.solid.told import Told, point

NOTHING = np.zeros(3)
# the hand stands beside the magnet on the right, before the end in view; on the left the same with -x
HAND_AT = {1.0: np.array([0.112, 0.0, 0.065]), -1.0: np.array([0.112, 0.062, -0.062])}
LOW = FLOOR + 0.003  # m, where leads lie
METER_AT, METER = np.array([-0.152, -0.018, -0.115]), 0.085  # m
POSTS = np.array([[-0.188, -0.053, -0.101], [-0.158, -0.053, -0.101]])  # + and - of the meter


class CommutatorBench(Group):
    """`names` of the six coil sides in the order of coils, first side first; the rest as `CommutatorMachine` takes it. An arrow
    is so many metres long for each tesla, and for each metre a second."""

    def __init__(
        self,
        names,
        radius: float,
        length: float,
        gap: float,
        segment_edges,
        brush_edges,
        brush_names,
        metres_per_tesla: float,
        metres_per_speed: float,
    ):
        super().__init__()
        self.length = length
        self.machine = self.add(CommutatorMachine(radius, length, gap, segment_edges, brush_edges, brush_names))
        self.sides = {name: CoilSide(self, length, name, COIL_COLOURS[index // 2]) for index, name in enumerate(names)}
        self.connections = self.add(Connections(self.machine, brush_names))
        self.field = self.add(Arrow("B", palette.FIELD, 0.0055, metres_per_tesla))
        self.motion = self.add(Arrow("v", palette.MOTION, 0.0055, metres_per_speed))
        self.letters = {
            letter: self.add(Letters(letter, palette.PAPER, 22, ground=colour))
            for letter, colour in (("F", palette.FORCE), ("e", palette.EMF))
        }
        self.hands = {
            "left": self.add(FlemingHand("left", 0.075, ("F", "B", "i"), (palette.FORCE, palette.FIELD, palette.CURRENT))),
            "right": self.add(FlemingHand("right", 0.075, ("v", "B", "e"), (palette.MOTION, palette.FIELD, palette.EMF))),
        }

    def name_for_tests(self, host) -> None:
        """Let tests find what is drawn."""
        meter, bulb = self.connections.meter.needle, self.connections.lamp.bulb
        for name, drawn in (
            ("spindle", self.machine.spindle),
            ("magnet", self.machine.magnet),
            ("field", self.field.shaft),
            ("motion", self.motion.shaft),
            ("left-hand", self.hands["left"].solid),
            ("right-hand", self.hands["right"].solid),
            ("meter", meter),
            ("bulb", bulb),
        ):
            host.name(f"commutator-{name}", drawn.drawn)
        for number, (coil, segment) in enumerate(zip(self.machine.coils, self.machine.segments, strict=True)):
            host.name(f"commutator-coil-{number}", coil.drawn)
            host.name(f"commutator-segment-{number}", segment.drawn)
        for name, side in self.sides.items():
            for what, drawn in (("marks", side.marks.solid), ("force", side.force.shaft), ("emf", side.emf.shaft)):
                host.name(f"commutator-{what}-{name}", drawn.drawn)

    def look_from(self, toward: float, close: bool) -> None:
        """`toward` is the sign of z on the eye's side; seen `close`, the commutator stands free of letters."""
        self.toward, self.close = toward, close
        self.machine.letter_brushes(toward)
        for side in self.sides.values():
            side.name.visible = not close

    def scale(self, metres_per_newton: float, metres_per_volt: float) -> None:
        """How long the arrows of force and EMF are."""
        for side in self.sides.values():
            side.scale(metres_per_newton, metres_per_volt)

    @property
    def near_end(self) -> float:
        """The z of the coil sides' end that is nearer to the eye."""
        return self.toward * (self.length / 2 + NEAR)

    def put_side(self, name: str, place, current: float, force, emf: float) -> None:
        """One coil side with its middle at `place`: current toward +z as a share, force (3,) in N, EMF toward +z in V."""
        self.sides[name].put(place, current, force, emf, self.near_end)

    def point_out(self, name: str, place, field, motion) -> None:
        """Field, T, and motion, m/s, at the side of that name, and letters at its arrows."""
        start = np.array([place[0], place[1], self.near_end])
        self.field.put(start, NOTHING if self.close else field)
        self.motion.put(start, NOTHING if self.close else motion)
        side = self.sides[name]
        for letter, arrow in (("F", side.force), ("e", side.emf)):
            self.letters[letter].visible = arrow.shaft.visible and not self.close
        force, emf = (arrow.vector * arrow.metres_per_unit for arrow in (side.force, side.emf))
        self.letters["F"].put(start + force * (1 + 0.022 / max(float(np.linalg.norm(force)), 1e-9)))
        self.letters["e"].put(1.4 * np.asarray(place) + emf / 2)  # outside the coil, clear of the letter of the force

    def hold_out(self, hand, conductor) -> None:
        """A hand with `side`, `thumb`, `first_finger` and `second_finger`, or None, beside the coil side whose middle is at
        `conductor`, to whose nearer end a line goes."""
        beside = HAND_AT[self.toward] * [1.0 if conductor[0] > 0 else -1.0, 1.0, 1.0]
        end = np.array([conductor[0], conductor[1], self.near_end])
        for side, drawn in self.hands.items():
            drawn.put(beside, hand if hand is not None and hand.side == side and not self.close else None, end)

    def feed(self, battery: float) -> None:
        """The battery with the ammeter in its lead, in place of everything else; positive: + on the first brush."""
        self.connections.feed(battery)

    def load(self, lamp: bool, brightness: float) -> None:
        """A voltmeter across the brushes, and a lamp or not."""
        self.connections.load(lamp, brightness)

    def measure(self, value: float, full: float, unit: str) -> None:
        """What the meter shows; its face looks toward the drive end."""
        self.connections.measure(value, full, unit, self.toward > 0)


class Connections(Group):
    """What is connected to the brushes: a battery with an ammeter in series; or a voltmeter across them, with a lamp or not."""

    def __init__(self, machine: CommutatorMachine, brush_names):
        super().__init__()
        self.meter = Meter(self, METER_AT, METER, "V")
        x, y, z = METER_AT
        foot = block([x, (FLOOR + y - METER / 2) / 2, z], [0.06, y - METER / 2 - FLOOR, 0.014], palette.SLATE)
        self.add(Solid(joined(foot, *[rod([x, y, z - 0.008], [x, y, z + 0.003], 0.0034, palette.BRASS, 10) for x, y, z in POSTS]))).put(
            (0, 0, 0)
        )
        self.polarity = [self.add(Letters(sign, palette.INK, 16, ground=palette.PAPER)) for sign in ("+", "\N{MINUS SIGN}")]
        for letters, post in zip(self.polarity, POSTS, strict=True):
            letters.put(post + [0.011, 0.001, 0.006])
        first, second = (Terminal("brush", name, tuple(at)) for name, at in zip(brush_names, machine.holders.tolist(), strict=True))
        Inside(self, "armature", first, second)
        self.fed, self.across, self.lit = (self.add(Group()) for _ in range(3))
        self._wire_battery(first, second)
        self._wire_voltmeter(first, second)
        self._wire_lamp(first, second)

    def _wire_battery(self, first: Terminal, second: Terminal) -> None:
        self.battery = Battery(self.fed, (0.14, FLOOR, -0.105), 0.055)
        plus, minus = (Terminal("ammeter", sign.text, tuple(at)) for sign, at in zip(self.polarity, POSTS.tolist(), strict=True))
        Inside(self.fed, "ammeter", plus, minus)
        behind = [
            [0.1, LOW, -0.137],
            [0.05, LOW, -0.143],
            [-0.11, LOW, -0.142],
            [-0.203, LOW, -0.135],
            [-0.203, LOW, -0.09],
            [-0.19, LOW, -0.085],
        ]
        Lead(self.fed, self.battery.left, plus, behind, 0.003)
        Lead(self.fed, minus, first, [[-0.15, LOW, -0.085], [-0.08, LOW, -0.078]], 0.003)
        Lead(self.fed, second, self.battery.right, [[0.12, LOW, -0.072], [0.185, LOW, -0.1]], 0.003)

    def _wire_voltmeter(self, first: Terminal, second: Terminal) -> None:
        plus, minus = (Terminal("voltmeter", sign.text, tuple(at)) for sign, at in zip(self.polarity, POSTS.tolist(), strict=True))
        Inside(self.across, "voltmeter", plus, minus)
        Lead(self.across, plus, first, [[-0.185, LOW, -0.078], [-0.08, LOW, -0.076]], 0.003)
        Lead(self.across, minus, second, [[-0.15, LOW, -0.088], [-0.105, LOW, -0.092], [-0.085, LOW, -0.14], [0.04, LOW, -0.143]], 0.003)

    def _wire_lamp(self, first: Terminal, second: Terminal) -> None:
        self.lamp = Lamp(self.lit, (0.14, FLOOR, -0.105), 0.06)
        left, right = (Terminal("lamp", marking, tuple(at)) for marking, at in zip(("left", "right"), self.lamp.ends.tolist(), strict=True))
        Inside(self.lit, "lamp", left, right)
        Lead(self.lit, left, first, [[0.1, LOW, -0.13], [-0.03, LOW, -0.135]], 0.003)
        Lead(self.lit, second, right, [[0.12, LOW, -0.072], [0.185, LOW, -0.1]], 0.003)

    def feed(self, battery: float) -> None:
        """The battery; positive: + on the first brush."""
        self._show(self.fed)
        self.battery.connect(-battery)
        for letters in self.battery.signs:
            letters.visible = battery != 0

    def load(self, lamp: bool, brightness: float) -> None:
        self._show(self.across, *([self.lit] if lamp else []))
        self.lamp.glow(brightness)

    def _show(self, *groups: Group) -> None:
        for group in (self.fed, self.across, self.lit):
            group.visible = group in groups

    def measure(self, value: float, full: float, unit: str, faces: bool) -> None:
        """What the meter shows, and whether its face is seen."""
        self.meter.show(value / full)
        self.meter.mark(f"\N{MINUS SIGN}{full:g}", "0", f"{full:g}")
        self.meter.letters.text = unit
        for letters in (self.meter.letters, *self.meter.scale, *self.polarity):
            letters.visible = faces

    def tell(self, found: Told) -> None:
        """The meter's needle as it stands, and whether the lamp glows."""
        found.needles.append(("needle of the meter", point(self.meter.hub), point(self.meter.needle.place[2])))
        if self.lit.visible:
            found.marks.append((f"lamp {'glows' if self.lamp.level else 'is dark'}", point(self.lamp.ends.mean(axis=0)), 0))
