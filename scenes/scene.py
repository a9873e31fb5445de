"""What every scene is: its principle, controls, readings, question, caution and narration as data, and one step.

A scene knows no page and no socket. `step(seconds)` moves its physics by that much of its own time, `draw()` hands
vectors to `visual`. Settings are checked here, in one place, whoever they come from: page, address or command line.
A control that matters only while another has a certain value says so with `only_with`, and is left out of the page else.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from physics.arguments import quoted

ONE_STEP = 1 / 25  # s as shown
ROLES = ("current", "field")  # what a reversing key takes


@dataclass(frozen=True)
class Number:
    """A control that takes a number from `low` to `high`; `role` says which reversing key turns its sign."""

    name: str
    words: str
    default: float
    unit: str
    low: float
    high: float
    step: float
    role: str = ""
    only_with: tuple[str, object] | None = None
    kind = "number"

    def checked(self, value) -> float:
        try:
            number = float(value)
        except (TypeError, ValueError, OverflowError):
            number = math.nan
        if isinstance(value, bool) or not self.low <= number <= self.high:
            unit = f" {self.unit}" if self.unit else ""
            raise ValueError(f"{self.name} takes a number from {self.low:g} to {self.high:g}{unit}, not {quoted(value)}.")
        return number + 0.0

    def reversed(self, value: float) -> float:
        return -value + 0.0

    def text(self, value: float) -> str:
        return f"{value:.10g}"


@dataclass(frozen=True)
class Choice:
    """A control that takes one of a few values, each with its words; a pair of values can be reversed."""

    name: str
    words: str
    default: str
    choices: tuple[tuple[str, str], ...]
    role: str = ""
    unit: str = ""
    only_with: tuple[str, object] | None = None
    kind = "choice"

    def checked(self, value) -> str:
        names = [name for name, _ in self.choices]
        if str(value) not in names:
            raise ValueError(f"{self.name} takes one of {', '.join(names)}, not {quoted(value)}.")
        return str(value)

    def reversed(self, value: str) -> str:
        first, second = (name for name, _ in self.choices)
        return second if value == first else first

    def text(self, value: str) -> str:
        return value


@dataclass(frozen=True)
class Switch:
    """A control that is on or off."""

    name: str
    words: str
    default: bool
    unit: str = ""
    role: str = ""
    only_with: tuple[str, object] | None = None
    kind = "switch"
    SAID = {"on": True, "true": True, "1": True, "yes": True, "off": False, "false": False, "0": False, "no": False}

    def checked(self, value) -> bool:
        if str(value).lower() not in self.SAID:
            raise ValueError(f"{self.name} takes on or off, not {quoted(value)}.")
        return self.SAID[str(value).lower()]

    def text(self, value: bool) -> str:
        return "on" if value else "off"


def slow_motion(default: str = "1", factors: tuple[str, ...] = ("1", "2", "5", "10", "50")) -> Choice:
    """The control for how many times slower than life a scene runs, one of `factors`; every scene has it."""
    return Choice(
        "slow", "Slow motion", default,
        tuple((n, "as fast as life" if n == "1" else f"{n} times slower") for n in factors),
    )


@dataclass(frozen=True)
class Reading:
    """One figure: its symbol, what it is, its value as text, its unit, and the formula with this moment's numbers.

    `tells` marks a figure that gives away the answer to the scene's question.
    """

    symbol: str
    words: str
    value: str
    unit: str
    formula: str = ""
    tells: bool = False


@dataclass(frozen=True)
class Question:
    """A question about the present set-up, the values and words to choose from, the answer and why it is so."""

    text: str
    choices: tuple[tuple[str, str], ...]
    answer: str
    reason: str


@dataclass(frozen=True)
class View:
    """Where the eye is: it looks along `forward` at `centre`, and `reach` metres are seen above and below that."""

    name: str
    words: str
    forward: tuple[float, float, float]
    centre: tuple[float, float, float]
    reach: float
    up: tuple[float, float, float] = (0.0, 1.0, 0.0)


@dataclass(frozen=True)
class Key:
    """What an arrow's letter and colour stand for."""

    letter: str
    words: str
    colour: str


@dataclass(frozen=True)
class Chart:
    """A curve against time: what it shows, its unit, how many seconds stay in sight, and its lines."""

    words: str
    unit: str
    seconds: float
    series: tuple[tuple[str, str], ...] = field(default=())


@dataclass(frozen=True)
class Line:
    """A curve of a plot: its name, its colour and its points, shape (n, 2)."""

    name: str
    colour: str
    points: tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Mark:
    """A point on a plot that moves with the scene: where it is now."""

    name: str
    colour: str
    x: float
    y: float


@dataclass(frozen=True)
class Plot:
    """Curves against something other than time that change with the settings: axes with their units, and lines."""

    x_words: str
    x_unit: str
    y_words: str
    y_unit: str
    lines: tuple[Line, ...]


class Scene:
    """One principle on the bench. A scene sets the class attributes, and what it needs of the methods below."""

    name: str
    title: str
    principle: str
    controls: tuple
    narration: str
    caution: str = ""
    arrows: tuple[Key, ...] = ()
    views: tuple[View, ...]
    chart: Chart | None = None

    def __init__(self):
        self.by_name = {control.name: control for control in self.controls}
        self.settings = {control.name: control.default for control in self.controls}
        self.answers_shown = True
        self.view = self.views[0].name
        self.built = False
        self.drawn = None
        self.restart()

    def __getitem__(self, name: str):
        """The present value of a control."""
        return self.settings[name]

    def set(self, name: str, value) -> None:
        """Set one control; `ValueError`, and nothing changed, when there is no such control or no such value."""
        if name not in self.by_name:
            raise ValueError(f"{self.name} has no control {quoted(name)}; it has {', '.join(self.by_name)}.")
        value = self.by_name[name].checked(value)
        if value != self.settings[name]:
            self.settings[name] = value
            self.changed(name)

    def set_all(self, values: dict) -> None:
        """Set several controls, all or none."""
        for name, value in values.items():
            if name not in self.by_name:
                raise ValueError(f"{self.name} has no control {quoted(name)}; it has {', '.join(self.by_name)}.")
            self.by_name[name].checked(value)
        for name, value in values.items():
            self.set(name, value)

    def reverse(self, role: str) -> None:
        """Reverse what carries that role; `ValueError` where the scene has nothing of the kind."""
        if role not in ROLES:
            raise ValueError(f"What can be reversed is {' or '.join(ROLES)}, not {quoted(role)}.")
        for control in self.controls:
            if control.role == role:
                self.set(control.name, control.reversed(self[control.name]))
                return
        raise ValueError(f"There is no {role} to reverse in this scene.")

    def look(self, name: str) -> None:
        """See it from the view of that name; `ValueError` when there is none."""
        self.view = self.checked_view(name)

    def checked_view(self, name: str) -> str:
        """The name of a view; `ValueError` when there is none of that name."""
        if name not in [view.name for view in self.views]:
            raise ValueError(f"{self.name} is seen from {', '.join(view.name for view in self.views)}, not {quoted(name)}.")
        return name

    @property
    def eye(self) -> View:
        """The view it is seen from."""
        return next(view for view in self.views if view.name == self.view)

    @property
    def slowness(self) -> float:
        return float(self["slow"])

    def changed(self, name: str) -> None:
        """A control has a new value."""

    def restart(self) -> None:
        """Everything as at the start, the settings as they are."""

    def step(self, seconds: float) -> None:
        """Move the physics on by `seconds` of the scene's own time."""

    def one_step(self) -> None:
        """Move on by as much as one press of the step key shall: a short while, or to the next numbered instant."""
        self.step(ONE_STEP / self.slowness)

    def revealed(self) -> None:
        """A question was answered: make happen what was asked about."""

    def build(self, host) -> None:
        """Make what is drawn, once, as the group `self.drawn`; `host.name` names what tests shall find."""

    def draw(self) -> None:
        """Hand the present vectors to what is drawn."""

    def chart_point(self) -> list[float] | None:
        """The present values of the chart's lines."""
        return None

    def plot(self) -> Plot | None:
        """The curves of the present settings; the same object while they do not change."""
        return None

    def marks(self) -> list[Mark]:
        """Where on the plot the scene is now; a mark with the y nan is a line across at its x."""
        return []

    def readings(self) -> list[Reading]:
        """The figures of this moment."""
        return []

    def scales(self) -> dict[str, str]:
        """What the length of each arrow means, by its letter."""
        return {}

    def says(self) -> str:
        """The present state in one sentence, for who does not see the picture."""
        return self.principle

    def question(self) -> Question:
        """The question about the present set-up, answered by `physics`."""
        raise NotImplementedError(f"{self.name} asks nothing")

    def random_setup(self, random) -> dict:
        """Settings to ask about, drawn with `random.choice` and its like."""
        return {}


def minus(value: float, decimals: int) -> str:
    """A number with a real minus sign and no minus on nothing, as it stands in print."""
    text = f"{value:.{decimals}f}"
    if float(text) == 0:
        text = text.lstrip("-")
    return text.replace("-", "\N{MINUS SIGN}")


def unit_vector(vector) -> np.ndarray:
    """The direction of `vector`, or nothing where it has none."""
    length = np.linalg.norm(vector)
    return np.asarray(vector, float) / length if length > 0 else np.zeros(3)
