"""The machine of `machine` as it stands on the bench, with the arrows, dots, crosses and hand that tell what happens in its coil
sides."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.hand.rule_hand import RuleHand
from visual.machines.commutator.connections import Connections
from visual.machines.commutator.machine import COIL_COLOURS, NEAR, CoilSide, CommutatorMachine
from visual.solid.solids import Arrow, Group, Letters

NOTHING = np.zeros(3)
HAND = 0.105  # m
HAND_AT = {1.0: np.array([-0.152, 0.015, 0.02]), -1.0: np.array([-0.152, 0.03, -0.02])}  # beside the yoke, by the end in view


class CommutatorBench(Group):
    """`names` of the six coil sides in the order of coils, first side first; `machine` as its class takes it. An arrow is so many
    metres long for each tesla, and for each metre a second."""

    def __init__(self, names, machine: CommutatorMachine, length: float, metres_per_tesla: float, metres_per_speed: float):
        super().__init__()
        self.length = length
        self.machine = self.add(machine)
        self.sides = {name: CoilSide(self, length, name, COIL_COLOURS[index // 2]) for index, name in enumerate(names)}
        self.connections = self.add(Connections(machine))
        self.field = self.add(Arrow("B", palette.FIELD, 0.007, metres_per_tesla))
        self.motion = self.add(Arrow("v", palette.MOTION, 0.007, metres_per_speed))
        self.letters = {
            letter: self.add(Letters(letter, palette.PAPER, 22, ground=colour))
            for letter, colour in (("F", palette.FORCE), ("e", palette.EMF))
        }
        self.hands = {
            "left": self.add(RuleHand("left", HAND, ("F", "B", "i"), (palette.FORCE, palette.FIELD, palette.CURRENT))),
            "right": self.add(RuleHand("right", HAND, ("v", "B", "e"), (palette.MOTION, palette.FIELD, palette.EMF))),
        }

    def name_for_tests(self, host) -> None:
        """Let tests find what is drawn."""
        for name, drawn in (
            ("spindle", self.machine.spindle),
            ("magnet", self.machine.magnet),
            ("field", self.field.shaft),
            ("motion", self.motion.shaft),
            ("left-hand", self.hands["left"].solid),
            ("right-hand", self.hands["right"].solid),
            ("meter", self.connections.meters[1.0].needle),
            ("bulb", self.connections.lamp.bulb),
        ):
            host.name(f"commutator-{name}", drawn.drawn)
        for count, winding in self.machine.windings.items():
            for number, coil in enumerate(winding.coils):
                host.name(f"commutator-coil-{number}-of-{count}", coil.drawn)
            for number, segment in enumerate(winding.segments):
                host.name(f"commutator-segment-{number}-of-{count}", segment.drawn)
        for name, side in self.sides.items():
            for what, drawn in (("marks", side.marks.solid), ("force", side.force.shaft), ("emf", side.emf.shaft)):
                host.name(f"commutator-{what}-{name}", drawn.drawn)

    def look_from(self, toward: float, close: bool) -> None:
        """`toward` is the sign of z on the eye's side; seen `close`, the commutator stands free of letters."""
        self.toward, self.close = toward, close
        self.machine.letter_brushes(toward)
        self.connections.look_from(toward)

    def scale(self, metres_per_newton: float, metres_per_volt: float) -> None:
        """How long the arrows of force and EMF are."""
        for side in self.sides.values():
            side.scale(metres_per_newton, metres_per_volt)

    @property
    def near_end(self) -> float:
        """The z of the coil sides' end that is nearer to the eye."""
        return self.toward * (self.length / 2 + NEAR)

    def leave_out(self, name: str) -> None:
        """There is no coil side of that name."""
        self.sides[name].show(False, False)

    def put_side(self, name: str, place, current: float, force, emf: float) -> None:
        """One coil side with its middle at `place`: current toward +z as a share, force (3,) in N, EMF toward +z in V."""
        self.sides[name].show(True, False)
        self.sides[name].put(place, current, force, emf, self.near_end)

    def point_out(self, name: str, place, field, motion) -> None:
        """Field, T, and motion, m/s, at the side of that name, and letters at its arrows."""
        start = np.array([place[0], place[1], self.near_end])
        self.field.put(start, NOTHING if self.close else field)
        self.motion.put(start, NOTHING if self.close else motion)
        side = self.sides[name]
        side.show(True, not self.close)
        for letter, arrow in (("F", side.force), ("e", side.emf)):
            self.letters[letter].visible = arrow.shaft.visible and not self.close
        force, emf = (arrow.vector * arrow.metres_per_unit for arrow in (side.force, side.emf))
        self.letters["F"].put(start + force * (1 + 0.026 / max(float(np.linalg.norm(force)), 1e-9)))
        self.letters["e"].put(1.4 * np.asarray(place) + emf / 2)  # outside the coil, clear of the letter of the force

    def hold_out(self, hand, conductor) -> None:
        """A hand with `rule`, `thumb`, `first_finger` and `second_finger`, or None, beside the machine; a line goes to the nearer
        end of the coil side whose middle is at `conductor`."""
        end = np.array([conductor[0], conductor[1], self.near_end])
        for rule, drawn in self.hands.items():
            drawn.put(HAND_AT[self.toward], hand if hand is not None and hand.rule == rule else None, end)

    def feed(self, battery: float) -> None:
        """The battery with the ammeter in its lead, in place of everything else; positive: + on the first brush."""
        self.connections.feed(battery)

    def load(self, lamp: bool, brightness: float) -> None:
        """A voltmeter across the brushes, and a lamp or not."""
        self.connections.load(lamp, brightness)

    def measure(self, value: float, full: float, unit: str) -> None:
        """What the meter shows."""
        self.connections.measure(value, full, unit)
