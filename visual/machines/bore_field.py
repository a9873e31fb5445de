"""The field in a bore as drawn: poles on its wall, arrows across it, flux lines, and MMF round it.

All of it is built for a peak at angle 0 (counter-clockwise from x, seen from +z) and turned as a whole. Where flux comes out
of the stator into the bore the stator has a north pole, where it goes into the stator a south pole.
"""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.apparatus.flux import flux_tubes
from visual.machines.stator import StatorShape, polar, sector, turned
from visual.solid.mesh import Mesh, joined, ring
from visual.solid.solids import Arrow, Group, Letters, Solid
from visual.solid.told import Told, point

POLE_SHARE = 0.7  # of a pole pitch that is coloured
OUTWARD, INWARD = palette.SOUTH, palette.NORTH  # where flux goes into the iron the stator has its south pole
MMF_OUTWARD, MMF_INWARD = palette.FIELD, palette.NORTH


class PolesDrawn(Group):
    """North and south poles on the wall of the bore, with their letters; with a `band`, m, only that wide at both ends."""

    def __init__(self, shape: StatorShape, pole_pairs: int, letters_at: float | None = None, band: float | None = None):
        super().__init__()
        self.shape, self.pole_pairs = shape, pole_pairs
        self.letters_at = shape.bore - 0.009 if letters_at is None else letters_at
        self.solid = self.add(Solid(_pole_faces(shape, pole_pairs, band)))
        self.letters = [
            self.add(Letters(letter, palette.PAPER, 26 if pole_pairs < 3 else 22, ground=colour))
            for _ in range(pole_pairs)
            for letter, colour in (("S", palette.SOUTH), ("N", palette.NORTH))
        ]

    def put(self, peak_angle: float, side: float) -> None:
        """Turn them so that flux goes outward most at `peak_angle`, rad; letters at the end of that `side`, 1 or -1."""
        self._turned = turned(peak_angle)
        self.solid.put((0, 0, 0), self._turned)
        for place, letters in enumerate(self.letters):
            letters.put(polar(self.letters_at, peak_angle + place * np.pi / self.pole_pairs, side * self.shape.half_length))

    _turned = np.eye(3)

    def tell(self, found: Told) -> None:
        """The colour of each face, by the middle of the face as it is turned."""
        for place in range(2 * self.pole_pairs):
            middle = self._turned @ polar(self.shape.bore, place * np.pi / self.pole_pairs)
            found.marks.append((f"pole face in the colour of {'S' if _face_colour(place) is palette.SOUTH else 'N'}", point(middle), 0))


class FieldArrows(Group):
    """One arrow right across a two-pole field, or one from the shaft to each outward peak of a field of more poles.

    `longest`, metres, is the length for a field of `full`, in whatever unit the field is handed.
    """

    def __init__(self, letter: str, pole_pairs: int, longest: float, full: float = 1.0):
        super().__init__()
        self.pole_pairs, self.longest, self.metres_per_unit = pole_pairs, longest, longest / full
        self.thickness = 0.0085 if pole_pairs == 1 else 0.0065
        self.arrows = [
            self.add(Arrow("", palette.FIELD, self.thickness, self.metres_per_unit, stands_for=letter)) for _ in range(pole_pairs)
        ]
        named = [line for arrow in self.arrows for line in arrow.lines]
        self.letter = self.add(Letters(letter, palette.PAPER, 24, ground=palette.FIELD, lines=named))

    def scale(self, full: float) -> None:
        """From now on the longest arrow is for a field of `full`."""
        self.metres_per_unit = self.longest / full
        for arrow in self.arrows:
            arrow.metres_per_unit = self.metres_per_unit

    def put(self, peak_angle: float, size: float, z: float) -> None:
        """Arrows for a field of `size` with an outward peak at `peak_angle`; none for nothing. At `z` along the shaft."""
        length = size * self.metres_per_unit
        for k, arrow in enumerate(self.arrows):
            way = polar(1.0, peak_angle + 2 * np.pi * k / self.pole_pairs)
            start = -0.5 * length * way if self.pole_pairs == 1 else 0.006 * way
            arrow.put(start + [0, 0, z], size * way)
        # beside the arrow, for at its tip stands the pole
        along = 0.3 * length if self.pole_pairs == 1 else 0.006 + 0.6 * length
        beside = polar(1.9 * self.thickness, peak_angle + np.pi / 2) + polar(along, peak_angle)
        self.letter.put(beside + [0, 0, z])


class LinesDrawn(Group):
    """Flux lines in a few strengths, of which one is shown: sets (each two lists of (n, 2) lines) in rising number."""

    def __init__(self, shape: StatorShape, sets):
        super().__init__()
        face = shape.half_length + 0.0015
        self.sets = []
        for bore, yoke in sets:
            lines = flux_tubes([_at(line, 0.0) for line in bore], 0.0012, heads=(0.5,), sides=3)
            closing = [flux_tubes([_at(line, z) for line in yoke], 0.0012, heads=(), sides=3) for z in (face, -face)]
            self.sets.append(self.add(Solid(joined(lines, *closing))))
        self._strands = [[np.asarray(line) for line in bore] for bore, _ in sets]
        self._turned = np.eye(3)

    def put(self, peak_angle: float, share: float) -> None:
        """As many lines as the field is strong: all of them at a share of 1."""
        wanted = round(min(share, 1.0) * len(self.sets)) - 1
        self._turned = turned(peak_angle)
        for place, lines in enumerate(self.sets):
            lines.visible = self.visible and place == wanted
            if place == wanted:
                lines.put((0, 0, 0), self._turned)

    def tell(self, found: Told) -> None:
        """Where each line in sight ends on the wall of the bore, and which way its arrowhead points there."""
        for lines, strands in zip(self.sets, self._strands, strict=True):
            for strand in strands if lines.visible else ():
                last = np.append(strand[-1] - strand[-2], 0.0)
                end = np.append(strand[-1], 0.0)
                found.needles.append(("flux line", point(self._turned @ end), point(self._turned @ last / np.linalg.norm(last))))


class MmfRing(Group):
    """MMF round the bore, as a stepped curve that goes round: from a base circle as far outward or inward as it drives flux, one
    step to every tooth.

    The highest step stands for `full`, in whatever unit the MMF is handed; arrows told of it have the letter Θ.
    """

    BASE, HIGHEST = 0.036, 0.017  # m

    def __init__(self, tooth_angles, full: float = 1.0):
        super().__init__()
        self.full = full
        self.angles = np.asarray(tooth_angles, float)
        self.circle = self.add(Solid(ring(self.BASE, 0.0014, palette.STEEL, around=48, sides=4).turned([[1, 0, 0], [0, 0, -1], [0, 1, 0]])))
        steps = [
            Solid(_step(self.BASE, way * self.HIGHEST, len(self.angles), colour)) for way, colour in ((1, MMF_OUTWARD), (-1, MMF_INWARD))
        ]
        self.steps = [[self.add(step if k == 0 else step.copy()) for k in range(len(self.angles))] for step in steps]
        self.letter = self.add(Letters("Θ", palette.PAPER, 24, ground=MMF_OUTWARD))
        self._drawn: list[tuple[np.ndarray, np.ndarray]] = []  # foot of each step in sight, and the vector it stands for

    def put(self, values, z: float) -> None:
        """MMF on each tooth, outward positive; at `z` along the shaft."""
        self.circle.put((0, 0, z))
        self.letter.put((0, 0, z))
        self._drawn = []
        for outward, inward, angle, value in zip(*self.steps, self.angles, values, strict=True):
            for step, height, sign in ((outward, value / self.full, 1), (inward, -value / self.full, -1)):
                step.visible = self.visible and height > 0.01
                if height > 0.01:
                    height = round(float(height), 3)
                    step.put(polar(self.BASE, angle, z), turned(angle), (height, 1.0, 1.0))
                    self._drawn.append((polar(self.BASE, angle, z), polar(sign * height * self.full, angle)))

    def tell(self, found: Told) -> None:
        found.arrows.extend(("Θ", point(foot), point(vector)) for foot, vector in self._drawn)


def _at(line, z: float) -> np.ndarray:
    return np.column_stack([line, np.full(len(line), z)])


def _pole_faces(shape: StatorShape, pole_pairs: int, band: float | None) -> Mesh:
    pitch = np.pi / pole_pairs
    span = np.linspace(-POLE_SHARE * pitch / 2, POLE_SHARE * pitch / 2, max(5, 25 // pole_pairs))
    long = shape.half_length + 0.001
    half, places = (long, [0.0]) if band is None else (band / 2, [long - band / 2, band / 2 - long])
    return joined(
        *[
            sector(k * pitch + span, shape.bore - 0.0035, shape.bore - 0.0005, half).coloured(_face_colour(k)).moved([0, 0, z])
            for k in range(2 * pole_pairs)
            for z in places
        ]
    )


def _face_colour(place: int):
    """Of the face `place` pole pitches from the outward peak."""
    return INWARD if place % 2 else OUTWARD


def _step(base: float, height: float, count: int, colour) -> Mesh:
    """The step of one tooth, its foot on the base circle at the origin, `height` along x (inward below 0)."""
    half = np.tan(np.pi / count)
    near, far = half * base, half * (base + height)
    thick = 0.002
    corners = np.array([[0, -near], [height, -far], [height, far], [0, near]])
    front, back = (np.column_stack([corners, np.full(4, z)]) for z in (thick, -thick))
    points = np.vstack([front, back])
    normals = np.repeat([[0, 0, 1.0], [0, 0, -1.0]], 4, axis=0)
    triangles = np.array([[0, 1, 2], [0, 2, 3], [4, 6, 5], [4, 7, 6]])
    if height < 0:
        triangles = triangles[:, ::-1]
    return Mesh(points, normals, np.tile(np.asarray(colour, float), (8, 1)), triangles)
