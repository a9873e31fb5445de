"""Drawings for paper: lines, arrows, letters and conductors end-on, as SVG in black and grey.

Places are in millimetres from the centre of the drawing, x to the right and y up, as on the bench. Meaning is carried by
letters and shapes, never by colour, which a copier loses. The same calls give the same text.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from html import escape

import numpy as np

GREY = "#d4d4d4"
THIN, THICK = 0.3, 0.7  # mm
HEAD = 2.6  # mm, an arrow's head; it is half as wide


class Drawing:
    """A drawing of `width` x `height` mm; `words` describes it for screen-reader users."""

    def __init__(self, width: float, height: float, words: str):
        self.width, self.height, self.words = width, height, words
        self._parts: list[str] = []

    def svg(self) -> str:
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" role="img" width="{_mm(self.width)}mm" '
            f'height="{_mm(self.height)}mm" viewBox="0 0 {_mm(self.width)} {_mm(self.height)}" '
            f'aria-label="{escape(self.words)}">'
            f"{''.join(self._parts)}</svg>"
        )

    def line(self, *places, width: float = THIN, dashes: str = "", closed: bool = False, fill: str = "none") -> None:
        """A line through places, or a closed outline; `dashes`: lengths of line and gap, mm."""
        points = " ".join(self._at(place) for place in places)
        dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
        self._parts.append(
            f'<poly{"gon" if closed else "line"} points="{points}" fill="{fill}" '
            f'stroke="#000" stroke-width="{_mm(width)}" stroke-linejoin="round"{dashed}/>'
        )

    def block(self, centre, width: float, height: float, fill: str = "#fff") -> None:
        """A rectangle."""
        x, y = width / 2, height / 2
        self.line(*(np.add(centre, corner) for corner in ((-x, -y), (x, -y), (x, y), (-x, y))), closed=True, fill=fill)

    def circle(self, centre, radius: float, fill: str = "none", width: float = THIN) -> None:
        x, y = self._at(centre).split(",")
        self._parts.append(f'<circle cx="{x}" cy="{y}" r="{_mm(radius)}" fill="{fill}" stroke="#000" stroke-width="{_mm(width)}"/>')

    def letters(self, place, text: str, size: float = 4.2, bold: bool = True, anchor: str = "middle") -> None:
        """Letters centred on `place`, or with their "start" or "end" there, `size` mm high with a white edge; what follows a _ is a
        subscript."""
        x, y = self._at(place).split(",")
        head, low, tail = text.partition("_")
        lowered = f'<tspan dy="{_mm(size * 0.25)}" font-size="{_mm(size * 0.7)}">{escape(tail)}</tspan>' if low else ""
        serif = ' font-family="Liberation Serif, Times New Roman, serif"' if head == "I" else ""  # without its bars it looks like a line
        self._parts.append(
            f'<text x="{x}" y="{y}" font-size="{_mm(size)}" font-weight="{700 if bold else 400}" text-anchor="{anchor}"{serif} '
            'dominant-baseline="central" stroke="#fff" stroke-width="0.7" stroke-linejoin="round" paint-order="stroke">'
            f"{escape(head)}{lowered}</text>"
        )

    def arrow(self, start, end, letter: str = "", width: float = THICK) -> None:
        """An arrow with its letter beyond the tip; nothing where start and end are the same."""
        start, end = np.asarray(start, float), np.asarray(end, float)
        if np.allclose(start, end):
            return
        along = (end - start) / np.linalg.norm(end - start)
        with self.group("arrow"):
            self.line(start, end - HEAD * 0.8 * along, width=width)
            self.head(end, along)
            if letter:
                self.letters(end + 3.4 * along, letter)

    def head(self, tip, along) -> None:
        """An arrowhead alone."""
        along = np.asarray(along, float)
        across = np.array([-along[1], along[0]])
        foot = np.asarray(tip, float) - HEAD * along
        self.line(tip, foot + HEAD / 2 * across, foot - HEAD / 2 * across, closed=True, fill="#000", width=0.1)

    def turning(self, centre, radius: float, clockwise: bool) -> None:
        """A curved arrow over the top, round `centre`."""
        way = -1 if clockwise else 1
        angles = np.radians(90 + way * np.linspace(-50, 50, 21))
        places = np.asarray(centre) + radius * np.column_stack([np.cos(angles), np.sin(angles)])
        last = angles[-1]
        with self.group(f"turning {'clockwise' if clockwise else 'counter-clockwise'}"):
            self.line(*places[:-1], width=THICK)
            self.head(places[-1], way * np.array([-np.sin(last), np.cos(last)]))

    def conductor(self, place, current: float, radius: float = 3.2) -> None:
        """A conductor end-on: a dot where the current flows toward the viewer, a cross where it flows away."""
        with self.group(f"conductor {'dot' if current > 0 else 'cross' if current < 0 else 'open'}"):
            self.circle(place, radius, fill="#fff", width=0.5)
            if current > 0:
                self.circle(place, radius * 0.28, fill="#000")
            elif current < 0:
                arm = radius * 0.7
                for sign in (1, -1):
                    self.line(np.add(place, (-arm, -arm * sign)), np.add(place, (arm, arm * sign)), width=0.5)

    @contextmanager
    def group(self, name: str) -> Iterator[None]:
        """What is drawn within is one thing of that name."""
        self._parts.append(f'<g class="{name}">')
        yield
        self._parts.append("</g>")

    def _at(self, place) -> str:
        return f"{_mm(self.width / 2 + place[0])},{_mm(self.height / 2 - place[1])}"


def _mm(value: float) -> str:
    """A length rounded to 0.01 mm, without trailing zeros or a minus zero."""
    text = f"{float(value):.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
