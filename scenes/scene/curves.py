"""What is drawn beside the picture: a chart against time, or a plot with what moves on it."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True)
class Chart:
    """A chart against time: what it shows, its unit, the seconds in sight, and its lines (name, colour).

    below: words, unit and lines of a second chart under it, with an upward axis of its own; its values come after the others.
    """

    words: str
    unit: str
    seconds: float
    series: tuple[tuple[str, str], ...] = field(default=())
    below: tuple[str, str, tuple[tuple[str, str], ...]] | None = None


@dataclass(frozen=True)
class Line:
    """A curve of a plot: name, colour and points, shape (n, 2); it is broken off where y is nan."""

    name: str
    colour: str
    points: tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Mark:
    """A marker on a plot that moves with the scene."""

    name: str
    colour: str
    x: float
    y: float


@dataclass(frozen=True)
class Plot:
    """Curves against something other than time, which change with the settings: axes with units, and lines; `x_ticks`: the values
    that are named along it, where only these have a meaning."""

    x_words: str
    x_unit: str
    y_words: str
    y_unit: str
    lines: tuple[Line, ...]
    x_ticks: tuple[float, ...] = ()
