"""A lesson: steps that set a scene up, each with a caption for the class, notes for the speaker and perhaps a question.

A lesson is a TOML file; what may stand in it is told at the head of `lessons/built_in.toml`. It is checked when it is
read, and what is wrong is told with its line.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field
from difflib import get_close_matches
from importlib.resources import files

from scenes import catalogue
from scenes.prediction import checked_seed
from scenes.scene import Scene

KEYS = {"scene": str, "set": dict, "view": str, "caption": str, "notes": str, "ask": (bool, int), "hold": bool, "answers": bool}
KINDS = {str: "a text in quotes", dict: "settings in braces, { name = value }", bool: "true or false", (bool, int): "true, or the number of a question"}


class LessonError(ValueError):
    """What is wrong with a lesson, in one sentence with the file and the line."""


@dataclass(frozen=True)
class Step:
    """One press of the key: what is set up, said and asked."""

    scene: str
    set: dict = field(default_factory=dict)
    view: str | None = None
    caption: str = ""
    notes: str = ""
    ask: bool | int = False
    hold: bool = False
    answers: bool = True

    def set_up(self, scene: Scene) -> None:
        """Put the scene to what this step wants, all else as usual; `ValueError` where that cannot be."""
        scene.set_all({control.name: control.default for control in scene.controls} | self.set)
        scene.look(self.view or scene.views[0].name)
        scene.restart()


@dataclass(frozen=True)
class Lesson:
    title: str
    steps: tuple[Step, ...]


def built_in() -> str:
    """The text of the built-in lesson."""
    return files("scenes").joinpath("lessons/built_in.toml").read_text("utf-8")


def read(text: str, name: str) -> Lesson:
    """The lesson in a file's `text`; `LessonError`, with the file's `name` and the line, for what it cannot be."""
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as wrong:
        found = re.search(r"\(at (?:line (\d+), column \d+|end of document)\)", str(wrong))
        line = found[1] if found and found[1] else str(text.count("\n") + 1)
        what = re.sub(r" \(at .*\)$", "", str(wrong))
        raise LessonError(f"{name}, line {line}: {what[0].lower()}{what[1:]}.") from None
    where = _Lines(text, name)
    for key in data:
        if key not in ("title", "step"):
            raise where.error(None, key, f"a lesson has a title and steps, not {key!r}")
    title, steps = data.get("title", "A lesson"), data.get("step", [])
    if not isinstance(title, str):
        raise where.error(None, "title", "title takes a text in quotes")
    if not isinstance(steps, list) or not steps:
        raise where.error(None, "step", "a lesson needs at least one [[step]]")
    return Lesson(title, tuple(_step(step, number, where) for number, step in enumerate(steps)))


def _step(given: dict, number: int, where: _Lines) -> Step:
    for key, value in given.items():
        if key not in KEYS:
            near = get_close_matches(key, KEYS, 1)
            hint = f"; did you mean {near[0]}?" if near else f"; it has {', '.join(KEYS)}"
            raise where.error(number, key, f"a step has no {key!r}{hint}")
        kind = KEYS[key]
        if not isinstance(value, kind) or (kind is str and not isinstance(value, str)):
            raise where.error(number, key, f"{key} takes {KINDS[kind]}, not {value!r}")
    if "scene" not in given:
        raise where.error(number, None, "a step needs a scene")
    try:
        scene = catalogue.scene_class(given["scene"])()
    except ValueError as wrong:
        raise where.error(number, "scene", str(wrong).rstrip(".")) from None
    step = Step(**given)
    try:
        step.set_up(scene)
    except ValueError as wrong:
        raise where.error(number, "view" if "is seen from" in str(wrong) else "set", str(wrong).rstrip(".")) from None
    if type(step.ask) is int:
        try:
            checked_seed(step.ask)
        except ValueError as wrong:
            raise where.error(number, "ask", str(wrong).rstrip(".")) from None
    return step


class _Lines:
    """Where in the text the steps and their keys stand."""

    def __init__(self, text: str, name: str):
        self.name = name
        self.lines = text.splitlines()
        self.begins = [at for at, line in enumerate(self.lines) if re.match(r"\s*\[\[\s*step\s*\]\]", line)]

    def error(self, step: int | None, key: str | None, what: str) -> LessonError:
        """That something is wrong with a key of a step, or of the whole lesson."""
        begin = 0 if step is None else self.begins[step] if step < len(self.begins) else 0
        after = self.begins[step + 1] if step is not None and step + 1 < len(self.begins) else len(self.lines)
        if step is None and self.begins:
            after = self.begins[0]
        line = begin
        if key is not None:
            pattern = re.compile(rf"\s*(\[\s*(step\s*\.\s*)?)?[\"']?{re.escape(key)}[\"']?\s*[=.\]]")
            line = next((at for at in range(begin, after) if pattern.match(self.lines[at])), begin)
        return LessonError(f"{self.name}, line {line + 1}: {what}{'' if what.endswith('?') else '.'}")
