"""The base of every scene: principle, controls, readings, question, caution and narration as data, and one step.

A scene knows no page and no socket. `step(seconds)` advances its physics by that much of its own time, `draw()` hands
vectors to `visual`. Whoever asks for what is seen or read says whether it may give away the answer to the scene's question.
The controls are in `controls.py`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, SupportsFloat, TypeVar

from physics.arguments import quoted
from scenes.names import did_you_mean, plain_name
from scenes.scene.controls import ROLES, Choice, Number, Switch
from scenes.scene.curves import Chart, Mark, Plot
from scenes.scene.question import Question as Question  # where scenes look for it
from scenes.scene.views import Box, View

ONE_STEP = 1 / 25  # s as shown


Curves = TypeVar("Curves", bound="Plot | None")


@dataclass(frozen=True)
class Reading:
    """One figure: symbol, what it is, value as text, unit, and the formula with this instant's numbers.

    `tells` marks a figure that gives away the answer to the scene's question.
    """

    symbol: str
    words: str
    value: str
    unit: str
    formula: str = ""
    tells: bool = False

    @property
    def name(self) -> str:
        """What it is called in a lesson: its symbol or, where it has none, its words, without what is added to them."""
        return plain_name(self.symbol or self.words.replace(":", ",").split(",")[0])


@dataclass(frozen=True)
class Key:
    """An entry in the key: an arrow's letter and colour, what it stands for, and its unit."""

    letter: str
    words: str
    colour: str
    unit: str = ""


@dataclass(frozen=True)
class Pick:
    """A thing in the picture that a user may press: its name in a message, its words, and where it stands, metres.

    It is pressed to be joined to another that is pressed next or, `alone`, for itself; `on`: the solid that carries it about, from
    whose own origin `at` then counts. One that stands nowhere is a button with its words at the picture's edge.
    """

    name: str
    words: str
    at: tuple[float, float, float] | None
    alone: bool = False
    on: Any = None


# Long, for it lists every method that a scene may override, most of them two lines.
class Scene:
    """One principle on the bench. A scene sets the class attributes and overrides the methods it needs.

    may_wait: whether a figure that takes seconds to work out is waited for. False where pictures follow each other: it is then
    worked out beside them, and shown as not there yet.
    """

    name: str
    title: str
    principle: str
    controls: tuple[Number | Choice | Switch, ...]
    narration: str
    caution: str = ""
    leaves_out: tuple[str, ...] = ()  # what the real thing has and this scene's physics leaves out, a short sentence each
    arrows: tuple[Key, ...] = ()
    views: tuple[View, ...]
    subject: tuple[Box, ...]  # boxes round what is spoken of, which fills the picture
    letters: tuple[str, ...] = ()  # those in the picture that are shown first, by text or role, the most important first
    picks: tuple[Pick, ...] = ()
    hands: bool = True  # whether the hand of a rule may be held out
    not_told: tuple[str, ...] = ()  # controls whose value gives away what is asked: whoever sits a test is not told it
    chart: Chart | None = None
    sets_several = False  # whether several controls are being set together
    kinds: tuple[Any, ...] = ()  # of question, the scene's own way round first (`scenes.questions.kinds.Kind`)

    def __init__(self, may_wait: bool = True):
        self.may_wait = may_wait
        self.by_name = {control.name: control for control in self.controls}
        self.settings = self.defaults
        self.view = self.views[0].name
        self.drawn: Any = None  # until it is first needed
        self._kept: tuple[tuple, Any] | None = None
        self.restart()

    def __getitem__(self, name: str):
        """The present value of a control."""
        return self.settings[name]

    @property
    def unfinished(self) -> bool:
        """Whether more is worked out beside the pictures, which go on for it though nothing moves."""
        return False

    @property
    def defaults(self) -> dict:
        """What every control is set to at first."""
        return {control.name: control.default for control in self.controls}

    def set(self, name: str, value) -> None:
        """Set one control; `ValueError`, with nothing changed, for an unknown control or value."""
        value = self._checked(name, value)
        if value != self.settings[name]:
            self.settings[name] = value
            self.changed(name)

    def set_all(self, values: dict) -> None:
        """Set several controls, all or none."""
        for name, value in values.items():
            self._checked(name, value)
        self.sets_several = True
        try:
            for name, value in values.items():
                self.set(name, value)
        finally:
            self.sets_several = False

    def _checked(self, name: str, value):
        if name not in self.by_name:
            raise ValueError(f"{self.name} has no control {quoted(name)}; {did_you_mean(name, self.by_name, 'it has')}")
        return self.by_name[name].checked(value)

    def reverse(self, role: str) -> None:
        """Reverse what carries that role; `ValueError` where the scene has nothing of the kind."""
        if role not in ROLES:
            raise ValueError(f"What can be reversed is {' or '.join(ROLES)}, not {quoted(role)}.")
        for control in self.controls:
            if control.role == role and not isinstance(control, Switch):
                self.set(control.name, control.reversed(self[control.name]))
                return
        raise ValueError(f"There is no {role} to reverse in this scene.")

    def join(self, first: str, second: str) -> None:
        """Join two of `picks`, or take apart what joins them; `ValueError`, in a sentence, where that cannot be."""
        raise ValueError("There is nothing to join in this scene.")

    def hold_out_hands(self, held_out: bool) -> None:
        """With the next picture; they are not where nothing is said of them."""
        self.hands = held_out

    def press(self, name: str) -> str | None:
        """Press one of `picks` for itself; the address of another scene where it goes on there. `ValueError`, in a sentence, where that
        does nothing."""
        raise ValueError("There is nothing to press in this scene.")

    def to_press(self, reveals_answer: bool) -> str:
        """What may be pressed next of `picks`, in sentences that give no answer away which must not be seen; "" for nothing to say."""
        return ""

    def picks_now(self, reveals_answer: bool) -> Sequence[Pick]:
        """The things that may be pressed at this instant, in words that give no answer away which must not be seen."""
        return self.picks

    def look(self, name: str) -> None:
        """See it from the view of that name; `ValueError` when there is none."""
        self.view = self.checked_view(name)

    def checked_view(self, name: str) -> str:
        """The name of a view; `ValueError` if there is none of that name."""
        if name not in [view.name for view in self.views]:
            raise ValueError(f"{self.name} is seen from {', '.join(view.name for view in self.views)}, not {quoted(name)}.")
        return name

    @property
    def eye(self) -> View:
        """The present view."""
        return next(view for view in self.views if view.name == self.view)

    @property
    def shaft_angle(self) -> float | None:
        """How far the shaft is turned as it is drawn, rad, counter-clockwise looking at the drive end; None in a scene without one."""
        return None

    @property
    def slowness(self) -> float:
        return float(self["slow"])

    @property
    def runs_up(self) -> bool:
        """Whether it is set to show a machine at work, which comes to its speed first: on paper it stands as it runs, not as it starts."""
        return False

    def shown_whole(self, passed: float) -> bool:
        """Whether all has been seen that it is set to show, `passed` seconds of its own time after it began: a machine has come to its
        speed or to rest, a field has gone round once."""
        return True

    def changed(self, name: str) -> None:
        """A control has a new value: what was computed from the old one no longer holds."""

    def restart(self) -> None:
        """Go back to the start, keeping the settings."""

    def step(self, seconds: float) -> None:
        """Advance the physics by `seconds` of the scene's own time."""

    def one_step(self) -> None:
        """Advance by one press of the step key: a short time, or to the next numbered instant."""
        self.step(ONE_STEP / self.slowness)

    def revealed(self) -> None:
        """A question was answered: show what was asked about, from the start."""
        self.restart()

    def settle(self) -> None:
        """Go where it runs steadily as it is set, without what comes before."""
        self.restart()

    def build(self, host) -> Any:
        """What is drawn, made once, as a group; `host.name` names parts for the tests."""

    def ensure_built(self, host) -> None:
        """Make what is drawn, unless it is there: it cannot be freed, and takes long to make."""
        if self.drawn is None:
            self.drawn = self.build(host)

    def draw(self, reveals_answer: bool = True, mistake: str = "") -> None:
        """Hand the present vectors to what is drawn; while the answer is hidden, a hand may show a `mistake`, by name."""

    def mistaken_hand(self, mistake: str) -> str:
        """How the hand in the picture is held that shows a mistake, in words; "" where none can be shown."""
        return ""

    def chart_point(self, reveals_answer: bool = True) -> list[float] | None:
        """The present values of the chart's lines."""
        return None

    def plot(self, reveals_answer: bool = True) -> Plot | None:
        """The curves for the present settings; the same object until they change (see `kept`)."""
        return None

    def kept(self, key: tuple, curves: Callable[[], Curves]) -> Curves:
        """The plot for this `key`, made by `curves()` only when the key changes."""
        if self._kept is None or self._kept[0] != key:
            self._kept = (key, curves())
        return self._kept[1]

    def marks(self, reveals_answer: bool = True) -> list[Mark]:
        """Where on the plot the scene is now; a mark whose y is nan is a vertical line at its x."""
        return []

    def readings(self, reveals_answer: bool = True) -> list[Reading]:
        """The figures at this instant."""
        return []

    def workings(self) -> dict[str, dict[str, float | str]]:
        """The calculations of `thumbwise workings` that belong to this scene, each with the inputs that it gives at this instant."""
        return {}

    def scales(self) -> dict[str, str]:
        """What the length of each arrow means, by its letter."""
        return {}

    def says(self, reveals_answer: bool = True) -> str:
        """The present state in one sentence, for screen-reader users."""
        return self.principle

    def question(self) -> Question:
        """The question about the present set-up, answered by `physics`."""
        raise NotImplementedError(f"{self.name} asks nothing")

    def random_setup(self, random) -> dict:
        """Random settings to ask a question about."""
        return {}


def sign_before(value: SupportsFloat, decimals: int) -> str:
    """The minus sign before a formula whose factors are printed as sizes, where its result is printed with one."""
    return minus(value, decimals)[:1].strip("0123456789")


def minus(value: SupportsFloat, decimals: int) -> str:
    """A number as printed, with a real minus sign and no minus on zero."""
    text = f"{float(value):.{decimals}f}"
    if float(text) == 0:
        text = text.lstrip("-")
    return text.replace("-", "\N{MINUS SIGN}")
