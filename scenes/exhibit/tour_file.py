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
from scenes.exhibit.tour import COUNTED, ENGLISH, QUIET, USUAL_WORDS, Tour, TourStop, Try, Words
from scenes.lesson.toml_reader import Kinds, TomlError, TomlReader
from scenes.names import did_you_mean
from scenes.scene.controls import ROLES, Number
from scenes.scene.scene import Scene

VERSION = 1
LONGEST_CAPTION = 110  # characters: what is read in passing, and fits in large letters
LONGEST_BUTTON = 32  # characters
MOST_STOPS, MOST_TRIES, MOST_LETTERS, MOST_LANGUAGES = 99, 3, 3, 6
SECONDS = (5, 600)  # that a stop may stay
QUIETS = (10, 600)
NEARNESS = (1, 3)

TEXT = ((str, dict), 'text in quotes, or one in each language, { en = "...", de = "..." }')
NUMBER = ((int, float), "a number")
NAME = (str, "text in quotes")
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
OF_A_STOP: Kinds = {
    "scene": NAME,
    "settings": (dict, "settings in braces, { name = value }"),
    "view": NAME,
    "letters": (list, 'letters in brackets, ["N", "S"]'),
    "near": NUMBER,
    "seconds": NUMBER,
    "caption": TEXT,
    "go_on": (bool, "true or false"),
    "try": (list, "tables that each begin with [[stop.try]], in double brackets"),
}
OF_ATTRACT: Kinds = {key: OF_A_STOP[key] for key in ("scene", "settings", "view", "letters", "near", "seconds")}
OF_A_TRY: Kinds = {
    "do": NAME,
    "what": NAME,
    "by": NUMBER,
    "button": TEXT,
    "after": TEXT,
    "stopped": TEXT,
    "question": TEXT,
    "answers": (dict, "a table with words for each choice of the scene's question"),
}
WAYS = ("reverse", "change", "turn", "ask")


class TourError(TomlError):
    """What is wrong with a tour, in one sentence with the file and the line."""


def built_in(name: str = "short_tour") -> str:
    """The text of a tour that comes with the program: "short_tour", or "open_day", the sample in two languages."""
    return files("scenes.exhibit").joinpath(f"{name}.toml").read_text("utf-8")


def read(text: str, name: str, folder: Path | None = None) -> Tour:
    """The tour in a file's `text`; `TourError` if it is not valid. What it names by a relative path lies in `folder`."""
    return _Reader(text, name, folder or Path()).tour()


# Long, for it has a short method for each thing that a tour may say.
class _Reader(TomlReader):
    """Builds the tour from its file."""

    what, part, failure = "tour", "stop", TourError

    def __init__(self, text: str, name: str, folder: Path):
        super().__init__(text, name)
        self.folder = folder
        self.languages: dict[str, str] = {ENGLISH: "English"}

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
        return Tour(
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
        for key in USUAL_WORDS:
            if key not in given and not english:
                raise self.error(f"words lacks {key} ({quoted(USUAL_WORDS[key])}), which each language needs", "words")
        longest = {"still_there": LONGEST_CAPTION, "picture": LONGEST_CAPTION}
        return USUAL_WORDS | {key: self.text(words, longest.get(key, LONGEST_BUTTON), "words", key) for key, words in given.items()}

    def text(self, given: Any, longest: int, *path: str | int) -> Words:
        """Text in each language."""
        if isinstance(given, str):
            if len(self.languages) > 1:
                raise self.error(f"{path[-1]} needs a text in each language: {self.in_each()}", *path)
            given = dict.fromkeys(self.languages, given)
        for code, words in given.items():
            if code not in self.languages:
                raise self.error(f"there is no language {quoted(code)} here; {did_you_mean(code, self.languages)}", *path, code)
            if not isinstance(words, str) or not words.strip():
                raise self.error(f"{path[-1]} takes text in quotes, not {quoted(words)}", *path, code)
            if len(words) > longest:
                raise self.error(f"{path[-1]} has at most {longest} characters, this one {len(words)}", *path, code)
        for code in self.languages:
            if code not in given:
                raise self.error(f"{path[-1]} lacks its text in {self.languages[code]} ({code})", *path)
        return given

    def in_each(self) -> str:
        return "{ " + ", ".join(f'{code} = "..."' for code in self.languages) + " }"

    def within(self, limits: tuple[int, int], value: float, *path: str | int) -> float:
        least, most = limits
        if isinstance(value, bool) or not least <= value <= most:
            raise self.error(f"{path[-1]} takes a number from {least} to {most}, not {quoted(value)}", *path)
        return float(value)

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

    def read_stops(self, stops: list[dict]) -> tuple[TourStop, ...]:
        read: list[TourStop] = []
        for place, given in enumerate(stops):
            self.check_kinds(given, OF_A_STOP, "a stop", "stop", place)
            if "caption" not in given:
                raise self.error("a stop needs a caption", "stop", place)
            if given.get("go_on") and (not read or read[-1].scene != given.get("scene")):
                raise self.error("go_on goes on in the scene of the stop before", "stop", place, "go_on")
            read.append(self.read_stop({"seconds": 20} | given, read[-1] if given.get("go_on") else None, "stop", place))
        return tuple(read)

    def read_stop(self, given: dict, before: TourStop | None, *path: str | int) -> TourStop:
        """A stop, tried out on its scene; `before`, if it goes on from there."""
        if "scene" not in given:
            raise self.error(f"{'a stop' if path[0] == 'stop' else '[attract]'} needs a scene", *path)
        scene = self.scene(given["scene"], *path, "scene")
        settings = given.get("settings", {})
        self.check_settings(scene, settings, *path, "settings")
        with self.at(*path, "settings"):
            scene.set_all((scene.settings if before else scene.defaults) | settings)
        with self.at(*path, "view"):
            scene.look(given.get("view", scene.views[0].name))
        letters = given.get("letters")
        if letters is not None and (len(letters) > MOST_LETTERS or not all(isinstance(letter, str) for letter in letters)):
            raise self.error(f"letters takes at most {MOST_LETTERS} {OF_A_STOP['letters'][1]}", *path, "letters")
        return TourStop(
            self.text(given["caption"], LONGEST_CAPTION, *path, "caption") if "caption" in given else "",
            self.within(SECONDS, given["seconds"], *path, "seconds"),
            given.get("view", scene.views[0].name),
            settings,
            scene=scene.name,
            goes_on=before is not None,
            letters=None if letters is None else tuple(letters),
            near=self.within(NEARNESS, given.get("near", 1.0), *path, "near"),
            tries=self.read_tries(given.get("try", []), scene, *path),
        )

    def read_tries(self, tries: list, scene: Scene, *path: str | int) -> tuple[Try, ...]:
        if len(tries) > MOST_TRIES or not all(isinstance(each, dict) for each in tries):
            raise self.error(f"a stop has at most {MOST_TRIES} things to try, each beginning with [[stop.try]]", *path, "try")
        return tuple(self.read_try(given, scene, *path, "try", place) for place, given in enumerate(tries))

    def read_try(self, given: dict, scene: Scene, *path: str | int) -> Try:
        self.check_kinds(given, OF_A_TRY, "something to try", *path)
        for key in ("do", "button"):
            if key not in given:
                raise self.error(f"something to try needs {key}", *path)
        does, what = given["do"], given.get("what", "")
        if does not in WAYS:
            raise self.error(f"there is nothing to do called {quoted(does)}; {did_you_mean(does, WAYS)}", *path, "do")
        if does in ("change", "turn"):
            self.check_number(scene, does, what, *path)
        elif what or does == "reverse":
            if what not in ROLES:
                raise self.error(f"what is reversed is {' or '.join(ROLES)}, not {quoted(what)}", *path, "what")
            with self.at(*path, "what"):
                scene.reverse(what)
        if does == "change" and not given.get("by"):
            raise self.error("change needs by, the number by which it goes up or down", *path)
        after, stopped, question = (
            self.text(given[key], LONGEST_CAPTION, *path, key) if key in given else "" for key in ("after", "stopped", "question")
        )
        return Try(
            does,
            self.text(given["button"], LONGEST_BUTTON, *path, "button"),
            what,
            float(given.get("by", 0.0)),
            after,
            stopped,
            question,
            self.read_answers(given, scene, *path) if does == "ask" else {},
        )

    def check_number(self, scene: Scene, does: str, what: str, *path: str | int) -> None:
        numbers = [control.name for control in scene.controls if isinstance(control, Number)]
        if what not in numbers:
            raise self.error(f"{scene.name} has no number {quoted(what)}; {did_you_mean(what, numbers, 'it has')}", *path, "what")
        if does == "turn" and scene.by_name[what].unit != "r/min":
            raise self.error(f"what a visitor turns is a speed in r/min, and {what} is none", *path, "what")

    def read_answers(self, given: dict, scene: Scene, *path: str | int) -> dict[str, Words]:
        """Words for choices of the scene's question about what is set up, the right one among them."""
        question = scene.question()
        values = [value for value, _ in question.choices]
        answers = given.get("answers", {})
        if "question" not in given or len(answers) < 2:
            raise self.error("ask needs a question, and answers with words for two of the scene's choices or more", *path)
        for value in answers:
            if value not in values:
                what = f"the scene's question has no choice {quoted(value)}; {did_you_mean(value, values, 'it has')}"
                raise self.error(what, *path, "answers", value)
        if question.answer not in answers:
            raise self.error(f"the right answer here is {question.answer}, which answers lacks", *path, "answers")
        return {value: self.text(words, LONGEST_BUTTON, *path, "answers", value) for value, words in answers.items()}
