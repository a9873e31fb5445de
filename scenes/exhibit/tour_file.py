"""A tour from a TOML file, checked when it is read; errors are reported with their line.

The format is explained at the head of `short_tour.toml`, the built-in tour.
"""

from __future__ import annotations

import re
from datetime import time
from importlib.resources import files
from pathlib import Path
from typing import Any

from physics.arguments import quoted
from scenes.exhibit.logo import read_logo
from scenes.exhibit.stop_reader import LONGEST_BUTTON, LONGEST_CAPTION, NAME, NUMBER, OF_A_STOP, StopReader
from scenes.exhibit.tour import COUNTED, ENGLISH, QUIET, USUAL_WORDS, WITHOUT_WORDS, Tour, Words
from scenes.lesson.toml_reader import Kinds, TomlError
from scenes.names import did_you_mean

VERSION = 1
MOST_STOPS, MOST_LANGUAGES = 99, 6
QUIETS = (10, 600)

OF_THE_TOUR: Kinds = {
    "version": (int, "a whole number"),
    "name": NAME,
    "quiet": NUMBER,
    "logo": NAME,
    "sleep": (dict, 'hours in braces, { from = "18:00", to = "09:00" }'),
    "count": (list, 'names in brackets, ["touches", "uses"]'),
    "counts": NAME,
    "languages": (dict, "a table of names, each after its code"),
    "words": (dict, "a table of words"),
    "attract": (dict, "a table"),
    "stop": (list, "tables that each begin with [[stop]], in double brackets"),
}
OF_ATTRACT: Kinds = {
    key: OF_A_STOP[key] for key in ("scene", "settings", "view", "letters", "near", "seconds", "caption", "drives", "gear", "wheel")
}


class TourError(TomlError):
    """What is wrong with a tour, in one sentence with the file and the line."""


def built_in(name: str = "short_tour") -> str:
    """The text of a tour that comes with the program: "short_tour", or "open_day", the sample in two languages."""
    return files("scenes.exhibit").joinpath(f"{name}.toml").read_text("utf-8")


def read(text: str, name: str, folder: Path | None = None) -> Tour:
    """The tour in a file's `text`; `TourError` if it is not valid. What it names by a relative path lies in `folder`."""
    return _Reader(text, name, folder or Path()).tour()


class _Reader(StopReader):
    """Builds the tour from its file."""

    what, part, failure = "tour", "stop", TourError

    def __init__(self, text: str, name: str, folder: Path):
        super().__init__(text, name)
        self.folder = folder

    def tour(self) -> Tour:
        given = self.data
        for key in given:
            if key in OF_A_STOP and key not in OF_THE_TOUR:
                raise self.error(f"{key} belongs to a stop, below its [[stop]]", key)
        self.check_kinds(given, OF_THE_TOUR, "a tour")
        self.check_version(given.get("version"))
        self.languages = self.read_languages(given.get("languages", {ENGLISH: "English"}))
        if "attract" not in given:
            raise self.error("a tour needs [attract], the machine that turns while nobody is there")
        stops = given.get("stop", [])
        if not all(isinstance(stop, dict) for stop in stops) or not 1 <= len(stops) <= MOST_STOPS:
            raise self.error(f"a tour has from 1 to {MOST_STOPS} stops, each beginning with [[stop]]", "stop")
        self.check_kinds(given["attract"], OF_ATTRACT, "[attract]", "attract")
        tour = Tour(
            name=given.get("name", self.name),
            languages=self.languages,
            words=self.read_words(given.get("words", {})),
            attract=self.read_stop({"seconds": 20} | given["attract"], None, "attract"),
            stops=self.read_stops(stops),
            quiet=self.within(QUIETS, given.get("quiet", QUIET), "quiet"),
            logo=self.read_logo(given["logo"]) if "logo" in given else "",
            asleep=self.read_hours(given["sleep"]) if "sleep" in given else None,
            counted=self.read_counted(given.get("count", list(COUNTED))),
            counts=str(self.folder / given["counts"]) if "counts" in given else "",
        )
        self.check_that_nothing_lacks()
        return tour

    def check_version(self, version: int | None) -> None:
        if version is None or version < VERSION:
            raise self.error(f"a tour says version = {VERSION} at its head", *([] if version is None else ["version"]))
        if version > VERSION:
            raise self.error(f"this tour is of version {version}; this Thumbwise reads version {VERSION}", "version")

    def read_languages(self, given: dict) -> dict[str, str]:
        if not 1 <= len(given) <= MOST_LANGUAGES:
            raise self.error(f"a tour has from 1 to {MOST_LANGUAGES} languages", "languages")
        for code, name in given.items():
            if not re.fullmatch(r"[a-z]{2,3}(-[A-Za-z0-9]{2,8})*", code):  # BCP 47
                raise self.error(f"a language's code is as en or de or pt-BR, not {quoted(code)}", "languages", code)
            if not isinstance(name, str) or not 1 <= len(name) <= LONGEST_BUTTON:
                raise self.error(f"a language's name is text in quotes of at most {LONGEST_BUTTON} characters", "languages", code)
        return given

    def read_words(self, given: dict) -> dict[str, Words]:
        for key in given:
            if key not in USUAL_WORDS:
                raise self.error(f"words has no {quoted(key)}; {did_you_mean(key, USUAL_WORDS, 'it has')}", "words", key)
        english = list(self.languages) == [ENGLISH]
        usual = USUAL_WORDS if english else USUAL_WORDS | WITHOUT_WORDS
        lacking = [f"{key} ({quoted(words)})" for key, words in USUAL_WORDS.items() if key not in {*given, *WITHOUT_WORDS}]
        if lacking and not english:
            at = "words" if "words" in self.data else "languages"
            self.lacks(f"words lacks {', '.join(lacking)}, which each language needs", at)
        longest = {"still_there": LONGEST_CAPTION, "picture": LONGEST_CAPTION}
        return usual | {key: self.text(words, longest.get(key, LONGEST_BUTTON), "words", key) for key, words in given.items()}

    def read_logo(self, name: str) -> str:
        with self.at("logo"):
            return read_logo(self.folder / name)

    def read_hours(self, given: dict) -> tuple[time, time]:
        if set(given) != {"from", "to"}:
            raise self.error(f"sleep takes {OF_THE_TOUR['sleep'][1]}", "sleep")
        begins, ends = (self.hour(given[key], key) for key in ("from", "to"))
        if begins == ends:
            raise self.error("the hours of sleep begin and end at the same time", "sleep")
        return begins, ends

    def hour(self, given: Any, key: str) -> time:
        if isinstance(given, time):  # TOML's own, 18:00:00
            return given
        if not isinstance(given, str) or not re.fullmatch(r"([01]\d|2[0-3]):[0-5]\d", given):
            raise self.error(f'an hour is as "18:00", not {quoted(given)}', "sleep", key)
        return time.fromisoformat(given)

    def read_counted(self, given: list) -> tuple[str, ...]:
        for what in given:
            if what not in COUNTED:
                raise self.error(f"there is nothing to count called {quoted(what)}; {did_you_mean(what, COUNTED)}", "count")
        return tuple(given)
