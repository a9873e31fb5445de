"""A machine of one, two or three coils on a spindle between the magnets of a yoke, commutator, slip rings and brushes open to view.

The shaft is z, the drive end with its pulley toward +z, commutator and brushes toward -z. Angles in radians, counter-clockwise
seen from +z.
"""

from __future__ import annotations

import math

import numpy as np

from visual import palette
from visual.apparatus.flux import flux_tubes
from visual.apparatus.magnets import facing_magnets
from visual.machines.commutator import shapes
from visual.machines.commutator.shapes import COMMUTATOR, DRUM, FLOOR, HOLDER, PHASES, POLE, RING, RINGS
from visual.machines.stator import CurrentMark, polar, turned
from visual.solid.mesh import joined
from visual.solid.solids import Arrow, Group, Letters, Solid
from visual.solid.told import Told, point

MOST_COILS = 3
COIL_HEX = ("#8257b8", "#2f9fd6", "#7f8520")  # enamel of coils 1, 2, 3
COIL_COLOURS = tuple(palette.rgb(colour) for colour in COIL_HEX)
BRIDGED = (0.93, 0.9, 0.84)  # a coil that a brush short-circuits
FLOW = palette.rgb("#ffb31a")
MARK = 0.0115  # m, radius of a dot or cross for the largest current
NEAR = 0.030  # m before the end of a coil side, where its dot or cross and its arrows stand free of the end turns
LOW, HIGH = np.array([0.60, 0.34, 0.17]), np.array([1.0, 0.86, 0.42])  # copper at the low and at the high potential


class CommutatorMachine(Group):
    """Coil sides at `radius`, `length` long, poles `gap` apart; `windings` by the number of coils, as `Winding` takes them; the
    edges of the brushes, (2, 2) rad, one on the left and one on the right, for each number of coils; `names` (2,) of the brushes;
    flux `lines` of a field to the right, each (n, 3)."""

    def __init__(self, radius: float, length: float, gap: float, windings: dict, brush_edges, names, lines):
        super().__init__()
        self.radius, self.length, self.gap = radius, length, gap
        self.add(Solid(shapes.stand(gap))).put((0, 0, 0))
        self.magnet = self.add(Solid(facing_magnets(gap, POLE, (1.0, 0, 0))))
        self.flux = self.add(Solid(flux_tubes(lines, 0.0014, heads=(0.2, 0.8), sides=3)))
        self.poles = [
            self.add(Letters(letter, palette.PAPER, 26, ground=colour)) for letter, colour in (("N", palette.NORTH), ("S", palette.SOUTH))
        ]
        self.spindle = self.add(Solid(shapes.spindle()))
        self.windings = {count: self.add(Winding(radius, length, *each)) for count, each in windings.items()}
        self.winding = self.windings[max(windings)]
        self.rings = self.add(Solid(shapes.slip_rings()))
        self.brushes = {
            "commutator": self.add(Solid(joined(*[shapes.brush(edges, *COMMUTATOR) for edges in brush_edges]))),
            "slip-rings": self.add(
                Solid(joined(*[shapes.brush(edges, z - RING / 2, z + RING / 2) for edges, z in zip(brush_edges, RINGS, strict=True)]))
            ),
        }
        for drawn in self.brushes.values():
            drawn.put((0, 0, 0))
        self.names = names
        sides = np.sign(np.cos(np.mean(brush_edges, axis=1)))
        self.holders = np.array([[side * (HOLDER + 0.002), FLOOR + 0.016, -0.104] for side in sides])
        self.signs = [self.add(Letters(name, palette.INK, 22, ground=palette.PAPER)) for name in names]
        self.brush_sides, self.angle = sides, 0.0
        self.crank, self.shoe = self.add(Solid(shapes.crank())), self.add(Solid(shapes.brake_shoe()))

    def wind(self, coils: int) -> None:
        """The winding of so many coils, with its commutator."""
        self.winding = self.windings[coils]
        for each in self.windings.values():
            each.visible = each is self.winding

    def turn(self, angle: float) -> None:
        """Turn everything that is on the spindle to the rotor angle."""
        self.angle = angle
        self.winding.turn(angle)
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
        self.poles[0].put((-sense * (self.gap / 2 + 0.010), POLE[1] / 2 + 0.004, 0.0))
        self.poles[1].put((sense * (self.gap / 2 + 0.010), POLE[1] / 2 + 0.004, 0.0))

    def collect_with(self, name: str) -> None:
        """ "commutator" or "slip-rings": which of them is on the spindle."""
        for segment in self.winding.segments:
            segment.visible = name == "commutator"
        self.rings.visible = name == "slip-rings"
        for each, drawn in self.brushes.items():
            drawn.visible = each == name

    def letter_brushes(self, toward: float) -> None:
        """Put the brushes' names where they stand free, seen from the side of +z (1) or of -z (-1)."""
        for letters, side in zip(self.signs, self.brush_sides, strict=True):
            letters.put((side * (HOLDER + 0.004), 0.022, -0.104) if toward > 0 else (side * (HOLDER + 0.012), -0.03, -0.114))

    def sign(self, sense: float) -> None:
        """Mark the brushes: `sense` > 0 when the first one is positive, < 0 the second one, 0 for no mark."""
        for letters, name, own in zip(self.signs, self.names, (sense, -sense), strict=True):
            letters.text = f"{name} +" if own > 0 else f"{name} \N{MINUS SIGN}" if own < 0 else name

    def drive(self, by_hand: bool, braked: bool) -> None:
        """The crank on the pulley, or else the brake shoe beside it, pressed on or not."""
        self.crank.visible = by_hand
        self.shoe.visible = not by_hand
        self.shoe.put((0.0 if braked else 0.01, 0, 0))

    def tell(self, found: Told) -> None:
        """The flux lines, read from how they are drawn."""
        if self.flux.visible:
            found.needles.append(("flux lines between the poles", (0.0, 0.0, 0.0), point(self.flux.place[1])))


class Winding(Group):
    """Coils with their segments. `places`: rad of each coil's first side at rotor angle 0; `segment_edges` (segments, 2) rad there;
    `risers` (2,): the angles at which the first coil begins and ends."""

    def __init__(self, radius: float, length: float, places, segment_edges, risers):
        super().__init__()
        self.radius, self.places = radius, [float(place) for place in places]
        self.middles = np.mean(segment_edges, axis=1)
        self.way = shapes.coil_way(radius, length, *risers)
        coil, segment = Solid(shapes.coil(self.way)), Solid(shapes.segment(segment_edges[0]))
        self.coils = [self.add(coil), *[self.add(coil.copy()) for _ in self.places[1:]]]
        self.segments = [self.add(segment), *[self.add(segment.copy()) for _ in self.middles[1:]]]
        self.risers = self.add(Solid(shapes.risers(self.middles)))
        first = self.add(Flow(self.way, radius))
        self.flows = [first, *[self.add(Flow(self.way, radius, first, number)) for number in range(1, len(self.places))]]
        self.charged, self.angle = False, 0.0

    def turn(self, angle: float) -> None:
        self.angle = angle
        for coil, flow, place in zip(self.coils, self.flows, self.places, strict=True):
            turned_by = turned(angle + place)
            coil.put((0, 0, 0), turned_by)
            flow.put((0, 0, 0), turned_by)
        for segment, middle in zip(self.segments, self.middles, strict=True):
            segment.put((0, 0, 0), turned(angle + middle - self.middles[0]))
        self.risers.put((0, 0, 0), turned(angle))

    def bridge(self, coils) -> None:
        """Show which coils a brush short-circuits."""
        for coil, colour, bridged in zip(self.coils, COIL_COLOURS, coils, strict=False):
            _tint(coil, BRIDGED if bridged else colour)

    def charge(self, shares, telling: bool) -> None:
        """Colour each segment by its potential: 0 that of the negative brush, 1 that of the positive one; `telling` is whether
        the colours stand for that."""
        self.charged = telling
        for segment, share in zip(self.segments, np.round(8 * np.clip(shares, 0.0, 1.0)) / 8, strict=True):
            _tint(segment, LOW + share * (HIGH - LOW))

    def carry(self, currents, passed) -> None:
        """Current in each coil from its beginning to its end, any unit, 0 for none to be shown; `passed`: how far its marks have
        moved on along it, in distances from one to the next."""
        for flow, current, far in zip(self.flows, currents, passed, strict=True):
            flow.carry(float(current), float(far))

    def tell(self, found: Told) -> None:
        """What the colours of segments and coils stand for, read from how they are drawn."""
        for number, (segment, middle) in enumerate(zip(self.segments, self.middles, strict=True)):
            if segment.visible and self.charged:
                at, share = polar(DRUM, middle + self.angle, sum(COMMUTATOR) / 2), _share(segment.tint)
                potential = "low" if share < 0.25 else "high" if share > 0.75 else "middle"
                found.marks.append((f"segment {number + 1}: {potential} potential", point(at), 0))
        for number, (coil, place) in enumerate(zip(self.coils, self.places, strict=True)):
            if coil.tint == BRIDGED:
                found.marks.append((f"coil {number + 1}: commutating", point(polar(self.radius, self.angle + place)), 0))


class Flow(Group):
    """Marks that ride on a coil as its current flows, one ready set of them for each step and each direction."""

    def __init__(self, way, radius: float, like: Flow | None = None, number: int = 0):
        super().__init__()
        self.radius, self.number = radius, number
        if like is None:
            made = {(step, sense): Solid(shapes.chevrons(way, step, sense)) for step in range(PHASES) for sense in (1, -1)}
        else:
            made = {key: solid.copy() for key, solid in like.steps.items()}
        self.steps: dict[tuple[int, int], Solid] = {key: self.add(solid) for key, solid in made.items()}
        for solid in self.steps.values():
            solid.colour(FLOW)
            solid.visible = False
        self.shown: Solid | None = None
        self._turn = np.eye(3)

    def carry(self, current: float, passed: float) -> None:
        wanted = self.steps[int(passed * PHASES) % PHASES, 1 if current > 0 else -1] if current and self.visible else None
        if wanted is self.shown:
            return
        if self.shown is not None:
            self.shown.visible = False
        self.shown = wanted
        if wanted is not None:
            wanted.put((0, 0, 0), self._turn)
            wanted.visible = True

    def put(self, pos, turn) -> None:
        self._turn = turn
        if self.shown is not None:
            self.shown.put(pos, turn)

    def tell(self, found: Told) -> None:
        """Where the marks pass the middle of the coil's first side, and which way they point there along the shaft."""
        for (_, sense), solid in self.steps.items():
            if solid is self.shown and solid.visible:
                along = np.asarray(self._turn) @ [0.0, 0.0, float(sense)]
                found.needles.append((f"flow in coil {self.number + 1}", point(self._turn @ polar(self.radius, 0.0)), point(along)))


class CoilSide:
    """What is shown of one coil side: a disc with a dot where its current comes out and one with a cross where it goes
    in, an arrow for the force on it and one for its EMF."""

    def __init__(self, group, length: float, name: str, colour):
        self.marks = group.add(CurrentMark(length / 2 + NEAR))
        self.force = group.add(Arrow("", palette.FORCE, 0.0085, stands_for="F"))
        self.emf = group.add(Arrow("", palette.EMF, 0.0075, stands_for="e"))
        self.name = group.add(Letters(name, palette.PAPER, 16, ground=colour))

    def scale(self, metres_per_newton: float, metres_per_volt: float) -> None:
        """How long the arrows are."""
        self.force.metres_per_unit, self.emf.metres_per_unit = metres_per_newton, metres_per_volt

    def show(self, there: bool, named: bool) -> None:
        """Whether there is such a coil side at all, and whether its name is written at it."""
        self.marks.visible = self.force.visible = self.emf.visible = there
        self.name.visible = there and named

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


def _share(colour) -> float:
    """The potential that a segment of this colour shows: 0 low, 1 high."""
    return float((np.asarray(colour) - LOW) @ (HIGH - LOW) / ((HIGH - LOW) @ (HIGH - LOW)))


def _tint(solid: Solid, colour) -> None:
    wanted = tuple(float(part) for part in colour)
    if getattr(solid, "tint", None) != wanted:
        solid.tint = wanted  # type: ignore[attr-defined]  # kept with the solid, for the next picture
        solid.colour(wanted)
