"""What a scene is: what does not change while it runs."""

from __future__ import annotations

from typing import NotRequired, TypedDict

from visual.host.messages.values import Scalar, Vector


class SceneTitle(TypedDict):
    name: str
    title: str


class ChoiceWords(TypedDict):
    """One of several: its value, and how it is called."""

    value: str
    words: str


class Control(TypedDict):
    """A control of the scene. `kind` is "number", "choice" or "switch"; `role` is "current", "field" or "": what a reversing key
    takes. With `only_with` [name, value] it is shown only while that other control has that value; `other` stands for any value that is
    none of its choices."""

    name: str
    words: str
    unit: str
    kind: str
    role: str
    default: Scalar
    only_with: list[Scalar] | None
    low: NotRequired[float]
    high: NotRequired[float]
    step: NotRequired[float]
    choices: NotRequired[list[ChoiceWords]]
    other: NotRequired[str]


class Direction(TypedDict):
    words: str
    axis: Vector


class ReadyView(TypedDict):
    name: str
    words: str
    forward: Vector
    up: Vector
    directions: list[Direction]


class ArrowKey(TypedDict):
    letter: str
    words: str
    colour: str
    unit: str


class Series(TypedDict):
    name: str
    colour: str


class ChartBelow(TypedDict):
    """A second chart under the first, against the same time."""

    words: str
    unit: str
    series: list[Series]


class ChartAxes(TypedDict):
    """A chart against time, and the seconds in sight."""

    words: str
    unit: str
    seconds: float
    series: list[Series]
    below: ChartBelow | None


class Scene(TypedDict):
    """What does not change while a scene runs."""

    name: str
    title: str
    principle: str
    caution: str
    leaves_out: list[str]
    narration: str
    controls: list[Control]
    views: list[ReadyView]
    arrows: list[ArrowKey]
    chart: ChartAxes | None
    questions: list[ChoiceWords]
