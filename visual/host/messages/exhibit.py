"""A stand, and how it goes."""

from __future__ import annotations

from typing import TypedDict

from visual.host.messages.scene import ChoiceWords


class TryButton(TypedDict):
    """What may be tried at a stop; `does`: "reverse", "change", "turn" or "ask"; `more`: whether it still does something."""

    words: str
    does: str
    more: bool


class Exhibit(TypedDict):
    """On a stand. `serial`: another number for each stop shown; `place`: which it is of the `stops`, -1 while nobody is there;
    `longest`: characters of the longest that may be said there; `speed`: of what the machine drives, with its unit; `answers`: while a
    question waits; `left`: seconds until a visitor is taken to have gone, once they are few; `words`: on buttons
    and signs, in `language`, one of `languages` (by code)."""

    serial: int
    place: int
    stops: int
    caption: str
    longest: str
    speed: str
    tries: list[TryButton]
    answers: list[ChoiceWords]
    slow: bool
    left: int | None
    asleep: bool
    words: dict[str, str]
    language: str
    languages: list[ChoiceWords]


class Status(TypedDict):
    """For whoever looks after a stand: what is so, each with its words; and what is wrong, in sentences."""

    lines: list[tuple[str, str]]
    wrong: list[str]
