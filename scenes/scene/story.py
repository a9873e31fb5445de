"""A scene in one direction: settings -> state -> one snapshot -> picture, readings, sentence and question.

Everything physical is computed once a picture, in one frozen snapshot. Picture, readings, plot, sentence and question are
functions of that snapshot and of the `Look`: the view, and whether the answer may be seen. The functions of a scene:

Setup.of(settings)           the settings of the controls, typed and in SI units, as a frozen dataclass
begin(setup)                 the state at the start; without one there is none
settle(setup)                the state once it runs steadily; without one that at the start
advance(setup, state, s)     the state `s` seconds of the scene's own time later; without one it stays
observe(setup, state)        the snapshot: everything physical at this instant, frozen
build(host)                  what is drawn, made once
place(drawn, now, look)      hand the snapshot's vectors to what is drawn
hand_of(now, look)           the hand that is held out, or may be, by `look.held` or `look.gripped`
readings(now, look)          the figures
workings(now)                the calculations that belong to it, with the inputs it gives
scales(now)                  what the length of each arrow means
sentence(now, look)          the present state in one sentence, for screen-reader users
question(now, look)          the question about the present set-up
curves(now, look)            the plot; called only when setup or look have changed
marks(now, look)             where on the curves the scene is now
chart(now, look)             the present values of the chart's lines
shaft_of(now)                how far the shaft is turned as it is drawn, rad, counter-clockwise looking at the drive end
words_of(view)               how directions are said as seen from there, a function of vectors
random_setup(random)         random settings to ask about
KINDS                        the kinds of question, a tuple
"""

from __future__ import annotations

import sys
from dataclasses import dataclass
from types import ModuleType
from typing import Any

from physics.directions import Grip, Hand
from scenes.questions.mistaken_hands import MistakenGrip, MistakenHand, gripping_by, held_by
from scenes.scene.curves import Mark, Plot
from scenes.scene.scene import Question, Reading, Scene
from scenes.scene.views import View


@dataclass(frozen=True)
class Look:
    """How the scene is looked at: the ready view, whether the answer may be shown, and while it may not a mistake that was made, by
    name: the hand shows it. hands: whether a hand may be held out at all."""

    view: View
    reveals_answer: bool
    mistake: str = ""
    hands: bool = True

    def held(self, right: Hand | None) -> Hand | MistakenHand | None:
        """The hand that may be shown in place of the right one, if it can be read from here: this one together with the answer, before
        it what the mistake makes of it."""
        if right is None or not self.hands:
            return None
        shown = right if self.reveals_answer else held_by(self.mistake, right)
        return None if shown is None else self.view.readable(shown)

    def gripped(self, right: Grip | None) -> Grip | MistakenGrip | None:
        """The same for a hand that grips a wire."""
        return right if right is None or self.reveals_answer else gripping_by(self.mistake, right)


FUNCTIONS = {  # by the attribute that holds them, how they are called in a module
    "setup_of": "Setup.of", "begin": "begin", "steady": "settle", "advance": "advance", "observe": "observe",
    "build": "build", "place": "place", "hand_of": "hand_of", "readings_of": "readings", "workings_of": "workings",
    "scales_of": "scales", "sentence": "sentence", "question_of": "question", "plot_of": "curves",
    "marks_of": "marks", "chart_of": "chart", "words_of": "words_of",
    "random_setup": "random_setup",
}  # fmt: skip
NEEDED = ("setup_of", "observe", "build", "place", "readings_of", "sentence", "question_of", "random_setup")


def parts_in(module: ModuleType) -> dict[str, Any]:
    """A scene's functions, as static methods, and its kinds of question, as far as the module itself, and none that it imports from,
    defines them."""
    found: dict[str, Any] = {}
    for attribute, name in FUNCTIONS.items():
        part: Any = module
        for each in name.split("."):
            part = getattr(part, each, None)
        if getattr(part, "__module__", "") == module.__name__:
            found[attribute] = staticmethod(part)
    return found | ({"kinds": module.KINDS} if isinstance(getattr(module, "KINDS", None), tuple) else {})


class Story(Scene):
    """A scene made of functions, found by their names in the scene's own file and in its `parts`, the modules given with the class.

    A scene that needs itself for one of them has a method instead, named as in `FUNCTIONS`. `starts_anew` names the controls with
    which it goes back to the start: what nobody changes while it runs.
    """

    starts_anew: tuple[str, ...] = ()

    setup_of: Any
    observe: Any
    place: Any
    readings_of: Any
    sentence: Any
    question_of: Any
    # what a scene need not have
    begin: Any = staticmethod(lambda setup: None)
    steady: Any = None
    advance: Any = staticmethod(lambda setup, state, seconds: state)
    hand_of: Any = staticmethod(lambda now, look: None)
    workings_of: Any = staticmethod(lambda now: {})
    scales_of: Any = staticmethod(lambda now: {})
    plot_of: Any = staticmethod(lambda now, look: None)
    marks_of: Any = staticmethod(lambda now, look: [])
    chart_of: Any = staticmethod(lambda now, look: None)
    shaft_of: Any = staticmethod(lambda now: None)
    words_of: Any = staticmethod(lambda view: view.directions.words)

    def __init_subclass__(cls, parts: tuple[ModuleType, ...] = ()):
        """Take them in; `TypeError` with those that a scene lacks."""
        for module in (sys.modules[cls.__module__], *parts):
            for attribute, found in parts_in(module).items():
                if attribute not in vars(cls):
                    setattr(cls, attribute, found)
        lacks = [FUNCTIONS[each] for each in NEEDED if getattr(cls, each, None) is getattr(Scene, each, None)]
        if lacks and "name" in vars(cls):
            raise TypeError(f"{cls.name} lacks {', '.join(lacks)}; what each does stands in scenes/scene/story.py.")

    def __init__(self, may_wait: bool = True):
        self._setup = self._now = None
        super().__init__(may_wait)

    @property
    def setup(self):
        """The present settings, typed and in SI units."""
        if self._setup is None:
            self._setup = self.setup_of(self.settings)
        return self._setup

    @property
    def now(self):
        """The snapshot of this instant, observed when it is first asked for."""
        if self._now is None:
            self._now = self.observe(self.setup, self.state)
        return self._now

    def at_start(self, settings: dict):
        """The snapshot that these settings begin with; the scene's own stay as they are."""
        setup = self.setup_of(settings)
        return self.observe(setup, self.begin(setup))

    def changed(self, name: str) -> None:
        self._setup = self._now = None
        if name in self.starts_anew:
            self.restart()

    def restart(self) -> None:
        self.state = self.begin(self.setup)
        self._now = None

    def settle(self) -> None:
        self.restart()
        if self.steady:
            self.state = self.steady(self.setup)
            self._now = None

    def step(self, seconds: float) -> None:
        self.state = self.advance(self.setup, self.state, seconds)
        self._now = None

    def draw(self, reveals_answer: bool = True, mistake: str = "") -> None:
        self.place(self.drawn, self.now, Look(self.eye, reveals_answer, mistake, self.hands))

    def mistaken_hand(self, mistake: str) -> str:
        hand = self.hand_of(self.now, Look(self.eye, False, mistake))
        return "" if hand is None or isinstance(hand, Hand | Grip) else hand.words(self.words_of(self.eye))

    @property
    def shaft_angle(self) -> float | None:
        return self.shaft_of(self.now)

    def readings(self, reveals_answer: bool = True) -> list[Reading]:
        return self.readings_of(self.now, Look(self.eye, reveals_answer))

    def workings(self) -> dict[str, dict[str, float | str]]:
        return self.workings_of(self.now)

    def scales(self) -> dict[str, str]:
        return self.scales_of(self.now)

    def says(self, reveals_answer: bool = True) -> str:
        return self.sentence(self.now, Look(self.eye, reveals_answer))

    def question(self) -> Question:
        return self.question_of(self.now, Look(self.eye, reveals_answer=True))

    def plot(self, reveals_answer: bool = True) -> Plot | None:
        look = Look(self.eye, reveals_answer)
        return self.kept((self.setup, look), lambda: self.plot_of(self.now, look))

    def marks(self, reveals_answer: bool = True) -> list[Mark]:
        return self.marks_of(self.now, Look(self.eye, reveals_answer))

    def chart_point(self, reveals_answer: bool = True) -> list[float] | None:
        return self.chart_of(self.now, Look(self.eye, reveals_answer))
