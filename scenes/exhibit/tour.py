"""A tour as data: its stops, what a visitor may do at each of them, and the words on the screen in each language."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import time
from typing import TypeAlias

Words: TypeAlias = str | Mapping[str, str]  # the same in every language, or by language

ENGLISH = "en"
ATTRACT = -1  # the place of the machine that turns while nobody is there; the stops are counted from 0
QUIET = 45.0  # s without a touch after which the visitor is assumed to have gone
COUNTED = ("touches", "uses", "answers", "languages", "longest")
USUAL_WORDS: dict[str, str] = {
    "touch": "Touch",
    "next": "Next",
    "back": "Back",
    "slow": "Slow motion",
    "right": "Right!",
    "wrong": "Not quite. Look:",
    "still_there": "Still there? Touch the screen.",
    "languages": "Language",
    "picture": "The machine in three dimensions",
    "buttons": "What you can do",
    "wait": "One moment",
}


WITHOUT_WORDS = {"back": "\N{LEFTWARDS ARROW}"}  # what stands for a word of which a tour in another language says nothing


def speaks_english(language: str) -> bool:
    """Whether a language, by its code, is one in which a scene's own words may be shown."""
    return language.split("-")[0] == ENGLISH


def said(words: Words, language: str) -> str:
    return words if isinstance(words, str) else words[language]


@dataclass(frozen=True)
class Try:
    """A button at a stop, and what it does there.

    reverse   what carries the role `what`, "current" or "field", is reversed
    change    the number `what` goes up by `by`, as far as it goes; with `again`, past its end and once the machine stands it goes back
              to what the stop has set, and the button says so before with these words
    turn      the visitor turns the machine: the speed `what`, in r/min clockwise looking at the drive end, follows a finger
    ask       the scene's question, about what is there once `what`, if given, is reversed; without `answers` one about a set-up by
              chance, in the scene's own words

    after, stopped: what is said then, and once the machine stands; empty for what the scene says of its state, in English, and in
    another language for the stop's caption. answers: the scene's choices, by value; why: the reason, which is said with what is
    right. plain: first everything that cannot be reversed goes to its default.
    """

    does: str
    button: Words
    what: str = ""
    by: float = 0.0
    after: Words = ""
    stopped: Words = ""
    again: Words = ""
    question: Words = ""
    answers: Mapping[str, Words] = field(default_factory=dict)
    why: Words = ""
    plain: bool = False


@dataclass(frozen=True)
class TourStop:
    """One stay: what is said, how long it stays, and what is set for it.

    It begins from the scene's defaults, or `goes_on` from the stop before. An empty `caption` says what the scene itself says of
    its state; an empty `view` leaves the eye where it is. `anew` has it begin from its start; a stop left to `chance` sets the
    scene up at random. `letters`: those shown, where they are not the scene's own; then what stands beside the machine matters little.
    `hand`: whether the hand of a rule is held out, as where it is spoken of. `near`: how many times as near as the whole of
    what the scene is about. `parts`: what is said of a part that is touched, by its name; then no others can be. `drives`: what
    everybody knows is drawn on the shaft, one of `scenes.exhibit.driven.KINDS`, with `gear` revolutions of the shaft to one of its own;
    with the diameter of its `wheel`, m, its speed is told.
    """

    caption: Words
    seconds: float = 10.0
    view: str = ""
    settings: dict = field(default_factory=dict)
    reverse: str = ""
    anew: bool = False
    chance: bool = False
    scene: str = ""
    goes_on: bool = False
    letters: tuple[str, ...] | None = None
    hand: bool = False
    near: float = 1.0
    parts: Mapping[str, Words] = field(default_factory=dict)
    drives: str = ""
    gear: float = 1.0
    wheel: float = 0.0
    tries: tuple[Try, ...] = ()


@dataclass(frozen=True)
class Tour:
    """What a stand shows. `attract` turns while nobody is there. `languages`: their names by code, the first one spoken first.
    `words`: on buttons and signs. `logo`: an image as a data URL. `asleep`: from when to when it is dark. `counted`: of `COUNTED`, in
    the file `counts` if that is not the usual one."""

    attract: TourStop
    stops: Sequence[TourStop]
    name: str = "the built-in tour"
    languages: Mapping[str, str] = field(default_factory=lambda: {ENGLISH: "English"})
    words: Mapping[str, Words] = field(default_factory=lambda: dict(USUAL_WORDS))
    quiet: float = QUIET
    logo: str = ""
    asleep: tuple[time, time] | None = None
    counted: tuple[str, ...] = COUNTED
    counts: str = ""

    @property
    def first_language(self) -> str:
        return next(iter(self.languages))

    @property
    def scenes(self) -> list[str]:
        """The scenes in it, each once, in their order."""
        return list(dict.fromkeys(stop.scene for stop in (self.attract, *self.stops)))

    def sleeps_at(self, moment: time) -> bool:
        if self.asleep is None:
            return False
        begins, ends = self.asleep
        return begins <= moment < ends if begins < ends else moment >= begins or moment < ends
