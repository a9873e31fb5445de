"""Curves on paper: the currents of three phases over time, torque over speed."""

from __future__ import annotations

import numpy as np

from visual.paper.paper import Drawing

DASHES = ("", "2.2 1", "0.7 0.9")  # told apart without colour; in mm, of one curve after the other
LEFT, RIGHT, BOTTOM, TOP = -25.0, 31.0, -17.0, 15.0  # mm, the frame in a drawing of 68 x 44 mm


class Axes:
    """Axes in a drawing, and what is drawn into them in the quantities' own units; y from `low` to `high`."""

    def __init__(self, words: str, across: tuple[float, float], upward: tuple[float, float], names: tuple[str, str]):
        self.drawing = Drawing(68, 48, words)
        self._across, self._upward = across, upward
        self._curves = 0
        foot = max(BOTTOM, self.at(across[0], 0.0)[1])
        self.drawing.arrow((LEFT, foot), (RIGHT + 2, foot), width=0.3)
        self.drawing.arrow((LEFT, BOTTOM), (LEFT, TOP + 4), width=0.3)
        self.drawing.letters(((LEFT + RIGHT) / 2, BOTTOM - 5.6), names[0], 3.0, bold=False)
        self.drawing.letters((LEFT + 3, TOP + 6.6), names[1], 3.0, bold=False)

    def at(self, x: float, y: float) -> np.ndarray:
        """The place of a point, mm."""
        (first, last), (low, high) = self._across, self._upward
        return np.array([LEFT + (RIGHT - LEFT) * (x - first) / (last - first), BOTTOM + (TOP - BOTTOM) * (y - low) / (high - low)])

    def marks(self, across, upward=()) -> None:
        """Marks with their numbers along both axes."""
        for x in across:
            place = np.array([self.at(x, 0)[0], BOTTOM])
            self.drawing.line(place, place + (0, 1.2))
            self.drawing.letters(place - (0, 2.2), f"{x:g}", 2.8, bold=False)
        for y in upward:
            place = np.array([LEFT, self.at(0, y)[1]])
            self.drawing.line(place, place + (1.2, 0))
            self.drawing.letters(place - (3.6, 0), f"{y:g}", 2.8, bold=False)

    def curve(self, letter: str, xs, ys, named_at: float, above: float = 2.6) -> None:
        """A curve, with its letter beside the point nearest to x = `named_at`."""
        dashes = DASHES[self._curves % len(DASHES)]
        self._curves += 1
        with self.drawing.group(f"curve {letter}"):
            self.drawing.line(*(self.at(x, y) for x, y in zip(xs, ys, strict=True)), width=0.5, dashes=dashes)
        nearest = int(np.argmin(np.abs(np.asarray(xs) - named_at)))
        self.drawing.letters(self.at(xs[nearest], ys[nearest]) + (0, above), letter, 3.4)

    def upright(self, x: float) -> None:
        """A thin dashed line upward at x."""
        with self.drawing.group("instant"):
            self.drawing.line((self.at(x, 0)[0], BOTTOM), (self.at(x, 0)[0], TOP), dashes="1.6 1.2")


def three_phases(times, values, marks, instant: float | None, words: str) -> Axes:
    """Currents of U, V, W, of -1 to 1, over time, ms; `values` (3, n); an instant may be marked."""
    axes = Axes(words, (float(times[0]), float(times[-1])), (-1.1, 1.1), ("t in ms", "i"))
    axes.marks(marks)
    for letter, value in zip("UVW", values, strict=True):
        axes.curve(letter, times, value, float(times[int(np.argmax(value))]))
    if instant is not None:
        axes.upright(instant)
    return axes
