"""A wound-rotor motor cut open: its rotor with the winding in its slots, three slip rings on the shaft, a brush on each.

The shaft is z, drive end +z; the quarter of frame and core that faces up and to -x is cut away.
"""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.machines.machine_shapes import lathed, ring_part
from visual.machines.stator import LAMINATIONS, polar, sector
from visual.solid.mesh import Mesh, block, joined, rod, swept
from visual.solid.shade import shaded
from visual.solid.solids import Group, Letters

RINGS = ("K", "L", "M")  # IEC 60034-8: the rotor's terminals
RINGS_AT = (-0.135, -0.157, -0.179)  # m along the shaft, the first next to the rotor
RING_RADIUS, BRUSH_END = 0.030, -0.052  # m; where, in x, the lead goes to a brush
CUT = np.pi / 2, np.pi  # rad between which frame and core are open
ROTOR, SLOT, HALF = 0.047, 0.010, 0.042  # m: radius, depth of a slot, half the length of the core
TAPE = (0.74, 0.55, 0.36)
INSULATION = (0.55, 0.25, 0.16)


def open_frame(colour, radius: float, stand: Mesh, shield: Mesh) -> Mesh:
    """Frame and stator core with a quarter cut away, brush gear; `stand` and `shield` are those of the closed motor."""
    open_from, open_to = CUT[1], CUT[0] + 2 * np.pi

    def part(inner: float, outer: float, back: float, front: float, tint) -> Mesh:
        return ring_part(inner, outer, open_from, open_to, back, front, tint)

    rib = block([0, radius + 0.002, 0], [0.004, 0.008, 0.13], colour)
    still = joined(
        part(radius - 0.004, radius, -0.07, 0.07, colour),
        part(0.016, radius, -0.078, -0.07, colour),
        part(ROTOR + 0.003, radius - 0.0045, -HALF, HALF, LAMINATIONS),
        *[part(ROTOR + 0.006, radius - 0.008, at - 0.010, at + 0.010, TAPE) for at in (-0.053, 0.053)],
        *[rib.turned(_about_z(at)) for at in np.radians(np.arange(108, 360, 36))],
    )
    middle = sum(RINGS_AT) / 3
    gear = [block([BRUSH_END - 0.010, -0.057, middle], [0.012, 0.056, 0.066], palette.SLATE)]
    for z in RINGS_AT:
        gear += [
            block([BRUSH_END - 0.010, -0.015, z], [0.005, 0.034, 0.005], palette.STEEL),
            block([BRUSH_END, 0, z], [0.020, 0.014, 0.012], palette.BRASS),
            block([-(RING_RADIUS + 0.006), 0, z], [0.014, 0.010, 0.009], palette.INK),
        ]
    return joined(shaded(still, stand), shield, stand, *gear)


def wound_rotor(sides) -> Mesh:
    """What turns: core, coil sides in its slots, bound end windings, three leads along the shaft, slip rings. `sides`: for each slot
    the colour of its phase."""
    pitch = 2 * np.pi / len(sides)
    half = 0.3 * pitch
    tooth = sector(np.linspace(half, pitch - half, 3), 0.015, ROTOR, HALF).coloured(LAMINATIONS)
    bottom = sector(np.linspace(-half, half, 3), 0.015, ROTOR - SLOT, HALF).coloured(LAMINATIONS)
    side = sector(np.linspace(-0.93 * half, 0.93 * half, 3), ROTOR - SLOT + 0.0005, ROTOR - 0.0008, HALF + 0.006)
    slots = [joined(tooth, bottom, side.coloured(colour)).turned(_about_z(k * pitch)) for k, colour in enumerate(sides)]
    wheels = [_bound(z) for z in (-HALF - 0.010, HALF + 0.010)]
    shaft = rod([0, 0, -0.197], [0, 0, 0.08], 0.012, palette.STEEL, 12)
    bush = lathed([(-0.190, 0.0), (-0.190, 0.022), (-0.124, 0.022), (-0.124, 0.0)], INSULATION, 20)
    rings = [
        lathed([(z - 0.007, 0.0), (z - 0.007, RING_RADIUS), (z + 0.007, RING_RADIUS), (z + 0.007, 0.0)], palette.BRASS, 24)
        for z in RINGS_AT
    ]
    leads = [
        rod(polar(0.0145, k * 2 * np.pi / 3, -HALF - 0.010), polar(0.0145, k * 2 * np.pi / 3, z), 0.0022, sides[2 * k % len(sides)], 6)
        for k, z in enumerate(RINGS_AT)
    ]
    mark = block([RING_RADIUS - 0.004, 0, RINGS_AT[-1] - 0.0072], [0.007, 0.005, 0.002], palette.PAPER)  # by which one sees it turn
    core = joined(*slots)
    return joined(shaded(core, *wheels), *wheels, shaft, bush, *rings, *leads, mark)


class SlipRings(Group):
    """The letters of the rings, for when they are looked at."""

    def __init__(self):
        super().__init__()
        self.letters = [self.add(Letters(name, palette.PAPER, 16, ground=palette.INK)) for name in RINGS]
        for letters, z in zip(self.letters, RINGS_AT, strict=True):
            letters.put((0.0, RING_RADIUS + 0.012, z))


def _bound(z: float) -> Mesh:
    """An end winding bound with tape, a ring at that place along the shaft."""
    angle = 2 * np.pi * np.arange(37) / 36
    line = np.column_stack([0.039 * np.cos(angle), 0.039 * np.sin(angle), np.full(37, z)])
    turn = 2 * np.pi * np.arange(8) / 8
    made = swept(np.column_stack([0.008 * np.cos(turn), 0.006 * np.sin(turn)]), line, [0.0, 0.0, 1.0], TAPE)
    made.colours[: 8 * 37] *= np.repeat(np.where(np.arange(37) // 2 % 2, 0.86, 1.0), 8)[:, None]
    return made


def _about_z(angle: float) -> np.ndarray:
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c, -s, 0], [s, c, 0], [0, 0, 1.0]])
