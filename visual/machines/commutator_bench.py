"""The machine of `commutator_machine` as it stands on the bench: what is connected to its brushes, and the arrows, dots,
crosses and hand that tell what happens in its coil sides."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.apparatus.circuit import Battery, cord
from visual.apparatus.lamp import Lamp
from visual.apparatus.meter import Meter
from visual.hand.hand_on_bench import FlemingHand
from visual.machines.commutator_machine import COIL_COLOURS, FLOOR, NEAR, CoilSide, CommutatorMachine
from visual.solid.mesh import joined
from visual.solid.solids import Arrow, Group, Letters, Solid

NOTHING = np.zeros(3)
HAND_AT = (-0.112, 0.0, 0.065)


class CommutatorBench(Group):
    """`names` of the six coil sides in the order of coils, first side first; the rest as `CommutatorMachine` takes it."""

    def __init__(self, names, radius: float, length: float, gap: float, segment_edges, brush_edges, brush_names):
        super().__init__()
        self.length = length
        self.machine = self.add(CommutatorMachine(radius, length, gap, segment_edges, brush_edges, brush_names))
        self.sides = {name: CoilSide(self, length, name, COIL_COLOURS[index // 2]) for index, name in enumerate(names)}
        self.battery = Battery(self, (0.14, FLOOR, -0.105), 0.055)
        self.lamp = Lamp(self, (0.14, FLOOR, -0.105), 0.06)
        self.meter = Meter(self, (-0.14, -0.03, -0.115), 0.085, "V")
        self.cords = {name: self.add(Solid(mesh)) for name, mesh in self._cords().items()}
        self.field = self.add(Arrow("B", palette.FIELD, 0.0055))
        self.motion = self.add(Arrow("v", palette.MOTION, 0.0055))
        self.letters = {letter: self.add(Letters(letter, palette.PAPER, 22, ground=colour))
                        for letter, colour in (("F", palette.FORCE), ("E", palette.EMF))}
        self.hands = {
            "left": self.add(FlemingHand("left", 0.075, ("F", "B", "I"), (palette.FORCE, palette.FIELD, palette.CURRENT))),
            "right": self.add(FlemingHand("right", 0.075, ("v", "B", "E"), (palette.MOTION, palette.FIELD, palette.EMF))),
        }

    def name_for_tests(self, host) -> None:
        """Let tests find what is drawn."""
        for name, drawn in (("spindle", self.machine.spindle), ("magnet", self.machine.magnet), ("field", self.field.shaft),
                            ("motion", self.motion.shaft), ("left-hand", self.hands["left"].solid), ("right-hand", self.hands["right"].solid),
                            ("meter", self.meter.needle), ("bulb", self.lamp.bulb)):
            host.name(f"commutator-{name}", drawn.drawn)
        for number, (coil, segment) in enumerate(zip(self.machine.coils, self.machine.segments)):
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

    @property
    def near_end(self) -> float:
        """The z of the coil sides' end that is nearer to the eye."""
        return self.toward * (self.length / 2 + NEAR)

    def put_side(self, name: str, place, current: float, force, emf: float) -> None:
        """One coil side with its middle at `place`: current toward +z as a share, force (3,), EMF toward +z."""
        self.sides[name].put(place, current, force, emf, self.near_end)

    def point_out(self, name: str, place, field, motion) -> None:
        """Field and motion at the side of that name, and letters at its arrows."""
        start = np.array([place[0], place[1], self.near_end])
        self.field.put(start, NOTHING if self.close else field)
        self.motion.put(start, NOTHING if self.close else motion)
        side = self.sides[name]
        for letter, arrow in (("F", side.force), ("E", side.emf)):
            along = arrow.vector
            reach = np.linalg.norm(along)
            foot = start if letter == "F" else place - along / 2
            self.letters[letter].visible = arrow.shaft.visible and not self.close
            self.letters[letter].put(foot + along * (1 + (0.022 if letter == "F" else 0.01) / max(reach, 1e-9)))

    def hold_out(self, hand) -> None:
        """A hand with `side`, `thumb`, `first_finger` and `second_finger`; None for no hand."""
        for side, drawn in self.hands.items():
            drawn.put(HAND_AT, hand if hand is not None and hand.side == side else None)

    def feed(self, battery: float) -> None:
        """The battery with the ammeter in its lead, in place of everything else; positive: + on the first brush."""
        self._connect("battery")
        self.battery.connect(-battery)
        for letters in self.battery.signs:
            letters.visible = battery != 0

    def load(self, lamp: bool, brightness: float) -> None:
        """A voltmeter across the brushes, and a lamp or not."""
        self._connect("meter", *(["lamp"] if lamp else []))
        self.lamp.glow(brightness)

    def _connect(self, *what: str) -> None:
        for name, drawn in self.cords.items():
            drawn.visible = name in what
        self.battery.case.visible = "battery" in what
        for letters in self.battery.signs:
            letters.visible = "battery" in what
        self.lamp.socket.visible = self.lamp.bulb.visible = "lamp" in what

    def measure(self, value: float, full: float, unit: str) -> None:
        """What the meter shows; its face looks toward the drive end."""
        self.meter.show(value / full)
        self.meter.mark(f"\N{MINUS SIGN}{full:g}", "0", f"{full:g}")
        self.meter.letters.text = unit
        for letters in (self.meter.letters, *self.meter.scale):
            letters.visible = self.toward > 0

    def _cords(self) -> dict:
        """The leads: of the meter across the brushes, of the lamp, of battery and meter in series."""
        left, right = self.machine.holders
        low = FLOOR + 0.003
        meter_right, meter_left = np.array([-0.115, -0.067, -0.105]), np.array([-0.165, -0.067, -0.105])
        behind = [[-0.11, low, -0.14], [0.05, low, -0.143]]
        to_left = [meter_left, [-0.165, low, -0.08], [-0.08, low, -0.078], left]
        on_lamp = [(self.lamp.ends[1], [0.185, low, -0.1], [0.12, low, -0.072], right), (self.lamp.ends[0], [0.1, low, -0.13], [-0.03, low, -0.135], left)]
        on_battery = [(self.battery.terminals[1], [0.185, low, -0.1], [0.12, low, -0.072], right),
                      (self.battery.terminals[0], [0.1, low, -0.137], *behind[::-1], meter_right)]
        return {
            "meter": joined(cord(to_left, 0.003), cord([meter_right, *behind, right], 0.003)),
            "lamp": joined(*[cord(line, 0.003) for line in on_lamp]),
            "battery": joined(cord(to_left, 0.003), *[cord(line, 0.003) for line in on_battery]),
        }
