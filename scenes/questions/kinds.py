"""Kinds of question: each puts a question about a set-up of a scene, all of it drawn from a seed.

A scene names its kinds in `kinds`. What they share is here and in the files beside: which way, back from the result to the cause, a
figure, a comparison, why. Every answer and every wrong choice is computed from the snapshot of that set-up, or of one that differs
in a single control.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from functools import cached_property
from types import MappingProxyType
from typing import Any

from physics.arguments import quoted
from scenes.scene.question import CHOSEN, FORWARD, Question
from scenes.scene.story import Look
from scenes.scene.views import View

TRIES_KEEPING = 6  # where settings are kept: then most draws are alike
ABOUT_WHAT = "asked"  # how the names of controls begin that say what a scene's own question is about
MOST_NAMED = 6  # values of a control in a sentence
DRAWN_TO_SEE = 100  # set-ups drawn to see what all of them have
DRAWN_KEEPING = 200  # set-ups drawn for some that go with the settings that are kept
TRIES = 24  # set-ups drawn for one to which the question can be put and whose answer comes up evenly


# eq=False: it is compared by identity, for a snapshot holds arrays
@dataclass(frozen=True, eq=False)
class SetUp:
    """A set-up that is asked about: the scene's functions, all settings, how it is looked at, and the dice for what is left to chance."""

    scene: Any
    settings: dict
    look: Look
    dice: random.Random

    @cached_property
    def now(self) -> Any:
        """The snapshot at its start."""
        return self.scene.at_start(self.settings)

    @cached_property
    def typed(self) -> Any:
        """The settings, typed and in SI units, for what needs no more than these."""
        return self.scene.setup_of(self.settings)

    def other(self, **changed) -> SetUp:
        """The same with these controls changed."""
        return replace(self, settings=self.settings | changed)

    @cached_property
    def _own(self) -> Question:
        return self.scene.question_of(self.now, self.look)

    def question(self) -> Question:
        """The scene's own question about it, worked out once."""
        return self._own

    def shuffled(self, choices: Iterable[tuple[str, str]]) -> tuple[tuple[str, str], ...]:
        found = list(choices)
        self.dice.shuffle(found)
        return tuple(found)


@dataclass(frozen=True)
class Kind:
    """A kind of question.

    name, words  what it is called, and what it asks for
    put          the question about a set-up; `None` where it cannot be put to that one
    answered     how: by a choice, a typed figure, or in the picture too, by pressing a thing or drawing an arrow
    setup        settings for it, from dice and those that the scene draws
    even         whether set-ups are drawn so that each choice is right equally often
    in_text      whether it can be answered from its words alone, without the picture
    views        ready views, one of which is drawn with the set-up; none: the first
    works        the calculation of `scenes.workings` that works it through; "" where there is none
    given        its inputs, where the question has figures of its own; else those that the scene gives it
    hides        controls whose value it asks for, each with a value that gives nothing away: the picture shows that till it is answered
    own          whether it puts the scene's own question
    settled      whether it speaks of a machine that has come to the speed of its load: it is shown so once it is answered
    aside        controls that its own set-ups set, on whose value nothing rests that it says
    """

    name: str
    words: str
    put: Callable[[SetUp], Question | None]
    answered: str = CHOSEN
    setup: Callable[[random.Random, dict], dict] = field(default=lambda dice, settings: {})
    even: bool = True
    in_text: bool = True
    views: tuple[str, ...] = ()
    works: str = ""
    given: Callable[[SetUp], dict[str, float | str]] | None = None
    hides: Mapping[str, Any] = field(default_factory=dict)
    own: bool = False
    settled: bool = False
    aside: tuple[str, ...] = ()

    def not_put_with(
        self,
        scene,
        settings: Mapping[str, Any],
        names: Iterable[str] | None = None,
        numbers: bool = True,
        brings: Mapping[str, set] | None = None,
    ) -> str:
        """Why it is not put with these settings of all controls, or with those of these `names`, in a sentence; "" if it is. Its own
        set-ups never have such a choice or, where `numbers` and switches count, always have another value: its words may rest on that.
        `brings`: what it `brings`, if that is known."""
        for name, values in (self.brings(scene) if brings is None else brings).items():
            control = scene.by_name[name]
            fixed, needs = control.kind == "choice" or (numbers and len(values) == 1), control.only_with
            matters = name not in self.aside and (needs is None or settings[needs[0]] == needs[1])
            if fixed and matters and (names is None or name in names) and settings[name] not in values:
                other = (
                    f"needs {control.words}: {in_words(control, values)}, not"
                    if len(values) <= MOST_NAMED
                    else f"does not go with {control.words}:"
                )
                return f"The question \u201c{self.words}\u201d {other} {in_words(control, [settings[name]])}."
        return ""

    def brings(self, scene) -> dict[str, set]:
        """Of each control that its own set-ups set, the values."""
        dice = random.Random(1)
        found: dict[str, set] = {}
        for _ in range(DRAWN_TO_SEE):
            for name, value in self.setup(dice, scene.defaults | scene.random_setup(dice)).items():
                found.setdefault(name, set()).add(value)
        return found


@dataclass(frozen=True)
class Drawn:
    """A question of a kind about certain settings; `seed`: what is left to chance, so that it can be put again in another view; `view`:
    the ready view from which it is put at first; `None`: from where the scene is seen; `known`: the question from that view, and the
    scene to which it was put when it was drawn."""

    kind: Kind
    settings: dict
    seed: str
    view: str | None = None
    known: tuple[Any, Question] | None = None

    def question(self, scene, view: View | None = None) -> Question:
        """As seen from its own view or from that one. `ValueError` where the kind cannot be put to that set-up."""
        if view is None and self.known and self.known[0] is scene:
            return self.known[1]
        question = self.kind.put(self._set_up(scene, view))
        if question is None:
            raise ValueError(f"The question \u201c{self.kind.words}\u201d would have no clear answer in this set-up; change a setting.")
        return question

    def inputs(self, scene) -> dict[str, float | str]:
        """Of the calculation that works it through."""
        setup = self._set_up(scene)
        return self.kind.given(setup) if self.kind.given else scene.workings_of(setup.now)[self.kind.works]

    def _set_up(self, scene, view: View | None = None) -> SetUp:
        own = scene.eye if self.view is None else next(each for each in scene.views if each.name == self.view)
        # dice of its own: from those that drew the set-up the places of the choices would follow from it
        return SetUp(scene, self.settings, Look(view or own, reveals_answer=True), random.Random(f"asked {self.seed}"))


def in_words(control, values: Iterable[Any]) -> str:
    """Values of a control, as they are called on the page."""
    called = dict(control.choices) if control.kind == "choice" else {True: "on", False: "off"}
    unit = control.unit if control.unit in ("", "°") else f" {control.unit}"

    def said(value: Any) -> str:
        return f"{control.text(value)}{unit}".replace("-", "\N{MINUS SIGN}") if control.kind == "number" else called.get(value, str(value))

    return " or ".join(sorted(map(said, values)))


def kind_of(scene, name: str) -> Kind:
    """A scene's kind of that name; `ValueError` with all there are if it has none."""
    for kind in scene.kinds:
        if kind.name == name:
            return kind
    raise ValueError(f"{scene.name} has no kind of question {quoted(name)}; it has {', '.join(kind.name for kind in scene.kinds)}.")


def about(scene, kind: Kind, settings: dict, seed: str = "1") -> Drawn:
    """A question of that kind about certain settings."""
    return Drawn(kind, dict(settings), f"{scene.name} {kind.name} {seed}")


def as_it_stands(
    scene, kind: Kind, settings: Mapping[str, Any], chosen: Mapping[str, Any] = MappingProxyType({}), seed: str = "1"
) -> Drawn:
    """A question of that kind about just these settings, some of them `chosen`; `seed`: of chance. `ValueError` where it has none."""
    brings = kind.brings(scene)
    # what says what a question is about is no part of what stands on the bench
    settings = {**settings, **{name: min(values) for name, values in brings.items() if name.startswith(ABOUT_WHAT)}}
    if wrong := kind.not_put_with(scene, {**settings, **chosen}, brings=brings):
        raise ValueError(wrong)
    drawn = about(scene, kind, settings, seed)
    return replace(drawn, known=(scene, drawn.question(scene, scene.eye)))


def draw(scene, kind: Kind, seed: int, kept: Mapping[str, Any] = MappingProxyType({})) -> Drawn:
    """The set-up, view and question of that kind that belong to a seed; of the set-up these settings are `kept`, and without any of
    them the seeds beside it have other questions: those of even seeds give way, first to the one before."""
    if kept or seed % 2:
        return _draw(scene, kind, seed, kept)
    return _draw(scene, kind, seed, kept, [_draw(scene, kind, beside, kept).known for beside in (seed - 1, seed + 1)])


def _draw(scene, kind: Kind, seed: int, kept: Mapping[str, Any], beside: Sequence[tuple[Any, Question] | None] = ()) -> Drawn:
    wanted: str | None = None
    found: Drawn | None = None
    least = len(beside) + 1  # how much `found` is like a question that it shall not be like
    like = [known[1].as_told for known in reversed(beside) if known]  # the one before weighs more
    wrong, tried = "", 0
    for attempt in range(DRAWN_KEEPING if kept else TRIES):
        dice = random.Random(f"{scene.name} {kind.name} {seed} {attempt}")
        settings, brought = _drawn(scene, kind, dice, kept)
        wrong = kind.not_put_with(scene, settings, kept) if kept and not attempt else wrong
        if wrong:
            raise ValueError(wrong)
        if any(
            settings[name] != value for name, value in brought.items() if name not in kind.aside and scene.by_name[name].kind == "choice"
        ):
            continue  # what else it brings belongs to that choice
        tried += 1
        if tried > TRIES_KEEPING and kept:
            break
        each = replace(about(scene, kind, settings, f"{seed} {attempt}"), view=dice.choice(kind.views or (scene.views[0].name,)))
        try:
            question = each.question(scene)
        except ValueError:
            continue
        alike = sum(weight for weight, other in enumerate(like, 1) if other == question.as_told)
        if alike <= least:
            found, least = replace(each, known=(scene, question)), alike
        if kind.even:
            wanted = wanted or dice.choice([value for value, _ in question.choices])
        if not alike and wanted in (None, question.answer):
            break
    if found is None:
        with_these = " with these settings" if kept else ""
        raise ValueError(f"There is no set-up for the question \u201c{kind.words}\u201d{with_these}.")
    return found


def _drawn(scene, kind: Kind, dice: random.Random, kept: Mapping[str, Any]) -> tuple[dict, dict]:
    """A set-up with these settings `kept`, and what the kind itself brings of it."""
    drawn = {control.name: control.default for control in scene.controls} | scene.random_setup(dice)
    brought = kind.setup(dice, drawn)
    return drawn | brought | kept, brought


def with_own_mistakes(scene, question: Question) -> Question:
    """The scene's own question about what stands on it, with what the usual mistakes would answer."""
    for kind in scene.kinds:
        if kind.own and not kind.not_put_with(scene, scene.settings, numbers=False):
            with suppress(ValueError):
                mistakes = about(scene, kind, scene.settings).question(scene, scene.eye).mistakes
                return question.of_kind(question.kind, question.choices, {value: list(names) for value, names in mistakes})
    return question


def with_mistakes(given: Mapping[str, str], answer: str) -> dict[str, list[str]]:
    """Of each wrong answer the mistakes that lead to it, from the answer to which each mistake leads."""
    found: dict[str, list[str]] = {}
    for mistake, leads_to in given.items():
        if leads_to != answer:
            found.setdefault(leads_to, []).append(mistake)
    return found


Mistaken = Callable[[SetUp], Mapping[str, str]]
Overlooked = Callable[[SetUp], str] | None


def no_mistakes(setup: SetUp) -> Mapping[str, str]:
    return {}


def forward(
    words: str, mistaken: Mistaken = no_mistakes, *, overlooked: Overlooked = None, without: Sequence[str] = (), name: str = FORWARD, **more
) -> Kind:
    """The scene's own question; `mistaken`: the answers to which usual mistakes lead; `overlooked`: the mistake that leads to any wrong
    answer, in set-ups that have one; `without`: choices that are not offered."""

    def put(setup: SetUp) -> Question | None:
        question = setup.question()
        if without and question.answer in without:
            return None
        choices = [choice for choice in question.choices if choice[0] not in without]
        mistakes = with_mistakes(mistaken(setup), question.answer) if question.worked_out else {}
        if overlooked and (missed := overlooked(setup)):
            mistakes = {value: [*mistakes.get(value, ()), missed] for value, _ in choices if value != question.answer}
        return question.of_kind(name, setup.shuffled(choices), mistakes)

    return Kind(name, words, put, own=True, **more)
