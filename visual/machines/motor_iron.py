"""The iron of a cage motor, which hides the cage: shown, reduced to its edges, or taken off; and what the motor stands on."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.machines.stator import LAMINATIONS, StatorShape, polar, sector, slotted_iron
from visual.solid.mesh import Mesh, block, joined, repeated, ring, rod, swept
from visual.solid.shade import bench_plate, shaded
from visual.solid.solids import Group, Solid
from visual.solid.told import Told

SHOWN, EDGES, OFF = "shown", "edges", "off"
SLOTS, SLOT_DEEP = 24, 0.0105  # m
TAPE = (0.80, 0.60, 0.42), (0.70, 0.50, 0.34)  # the bound end winding, turn by turn
UPRIGHT = np.array([[1.0, 0, 0], [0, 0, -1], [0, 1, 0]])  # carries a ring about y to one about z
FRONT_TO_BACK = (1.0, -1.0)


class StatorIron(Group):
    """A stator of which only the bore matters, on its stand: core with slots and bound end windings."""

    def __init__(self, shape: StatorShape, ground: float):
        super().__init__()
        self.how = SHOWN
        core = _core(shape)
        foot = block([0, shape.outside + 0.002, -0.0055], [0.05, 0.010, 0.01], LAMINATIONS)  # of the terminal box
        self.whole = self.add(Solid(joined(core, foot, *[_end_winding(shape, side) for side in FRONT_TO_BACK])))
        top = shape.outside
        posts = [rod([x, 0.8 * top, -0.0055], [x, top + 0.007, -0.0055], 0.0012, palette.STEEL, 4) for x in (-0.022, 0.022)]
        self.edges = self.add(Solid(joined(edges((shape.bore, shape.outside), shape.half_length), *posts)))
        self.stand = self.add(Solid(stand(shape, core, ground)))
        for solid in (self.whole, self.edges, self.stand):
            solid.put((0, 0, 0))
        self.show(SHOWN)

    def show(self, how: str) -> None:
        """`how`: one of SHOWN, EDGES, OFF."""
        self.how = how
        self.whole.visible, self.edges.visible = self.visible and how == SHOWN, self.visible and how == EDGES

    def tell(self, found: Told) -> None:
        found.marks.append((f"iron of the stator: {told_iron(self.whole, self.edges)}", (0.0, 0.0, 0.0), 0))


def told_iron(whole: Solid, lines: Solid) -> str:
    """How the iron is seen to be."""
    return SHOWN if whole.visible else EDGES if lines.visible else OFF


def edges(radii, half_length: float, thick: float = 0.0011, straight: int = 8) -> Mesh:
    """The edges of a round core: circles of those `radii` at both ends, and lines along the largest."""
    circle = [ring(radius, thick, palette.STEEL, 40, 4).turned(UPRIGHT) for radius in radii]
    circles = [each.moved([0, 0, z]) for each in circle for z in (half_length, -half_length)]
    at = max(radii)
    lines = [
        rod(polar(at, angle, -half_length), polar(at, angle, half_length), thick / 2, palette.STEEL, 4)
        for angle in 2 * np.pi * (np.arange(straight) + 0.5) / straight
    ]
    return joined(*circles, *lines)


def stand(shape: StatorShape, core: Mesh, ground: float) -> Mesh:
    """Two chocks under the core, on a plate whose upper face is at the height `ground`."""
    at, half = 0.6 * shape.outside, 0.8 * shape.half_length
    top = -0.8 * shape.outside + 0.004
    chocks = [block([side * at, (top + ground) / 2, 0], [0.03, top - ground, 2 * half], palette.WOOD) for side in (-1, 1)]
    plate = bench_plate(0.115, 0.075, ground, 0.008, palette.STEEL, [(side * at, 0.0, 0.015, half) for side in (-1, 1)])
    return joined(plate, *[shaded(chock, core, ground=ground) for chock in chocks])


def _core(shape: StatorShape) -> Mesh:
    angles = 2 * np.pi * np.arange(SLOTS) / SLOTS
    slotted = StatorShape(shape.bore, shape.bore + SLOT_DEEP, shape.outside, shape.half_length)
    half = 0.28 * 2 * np.pi / SLOTS
    wire = sector(np.linspace(-half, half, 3), shape.bore + 0.0012, shape.bore + SLOT_DEEP - 0.0005, shape.half_length + 0.003)
    return joined(slotted_iron(slotted, angles, 2 * np.pi / SLOTS), repeated(wire.coloured(TAPE[1]), angles))


def _end_winding(shape: StatorShape, side: float) -> Mesh:
    """The end winding bound with tape, a ring in front of the slots."""
    around, low, high = 72, shape.bore + 0.0025, shape.bore + SLOT_DEEP + 0.0035
    middle, half = (low + high) / 2, (high - low) / 2
    turn = 2 * np.pi * np.arange(8) / 8
    profile = np.column_stack([half * np.cos(turn), 0.0065 * np.sin(turn)])
    angle = 2 * np.pi * np.arange(around + 1) / around
    line = np.column_stack([middle * np.cos(angle), middle * np.sin(angle), np.full(around + 1, side * (shape.half_length + 0.0085))])
    shape_of_ring = swept(np.column_stack([profile[:, 1], profile[:, 0]])[::-1], line, [0.0, 0.0, 1.0], (1, 1, 1))
    bands = np.array(TAPE)[(np.arange(around + 1) // 2) % 2]
    shape_of_ring.colours[: 8 * (around + 1)] = np.repeat(bands, 8, axis=0)
    return shape_of_ring


def rotor_iron(radius: float, half_length: float) -> Mesh:
    """The sheets of a rotor, between its bars."""
    return rod([0, 0, -half_length], [0, 0, half_length], radius, np.asarray(LAMINATIONS) * 0.9, 40)
