"""A two-pole motor seen from its end: slots with two or three windings, the rotor, and two fields that turn against each other.

Angles are mechanical, rad, counter-clockwise from the right seen from +z; `side` is 1 where one looks from +z and -1 from the other end.
"""

from __future__ import annotations

import math

import numpy as np

from visual import palette
from visual.machines.machine_shapes import ring_part
from visual.machines.motor_iron import SLOTS, stand
from visual.machines.stator import CurrentMark, StatorShape, polar, sector, slotted_iron, turned
from visual.solid.curved import CurvedArrow
from visual.solid.mesh import Mesh, block, joined, repeated, ring, rod
from visual.solid.solids import Arrow, Group, Letters, Solid
from visual.solid.told import Told, point
from visual.terminal_box.markings import Stamped

SHAPE = StatorShape(bore=0.062, slot_bottom=0.076, outside=0.092)
GROUND = -0.112  # m, the height on which it stands
SHAPES = {
    "UVW": {"U": math.pi / 2, "V": -math.pi / 6, "W": 7 * math.pi / 6},
    "UZ": {"U": math.pi / 2, "Z": math.pi},
}  # axis of each winding
IN_A_BELT = {"UVW": {"U": 4, "V": 4, "W": 4}, "UZ": {"U": 8, "Z": 4}}  # slots beside one another
TINTS = {"U": palette.rgb("#c98a5b"), "V": palette.rgb("#b9a05a"), "W": palette.rgb("#a4675f"), "Z": palette.rgb("#8c9c5c")}
SLOT_ANGLES = 2 * np.pi * (np.arange(SLOTS) + 0.5) / SLOTS
ROTOR, BARS, FRONT = 0.058, 28, SHAPE.half_length + 0.004  # m, bars, m
ARROWS_AT = FRONT + 0.016  # m along the shaft
MARK = 0.031, 0.046  # m, radii between which the rotor is marked
PATH = 0.0012  # m, thickness of the line along which the field's tip goes
TORQUE, SPEED = (math.pi, 0.1005, 1.0), (-math.pi / 2, 0.1095, 1.0)
NEAR = 0.02  # m between two tips: no room for a letter at each
CURRENT_MARK = 0.0058  # m, radius for the largest current
FORWARD, BACKWARD, SUM = "B\N{SUBSCRIPT PLUS SIGN}", "B\N{SUBSCRIPT MINUS}", "B"


class OnePhaseMachine(Group):
    """`metres_per_tesla` of the field arrows. `show` one of the layouts `SHAPES`."""

    def __init__(self, metres_per_tesla: float):
        super().__init__()
        core = slotted_iron(SHAPE, SLOT_ANGLES, 2 * np.pi / SLOTS)
        self.add(Solid(joined(core, stand(SHAPE, core, GROUND)))).put((0, 0, 0))
        self.layouts = {name: self.add(Layout(name)) for name in SHAPES}
        self.marks = [self.add(CurrentMark(SHAPE.half_length + 0.004)) for _ in range(0, SLOTS, 2)]
        self.rotor = self.add(Solid(_rotor()))
        self.mark = self.add(RotorMark())
        self.arrows = {
            letter: self.add(Arrow(letter, colour, thick, metres_per_tesla))
            for letter, colour, thick in (
                (FORWARD, palette.CURRENT, 0.005),
                (BACKWARD, palette.EMF, 0.005),
                (SUM, palette.FIELD, 0.0068),
            )
        }
        self.path = self.add(FieldPath(metres_per_tesla))
        self.torque = self.add(CurvedArrow("T", palette.FORCE, TORQUE[1], 0.008, TORQUE[2]))
        self.speed = self.add(CurvedArrow("n", palette.MOTION, SPEED[1], 0.007, SPEED[2]))

    def carry(self, layout: str, shares: dict[str, float], side: float) -> None:
        """The windings of that layout, and the current of each now, from end 1 to end 2, as a share of the largest."""
        for name, shown in self.layouts.items():
            shown.visible = self.visible and name == layout
        sides = self.layouts[layout].sides
        for mark, slot in zip(self.marks, range(0, SLOTS, 2), strict=True):
            letter, sign = sides[slot]
            mark.put(polar(SHAPE.slot_middle, SLOT_ANGLES[slot], 0.0), CURRENT_MARK, max(-1.0, min(1.0, sign * shares[letter])))

    def turn(self, angle: float, side: float) -> None:
        """The mark of the rotor at that angle."""
        self.rotor.put((0, 0, 0), turned(angle))
        self.mark.put(angle, side)

    def show_fields(self, clockwise, counter, total, shown: bool, side: float) -> None:
        """Vectors (2,), T: the two rotating fields and their sum; shown: whether the parts may be seen."""
        for k, (letter, vector) in enumerate(((FORWARD, clockwise), (BACKWARD, counter), (SUM, total))):
            visible = letter == SUM or shown
            self.arrows[letter].put((0, 0, side * (ARROWS_AT + 0.002 * k)), (*(np.asarray(vector) * visible), 0.0))
        sizes = float(np.hypot(*clockwise)), float(np.hypot(*counter))
        angles = math.atan2(clockwise[1], clockwise[0]), math.atan2(counter[1], counter[0])
        letters = self.arrows[SUM].letters
        if letters:  # the sum's tip lies as far from that of the one part as the other is long: too near, theirs are enough
            letters.text = "" if shown and 0 < min(sizes) * self.path.metres_per_tesla < NEAR else SUM
        self.path.visible = self.visible and shown and sum(sizes) > 0.02
        # the one turns as far one way as the other the other way: they meet half-way between
        self.path.put(sizes[0] + sizes[1], abs(sizes[0] - sizes[1]), (angles[0] + angles[1]) / 2, side * (ARROWS_AT - 0.002))

    def show_shaft(self, torque: float, full_torque: float, speed: float, full_speed: float, side: float) -> None:
        """Torque and speed, counter-clockwise positive, as curved arrows round the stator."""
        self.torque.full, self.speed.full = full_torque, full_speed
        self.torque.put(TORQUE[0], torque, side * SHAPE.half_length)
        self.speed.put(SPEED[0], speed, side * SHAPE.half_length)


class RotorMark(Group):
    """A mark on both ends of the rotor, by which one sees it turn; no quantity."""

    def __init__(self):
        super().__init__()
        middle, long = sum(MARK) / 2, MARK[1] - MARK[0]
        ends = [block([middle, 0, side * (SHAPE.half_length + 0.001)], [long, 0.009, 0.003], palette.MOTION) for side in (1, -1)]
        self.solid = self.add(Solid(joined(*ends)))
        self.letter = self.add(Letters("rotor", palette.PAPER, 16, ground=palette.MOTION))
        self._along = (1.0, 0.0, 0.0)

    def put(self, angle: float, side: float) -> None:
        """At that angle, its letters at the end of that `side`."""
        self.solid.put((0, 0, 0), turned(angle))
        self.letter.put(polar(MARK[0] - 0.006, angle, side * (FRONT + 0.002)))
        self._along = point(polar(1.0, angle))

    def tell(self, found: Told) -> None:
        found.needles.append(("mark on the rotor", (0.0, 0.0, 0.0), self._along))


class Layout(Group):
    """The windings of one motor in the slots. sides: of each slot its winding, and +1 where its current flows toward +z, end 1 to 2."""

    def __init__(self, name: str):
        super().__init__()
        self.sides: dict[int, tuple[str, int]] = {}
        stamps = []
        for letter, axis in SHAPES[name].items():
            own = []
            for sign in (1, -1):
                middle = axis + sign * np.pi / 2  # a current toward +z there makes field along the axis (grip rule)
                apart = np.abs(np.angle(np.exp(1j * (SLOT_ANGLES - middle))))
                belt = np.argsort(apart)[: IN_A_BELT[name][letter]]
                own += belt.tolist()
                self.sides |= {int(slot): (letter, sign) for slot in belt}
                stamps.append((letter, tuple(polar(0.0842, middle, SHAPE.half_length + 0.0012)), 0.0085, palette.INK))
            self.add(Solid(_conductors(SLOT_ANGLES[own], TINTS[letter]))).put((0, 0, 0))
        Stamped(self, stamps)


class FieldPath(Group):
    """The line along which the tip of the whole field goes in a cycle: a circle, an ellipse, or to and fro."""

    def __init__(self, metres_per_tesla: float):
        super().__init__()
        self.metres_per_tesla = metres_per_tesla
        self.solid = self.add(Solid(ring(1.0, 0.035, palette.FIELD, 48, 4).turned([[1, 0, 0], [0, 0, -1], [0, 1, 0]])))
        self._told = (0.0, 0.0, 0.0, 0.0)

    def put(self, longest: float, least: float, angle: float, z: float) -> None:
        """Half its long and its short axis, T, the long one along `angle`."""
        self._told = longest, least, angle, z
        stretch = [max(half * self.metres_per_tesla, PATH) for half in (longest, least)]
        self.solid.put((0, 0, z), turned(angle), (*stretch, 0.03))

    def tell(self, found: Told) -> None:
        longest, least, angle, z = self._told
        words = f"long axis of the path of the field, {longest:.3f} T by {least:.3f} T"
        found.needles.append((words, (0.0, 0.0, z), point(polar(1.0, angle))))


def _conductors(angles, colour) -> Mesh:
    half = 0.27 * 2 * np.pi / SLOTS
    wire = sector(np.linspace(-half, half, 3), SHAPE.bore + 0.001, SHAPE.slot_bottom - 0.0008, SHAPE.half_length + 0.003)
    return repeated(wire.coloured(colour), angles)


def _rotor() -> Mesh:
    """A cage rotor: core, bars in end rings, shaft."""
    iron = palette.rgb("#b4babd")
    angles = 2 * np.pi * np.arange(BARS) / BARS
    bars = [rod(polar(ROTOR - 0.005, a, -FRONT), polar(ROTOR - 0.005, a, FRONT), 0.0026, palette.BRASS, 6) for a in angles]
    rings = [
        ring_part(ROTOR - 0.0105, ROTOR - 0.0015, 0, 2 * np.pi, z - 0.0012, z + 0.0012, palette.BRASS)
        for z in (FRONT - 0.001, 0.001 - FRONT)
    ]
    return joined(
        ring_part(0.008, ROTOR, 0, 2 * np.pi, -SHAPE.half_length, SHAPE.half_length, iron),
        *bars,
        *rings,
        rod([0, 0, -FRONT - 0.03], [0, 0, FRONT + 0.004], 0.009, palette.STEEL, 14),
    )
