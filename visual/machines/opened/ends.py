"""What closes the motor at its ends and cools it: end shields, bearings, external fan, fan cowl."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.machines.machine_shapes import ring_part
from visual.machines.opened import sizes
from visual.machines.opened.housing import turned_round
from visual.machines.opened.turned import ball, tube, turned_part
from visual.machines.stator import polar
from visual.solid.mesh import Mesh, block, joined, repeated, rod
from visual.solid.shade import shaded

SHIELD = (0.47, 0.63, 0.69)
COWL, FAN = (0.33, 0.42, 0.47), (0.30, 0.33, 0.36)
BALLS = 9
TOP = np.pi / 2


def drive_end_shield() -> Mesh:
    """A dish with the seat of the bearing in its hub, ribs, and the heads of its bolts."""
    return shaded(joined(_dish(0.0), _bolts()))


def other_end_shield() -> Mesh:
    """The same at the non-drive end."""
    return turned_round(drive_end_shield())


def slip_ring_end_shield() -> Mesh:
    """At the non-drive end of a motor with slip rings: a barrel round them, open at the top, between flange and hub."""
    low, high = sizes.BARREL
    back, front = sizes.WINDOW
    flange = joined(tube(low, sizes.CORE_OUTSIDE - 0.0002, -0.140, -0.132, SHIELD), tube(low, sizes.SHIELD_RADIUS, -0.152, -0.140, SHIELD))
    open_to, open_from = TOP + sizes.WINDOW_HALF_ANGLE, TOP - sizes.WINDOW_HALF_ANGLE + 2 * np.pi
    barrel = [
        tube(low, high, front, -0.150, SHIELD),
        ring_part(low, high, open_to, open_from, back, front, SHIELD),
        tube(low, high, back - 0.006, back, SHIELD),
    ]
    hub = turned_round(_dish(sizes.BEHIND, flange=False))
    return shaded(joined(flange, *barrel, hub, turned_round(_bolts())))


def _dish(beyond: float, flange: bool = True) -> Mesh:
    """At the drive end: flange and spigot in the frame, cone, hub; `beyond`: further along the shaft. Without the flange its cone begins
    at the barrel."""
    face, seat = sizes.SHIELD_FACE, sizes.BEARING_OUTSIDE
    outer = [(0.140, sizes.SHIELD_RADIUS), (0.153, sizes.SHIELD_RADIUS), (0.156, 0.138)] if flange else [(0.148, sizes.BARREL[1])]
    inner = (
        [(0.149, 0.117), (0.132, 0.117), (0.132, sizes.CORE_OUTSIDE - 0.0002), (0.140, sizes.CORE_OUTSIDE - 0.0002)]
        if flange
        else [(0.148, sizes.BARREL[0])]
    )
    outline = [
        *outer, (0.178, 0.098), (0.190, 0.072), (face, 0.067), (face, 0.0245), (0.197, 0.0245), (0.197, seat), (0.169, seat),
        (0.169, 0.062),
        *inner,
    ]  # fmt: skip
    rib = block([0.102, 0, 0.170], [0.060, 0.007, 0.022], SHIELD)
    dish = joined(turned_part(outline, SHIELD), repeated(rib, 2 * np.pi * (np.arange(8) + 0.5) / 8))
    return dish.moved([0, 0, beyond])


def _bolts() -> Mesh:
    at = [polar(0.1425, angle, 0.153) for angle in 2 * np.pi * (np.arange(4) + 0.5) / 4]
    return joined(*[rod(place, place + [0, 0, 0.006], 0.0062, palette.STEEL, 6) for place in at])


def bearing() -> Mesh:
    """Two rings and the balls between them, its middle at the origin."""
    low, high, half = sizes.BEARING_BORE, sizes.BEARING_OUTSIDE, sizes.BEARING_HALF
    steel, bright = (0.72, 0.75, 0.77), (0.90, 0.91, 0.92)
    middle = (low + high) / 2
    balls = [ball(polar(middle, 2 * np.pi * k / BALLS), 0.0078, bright) for k in range(BALLS)]
    cage = tube(middle - 0.0016, middle + 0.0016, -0.006, 0.006, palette.BRASS, 28)
    return joined(tube(low, low + 0.0085, -half, half, steel, 28), tube(high - 0.0075, high, -half, half, steel, 28), cage, *balls)


def fan() -> Mesh:
    """Hub, back plate and straight blades, which blow the same whichever way it turns; at the non-drive end."""
    start, end = -sizes.FAN_AT[0], -sizes.FAN_AT[1]
    hub = tube(0.0192, 0.036, end, start, FAN, 24)
    plate = tube(0.030, sizes.FAN_RADIUS, start - 0.007, start - 0.003, FAN)
    blade = block([(0.030 + sizes.FAN_RADIUS) / 2, 0, (start + end) / 2 - 0.003], [sizes.FAN_RADIUS - 0.030, 0.004, 0.024], FAN)
    return shaded(joined(hub, plate, repeated(blade, 2 * np.pi * np.arange(9) / 9)))


def cowl() -> Mesh:
    """A drum of sheet over the fan; the air comes in through the grid in its end."""
    start, end = -sizes.COWL_AT[0], -sizes.COWL_AT[1]
    outer, inner = sizes.COWL_RADIUS, sizes.COWL_RADIUS - 0.003
    parts = [
        turned_part([(start, inner), (start, outer), (end + 0.012, outer), (end, outer - 0.012), (end, outer - 0.038), (end + 0.003,
                     outer - 0.038), (end + 0.003, outer - 0.0135), (end + 0.013, inner)], COWL),
    ]  # fmt: skip
    parts += [tube(r, r + 0.008, end, end + 0.003, COWL, 32) for r in (0.104, 0.088, 0.072, 0.056, 0.040)]
    parts.append(turned_part([(end, 0.0), (end + 0.003, 0.0), (end + 0.003, 0.028), (end, 0.028)], COWL, 24))
    rib = block([0.078, 0, end + 0.0015], [0.106, 0.008, 0.003], COWL)
    parts.append(repeated(rib, np.pi / 2 * np.arange(4) + np.pi / 4))
    return joined(*parts)
