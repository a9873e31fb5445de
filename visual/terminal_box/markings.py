"""Markings as they are stamped or printed: terminal letters drawn as strokes, part of the thing and turned with it.

Letters that lie over the picture (`solids.Letters`) are few at a time; a terminal board has more, and they belong to it.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from visual.solid.mesh import Mesh, joined, rod
from visual.solid.solids import Solid
from visual.solid.told import Told, point

# Of each character its strokes, lines through points, one unit high from the foot.
STROKES: dict[str, tuple[tuple[tuple[float, float], ...], ...]] = {
    "U": (((0, 1), (0, 0.25), (0.1, 0.06), (0.3, 0), (0.5, 0.06), (0.6, 0.25), (0.6, 1)),),
    "V": (((0, 1), (0.32, 0), (0.64, 1)),),
    "W": (((0, 1), (0.22, 0), (0.44, 0.8), (0.66, 0), (0.88, 1)),),
    "L": (((0, 1), (0, 0), (0.5, 0)),),
    "P": (((0, 0), (0, 1), (0.38, 1), (0.54, 0.88), (0.54, 0.62), (0.38, 0.5), (0, 0.5)),),
    "E": (((0.5, 1), (0, 1), (0, 0), (0.5, 0)), ((0, 0.5), (0.4, 0.5))),
    "1": (((0, 0.78), (0.22, 1), (0.22, 0)),),
    "2": (((0.02, 0.78), (0.12, 0.95), (0.28, 1), (0.46, 0.93), (0.52, 0.74), (0.42, 0.52), (0, 0), (0.54, 0)),),
    "3": (((0.03, 0.92), (0.22, 1), (0.42, 0.95), (0.48, 0.77), (0.4, 0.58), (0.2, 0.53)),
          ((0.2, 0.53), (0.42, 0.47), (0.53, 0.27), (0.42, 0.05), (0.2, 0), (0, 0.1))),
    "0": (((0.27, 0), (0.08, 0.12), (0, 0.5), (0.08, 0.88), (0.27, 1), (0.46, 0.88), (0.54, 0.5), (0.46, 0.12), (0.27, 0)),),
    "4": (((0.4, 0), (0.4, 1), (0, 0.3), (0.55, 0.3)),),
    "5": (((0.5, 1), (0.08, 1), (0.04, 0.56), (0.3, 0.62), (0.5, 0.5), (0.53, 0.28), (0.42, 0.05), (0.2, 0), (0, 0.1)),),
    "6": (((0.46, 0.95), (0.25, 0.95), (0.08, 0.7), (0, 0.35), (0.08, 0.08), (0.27, 0), (0.46, 0.08), (0.53, 0.3), (0.42, 0.52),
           (0.25, 0.57), (0.04, 0.4)),),
    "7": (((0, 1), (0.54, 1), (0.18, 0)),),
    "8": (((0.27, 0.53), (0.08, 0.63), (0.04, 0.8), (0.12, 0.95), (0.27, 1), (0.42, 0.95), (0.5, 0.8), (0.46, 0.63), (0.27, 0.53),
           (0.06, 0.4), (0, 0.22), (0.1, 0.05), (0.27, 0), (0.44, 0.05), (0.54, 0.22), (0.48, 0.4), (0.27, 0.53)),),
    "9": (((0.08, 0.05), (0.29, 0.05), (0.46, 0.3), (0.54, 0.65), (0.46, 0.92), (0.27, 1), (0.08, 0.92), (0.01, 0.7), (0.12, 0.48),
           (0.29, 0.43), (0.5, 0.6)),),
    "A": (((0, 0), (0.32, 1), (0.64, 0)), ((0.12, 0.36), (0.52, 0.36))),
    "Y": (((0, 1), (0.3, 0.5), (0.6, 1)), ((0.3, 0.5), (0.3, 0))),
    "\N{GREEK CAPITAL LETTER DELTA}": (((0, 0), (0.36, 1), (0.72, 0), (0, 0)),),
    "H": (((0, 0), (0, 1)), ((0.56, 0), (0.56, 1)), ((0, 0.5), (0.56, 0.5))),
    "K": (((0, 0), (0, 1)), ((0.55, 1), (0, 0.4)), ((0.16, 0.55), (0.56, 0))),
    "N": (((0, 0), (0, 1), (0.56, 0), (0.56, 1)),),
    "Z": (((0, 1), (0.56, 1), (0, 0), (0.56, 0)),),
    "k": (((0, 0), (0, 1)), ((0.42, 0.62), (0, 0.24)), ((0.14, 0.36), (0.44, 0))),
    "z": (((0, 0.6), (0.42, 0.6), (0, 0), (0.42, 0)),),
    "m": (((0, 0), (0, 0.6)), ((0, 0.45), (0.2, 0.6), (0.34, 0.5), (0.34, 0)), ((0.34, 0.45), (0.54, 0.6), (0.68, 0.5), (0.68, 0))),
    "i": (((0.02, 0), (0.02, 0.6)), ((0.02, 0.82), (0.02, 0.9))),
    "n": (((0, 0), (0, 0.6)), ((0, 0.45), (0.2, 0.6), (0.38, 0.5), (0.38, 0))),
    "/": (((0, -0.05), (0.4, 1.05)),),
    ".": (((0.02, 0.0), (0.02, 0.06)),),
    " ": (),
}  # fmt: skip
BETWEEN = 0.24  # from one character to the next
THICK = 0.075  # half a stroke


@lru_cache(maxsize=512)
def stamped(text: str, height: float, colour: tuple[float, float, float]) -> Mesh:
    """The text with its middle at the origin, upright in x and y, `height` metres high, read from +z."""
    pieces, right = [], 0.0
    for character in text:
        strokes = STROKES[character]
        for stroke in strokes:
            points = [np.array([right + x, y - 0.5, 0.0]) * height for x, y in stroke]
            pieces += [rod(a, b, THICK * height, colour, 4) for a, b in zip(points, points[1:], strict=False)]
        right += max((x for stroke in strokes for x, _ in stroke), default=0.2) + BETWEEN
    return joined(*pieces).moved([-(right - BETWEEN) * height / 2, 0, 0])


class Stamped(Solid):
    """Markings, all one solid: (text, place of its middle, height in metres, colour); the places are those before it is moved.
    `left_out`: whether they are not to be seen although what they stand on is."""

    def __init__(self, group, markings):
        self.markings = list(markings)
        self.left_out = False
        super().__init__(joined(*[stamped(text, height, colour).moved(at) for text, at, height, colour in self.markings]))
        self.put((0, 0, 0))
        group.add(self)

    def leave_out(self, left_out: bool) -> None:
        self.left_out = left_out
        self.drawn.visible = self.visible and not left_out

    def _show(self) -> None:
        super()._show()
        self.leave_out(self.left_out)

    def tell(self, found: Told) -> None:
        for text, at, _, _ in () if self.left_out else self.markings:
            found.letters.append((text, point(np.add(at, self.place[0])), ""))


class Marking(Solid):
    """One marking that may be put elsewhere."""

    def __init__(self, group, text: str, height: float, colour):
        super().__init__(stamped(text, height, colour))
        self.text = text
        group.add(self)

    def tell(self, found: Told) -> None:
        found.letters.append((self.text, point(self.place[0]), ""))
