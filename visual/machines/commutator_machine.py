"""A machine of three coils on a spindle between magnet poles, its commutator, slip rings and brushes open to view.

The shaft is z, the drive end with its wheel toward +z, commutator and brushes toward -z. Angles in radians,
counter-clockwise seen from +z; at rotor angle 0 the first side of coil k is at 2 pi k / 3, its second opposite.
"""

from __future__ import annotations

import math

import numpy as np

from visual import palette
from visual.apparatus.circuit import cord
from visual.apparatus.flux import flux_tubes
from visual.apparatus.magnets import facing_magnets
from visual.machines.machine_shapes import lathed, ring_part
from visual.machines.stator import CurrentMark, polar, turned
from visual.solid.mesh import block, joined, rod
from visual.solid.solids import Arrow, Group, Letters, Solid
from visual.solid.told import Told, point

COILS = 3
COIL_HEX = ("#8257b8", "#2f9fd6", "#7f8520")  # enamel of coils 1, 2, 3
COIL_COLOURS = tuple(palette.rgb(colour) for colour in COIL_HEX)
BRIDGED = (0.93, 0.9, 0.84)  # a coil that a brush short-circuits
FLOOR = -0.082  # m, the top of the board
DRUM = 0.024  # m, radius of commutator and slip rings
COMMUTATOR = (-0.112, -0.080)  # m along the shaft
RINGS = (-0.087, -0.105)  # m, the middle of each slip ring
RING = 0.010  # m, its width
WHEEL = (0.104, 0.114, 0.015)  # m along the shaft, and radius, of the pulley that is cranked or braked
CRANK = 0.030  # m
WIRE = 0.0060  # m across a coil side
POLE = np.array([0.032, 0.090, 0.100])  # m, of each magnet
MARK = 0.0105  # m, radius of a dot or cross for the largest current
NEAR = 0.013  # m before the end of a coil side, where its dot or cross and its arrows stand free
LOW, HIGH = np.array([0.66, 0.42, 0.24]), np.array([1.0, 0.86, 0.42])  # copper at the low and at the high potential


# Long, for coils, segments and what is marked on them turn together, each by a short method.
class CommutatorMachine(Group):
    """Coil sides at `radius`, `length` long, poles `gap` apart; the edges of segments (3, 2) at rotor angle 0 and of
    brushes (2, 2) in rad, one brush on the left and one on the right; `names` (2,) of the brushes."""

    def __init__(self, radius: float, length: float, gap: float, segment_edges, brush_edges, names):
        super().__init__()
        self.radius, self.length, self.gap = radius, length, gap
        self.add(Solid(self._stand())).put((0, 0, 0))
        self.magnet = self.add(Solid(facing_magnets(gap, POLE, (1.0, 0, 0))))
        self.flux = self.add(Solid(self._flux()))
        self.poles = [
            self.add(Letters(letter, palette.PAPER, 26, ground=colour)) for letter, colour in (("N", palette.NORTH), ("S", palette.SOUTH))
        ]
        self.spindle = self.add(Solid(self._spindle(np.mean(segment_edges, axis=1))))
        middles = np.mean(segment_edges, axis=1)
        # one coil and one segment, and the others are the same a third of a turn on
        first, last = segment_edges[0]
        coil, segment = Solid(self._coil(middles[0], middles[1])), Solid(ring_part(0.006, DRUM, first, last, *COMMUTATOR, (1, 1, 1)))
        self.coils, self.segments = ([self.add(one), *[self.add(one.copy()) for _ in range(COILS - 1)]] for one in (coil, segment))
        self.rings = self.add(
            Solid(
                joined(
                    *[ring_part(0.008, DRUM, 0, 2 * np.pi, z - RING / 2, z + RING / 2, palette.BRASS) for z in RINGS],
                    ring_part(0.004, 0.013, 0, 2 * np.pi, *COMMUTATOR, palette.CORD),
                )
            )
        )
        self.brushes = {
            "commutator": self.add(Solid(joined(*[_brush(edges, *COMMUTATOR) for edges in brush_edges]))),
            "slip-rings": self.add(
                Solid(joined(*[_brush(edges, z - RING / 2, z + RING / 2) for edges, z in zip(brush_edges, RINGS, strict=True)]))
            ),
        }
        for drawn in self.brushes.values():
            drawn.put((0, 0, 0))
        self.names = names
        sides = np.sign(np.cos(np.mean(brush_edges, axis=1)))
        self.holders = np.array([[side * 0.050, FLOOR + 0.016, -0.096] for side in sides])
        self.signs = [self.add(Letters(name, palette.INK, 22, ground=palette.PAPER)) for name in names]
        self.brush_sides = sides
        self.segment_middles, self.angle, self.charged = middles, 0.0, False
        front = WHEEL[1]
        self.crank = self.add(
            Solid(
                joined(
                    block([0, CRANK / 2, front + 0.003], [0.008, CRANK + 0.008, 0.006], palette.STEEL),
                    rod([0, CRANK, front + 0.004], [0, CRANK, front + 0.034], 0.0048, palette.CORD, 10),
                )
            )
        )
        self.shoe = self.add(
            Solid(
                joined(
                    ring_part(WHEEL[2], WHEEL[2] + 0.008, np.radians(-40), np.radians(40), WHEEL[0], WHEEL[1], palette.CORD),
                    block([WHEEL[2] + 0.016, 0, WHEEL[0] + 0.005], [0.02, 0.012, 0.012], palette.SLATE),
                )
            )
        )

    def turn(self, angle: float) -> None:
        """Turn everything that is on the spindle to the rotor angle."""
        self.angle = angle
        for number, parts in enumerate(zip(self.coils, self.segments, strict=True)):
            turned_by = turned(angle + 2 * np.pi * number / COILS)
            for part in parts:
                part.put((0, 0, 0), turned_by)
        for part in (self.spindle, self.rings, self.crank):
            part.put((0, 0, 0), turned(angle))

    def magnetise(self, share: float) -> None:
        """Field to the right with a positive `share`, to the left with a negative one; none with 0."""
        sense = -1.0 if share < 0 else 1.0
        turned_over = np.diag([sense, sense, 1.0])
        self.magnet.put((0, 0, 0), turned_over)
        self.flux.put((0, 0, 0), turned_over)
        self.flux.visible = share != 0
        for letters in self.poles:
            letters.visible = share != 0
        self.poles[0].put((-sense * (self.gap / 2 + 0.012), POLE[1] / 2, POLE[2] / 2))
        self.poles[1].put((sense * (self.gap / 2 + 0.012), POLE[1] / 2, POLE[2] / 2))

    def collect_with(self, name: str) -> None:
        """ "commutator" or "slip-rings": which of them is on the spindle."""
        for segment in self.segments:
            segment.visible = name == "commutator"
        self.rings.visible = name == "slip-rings"
        for each, drawn in self.brushes.items():
            drawn.visible = each == name

    def bridge(self, coils) -> None:
        """Show which coils a brush short-circuits."""
        for coil, colour, bridged in zip(self.coils, COIL_COLOURS, coils, strict=True):
            _tint(coil, BRIDGED if bridged else colour)

    def charge(self, shares, telling: bool) -> None:
        """Colour each segment by its potential: 0 that of the negative brush, 1 that of the positive one; `telling` is whether
        the colours stand for that."""
        self.charged = telling
        for segment, share in zip(self.segments, np.round(8 * np.clip(shares, 0.0, 1.0)) / 8, strict=True):
            _tint(segment, LOW + share * (HIGH - LOW))

    def letter_brushes(self, toward: float) -> None:
        """Put the brushes' names where they stand free, seen from the side of +z (1) or of -z (-1)."""
        for letters, side in zip(self.signs, self.brush_sides, strict=True):
            letters.put((side * 0.054, 0.018, -0.096) if toward > 0 else (side * 0.062, -0.03, -0.106))

    def sign(self, sense: float) -> None:
        """Mark the brushes: `sense` > 0 when the first one is positive, < 0 the second one, 0 for no mark."""
        for letters, name, own in zip(self.signs, self.names, (sense, -sense), strict=True):
            letters.text = f"{name} +" if own > 0 else f"{name} \N{MINUS SIGN}" if own < 0 else name

    def tell(self, found: Told) -> None:
        """What colours and flux lines stand for, read from how they are drawn."""
        if self.flux.visible:
            found.needles.append(("flux lines between the poles", (0.0, 0.0, 0.0), point(self.flux.place[1])))
        for number, (segment, middle) in enumerate(zip(self.segments, self.segment_middles, strict=True)):
            if segment.visible and self.charged:
                at, share = polar(DRUM, middle + self.angle, sum(COMMUTATOR) / 2), _share(segment.tint)
                potential = "low" if share < 0.25 else "high" if share > 0.75 else "middle"
                found.marks.append((f"segment {number + 1}: {potential} potential", point(at), 0))
        for number, coil in enumerate(self.coils):
            if coil.tint == BRIDGED:
                found.marks.append(
                    (f"coil {number + 1}: commutating", point(polar(self.radius, self.angle + 2 * np.pi * number / COILS)), 0)
                )

    def drive(self, by_hand: bool, braked: bool) -> None:
        """The crank on the pulley, or else the brake shoe beside it, pressed on or not."""
        self.crank.visible = by_hand
        self.shoe.visible = not by_hand
        self.shoe.put((0.0 if braked else 0.01, 0, 0))

    def _stand(self):
        far = self.gap / 2 + POLE[0] / 2
        return joined(
            block([-0.008, FLOOR - 0.007, -0.005], [0.40, 0.014, 0.29], palette.WOOD),
            *[block([side * far, (FLOOR - POLE[1] / 2) / 2, 0], [0.04, -POLE[1] / 2 - FLOOR, 0.07], palette.SLATE) for side in (-1, 1)],
            *[block([0, (FLOOR - 0.004) / 2, z], [0.014, -0.004 - FLOOR, 0.008], palette.SLATE) for z in (0.088, -0.13)],
            *[ring_part(0.004, 0.009, 0, 2 * np.pi, z - 0.004, z + 0.004, palette.BRASS) for z in (0.088, -0.13)],
            *[block([side * 0.050, FLOOR / 2 - 0.004, -0.096], [0.007, -FLOOR, 0.014], palette.BRASS) for side in (-1, 1)],
        )

    def _spindle(self, middles):
        """The shaft, the spokes that carry the coils, the wheel, and the risers at which coils are joined."""
        spokes = [
            rod([0, 0, 0], [(self.radius - 0.002) * np.cos(a), (self.radius - 0.002) * np.sin(a), 0], 0.0024, palette.SLATE, 6)
            for a in np.arange(6) * np.pi / 3
        ]
        behind = COMMUTATOR[1] + 0.002
        risers = [ring_part(0.010, DRUM + 0.001, a - 0.15, a + 0.15, behind, behind + 0.004, palette.COPPER) for a in middles]
        back, front, rim = WHEEL
        outline = [
            (back, 0.004),
            (back + 0.0005, rim - 0.001),
            (back + 0.002, rim),
            (front - 0.002, rim),
            (front - 0.0005, rim - 0.001),
            (front, 0.004),
        ]
        return joined(
            rod([0, 0, -0.138], [0, 0, front], 0.004, palette.STEEL, 12),
            lathed(outline, palette.BRASS, 28),
            block([0, -0.009, front], [0.003, 0.010, 0.002], palette.SLATE),
            *spokes,
            *risers,
        )

    def _coil(self, begins: float, ends: float):
        """The first coil as one thick wire, white: from its riser along the first side, round the shaft, back, to its other
        riser. Round the shaft it climbs toward the drive end and at the risers away from it, so that three such coils, each a
        third of a turn on, lie clear of each other."""
        reach, at = self.length / 2, self.radius
        joint = COMMUTATOR[1] + 0.004
        low, climb = reach - 0.004, 0.0165 / np.pi

        def half(angle, riser, bow, lift):
            """From a riser along the side at `angle` to the bow round the shaft."""
            return [
                polar(DRUM, riser, joint),
                polar(DRUM + 0.006, riser, joint + 0.002 + lift),
                polar(at, angle, -reach - 0.008),
                polar(at, angle, -reach),
                polar(at, angle, 0),
                polar(at, angle, bow - 0.006),
                polar(at - 0.004, angle, bow),
            ]

        round_shaft = [polar(0.016, a, low + climb * a) for a in np.linspace(0, np.pi, 7)]
        second = half(np.pi, ends, low + climb * np.pi, 0.004)
        return cord([*half(0.0, begins, low, 0.0), *round_shaft, *second[::-1]], WIRE, (1, 1, 1), 5)

    def _flux(self):
        x = self.gap / 2 - 0.0005
        return flux_tubes(
            [np.linspace([-x, y, z], [x, y, z], 9) for y in (-0.03, 0.0, 0.03) for z in (-0.03, 0.03)], 0.0012, heads=(0.13, 0.87)
        )


class CoilSide:
    """What is shown of one coil side: a disc with a dot where its current comes out and one with a cross where it goes
    in, an arrow for the force on it and one for its EMF."""

    def __init__(self, group, length: float, name: str, colour):
        self.marks = group.add(CurrentMark(length / 2 + NEAR))
        self.force = group.add(Arrow("", palette.FORCE, 0.0062, stands_for="F"))
        self.emf = group.add(Arrow("", palette.EMF, 0.0072, stands_for="e"))
        self.name = group.add(Letters(name, palette.PAPER, 16, ground=colour))

    def scale(self, metres_per_newton: float, metres_per_volt: float) -> None:
        """How long the arrows are."""
        self.force.metres_per_unit, self.emf.metres_per_unit = metres_per_newton, metres_per_volt

    def put(self, place, current: float, force, emf: float, near_end: float) -> None:
        """`place` (3,) of its middle; `current` toward +z as a share of the largest; `force` (3,) in N and `emf` toward +z in V;
        the force stands at the end with this z, the nearer one."""
        share = np.sign(current) * (0.55 + 0.45 * min(1.0, abs(current))) if abs(current) > 0.02 else 0.0
        self.marks.put(place, MARK, share)
        # from the rim of the mark, which stays to be seen
        x, y, z = place
        size = math.hypot(*force)
        beside = MARK / size if size > 0 else 0.0
        self.force.put((x + beside * force[0], y + beside * force[1], near_end + beside * force[2]), force)
        self.emf.put((x, y, z - self.emf.metres_per_unit * emf / 2), (0.0, 0.0, emf))
        self.name.put((1.34 * x, 1.34 * y, near_end))


def _brush(edges, back: float, front: float):
    """A carbon brush between `edges` on the drum, and the holder that brings it its current."""
    start, end = edges
    middle = (start + end) / 2
    way = np.sign(np.cos(middle))
    return joined(
        ring_part(DRUM + 0.0003, DRUM + 0.013, start, end, back + 0.002, front - 0.002, palette.INK),
        block([way * 0.044, 0, (back + front) / 2], [0.020, 0.010, min(front - back, 0.016)], palette.BRASS),
    )


def _share(colour) -> float:
    """The potential that a segment of this colour shows: 0 low, 1 high."""
    return float((np.asarray(colour) - LOW) @ (HIGH - LOW) / ((HIGH - LOW) @ (HIGH - LOW)))


def _tint(solid: Solid, colour) -> None:
    wanted = tuple(float(part) for part in colour)
    if getattr(solid, "tint", None) != wanted:
        solid.tint = wanted  # type: ignore[attr-defined]  # kept with the solid, for the next picture
        solid.colour(wanted)
