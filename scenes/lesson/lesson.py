"""A lesson: steps that set a scene up, each with a caption for the class, notes for the speaker and perhaps a question.

A lesson is a TOML file; its format is explained at the head of `built_in.toml`. It is checked when
read, and errors are reported with their line.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from importlib.resources import files

from physics.arguments import quoted
from scenes.bench.prediction import Prediction
from scenes.lesson.toml_reader import TomlError, TomlReader
from scenes.names import did_you_mean, plain_name
from scenes.scene.scene import Scene

LONGEST_CAPTION = 120  # characters that can be read from the back row at a glance
MOST_STEPS = 999
MOST_READINGS = 5  # that are taken in at once

KINDS: dict[str, tuple[type | tuple[type, ...], str]] = {
    "scene": (str, "text in quotes"),
    "settings": (dict, "settings in braces, { name = value }"),
    "view": (str, "text in quotes"),
    "readings": (list, 'names in brackets, ["F", "I"]'),
    "caption": (str, "text in quotes"),
    "notes": (str, "text in quotes"),
    "question": ((bool, int), "true, or the number of a question"),
    "go_on": (bool, "true or false"),
    "hold": (bool, "true or false"),
    "answers": (bool, "true or false"),
}
OF_THE_LESSON = ("title", "step")


class LessonError(TomlError):
    """What is wrong with a lesson, in one sentence with the file and the line."""


@dataclass(frozen=True)
class Step:
    """One step: what is set up, captioned and asked.

    `question` is True for the scene's question about this set-up, or the number of a question that brings its own set-up.
    `readings` are the names of those that matter, in their order; the others are folded away.
    """

    scene: str
    settings: dict = field(default_factory=dict)
    view: str | None = None
    readings: tuple[str, ...] = ()
    caption: str = ""
    notes: str = ""
    question: bool | int = False
    go_on: bool = False
    hold: bool = False
    answers: bool = True

    def set_up(self, scene: Scene) -> None:
        """Restart the scene as this step wants it, everything else at its default; `ValueError` if that is impossible."""
        self.change(scene)
        scene.restart()

    def change(self, scene: Scene) -> None:
        """Change the settings to this step's without stopping the motion."""
        scene.set_all(scene.defaults | self.settings)
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
    return _Reader(text, name).lesson()


class _Reader(TomlReader):
    """Builds the lesson from its file."""

    what, part, failure = "lesson", "step", LessonError

    def lesson(self) -> Lesson:
        data = self.data
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
        self.check_kinds(given, KINDS, "a step", "step", place)
        if "scene" not in given:
            raise self.error("a step needs a scene", "step", place)
        if len(given.get("caption", "")) > LONGEST_CAPTION:
            length = len(given["caption"])
            raise self.error(f"a caption has at most {LONGEST_CAPTION} characters, this one {length}", "step", place, "caption")
        if type(given.get("question")) is int and given.get("settings"):
            raise self.error("a numbered question brings its own settings, so the step can have none", "step", place, "settings")
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
        scene = self.scene(step.scene, "step", place, "scene")
        self.check_settings(scene, step.settings, "step", place, "settings")
        for key, does in (
            ("view", lambda: scene.look(step.view or scene.view)),
            ("settings", lambda: step.set_up(scene)),
            ("question", lambda: step.put_question(Prediction(), scene)),
        ):
            with self.at("step", place, key):
                does()
        there = list(dict.fromkeys(reading.name for reading in scene.readings()))
        for name in step.readings:
            if name not in there:
                what = f"{scene.name} has no reading {quoted(name)} in this step; {did_you_mean(name, there, 'it has')}"
                raise self.error(what, "step", place, "readings")
