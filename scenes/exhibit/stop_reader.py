"""A stop of a tour from its file, and what may be tried there: each is tried out on its scene when it is read."""

from __future__ import annotations

import re
from typing import Any

from physics.arguments import quoted
from scenes.exhibit.driven import KINDS
from scenes.exhibit.tour import ENGLISH, TourStop, Try, Words
from scenes.lesson.toml_reader import Kinds, TomlError, TomlReader
from scenes.names import did_you_mean
from scenes.scene.controls import ROLES, Number
from scenes.scene.scene import Scene

LONGEST_CAPTION = 110  # characters: what is read in passing, and fits in large letters
LONGEST_BUTTON = 32  # characters
MOST_TRIES, MOST_LETTERS = 3, 3
HAND = "hand"  # among the letters: those at its fingers
SECONDS = (5, 600)  # that a stop may stay
NEARNESS = (1, 3)
LONGEST_WHY = 90  # characters: it is said together with what is right
GEARS, WHEELS = (1, 200), (0.02, 20)  # revolutions to one, and m

TEXT = ((str, dict), 'text in quotes, or one in each language, { en = "...", de = "..." }')
NUMBER = ((int, float), "a number")
NAME = (str, "text in quotes")
NO_BREAK_SPACE = "\N{NO-BREAK SPACE}"
OF_A_STOP: Kinds = {
    "scene": NAME,
    "settings": (dict, "settings in braces, { name = value }"),
    "view": NAME,
    "letters": (list, 'letters in brackets, ["N", "S"]'),
    "near": NUMBER,
    "seconds": NUMBER,
    "caption": TEXT,
    "parts": (dict, "a table with what is said of each part"),
    "drives": NAME,
    "gear": NUMBER,
    "wheel": NUMBER,
    "go_on": (bool, "true or false"),
    "try": (list, "tables that each begin with [[stop.try]], in double brackets"),
}
OF_A_TRY: Kinds = {
    "do": NAME,
    "what": NAME,
    "by": NUMBER,
    "button": TEXT,
    "after": TEXT,
    "stopped": TEXT,
    "again": TEXT,
    "question": TEXT,
    "answers": (dict, "a table with words for each choice of the scene's question"),
    "why": TEXT,
}
WAYS = ("reverse", "change", "turn", "ask")


def well_spaced(words: str, language: str) -> str:
    """A text as its language is set: in French no line ends before : ; ? ! or just inside quotation marks."""
    if language.split("-")[0] != "fr":
        return words
    return re.sub("(?<=«) | (?=[:;?!»])", NO_BREAK_SPACE, words)


# Long, for it has a short method for each thing that a stop may say.
class StopReader(TomlReader):
    """Builds stops. `languages`: those in which each text is given."""

    def __init__(self, text: str, name: str):
        super().__init__(text, name)
        self.languages: dict[str, str] = {ENGLISH: "English"}
        self.lacking: list[tuple[int, TomlError]] = []  # texts not there in each language, by their lines: they are told in one go

    def lacks(self, what: str, *path: str | int) -> None:
        self.lacking.append((self.lines.of(*path), self.error(what, *path)))

    def check_that_nothing_lacks(self) -> None:
        if self.lacking:
            raise self.failure.of([error for _, error in sorted(self.lacking, key=lambda each: each[0])])

    def text(self, given: Any, longest: int, *path: str | int) -> Words:
        """Text in each language."""
        if isinstance(given, str):
            if len(self.languages) > 1:
                self.lacks(f"{path[-1]} needs a text in each language: {self.in_each()}", *path)
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
                self.lacks(f"{path[-1]} lacks its text in {self.languages[code]} ({code})", *path)
        return {code: well_spaced(words, code) for code, words in given.items()}

    def in_each(self) -> str:
        return "{ " + ", ".join(f'{code} = "..."' for code in self.languages) + " }"

    def within(self, limits: tuple[float, float], value: float, *path: str | int) -> float:
        least, most = limits
        if isinstance(value, bool) or not least <= value <= most:
            raise self.error(f"{path[-1]} takes a number from {least} to {most}, not {quoted(value)}", *path)
        return float(value)

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
            hand=letters is None or HAND in letters,
            near=self.within(NEARNESS, given.get("near", 1.0), *path, "near"),
            parts=self.read_parts(given.get("parts", {}), scene, *path, "parts"),
            **self.read_driven(given, scene, *path),
            tries=self.read_tries(given.get("try", []), scene, *path),
        )

    def read_driven(self, given: dict, scene: Scene, *path: str | int) -> dict[str, Any]:
        """What is drawn on the shaft: its name, its gear and the diameter of its wheel."""
        drives = given.get("drives", "")
        if drives and drives not in KINDS:
            raise self.error(f"nothing called {quoted(drives)} can be drawn on a shaft; {did_you_mean(drives, KINDS)}", *path, "drives")
        if drives and scene.shaft_angle is None:
            raise self.error(f"{scene.name} has no shaft in its picture on which something could be drawn", *path, "drives")
        for key in ("gear", "wheel"):
            if key in given and not drives:
                raise self.error(f"{key} is that of what the shaft drives, which drives names", *path, key)
        return {
            "drives": drives,
            "gear": self.within(GEARS, given.get("gear", 1.0), *path, "gear"),
            "wheel": self.within(WHEELS, given["wheel"], *path, "wheel") if "wheel" in given else 0.0,
        }

    def read_tries(self, tries: list, scene: Scene, *path: str | int) -> tuple[Try, ...]:
        if len(tries) > MOST_TRIES or not all(isinstance(each, dict) for each in tries):
            raise self.error(f"a stop has at most {MOST_TRIES} things to try, each beginning with [[stop.try]]", *path, "try")
        begun, read = dict(scene.settings), []
        for place, given in enumerate(tries):
            scene.set_all(begun)  # what the one before has reversed
            read.append(self.read_try(given, scene, *path, "try", place))
        scene.set_all(begun)
        return tuple(read)

    def read_parts(self, given: dict, scene: Scene, *path: str | int) -> dict[str, Words]:
        """What is said of each part, tried out by pressing it."""
        begun = dict(scene.settings)
        for name in given:
            with self.at(*path, name):
                scene.press(name)
        scene.set_all(begun)
        return {name: self.text(words, LONGEST_CAPTION, *path, name) for name, words in given.items()}

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
            self.text(given["again"], LONGEST_BUTTON, *path, "again") if "again" in given else "",
            question,
            self.read_answers(given, scene, *path) if does == "ask" else {},
            self.text(given["why"], LONGEST_WHY, *path, "why") if "why" in given else "",
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
