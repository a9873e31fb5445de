"""What turns, and what touches it: shaft and key, rotor core, cage or winding, slip rings, brushes and their holders."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.machines.machine_shapes import ring_part
from visual.machines.opened import sizes
from visual.machines.opened.ends import SHIELD, TOP
from visual.machines.opened.housing import end_winding, turned_round
from visual.machines.opened.turned import tube, turned_part
from visual.machines.stator import LAMINATIONS, polar, sector
from visual.solid.mesh import Mesh, block, joined, repeated, rod
from visual.solid.shade import shaded

SHAFT = (0.66, 0.69, 0.71)
ALUMINIUM = (0.90, 0.92, 0.93)
BRONZE = (0.80, 0.64, 0.34)
CARBON = (0.30, 0.30, 0.32)
INSULATION = (0.55, 0.25, 0.16)
CORD = (0.62, 0.45, 0.33)
BARS, ROTOR_SLOTS = 28, 24
KEY_MIDDLE = sum(sizes.SHAFT_END) / 2 + 0.002  # m along the shaft
SKEW = 2 * np.pi / 36  # of the bars from end to end: one slot of the stator, common practice
HOLDER_FOOT, SPINDLE_AT = 0.056, (0.026, 0.088)


def shaft(tail: float = 0.0) -> Mesh:
    """With seats for bearings, core and fan; `tail`: longer by so much at the non-drive end. A dark keyway on top of its end."""
    end, seat = sizes.SHAFT_END[1], sizes.BEARING_BORE
    outline = [
        (-sizes.SHAFT_TAIL - tail, 0.0), (end, 0.0), (end, sizes.SHAFT_END_RADIUS - 0.0015), (end - 0.0015, sizes.SHAFT_END_RADIUS),
        (sizes.SHAFT_END[0] - 0.006, sizes.SHAFT_END_RADIUS), (sizes.SHAFT_END[0] - 0.006, seat - 0.0001), (0.169, seat - 0.0001),
        (0.169, 0.0275), (0.098, 0.0275), (0.098, sizes.SHAFT_IN_CORE - 0.0002), (-0.098, sizes.SHAFT_IN_CORE - 0.0002), (-0.098, 0.0275),
        (-0.169 - tail, 0.0275), (-0.169 - tail, seat - 0.0001), (-0.197 - tail, seat - 0.0001), (-0.197 - tail, 0.019),
        (-sizes.SHAFT_TAIL - tail, 0.019),
    ]  # fmt: skip
    wide, _, long = sizes.KEY
    keyway = block([0, sizes.SHAFT_END_RADIUS - 0.0012, KEY_MIDDLE], [wide - 0.0008, 0.003, long], (0.2, 0.21, 0.22))
    return joined(turned_part(outline, SHAFT, 28), keyway)


def key() -> Mesh:
    wide, high, long = sizes.KEY
    return block([0, sizes.KEY_TOP - high / 2, KEY_MIDDLE], [wide, high, long], palette.BRASS)


def rotor_core(gap: float) -> Mesh:
    """Sheets on the shaft, `gap` m less than the bore in radius."""
    return tube(sizes.SHAFT_IN_CORE, sizes.BORE - gap - 0.0003, -sizes.CORE_HALF, sizes.CORE_HALF, np.array(LAMINATIONS) * 0.8)


def wound_core(gap: float) -> Mesh:
    """The same with slots for a winding."""
    pitch = 2 * np.pi / ROTOR_SLOTS
    top = sizes.BORE - gap
    tooth = sector(np.linspace(0.25 * pitch, 0.75 * pitch, 3), 0.056, top, sizes.CORE_HALF)
    teeth = repeated(tooth.coloured(np.array(LAMINATIONS) * 0.85), pitch * np.arange(ROTOR_SLOTS))
    return joined(teeth, tube(sizes.SHAFT_IN_CORE, 0.0565, -sizes.CORE_HALF, sizes.CORE_HALF, np.array(LAMINATIONS) * 0.85))


def bars(gap: float) -> Mesh:
    """The bars of a cage, seen in the narrow openings of their slots, skewed."""
    low, high, half = 0.060, sizes.BORE - gap, sizes.CORE_HALF + 0.001
    return repeated(_skewed(low, high, half, 0.0021), 2 * np.pi / BARS * np.arange(BARS))


def _skewed(low: float, high: float, half: float, wide: float) -> Mesh:
    """A flat bar from radius `low` to `high`, `wide` to either side, that turns by the skew from end to end."""
    straight = block([(low + high) / 2, 0, 0], [high - low, 2 * wide, 1.0], ALUMINIUM)
    pieces = []
    cuts = np.linspace(-half, half, 4)
    for start, end in zip(cuts, cuts[1:], strict=False):
        points = straight.points.copy()
        z = np.where(points[:, 2] > 0, end, start)
        turn = SKEW * z / (2 * half)
        x = points[:, 0] * np.cos(turn) - points[:, 1] * np.sin(turn)
        y = points[:, 0] * np.sin(turn) + points[:, 1] * np.cos(turn)
        pieces.append(Mesh(np.column_stack([x, y, z]), straight.normals, straight.colours, straight.triangles))
    return joined(*pieces)


def end_rings() -> Mesh:
    """The two rings that join the bars, with the blades that stir the air inside."""
    low, high, end = sizes.END_RING
    front = tube(low, high, sizes.CORE_HALF + 0.0002, end, ALUMINIUM)
    blade = block(
        [(low + high) / 2, 0, (end + sizes.BLADE_END) / 2 - 0.001], [high - low - 0.003, 0.0045, sizes.BLADE_END - end + 0.002], ALUMINIUM
    )
    one = joined(front, repeated(blade, 2 * np.pi * np.arange(9) / 9))
    one = shaded(one)
    return joined(one, turned_round(one))


def rotor_winding(gap: float) -> Mesh:
    """Coil sides in the slots of a wound rotor, its end windings, bound, and three leads along the shaft to the slip rings."""
    pitch = 2 * np.pi / ROTOR_SLOTS
    side = sector(np.linspace(-0.24 * pitch, 0.24 * pitch, 3), 0.057, sizes.BORE - gap - 0.0006, sizes.CORE_HALF + 0.008)
    sides = repeated(side.coloured((0.83, 0.55, 0.33)), pitch * np.arange(ROTOR_SLOTS))
    low, high, end = sizes.ROTOR_HEAD
    head = end_winding(low, high, sizes.CORE_HALF + 0.004, end, ROTOR_SLOTS)
    leads = [
        rod(
            polar(0.0335, 2 * np.pi * k / 3 + 0.3, sizes.RINGS_AT[0] + 0.0105),
            polar(0.0335, 2 * np.pi * k / 3 + 0.3, -0.100),
            0.003,
            CORD,
            6,
        )
        for k in range(3)
    ]
    return joined(sides, head, turned_round(head), *leads)


def slip_rings() -> Mesh:
    """Three rings on one insulating bush."""
    rings = [tube(0.034, sizes.RING_RADIUS, z - sizes.RING_HALF, z + sizes.RING_HALF, BRONZE, 36) for z in sizes.RINGS_AT]
    back, front = sizes.RINGS_AT[-1] - 0.011, sizes.RINGS_AT[0] + 0.010
    discs = [
        tube(0.034, 0.039, (a + b) / 2 - 0.003, (a + b) / 2 + 0.003, INSULATION, 28)
        for a, b in zip(sizes.RINGS_AT, sizes.RINGS_AT[1:], strict=False)
    ]
    return joined(tube(0.0277, 0.0355, back, front, INSULATION, 28), *rings, *discs)


def brushes() -> Mesh:
    """One on each ring, upright on top of it."""
    across, along = sizes.BRUSH
    foot = sizes.RING_RADIUS - 0.0001
    return joined(*[block([0, (foot + sizes.BRUSH_TOP) / 2, z], [across, sizes.BRUSH_TOP - foot, along], CARBON) for z in sizes.RINGS_AT])


def brush_holders() -> Mesh:
    """A box round each brush, open below and above, on a spindle beside them."""
    across, along = sizes.BRUSH
    high = 0.072
    middle, tall, wall = (HOLDER_FOOT + high) / 2, high - HOLDER_FOOT, 0.0022
    parts = []
    for z in sizes.RINGS_AT:
        for side in (-1, 1):
            parts.append(block([side * (across / 2 + wall), middle, z], [wall, tall, along + 4 * wall], BRONZE))
            parts.append(block([0, middle, z + side * (along / 2 + wall)], [across + 2 * wall, tall, wall], BRONZE))
        parts.append(block([0.020, 0.070, z], [0.016, 0.008, along], BRONZE))
    x, y = SPINDLE_AT
    first, last = sizes.RINGS_AT[0] + 0.009, sizes.RINGS_AT[-1] - 0.009
    parts.append(rod([x, y - 0.014, last], [x, y - 0.014, first], 0.0055, palette.STEEL, 10))
    return joined(*parts)


def brush_cover() -> Mesh:
    """The lid over the window in the end shield."""
    back, front = sizes.WINDOW
    half = sizes.WINDOW_HALF_ANGLE + 0.05
    low = sizes.BARREL[1] + 0.0002
    lid = ring_part(low, low + 0.005, TOP - half, TOP + half, back - 0.0055, front + 0.002, np.array(SHIELD) * 0.9)
    knob = rod([0, low + 0.003, (back + front) / 2], [0, low + 0.016, (back + front) / 2], 0.010, palette.STEEL, 10)
    return joined(lid, knob)
