"""What stands still and holds the rest: frame with feet, stator core and winding, terminal box, eye bolt and nameplate."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.machines.opened import sizes
from visual.machines.opened.turned import tube
from visual.machines.stator import LAMINATIONS, StatorShape, sector, slotted_iron
from visual.solid.mesh import Mesh, block, joined, repeated, ring, rod, swept
from visual.solid.shade import shaded

PAINT = (0.40, 0.56, 0.63)
DARK = (0.16, 0.18, 0.19)
COPPER, TAPE = (0.79, 0.50, 0.28), (0.88, 0.72, 0.50)
BAKELITE = (0.46, 0.29, 0.22)
SLOTS, FINS, LUMPS = 36, 44, 26
BOX_ACROSS, BOX_ALONG, BOX_FLOOR, BOX_TOP = 0.130, 0.136, 0.150, 0.222
STUDS = [(0.026 * column, row) for row in (0.022, -0.022) for column in (-1, 0, 1)]


def frame() -> Mesh:
    """Barrel with cooling fins, two rails with four feet, and the pads for box and nameplate."""
    parts = [tube(sizes.CORE_OUTSIDE, sizes.FRAME_RADIUS, -sizes.FRAME_HALF, sizes.FRAME_HALF, PAINT)]
    low, long = sizes.FRAME_RADIUS - 0.002, 2 * sizes.FRAME_HALF - 0.016
    fin = block([(low + sizes.FIN_TOP) / 2, 0, 0], [sizes.FIN_TOP - low, 0.0042, long], PAINT)
    angles = 2 * np.pi * np.arange(FINS) / FINS
    free = [a for a in angles if abs(np.sin(a) - 1) > 0.10 and abs(np.cos(a) + 1) > 0.07 and np.sin(a) > -0.93]
    parts.append(repeated(fin, free))
    for side in (-1, 1):
        x, foot = side * sizes.FEET_ACROSS / 2, 0.022
        for z in (-sizes.FEET_ALONG / 2, sizes.FEET_ALONG / 2):
            parts.append(block([x, -sizes.SHAFT_HEIGHT + foot / 2, z], [0.064, foot, 0.062], PAINT))
            parts.append(rod([x, foot - sizes.SHAFT_HEIGHT, z], [x, foot + 0.001 - sizes.SHAFT_HEIGHT, z], 0.0085, DARK, 10))
            web = [side * 0.100, (-sizes.SHAFT_HEIGHT + foot - 0.088) / 2, z]
            parts.append(block(web, [0.014, sizes.SHAFT_HEIGHT - foot - 0.088, 0.05], PAINT))
        parts.append(block([side * 0.100, -0.147, 0], [0.014, 0.026, 2 * sizes.FRAME_HALF - 0.02], PAINT))
    parts.append(block([0, 0.140, 0], [0.11, 0.020, 0.150], PAINT))
    parts.append(block([-0.1455, 0.0, 0.0], [0.024, 0.062, 0.11], PAINT))
    parts.append(rod([0, 0.130, 0.108], [0, sizes.FIN_TOP, 0.108], 0.017, PAINT, 14))
    return shaded(joined(*parts), ground=-sizes.SHAFT_HEIGHT)


def stator_core() -> Mesh:
    shape = StatorShape(sizes.BORE, sizes.SLOT_BOTTOM, sizes.CORE_OUTSIDE - 0.0002, sizes.CORE_HALF)
    pitch = 2 * np.pi / SLOTS
    iron = slotted_iron(shape, pitch * np.arange(SLOTS), pitch)
    behind = tube(sizes.SLOT_BOTTOM + 0.002, sizes.CORE_OUTSIDE - 0.0008, -sizes.CORE_HALF + 0.0003, sizes.CORE_HALF - 0.0003, LAMINATIONS)
    return joined(iron, behind)  # no seam between its pieces shows what is beyond


def stator_winding() -> Mesh:
    """Coil sides in all slots, and at both ends of the core the end winding, laced with tape."""
    half = 0.27 * 2 * np.pi / SLOTS
    side = sector(np.linspace(-half, half, 3), sizes.BORE + 0.0015, sizes.SLOT_BOTTOM - 0.0005, sizes.CORE_HALF + 0.006)
    sides = repeated(side.coloured(COPPER), 2 * np.pi / SLOTS * np.arange(SLOTS))
    head = end_winding(sizes.HEAD_LOW, sizes.HEAD_HIGH, sizes.CORE_HALF + 0.004, sizes.HEAD_END, LUMPS)
    return joined(sides, head, turned_round(head))


def end_winding(low: float, high: float, start: float, end: float, lumps: int) -> Mesh:
    """Bundles of wire laced to a ring in front of the core: radii, and where along the shaft, on the side of +z."""
    around = 2 * lumps
    angle = 2 * np.pi * np.arange(around + 1) / around
    middle = (low + high) / 2
    line = np.column_stack([middle * np.cos(angle), middle * np.sin(angle), np.full(around + 1, (start + end) / 2)])
    turn = 2 * np.pi * (np.arange(10) + 0.5) / 10
    # fuller than an ellipse; its first coordinate lies along the shaft, and it goes round so that it faces outward
    x, y = (np.sign(part) * np.abs(part) ** 0.75 for part in (np.cos(turn), np.sin(turn)))
    made = swept(np.column_stack([x * (end - start) / 2, y * (high - low) / 2]), line, [0.0, 0.0, 1.0], COPPER)
    bands = np.array([COPPER, np.array(COPPER) * 0.78, COPPER, TAPE])[np.arange(around + 1) % 4]
    made.colours[: 10 * (around + 1)] = np.repeat(bands, 10, axis=0)
    return made


def turned_round(shape: Mesh) -> Mesh:
    """The same at the other end: turned over about the upright axis."""
    return shape.turned([[-1.0, 0, 0], [0, 1.0, 0], [0, 0, -1.0]])


def terminal_box() -> Mesh:
    """A tray on top of the frame, with two entries for cables, each closed by a gland."""
    height, middle, wall = BOX_TOP - BOX_FLOOR, (BOX_TOP + BOX_FLOOR) / 2, 0.006
    parts = [block([0, BOX_FLOOR + 0.004, 0], [BOX_ACROSS, 0.008, BOX_ALONG], PAINT)]
    for side in (-1, 1):
        parts.append(block([side * (BOX_ACROSS - wall) / 2, middle, 0], [wall, height, BOX_ALONG], PAINT))
        parts.append(block([0, middle, side * (BOX_ALONG - wall) / 2], [BOX_ACROSS, height, wall], PAINT))
        x, y, z = -BOX_ACROSS / 2, middle - 0.004, side * 0.032
        parts.append(rod([x + 0.002, y, z], [x - 0.012, y, z], 0.0175, palette.STEEL, 6))
        parts.append(rod([x - 0.012, y, z], [x - 0.024, y, z], 0.0125, palette.STEEL, 12))
    return joined(*parts)


def terminal_board() -> Mesh:
    """A moulded board with six studs in two rows, and the earth terminal beside it."""
    y = BOX_FLOOR + 0.014
    parts = [block([0, y, 0], [0.092, 0.010, 0.072], BAKELITE)]
    for x, z in STUDS:
        parts.append(rod([x, y + 0.004, z], [x, y + 0.024, z], 0.0036, palette.BRASS, 8))
        parts.append(rod([x, y + 0.004, z], [x, y + 0.012, z], 0.0075, palette.BRASS, 6))
    return joined(*parts)


def box_cover() -> Mesh:
    parts = [
        block([0, BOX_TOP + 0.005, 0], [BOX_ACROSS + 0.006, 0.010, BOX_ALONG + 0.006], PAINT),
        block([0, BOX_TOP + 0.013, 0], [BOX_ACROSS - 0.024, 0.006, BOX_ALONG - 0.024], PAINT),
    ]
    for x in (-0.056, 0.056):
        for z in (-0.058, 0.058):
            parts.append(rod([x, BOX_TOP + 0.008, z], [x, BOX_TOP + 0.0155, z], 0.0052, palette.STEEL, 6))
    return joined(*parts)


def eye_bolt() -> Mesh:
    """Screwed into the frame beside the box, the ring upright."""
    at, foot = 0.108, sizes.FIN_TOP
    upright = np.array([[1.0, 0, 0], [0, 0, -1], [0, 1, 0]])
    eye = ring(0.017, 0.010, palette.STEEL, 20, 7).turned(upright).moved([0, foot + 0.027, at])
    return joined(eye, rod([0, foot, at], [0, foot + 0.008, at], 0.013, palette.STEEL, 12))


def nameplate() -> Mesh:
    """A sheet with lines stamped in it, on its pad at the side."""
    x = -0.1585
    lines = [block([x - 0.0012, 0.017 - 0.011 * k, 0.0], [0.001, 0.0035, 0.078 - 0.014 * (k % 2)], palette.SLATE) for k in range(4)]
    return joined(block([x, 0, 0], [0.002, 0.052, 0.098], palette.PAPER), *lines)
