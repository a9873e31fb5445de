"""A figure on a display in seven segments, part of the instrument: it is as large in any picture as the instrument is."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.solid.mesh import Mesh, block, joined
from visual.solid.solids import Group, Solid
from visual.solid.told import Told, point

# a: top, b and c: right, upper and lower, d: foot, e and f: left, lower and upper, g: middle
SEGMENTS = {
    "0": "abcdef", "1": "bc", "2": "abged", "3": "abgcd", "4": "fgbc", "5": "afgcd", "6": "afgedc", "7": "abc", "8": "abcdefg",
    "9": "abcdfg", "-": "g", "\N{MINUS SIGN}": "g",
}  # fmt: skip
WIDE, THICK = 0.5, 0.11  # of the height
STEP, DOT_STEP = 0.68, 0.24  # from one character to the next, of the height
PLACES = 6


class Digits(Group):
    """Up to `PLACES` characters, `height` metres high, ending at `right`, (3,), the foot of the last; read from +z."""

    def __init__(self, right, height: float, colour=palette.INK):
        super().__init__()
        self.right, self.height, self.text = np.asarray(right, float), height, ""
        shapes = {sign: Solid(_glyph(sign, height, colour)) for sign in (*SEGMENTS, ".", ">") if sign != "-"}
        for shape in shapes.values():
            shape.visible = False
        self.glyphs = [{sign: self.add(shape.copy()) for sign, shape in shapes.items()} for _ in range(PLACES)]
        self.show("")

    def show(self, text: str) -> None:
        """Figures, point, minus sign and "greater than"; the rest is left out."""
        self.text = text.replace("-", "\N{MINUS SIGN}").replace(" ", "")[-PLACES:]
        right = self.right.copy()
        for k, glyphs in enumerate(self.glyphs):
            sign = self.text[-1 - k] if k < len(self.text) else ""
            for each, glyph in glyphs.items():
                glyph.visible = self.visible and each == sign
            if sign in glyphs:
                right[0] -= self.height * (DOT_STEP if sign == "." else STEP)
                glyphs[sign].put(right)

    def tell(self, found: Told) -> None:
        if self.text:
            found.letters.append((self.text, point(self.right), ""))


def _glyph(sign: str, high: float, colour) -> Mesh:
    """A character with its foot on the left at the origin."""
    wide, thick, deep = WIDE * high, THICK * high, 0.02 * high
    if sign == ".":
        return block([0.06 * high, thick / 2, 0], [1.2 * thick, 1.2 * thick, deep], colour)
    if sign == ">":
        turn = np.array([[np.cos(0.5), -np.sin(0.5), 0], [np.sin(0.5), np.cos(0.5), 0], [0, 0, 1.0]])
        bar = block([0, 0, 0], [wide, thick, deep], colour)
        return joined(*[bar.turned(each).moved([wide / 2, high * y, 0]) for each, y in ((turn, 0.36), (turn.T, 0.64))])
    upright, across = [thick, high / 2 - 0.6 * thick, deep], [wide - 1.2 * thick, thick, deep]
    places = {
        "a": ([wide / 2, high - thick / 2, 0], across),
        "b": ([wide - thick / 2, 0.75 * high - thick / 4, 0], upright),
        "c": ([wide - thick / 2, 0.25 * high + thick / 4, 0], upright),
        "d": ([wide / 2, thick / 2, 0], across),
        "e": ([thick / 2, 0.25 * high + thick / 4, 0], upright),
        "f": ([thick / 2, 0.75 * high - thick / 4, 0], upright),
        "g": ([wide / 2, high / 2, 0], across),
    }
    return joined(*[block(*places[segment], colour) for segment in SEGMENTS[sign]])
