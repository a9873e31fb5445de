"""Three windings as a circuit drawn beside the machine: as a star, as a triangle, or side by side with what joins their ends.

Ends that are joined are drawn joined. It is told like any wiring, its ends as "diagram U1" and its lines as "diagram L1".
"""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.solid.mesh import Mesh, at_right_angles, block, circle, joined, rod, swept
from visual.solid.solids import Group, Letters, Solid
from visual.solid.told import Told
from visual.terminal_box.markings import Marking

PHASES, LINES = ("U", "V", "W"), ("L1", "L2", "L3")
RADIUS, HALF, APART = 0.05, 0.026, 0.05  # m: from the middle to a corner, half a winding standing, from one to the next
BOWED = 0.026  # m that a wire across a winding goes round it
WIRES = 24
OUT = 0.016  # m from an end to its line's letters
WIRE = palette.INK
THICK = 0.0013  # m
CIRCUIT_AT, FIGURES_AT = (-0.052, -0.004), (0.076, 0.040)  # m from the middle of the sheet: the circuit, and the figures
LETTERS_ALONG = 0.0145  # m from an end to its letters


class WindingCircuit(Group):
    """The circuit about `middle`, (3,), on a sheet of paper."""

    def __init__(self, middle, size):
        super().__init__()
        self.sheet = self.add(Solid(block([0, 0, -0.003], [*size, 0.004], palette.PAPER)))
        shapes = [Solid(coil_symbol(long)) for long in (RADIUS, RADIUS * np.sqrt(3))]
        wire = Solid(rod([0, 0, 0], [1, 0, 0], 0.0011, WIRE, 6))
        for shape in (*shapes, wire):
            shape.visible = False
        self.coils = {phase: [self.add(shape.copy()) for shape in shapes] for phase in PHASES}  # of one side of a star, of a triangle
        self.wires = [self.add(wire.copy()) for _ in range(WIRES)]
        self.ends = {phase + end: Marking(self, phase + end, 0.0105, palette.INK) for phase in PHASES for end in "12"}
        self.lines = {line: Marking(self, line, 0.0125, palette.INK) for line in LINES}
        self.figures = self.add(
            Letters("", palette.INK, 16, ground=palette.PAPER, role="figure")
        )  # one, for lines apart would push each other about
        self.links: tuple[tuple[str, str], ...] = ()
        self.leads: dict[str, str] = {}
        self.shown: tuple | None = None
        self.move(middle)

    def move(self, middle) -> None:
        """Lay the sheet elsewhere; what is on it follows when it is next drawn."""
        self.middle, self.shown = np.asarray(middle, float), None
        self.sheet.put(self.middle)
        self.figures.put(self.middle + [*FIGURES_AT, 0.001])

    def draw(self, links, leads: dict[str, str], nodes: dict[str, int], figures: dict[str, str]) -> None:
        """links: pairs of ends; leads: end by line; nodes: of each end, the number of what it is joined to; figures: by phase."""
        shown = tuple(links), tuple(leads.items()), tuple(nodes.items()), self.visible
        if shown != self.shown:
            self.shown, self.links, self.leads = shown, tuple(links), dict(leads)
            self._lay(nodes)
        self.figures.text = "\n".join(f"{phase} {figures[phase]}" for phase in PHASES if phase in figures)
        self.figures.visible = self.visible and bool(figures)

    def tell(self, found: Told) -> None:
        for first, second in self.links:
            found.leads.append((f"diagram {first}", f"diagram {second}", ""))
        for line, end in self.leads.items():
            found.leads.append((f"diagram {line}", f"diagram {end}", ""))
        for phase in PHASES:
            found.leads.append((f"diagram {phase}1", f"diagram {phase}2", f"diagram winding {phase}"))
        for k, line in enumerate(LINES):
            found.leads.append((f"diagram {line}", f"diagram {LINES[(k + 1) % 3]}", "diagram mains"))

    # how it is laid out

    def _lay(self, nodes: dict[str, int]) -> None:
        self._used = 0
        places = _star(nodes) or _triangle(nodes)
        drawn_by_place = places is not None
        places = places or _side_by_side()
        for phase, coils in self.coils.items():
            start, end = places[phase + "1"], places[phase + "2"]
            ring = float(np.linalg.norm(end - start)) > 1.2 * RADIUS
            for coil, wanted in zip(coils, (not ring, ring), strict=True):
                coil.visible = self.visible and wanted
                self._put_coil(coil, start, end)
            beside = _beside(start, end, ring) if drawn_by_place else np.array([1.0, 0, 0])
            for name, here, there in ((phase + "1", start, end), (phase + "2", end, start)):
                self.ends[name].put(self._at(here + LETTERS_ALONG * (there - here) / np.linalg.norm(there - here) + 0.0135 * beside))
        if not drawn_by_place:
            for number, (first, second) in enumerate(self.links):
                self._link(places, first, second, 0.008 + 0.005 * number)
        for line, letters in self.lines.items():
            letters.visible = self.visible and line in self.leads
            if line in self.leads:
                self._line(letters, places, self.leads[line], drawn_by_place)
        for wire in self.wires[self._used :]:
            wire.visible = False

    def _link(self, places, first: str, second: str, off: float) -> None:
        a, b = places[first], places[second]
        if first[0] == second[0]:  # round the winding
            side = np.array([BOWED, 0, 0])
            self._wires(a, a + side, b + side, b)
        elif abs(a[1] - b[1]) < 1e-9:
            level = np.array([0, off * np.sign(a[1]), 0])
            self._wires(a, a + level, b + level, b)
        else:
            self._wires(a, b)

    def _line(self, letters: Marking, places, end: str, by_place: bool) -> None:
        at = places[end]
        if not by_place:
            outward = np.array([0, np.sign(at[1]), 0])
        elif np.linalg.norm(at) > 1e-6:
            outward = at / np.linalg.norm(at)
        else:  # a line on the star point, between two windings
            outward = np.array([np.cos(np.pi / 6), np.sin(np.pi / 6), 0])
        taken = [line for line in LINES if self.leads.get(line) == end]
        across = 0.02 * taken.index(letters.text) * np.array([outward[1], -outward[0], 0])  # two lines on one end
        tip = at + OUT * outward + across
        self._wires(at, tip)
        letters.put(self._at(tip + 0.0095 * outward))

    def _wires(self, *points) -> None:
        for start, end in zip(points, points[1:], strict=False):
            self._stretch(self.wires[self._used], np.asarray(start), np.asarray(end))
            self.wires[self._used].visible = self.visible
            self._used += 1

    def _stretch(self, solid: Solid, start, end) -> None:
        between = end - start
        long = float(np.linalg.norm(between))
        along = (between / long).tolist()
        solid.put_along(self._at(start), along, at_right_angles(along), (long, 1.0, 1.0))

    def _put_coil(self, coil: Solid, start, end) -> None:
        along = (end - start) / np.linalg.norm(end - start)
        coil.put_along(self._at(start), along.tolist(), [-float(along[1]), float(along[0]), 0.0])

    def _at(self, place) -> np.ndarray:
        return self.middle + [*CIRCUIT_AT, 0] + place


def _star(nodes: dict[str, int]) -> dict | None:
    """Places of the ends if one node has an end of each winding and the others are apart: the middle and three corners."""
    for common in set(nodes.values()):
        inner = [name for name, node in nodes.items() if node == common]
        if len(inner) == 3 and {name[0] for name in inner} == set(PHASES) and len(set(nodes.values())) == 4:
            places = {}
            for phase, degrees in zip(PHASES, (90, -30, 210), strict=True):
                tip = RADIUS * np.array([np.cos(np.radians(degrees)), np.sin(np.radians(degrees)), 0])
                for name in (phase + "1", phase + "2"):
                    places[name] = np.zeros(3) if name in inner else tip
            return places
    return None


def _triangle(nodes: dict[str, int]) -> dict | None:
    """Places of the ends if the windings form a ring: three corners."""
    corners = sorted(set(nodes.values()))
    if len(corners) != 3 or len({frozenset((nodes[phase + "1"], nodes[phase + "2"])) for phase in PHASES}) != 3:
        return None
    if any(nodes[phase + "1"] == nodes[phase + "2"] for phase in PHASES):
        return None
    first = nodes["U1"]
    after = nodes["U2"]
    order = [first, after, *(corner for corner in corners if corner not in (first, after))]
    at = {
        corner: RADIUS * np.array([np.cos(np.radians(d)), np.sin(np.radians(d)), 0])
        for corner, d in zip(order, (90, -30, 210), strict=True)
    }
    return {name: at[node] for name, node in nodes.items()}


def _side_by_side() -> dict:
    """The windings upright, ends 1 below."""
    return {phase + end: np.array([APART * (k - 1), HALF * (1 if end == "2" else -1), 0]) for k, phase in enumerate(PHASES) for end in "12"}


def _beside(start, end, ring: bool) -> np.ndarray:
    """Across a winding: outside a ring, whose corners are narrow; else to the left of the way outward."""
    middle, along = (start + end) / 2, (end - start) / np.linalg.norm(end - start)
    across = np.array([-along[1], along[0], 0])
    if ring:
        return across * np.sign(np.dot(middle, across))
    return across * np.sign(np.dot(middle, along))


def coil_symbol(long: float) -> Mesh:
    """A winding `long` metres in x: its ends straight, four half-rings between (the symbol of IEC 60617 for an inductor)."""
    bumps, radius = 4, 0.0055
    first = long / 2 - bumps * radius
    turn = np.linspace(np.pi, 0, 11)
    pieces = [rod([0, 0, 0], [first, 0, 0], THICK, palette.CURRENT, 6), rod([long - first, 0, 0], [long, 0, 0], THICK, palette.CURRENT, 6)]
    for k in range(bumps):
        line = np.column_stack([first + (2 * k + 1 + np.cos(turn)) * radius, 1.3 * np.sin(turn) * radius, np.zeros(11)])
        pieces.append(swept(circle(THICK, 6), line, [0, 0, 1.0], palette.CURRENT))
    return joined(*pieces)
