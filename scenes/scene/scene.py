"""What every scene is: its principle, controls, readings, question, caution and narration as data, and one step.

A scene knows no page and no socket. `step(seconds)` moves its physics by that much of its own time, `draw()` hands
vectors to `visual`. What a control takes stands in `controls.py`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from physics.arguments import quoted
from physics.directions import turning_sense
from scenes.scene.controls import ROLES, Choice, Number, Switch
from scenes.scene.seen import Directions, directions_of

ONE_STEP = 1 / 25  # s as shown
AT_REST = 1e-9  # slower than this, in whatever unit, is standing still


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

    @property
    def worked_out(self) -> bool:
        """Whether answer and reason are there without waiting for them."""
        return True


@dataclass(frozen=True)
class View:
    """Where the eye is: it looks along `forward` at `centre`, and `reach` metres are seen above and below that."""

    name: str
    words: str
    forward: tuple[float, float, float]
    centre: tuple[float, float, float]
    reach: float
    up: tuple[float, float, float] = (0.0, 1.0, 0.0)

    @property
    def directions(self) -> Directions:
        """The bench's directions in words, as they are seen from here."""
        return directions_of(self.forward, self.up)

    @property
    def side(self) -> float:
        """The sign of z on the eye's side: 1 where one looks at the drive end, -1 at the other."""
        return -1.0 if self.forward[2] > 0 else 1.0

    @property
    def end(self) -> str:
        """The end of a machine that one looks at, in words."""
        return "the drive end" if self.side > 0 else "the non-drive end"

    def turning(self, speed: float) -> str:
        """How what turns so, counter-clockwise positive from the drive end, is seen: "clockwise", "counter-clockwise", "none"."""
        return turning_sense((0.0, 0.0, speed), (0.0, 0.0, self.side)) if abs(speed) > AT_REST else "none"


@dataclass(frozen=True)
class Key:
    """What an arrow's letter and colour stand for, and the unit of the vector that is drawn."""

    letter: str
    words: str
    colour: str
    unit: str = ""


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
    controls: tuple[Number | Choice | Switch, ...]
    narration: str
    caution: str = ""
    leaves_out: tuple[str, ...] = ()  # what the real thing has and this scene's physics has not, a short sentence each
    arrows: tuple[Key, ...] = ()
    views: tuple[View, ...]
    chart: Chart | None = None

    def __init__(self):
        self.by_name = {control.name: control for control in self.controls}
        self.settings = {control.name: control.default for control in self.controls}
        self.answers_shown = True
        self.may_wait = True  # False while pictures follow each other: what takes longer than one is then worked out beside them
        self.view = self.views[0].name
        self.built = False
        self.drawn = None
        self._kept: tuple[tuple, Plot] | None = None
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

    def seen_words(self, direction) -> str:
        """A direction, shape (3,), in words as it is seen from the ready view."""
        return self.eye.directions.words(direction)

    @property
    def slowness(self) -> float:
        return float(self["slow"])

    def changed(self, name: str) -> None:
        """A control has a new value: `forget` what was worked out from the old one."""

    def forget(self, *names: str) -> None:
        """Have these `cached_property`s worked out anew when they are next asked for."""
        for name in names:
            self.__dict__.pop(name, None)

    def restart(self) -> None:
        """Everything as at the start, the settings as they are."""

    def step(self, seconds: float) -> None:
        """Move the physics on by `seconds` of the scene's own time."""

    def one_step(self) -> None:
        """Move on by as much as one press of the step key shall: a short while, or to the next numbered instant."""
        self.step(ONE_STEP / self.slowness)

    def revealed(self) -> None:
        """A question was answered: make happen what was asked about, from its start."""
        self.restart()

    def build(self, host) -> None:
        """Make what is drawn, once, as the group `self.drawn`; `host.name` names what tests shall find."""

    def draw(self) -> None:
        """Hand the present vectors to what is drawn."""

    def chart_point(self) -> list[float] | None:
        """The present values of the chart's lines."""
        return None

    def plot(self) -> Plot | None:
        """The curves of the present settings; the same object while they do not change (see `kept`)."""
        return None

    def kept(self, key: tuple, curves: Callable[[], Plot]) -> Plot:
        """What `curves()` gave for this `key`, made anew only when the key is another: for `plot`."""
        if self._kept is None or self._kept[0] != key:
            self._kept = (key, curves())
        return self._kept[1]

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
        """The question about the present set-up, answered by `physics`; every scene has its own."""
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
