"""A plot of the bench on paper: axes with their figures, lines told apart by how they are broken, and the marks of one instant."""

from __future__ import annotations

import math
from collections.abc import Sequence

from visual.host import messages
from visual.paper.paper import THICK, Drawing

LEFT, RIGHT, ABOVE, BELOW = 10.0, 4.0, 5.0, 8.5  # mm beside the axes, for their figures and names
LEGEND, NAME_AT = 4.0, 11.0  # mm, a row of it, and where in it a name begins
SMALL, WIDE = 2.5, 1.3  # mm, the letters, and how wide one is on the average
BROKEN = ("", "2.6 1.2", "0.5 1", "3.4 1 0.5 1", "5.5 1.4")  # mm drawn and left out, of one named line after the other
FAINT = 0.25  # mm, a line without a name
PARTS_OF_A_TURN = (10, 15, 30, 45, 60, 90, 180, 360)  # degrees


def plotted(plot: messages.Plot, marks: Sequence[messages.Mark], width: float, height: float) -> str:
    """A plot as SVG, `width` mm wide and, without its legend, `height` mm high."""
    named, rows = _names(plot), rows_of_legend(plot, width)
    of = f" of {', '.join(named)}" if named else ""
    drawing = Drawing(width, height + rows * LEGEND, f"Curves{of}: {_titled(plot['y'])} against {_titled(plot['x'])}.")
    sheet = _Axes(drawing, plot, height)
    sheet.draw()
    for line in plot["lines"]:
        place = named.index(line["name"]) if line["name"] else 0
        for run in _runs(line["points"]):
            drawing.line(*map(sheet.at, run), width=THICK if line["name"] else FAINT, dashes=BROKEN[place % len(BROKEN)])
    for mark in marks:
        sheet.mark(mark, "" if mark["name"] in named else mark["name"])
    for place, name in enumerate(named if rows else ()):
        down, across = divmod(place, _columns(named, width))
        x, y = across * width / 2 - width / 2 + 1, (rows - down - 0.5) * LEGEND - drawing.height / 2
        drawing.line((x, y), (x + 9, y), width=THICK, dashes=BROKEN[place % len(BROKEN)])
        drawing.letters((x + NAME_AT, y), name, SMALL, bold=False, anchor="start")
    return drawing.svg()


def rows_of_legend(plot: messages.Plot, width: float) -> int:
    """How many rows its legend has, of `LEGEND` mm each, on a drawing so wide."""
    named = _names(plot)
    return math.ceil(len(named) / _columns(named, width)) if len(named) > 1 else 0


def _columns(named: Sequence[str], width: float) -> int:
    """Two beside each other where each has room for its name."""
    return 2 if max(map(len, named), default=0) * WIDE + NAME_AT + 2 <= width / 2 else 1


def _names(plot: messages.Plot) -> list[str]:
    return [line["name"] for line in plot["lines"] if line["name"]]


class _Axes:
    """The axes of a plot, and where a point of it lies on the drawing."""

    def __init__(self, drawing: Drawing, plot: messages.Plot, height: float):
        self.drawing, self.plot = drawing, plot
        points = [point for line in plot["lines"] for run in _runs(line["points"]) for point in run]
        xs, ys = [point[0] for point in points], [point[1] for point in points]
        self.x_ticks = plot["x"]["ticks"] or _ticks(min(xs), max(xs), plot["x"]["unit"])
        self.y_ticks = _ticks(min(0.0, *ys), max(0.0, *ys), "", beyond=True)
        self.x, self.y = (min(xs), max(xs)), (self.y_ticks[0], self.y_ticks[-1])
        half, top = drawing.width / 2, drawing.height / 2
        self.left, self.right, self.top, self.bottom = LEFT - half, half - RIGHT, top - ABOVE, top - height + BELOW

    def at(self, point: Sequence[float]) -> tuple[float, float]:
        """The place of a point; beyond the axes it lies at their end."""
        return _between(point[0], self.x, self.left, self.right), _between(point[1], self.y, self.bottom, self.top)

    def draw(self) -> None:
        for value in self.y_ticks:
            _, y = self.at((self.x[0], value))
            self.drawing.line((self.left, y), (self.right, y), width=0.3 if value == 0 else 0.1)
            self.drawing.letters((self.left - 1, y), _figure(value), SMALL, bold=False, anchor="end")
        for value in self.x_ticks:
            x, _ = self.at((value, 0))
            self.drawing.line((x, self.bottom), (x, self.top), width=0.1)
            self.drawing.letters((x, self.bottom - 2.2), _figure(value), SMALL, bold=False)
        self.drawing.letters((self.left - LEFT + 1, self.top + 3), _titled(self.plot["y"]), SMALL, anchor="start")
        self.drawing.letters((self.right, self.bottom - 5.8), _titled(self.plot["x"]), SMALL, anchor="end")

    def mark(self, mark: messages.Mark, name: str) -> None:
        """A dot, or a line across where it has no height, with its name."""
        height = mark["y"]
        if height is None:
            x, y = self.at((mark["x"], self.y[1]))
            self.drawing.line((x, self.bottom), (x, y), width=0.4)
        else:
            x, y = self.at((mark["x"], height))
            self.drawing.circle((x, y), 1.1, fill="#fff", width=0.6)
        toward_left = x > self.right - 20
        self.drawing.letters((x - 2 if toward_left else x + 2, y - 2), name, SMALL, anchor="end" if toward_left else "start")


def _titled(axis: messages.Axis) -> str:
    return f"{axis['words']} ({axis['unit']})" if axis["unit"] else axis["words"]


def _runs(points: Sequence[Sequence[float | None]]) -> list[list[tuple[float, float]]]:
    """The pieces of a line that is broken off where it has no height."""
    runs: list[list[tuple[float, float]]] = [[]]
    for x, y in points:
        if x is None or y is None:
            runs.append([])
        else:
            runs[-1].append((x, y))
    return [run for run in runs if len(run) > 1]


def _ticks(low: float, high: float, unit: str, beyond: bool = False) -> list[float]:
    """Round values from `low` to `high`, or with `beyond` to the next round one on each side."""
    span = (high - low) or 1.0
    power = 10.0 ** math.floor(math.log10(span / 4))
    step = next(part for part in (1, 2, 2.5, 5, 10) if span / (part * power) <= 6) * power
    if unit == "°":
        step = next((part for part in PARTS_OF_A_TURN if span / part <= 8), PARTS_OF_A_TURN[-1])
    first, last = (math.floor(low / step), math.ceil(high / step)) if beyond else (math.ceil(low / step), math.floor(high / step))
    return [number * step for number in range(first, max(last, first + 1 if beyond else last) + 1)]


def _between(value: float, ends: tuple[float, float], least: float, most: float) -> float:
    share = (value - ends[0]) / (ends[1] - ends[0]) if ends[1] > ends[0] else 0.5
    return least + min(1.0, max(0.0, share)) * (most - least)


def _figure(value: float) -> str:
    return f"{value:.4g}".replace("-", "\N{MINUS SIGN}")
