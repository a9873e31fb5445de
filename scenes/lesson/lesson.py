"""A lesson: steps that set a scene up, each with a caption for the class, notes for the speaker and perhaps a question.

A lesson is a TOML file; its format is explained at the head of `built_in.toml`. It is checked when
read, and errors are reported with their line.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field
from importlib.resources import files

from physics.arguments import quoted
from scenes import catalogue
from scenes.bench.prediction import Prediction
from scenes.lesson.toml_lines import TomlLines
from scenes.names import did_you_mean, plain_name
from scenes.scene.scene import Scene

LONGEST_CAPTION = 120  # characters that can be read from the back row at a glance
MOST_STEPS = 999
MOST_READINGS = 5  # that are taken in at once
LONGEST = 1_000_000  # characters of a file
LONGEST_LINE = 10_000  # characters: a key with many thousand dots takes tomllib minutes

KINDS: dict[str, tuple[type | tuple[type, ...], str]] = {
    "scene": (str, "text in quotes"),
    "settings": (dict, "settings in braces, { name = value }"),
    "view": (str, "text in quotes"),
    "readings": (list, 'names in brackets, ["F", "I"]'),
    "caption": (str, "text in quotes"),
    "notes": (str, "text in quotes"),
    "question": ((bool, int), "true, or the number of a question"),
    "vote": (bool, "true or false"),
    "go_on": (bool, "true or false"),
    "hold": (bool, "true or false"),
    "answers": (bool, "true or false"),
}
OF_THE_LESSON = ("title", "step")
IN_PLAIN_WORDS = {  # tomllib's messages, where they leave the reader guessing
    "Invalid value": "this value cannot be read; put text in quotes",
    "Illegal character '\\n'": "a quote must be closed on the line where it opens",
    "Invalid statement": "a line is name = value, or [[step]]",
    "Cannot mutate immutable namespace": "something of that name exists already, and nothing can be added to it",
    "Exceeds the limit": "a number has thousands of digits",
}


class LessonError(ValueError):
    """What is wrong with a lesson, in one sentence with the file and the line."""


@dataclass(frozen=True)
class Step:
    """One step: what is set up, captioned and asked.

    `question` is True for the scene's question about this set-up, or the number of a question that brings its own set-up.
    `vote`: going on shows the class's votes large, asks again, and shows both, before the answer. `readings` are the names of those that
    matter, in their order; the others are folded away.
    """

    scene: str
    settings: dict = field(default_factory=dict)
    view: str | None = None
    readings: tuple[str, ...] = ()
    caption: str = ""
    notes: str = ""
    question: bool | int = False
    vote: bool = False
    go_on: bool = False
    hold: bool = False
    answers: bool = True

    def set_up(self, scene: Scene) -> None:
        """Restart the scene as this step wants it, everything else at its default; `ValueError` if that is impossible."""
        self.change(scene)
        scene.restart()

    def change(self, scene: Scene) -> None:
        """Change the settings to this step's without stopping the motion."""
        scene.set_all({control.name: control.default for control in scene.controls} | self.settings)
        scene.look(self.view or scene.views[0].name)

    def put_question(self, prediction: Prediction, scene: Scene) -> None:
        """Put this step's question; `ValueError` if that is impossible."""
        if self.question is True:
            prediction.ask_present(scene)
        elif self.question is not False:
            prediction.ask(scene, self.question)


@dataclass(frozen=True)
class Lesson:
    title: str
    steps: tuple[Step, ...]


def built_in() -> str:
    """The text of the built-in lesson."""
    return files("scenes.lesson").joinpath("built_in.toml").read_text("utf-8")


def read(text: str, name: str) -> Lesson:
    """The lesson in a file's `text`; `LessonError`, with the file's `name` and the line, if it is not valid."""
    if len(text) > LONGEST:
        raise LessonError(f"{name}, line 1: a lesson has at most {LONGEST} characters.")
    for number, line in enumerate(text.split("\n"), 1):
        if len(line) > LONGEST_LINE:
            raise LessonError(f"{name}, line {number}: a line has at most {LONGEST_LINE} characters, this one {len(line)}.")
    try:
        data = tomllib.loads(text)
    except (ValueError, RecursionError) as wrong:
        raise _no_toml(text, name, wrong) from None
    return _Reader(name, TomlLines(text)).lesson(data)


def _no_toml(text: str, name: str, wrong: Exception) -> LessonError:
    """The error for text that is not TOML."""
    if isinstance(wrong, RecursionError):
        return LessonError(f"{name}, line 1: brackets are nested too deeply.")
    said, line = str(wrong), re.search(r"\(at line (\d+), column \d+\)$", str(wrong))
    what = re.sub(r" \(at .*\)$", "", said)
    what = next((plain for begins, plain in IN_PLAIN_WORDS.items() if what.startswith(begins)), what[0].lower() + what[1:])
    return LessonError(f"{name}, line {line[1] if line else text.rstrip().count(chr(10)) + 1}: {what}.")


class _Reader:
    """Builds the lesson from parsed TOML, and reports errors where they stand."""

    def __init__(self, name: str, lines: TomlLines):
        self.name = name
        self.lines = lines
        self.scenes: dict[str, Scene] = {}

    def error(self, what, *path: str | int) -> LessonError:
        """The error `what`, with the file's name and the line of `path`."""
        sentence = str(what)
        return LessonError(f"{self.name}, line {self.lines.of(*path)}: {sentence}{'' if sentence[-1] in '.?' else '.'}")

    def lesson(self, data: dict) -> Lesson:
        for key in data:
            if key in KINDS:
                raise self.error(f"{key} belongs to a step, below its [[step]]", key)
            if key not in OF_THE_LESSON:
                raise self.error(f"a lesson has no {quoted(key)}; {did_you_mean(key, OF_THE_LESSON, 'it has')}", key)
        title, steps = data.get("title", "A lesson"), data.get("step", [])
        if not isinstance(title, str):
            raise self.error(f"title takes text in quotes, not {quoted(title)}", "title")
        if not isinstance(steps, list) or not all(isinstance(step, dict) for step in steps):
            raise self.error("each step begins with [[step]], in double brackets", "step")
        if not 1 <= len(steps) <= MOST_STEPS:
            raise self.error(f"a lesson has from 1 to {MOST_STEPS} steps, each beginning with [[step]]", "step")
        return Lesson(title, tuple(self.step(given, place) for place, given in enumerate(steps)))

    def step(self, given: dict, place: int) -> Step:
        for key, value in given.items():
            if key not in KINDS:
                raise self.error(f"a step has no {quoted(key)}; {did_you_mean(key, KINDS, 'it has')}", "step", place, key)
            kind, words = KINDS[key]
            if not isinstance(value, kind):
                raise self.error(f"{key} takes {words}, not {quoted(value)}", "step", place, key)
        if "scene" not in given:
            raise self.error("a step needs a scene", "step", place)
        if len(given.get("caption", "")) > LONGEST_CAPTION:
            length = len(given["caption"])
            raise self.error(f"a caption has at most {LONGEST_CAPTION} characters, this one {length}", "step", place, "caption")
        if type(given.get("question")) is int and given.get("settings"):
            raise self.error("a numbered question brings its own settings, so the step can have none", "step", place, "settings")
        if given.get("vote") and not given.get("question"):
            raise self.error("vote needs a question in the same step", "step", place, "vote")
        if "readings" in given:
            self.check_names(given["readings"], place)
        step = Step(**given | {"readings": tuple(map(plain_name, given.get("readings", ())))})
        self.try_out(step, place)
        return step

    def check_names(self, names: list, place: int) -> None:
        if not 1 <= len(names) <= MOST_READINGS or not all(isinstance(name, str) for name in names):
            kind = KINDS["readings"][1]
            raise self.error(f"readings takes from 1 to {MOST_READINGS} {kind}, not {quoted(names)}", "step", place, "readings")

    def try_out(self, step: Step, place: int) -> None:
        """Set up the step as the lesson will, and put its question."""
        try:
            scene = self.scenes[step.scene] = self.scenes.get(step.scene) or catalogue.scene_class(step.scene)()
        except ValueError as wrong:
            raise self.error(wrong, "step", place, "scene") from None
        for name, value in step.settings.items():
            if name not in scene.by_name:
                what = f"{scene.name} has no setting {quoted(name)}; {did_you_mean(name, scene.by_name, 'it has')}"
                raise self.error(what, "step", place, "settings", name)
            try:
                scene.by_name[name].checked(value)
            except ValueError as wrong:
                raise self.error(wrong, "step", place, "settings", name) from None
        for key, does in (
            ("view", lambda: scene.look(step.view or scene.view)),
            ("settings", lambda: step.set_up(scene)),
            ("question", lambda: step.put_question(Prediction(), scene)),
        ):
            try:
                does()
            except ValueError as wrong:
                raise self.error(wrong, "step", place, key) from None
        there = list(dict.fromkeys(reading.name for reading in scene.readings()))
        for name in step.readings:
            if name not in there:
                what = f"{scene.name} has no reading {quoted(name)} in this step; {did_you_mean(name, there, 'it has')}"
                raise self.error(what, "step", place, "readings")
