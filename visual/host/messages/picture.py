"""What is drawn: the bodies and where the eye is, what may be pressed, plots and charts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, TypedDict

from visual.host.messages.values import Vector


class Stream(TypedDict, total=False):
    """VPython's objects: commands and attributes (see bridge.py and page/picture/stream.js); `fresh` if this is all there is."""

    cmds: list[dict[str, Any]]
    attrs: list[str]
    fresh: bool


class UprightView(TypedDict):
    """What a picture that is higher than wide has in place of the same in its `View`."""

    forward: Vector
    subject: Sequence[Sequence[Vector]]


class View(TypedDict):
    """Where the eye is: unit vectors. `directions`: the words with their vectors; `subject`: boxes, their corners in metres, that
    shall fill the picture; `upright`: where an upright picture is filled otherwise; `letters`: those that come first."""

    name: str
    forward: Vector
    up: Vector
    subject: Sequence[Sequence[Vector]]
    upright: UprightView | None
    directions: Sequence[tuple[str, Vector]]
    letters: Sequence[str]


class Pick(TypedDict):
    """A thing in the picture that may be pressed, `alone` or to be joined to the next: its words, and where it stands: on the bench, or
    counted from the drawn object with the number `on`, or nowhere."""

    name: str
    words: str
    at: Vector | None
    alone: bool
    on: int | None


class Axis(TypedDict):
    """An axis of a plot; `ticks`: the values named along it, or none where any may be."""

    words: str
    unit: str
    ticks: list[float]


class Curve(TypedDict):
    """A curve of a plot: points with x and y; None for y where it is broken off."""

    name: str
    colour: str
    points: list[list[float | None]]


class Plot(TypedDict):
    x: Axis
    y: Axis
    lines: list[Curve]


class Mark(TypedDict):
    """Where on the plot something is now; without `y`, a vertical line at `x`."""

    name: str
    colour: str
    x: float
    y: float | None


class ChartPoints(TypedDict):
    """What is new: seconds, then each line's value; null is a gap."""

    clear: bool
    points: list[list[float | None]]
