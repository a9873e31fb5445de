"""Reading a lesson: steps that set a scene up, or pages of one's own, with a caption, notes for the speaker and perhaps a question.

A lesson is a TOML file; its format is explained at the head of `built_in.toml`. It is checked when
read, and errors are reported with their line.
"""

from __future__ import annotations

from collections.abc import Sequence
from importlib.resources import files

from physics.arguments import quoted
from scenes.bench.prediction import Prediction
from scenes.lesson.own_question import checked_begun, own_question
from scenes.lesson.pictures import Picture, Pictures
from scenes.lesson.steps import Lesson, OfKind, Step
from scenes.lesson.toml_reader import TomlError, TomlReader
from scenes.names import did_you_mean, plain_name
from scenes.scene.question import Question

VERSION = 2  # of the format; 1, or none, had no pages, no own questions and no minutes
LONGEST_CAPTION = 120  # characters that can be read from the back row at a glance
MOST_STEPS = 999
LONGEST_TITLE = 80  # characters in large letters
LONGEST_TEXT = 1500  # characters on a page
MOST_READINGS = 5  # that are taken in at once
MOST_MINUTES = 600

TEXT = (str, "text in quotes")
YES_OR_NO = (bool, "true or false")
KINDS: dict[str, tuple[type | tuple[type, ...], str]] = {
    "scene": TEXT,
    "settings": (dict, "settings in braces, { name = value }"),
    "view": TEXT,
    "readings": (list, 'names in brackets, ["F", "I"]'),
    "caption": TEXT,
    "notes": TEXT,
    "minutes": ((int, float), "a number"),
    "question": ((bool, int, dict), "true, the number of a question, { kind = NAME, number = N }, or your own, [step.question]"),
    "vote": YES_OR_NO,
    "go_on": YES_OR_NO,
    "hold": YES_OR_NO,
    "answers": YES_OR_NO,
    "title": TEXT,
    "text": TEXT,
    "picture": TEXT,
    "shows": TEXT,
    "begun": (dict, 'your own question as far as it is written, { text = "..." }'),
}
OF_A_KIND = {"kind": TEXT, "number": (int, "a number"), "about": (int, "a number")}
OF_A_PAGE = ("title", "text", "picture", "shows")
OF_A_SCENE = ("settings", "view", "readings", "go_on", "hold", "answers")
LONGEST_OF = {"caption": LONGEST_CAPTION, "title": LONGEST_TITLE, "text": LONGEST_TEXT, "shows": LONGEST_TEXT}
OF_THE_LESSON = ("version", "title", "step")


class LessonError(TomlError):
    """What is wrong with a lesson."""


def built_in() -> str:
    """The text of the built-in lesson."""
    return files("scenes.lesson").joinpath("built_in.toml").read_text("utf-8")


def read(text: str, name: str, pictures: Pictures | None = None, tried: Sequence[Step] = ()) -> Lesson:
    """The lesson in a file's `text`; `LessonError`, with the file's `name` and the line, if it is not valid.

    `pictures`: those beside the file, if there is one. Steps that equal one already `tried` are not set up again to try them.
    """
    return _Reader(text, name, pictures, tried).lesson()


# Long, for every check of a lesson is here, in the order in which they are made.
class _Reader(TomlReader):
    """Builds the lesson from its file."""

    what, part, failure = "lesson", "step", LessonError

    def __init__(self, text: str, name: str, pictures: Pictures | None, tried: Sequence[Step]):
        super().__init__(text, name)
        self.pictures = pictures
        self.tried = tried
        self.shown: dict[str, Picture] = {}

    def lesson(self) -> Lesson:
        data = self.data
        for key in data:
            if key in KINDS and key not in OF_THE_LESSON:
                raise self.error(f"{key} belongs to a step, below its [[step]]", key)
            if key not in OF_THE_LESSON:
                raise self.error(f"a lesson has no {quoted(key)}; {did_you_mean(key, OF_THE_LESSON, 'it has')}", key)
        version, title, steps = data.get("version", 1), data.get("title", "A lesson"), data.get("step", [])
        if type(version) is not int or version < 1:
            raise self.error(f"version takes the number of the format, {VERSION}, not {quoted(version)}", "version")
        if version > VERSION:
            raise self.error(f"this lesson has format {version}, of a later Thumbwise; this one reads up to {VERSION}", "version")
        if not isinstance(title, str):
            raise self.error(f"title takes text in quotes, not {quoted(title)}", "title")
        if not isinstance(steps, list) or not all(isinstance(step, dict) for step in steps):
            raise self.error("each step begins with [[step]], in double brackets", "step")
        if not 1 <= len(steps) <= MOST_STEPS:
            raise self.error(f"a lesson has from 1 to {MOST_STEPS} steps, each beginning with [[step]]", "step")
        return Lesson(title, tuple(self.step(given, place) for place, given in enumerate(steps)), self.shown)

    def step(self, given: dict, place: int) -> Step:
        self.check_kinds(given, KINDS, "a step", "step", place)
        self.check_limits(given, place)
        if "readings" in given:
            self.check_names(given["readings"], place)
        if isinstance(given.get("question"), dict):
            given = given | {"question": self.asked(given["question"], place)}
        with self.at("step", place, "begun"):
            checked_begun(given.get("begun", {}))
        step = Step(**given | {"readings": tuple(map(plain_name, given.get("readings", ())))})
        if not step.scene:
            self.check_page(step, given, place)
        elif step not in self.tried:
            self.try_out(step, place)
        return step

    def check_limits(self, given: dict, place: int) -> None:
        for key in given:
            if key in LONGEST_OF and (length := len(given[key])) > LONGEST_OF[key]:
                raise self.error(f"a {key} has at most {LONGEST_OF[key]} characters, this one {length}", "step", place, key)
            if key in (OF_A_PAGE if given.get("scene") else OF_A_SCENE):
                whose = "a page, which is a step without a scene" if given.get("scene") else "a step with a scene"
                raise self.error(f"{key} belongs to {whose}", "step", place, key)
        if not 0 <= given.get("minutes", 0) <= MOST_MINUTES:
            raise self.error(f"minutes takes a number from 0 to {MOST_MINUTES}", "step", place, "minutes")
        if type(given.get("question")) is int and given.get("settings"):
            raise self.error("a numbered question brings its own settings, so the step can have none", "step", place, "settings")
        if given.get("vote") and not given.get("question"):
            raise self.error("vote needs a question in the same step", "step", place, "vote")

    def asked(self, given: dict, place: int) -> OfKind | Question:
        """The question in a table: of one of the scene's kinds, or one's own."""
        if "kind" in given:
            self.check_kinds(given, OF_A_KIND, "a question of a kind", "step", place, "question")
            if "number" in given and "about" in given:
                raise self.error("number brings a set-up and about keeps this one; give one of them", "step", place, "question")
            return OfKind(**given)
        try:
            return own_question(given)
        except ValueError as wrong:
            raise self.error(wrong, "step", place, "question", *(key for key in given if str(wrong).startswith(f"{key} "))) from None

    def check_page(self, step: Step, given: dict, place: int) -> None:
        """A page has something on it, its picture is there, and its question is its own."""
        if not (step.title or step.text or step.picture):
            raise self.error("a step needs a scene, or else a title, a text or a picture of its own", "step", place)
        if not isinstance(step.question, Question) and step.question is not False:
            raise self.error("a page has no set-up to ask about; give it a question of its own, [step.question]", "step", place, "question")
        if not step.picture:
            return
        with self.at("step", place, "picture"):
            if self.pictures is None:
                raise ValueError("a lesson has pictures only beside a file of its own")
            self.shown[step.picture] = self.pictures[step.picture]

    def check_names(self, names: list, place: int) -> None:
        if not 1 <= len(names) <= MOST_READINGS or not all(isinstance(name, str) for name in names):
            kind = KINDS["readings"][1]
            raise self.error(f"readings takes from 1 to {MOST_READINGS} {kind}, not {quoted(names)}", "step", place, "readings")

    def try_out(self, step: Step, place: int) -> None:
        """Set up the step as the lesson will, and put its question."""
        scene, prediction = self.scene(step.scene, "step", place, "scene"), Prediction()
        self.check_settings(scene, step.settings, "step", place, "settings")
        for key, does in (
            ("view", lambda: scene.look(step.view or scene.view)),
            ("settings", lambda: step.set_up(scene)),
            ("question", lambda: step.put_question(prediction, scene)),
        ):
            with self.at("step", place, key):
                does()
        if step.vote and prediction.posed.figure:
            raise self.error("vote needs a question with choices, and this one takes a figure", "step", place, "vote")
        there = list(dict.fromkeys(reading.name for reading in scene.readings()))
        for name in step.readings:
            if name not in there:
                what = f"{scene.name} has no reading {quoted(name)} in this step; {did_you_mean(name, there, 'it has')}"
                raise self.error(what, "step", place, "readings")
