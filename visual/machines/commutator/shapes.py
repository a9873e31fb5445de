"""What the commutator machine is built of: yoke and stand, spindle with its former, brushes, and the way of a coil's wire.

The shaft is z, the drive end with its pulley toward +z, commutator and brushes toward -z; metres, radians.
"""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.apparatus.circuit import cord
from visual.machines.machine_shapes import lathed, ring_part
from visual.machines.stator import polar
from visual.solid.mesh import Mesh, block, cone, joined, rod
from visual.solid.shade import bench_plate, shaded

FLOOR = -0.090  # m, the top of the board
DRUM = 0.030  # m, radius of commutator and slip rings
COMMUTATOR = (-0.124, -0.084)  # m along the shaft
RINGS = (-0.094, -0.114)  # m, the middle of each slip ring
RING = 0.012  # m, its width
WHEEL = (0.102, 0.112, 0.020)  # m along the shaft, and radius, of the pulley that is cranked or braked
BEARINGS = (0.086, -0.142)  # m along the shaft
CRANK = 0.030  # m
WIRE = 0.0075  # m across a coil side
POLE = np.array([0.032, 0.090, 0.100])  # m, of each magnet
YOKE = 0.018  # m, its thickness
HOLDER = 0.062  # m from the shaft, where the brushes' posts stand
FORMER = (0.0358, 0.037)  # m, radius and half length of the drum that carries the coils; not of iron
METER_AT, SOURCE_AT = (0.172, 0.0, -0.03), (-0.150, FLOOR, -0.118)  # m, of the meter, and of battery or lamp
FIBRE = (0.90, 0.86, 0.76)
MICA = (0.20, 0.17, 0.15)
CLIMB = 0.0205 / np.pi  # m for each rad by which a coil's end turn climbs round the shaft, so that coils lie clear of each other
CHEVRONS, PHASES = 0.036, 6  # m from one mark of the flow to the next; steps in which they move that far


def stand(gap: float) -> Mesh:
    """The board with the yoke that holds the magnets, the bearings and the brushes' posts; what stands there darkens it."""
    far = gap / 2 + POLE[0] + YOKE / 2
    top, deep = POLE[1] / 2, 0.092
    yoke = joined(
        block([0, FLOOR + YOKE / 2, 0], [2 * far + YOKE, YOKE, deep], palette.IRON),
        *[block([side * far, (FLOOR + top) / 2, 0], [YOKE, top - FLOOR, deep], palette.IRON) for side in (-1, 1)],
    )
    bearings = joined(*[_bearing(z) for z in BEARINGS])
    posts = joined(
        *[block([side * HOLDER, (FLOOR - 0.012) / 2, -0.104], [0.008, -0.012 - FLOOR, 0.016], palette.BRASS) for side in (-1, 1)]
    )
    stands = [
        (0.0, 0.0, far + YOKE / 2, deep / 2),
        *[(0.0, z, 0.016, 0.007) for z in BEARINGS],
        *[(side * HOLDER, -0.104, 0.004, 0.008) for side in (-1, 1)],
        *[(x, z, 0.036, 0.015) for x, _, z in (METER_AT, SOURCE_AT)],
    ]
    board = bench_plate(0.27, 0.168, FLOOR, 0.014, palette.WOOD, stands)
    return joined(board, *[shaded(part, yoke, ground=FLOOR) for part in (yoke, bearings, posts)])


def _bearing(z: float) -> Mesh:
    """A pedestal with its bush, open above so that the shaft is seen in it."""
    return joined(
        block([0, FLOOR + 0.005, z], [0.040, 0.010, 0.016], palette.SLATE),
        block([0, (FLOOR - 0.006) / 2, z], [0.016, -0.006 - FLOOR, 0.010], palette.SLATE),
        ring_part(0.004, 0.0105, 0, 2 * np.pi, z - 0.006, z + 0.006, palette.BRASS),
    )


def spindle() -> Mesh:
    """The shaft, the former that carries the coils, and the pulley."""
    back, front, rim = WHEEL
    outline = [
        (back, 0.004),
        (back + 0.0005, rim - 0.001),
        (back + 0.002, rim),
        (front - 0.002, rim),
        (front - 0.0005, rim - 0.001),
        (front, 0.004),
    ]
    radius, half = FORMER
    return joined(
        rod([0, 0, -0.154], [0, 0, front], 0.004, palette.STEEL, 12),
        lathed(outline, palette.BRASS, 28),
        block([0, -0.011, front], [0.003, 0.014, 0.002], palette.SLATE),
        rod([0, 0, -half], [0, 0, half], radius, FIBRE, 28),
        rod([0, 0, -half - 0.012], [0, 0, half + 0.012], 0.0075, FIBRE, 12),
        ring_part(0.004, 0.016, 0, 2 * np.pi, *COMMUTATOR, MICA),
    )


def risers(middles) -> Mesh:
    """The copper lugs behind the segments, at those angles, to which coils are soldered."""
    behind = COMMUTATOR[1] + 0.001
    return joined(*[ring_part(0.016, DRUM + 0.001, a - 0.13, a + 0.13, behind, behind + 0.004, palette.COPPER) for a in middles])


def segment(edges) -> Mesh:
    """A segment between two angles, white, to be tinted by its potential."""
    start, end = edges
    return ring_part(0.0155, DRUM, start, end, COMMUTATOR[0] - 0.001, COMMUTATOR[1], (1, 1, 1))


def slip_rings() -> Mesh:
    return joined(
        *[ring_part(0.008, DRUM, 0, 2 * np.pi, z - RING / 2, z + RING / 2, palette.BRASS) for z in RINGS],
        ring_part(0.004, 0.0155, 0, 2 * np.pi, *COMMUTATOR, palette.CORD),
    )


def brush(edges, back: float, front: float) -> Mesh:
    """A carbon brush between `edges` on the drum, its holder, the spring behind it and the tail that brings it its current."""
    start, end = edges
    way = np.sign(np.cos((start + end) / 2))
    middle, long = (back + front) / 2, front - back
    tip = DRUM + 0.018
    coils = [ring_part(0.0035, 0.0052, 0, 2 * np.pi, k * 0.0028, k * 0.0028 + 0.0014, palette.STEEL, 30.0) for k in range(4)]
    spring = joined(*coils).turned([[0, 0, way], [0, 1, 0], [-way, 0, 0]]).moved([way * (tip + 0.001), 0, middle])
    return joined(
        ring_part(DRUM + 0.0003, tip, start, end, back + 0.002, front - 0.002, palette.INK),
        spring,
        block([way * (tip + 0.014), 0, middle], [0.004, 0.016, min(long, 0.024)], palette.BRASS),
        *[block([way * (tip + 0.001), s * 0.0085, middle], [0.027, 0.003, min(long, 0.022)], palette.BRASS) for s in (-1, 1)],
        rod([way * (tip + 0.016), 0, middle], [way * HOLDER, -0.013, middle], 0.004, palette.BRASS, 8),
    )


def coil_way(radius: float, length: float, begins: float, ends: float) -> np.ndarray:
    """The way of the first coil's wire, (n, 3): from the riser at the angle `begins` along the first side, at angle 0, toward +z,
    round the shaft, back along the second side, at half a turn, to the riser at `ends`.

    Round the shaft it climbs toward the drive end and at the risers away from it, so that such coils, each further on round
    the shaft, lie clear of each other.
    """
    reach, joint = length / 2, COMMUTATOR[1] + 0.004
    low = reach + 0.004

    def half(angle, riser, bow, lift):
        """From a riser along the side at `angle` to the bow round the shaft."""
        return [
            polar(DRUM, riser, joint),
            polar(DRUM + 0.006, riser, joint + 0.002 + lift),
            polar(radius, angle, -reach - 0.012),
            polar(radius, angle, -reach),
            polar(radius, angle, 0),
            polar(radius, angle, reach),
            polar(radius - 0.003, angle, bow - 0.001),
        ]

    round_shaft = [polar(0.0155, a, low + CLIMB * a) for a in np.linspace(0, np.pi, 7)]
    return np.array([*half(0.0, begins, low, 0.0), *round_shaft, *half(np.pi, ends, low + CLIMB * np.pi, 0.004)[::-1]])


def coil(way) -> Mesh:
    """A coil as one thick cord along its way, white, to be tinted."""
    return cord(way, WIRE, (1, 1, 1), 8)


def chevrons(way, step: int, sense: float) -> Mesh:
    """Marks of the flow along a coil: cones that ride on it, those of the given `step` of `PHASES`, pointed along the current;
    step by step they move on in that `sense` by the distance between two of them."""
    places = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(way, axis=0), axis=1))])

    def at(far):
        return np.array([np.interp(far, places, way[:, k]) for k in range(3)])

    parts = []
    for far in np.arange(CHEVRONS * step / PHASES + 0.006, places[-1] - 0.006, CHEVRONS):
        before, after = at(far - 0.006), at(far + 0.006)
        tip, base = (after, before) if sense > 0 else (before, after)
        long = (tip - base) / np.linalg.norm(tip - base)
        middle = (tip + base) / 2
        parts.append(cone(middle - 0.007 * long, middle + 0.010 * long, 0.0075, (1, 1, 1), 9))
    return joined(*parts)


def crank() -> Mesh:
    front = WHEEL[1]
    return joined(
        block([0, CRANK / 2, front + 0.003], [0.008, CRANK + 0.008, 0.006], palette.STEEL),
        rod([0, CRANK, front + 0.004], [0, CRANK, front + 0.034], 0.0048, palette.CORD, 10),
    )


def brake_shoe() -> Mesh:
    back, front, rim = WHEEL
    return joined(
        ring_part(rim, rim + 0.008, np.radians(-40), np.radians(40), back, front, palette.CORD),
        block([rim + 0.016, 0, back + 0.005], [0.02, 0.012, 0.012], palette.SLATE),
    )
