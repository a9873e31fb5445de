"""A worksheet: exercises drawn at random from a seed, each answered by `physics`, in one version or several."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass

from scenes import catalogue
from scenes.practice.practice import scenes_of
from scenes.worksheet import conductors, connections, drives, figures, machines, windings
from scenes.worksheet.exercise import Exercise, Kind

_ALL = {name: kind for room in (conductors, windings, machines, connections, drives, figures) for name, kind in room.KINDS.items()}
KINDS = dict(sorted(_ALL.items(), key=lambda item: (item[1].asks_scene, catalogue.NAMES.index(item[1].scenes[0]), item[1].level)))
"""Every kind of exercise by name, in the order of the lesson; a scene's own question comes last."""

MOST_QUESTIONS = 60
LARGEST_SEED = 999_999
LEVELS = (1, 2, 3)
VERSIONS = "ABCDEFGH"
TRIES = 30  # at drawing an exercise that is not yet on the sheet


@dataclass(frozen=True)
class Question:
    """An exercise on a sheet: the name of its kind, and its marks."""

    kind: str
    marks: int
    exercise: Exercise


@dataclass(frozen=True)
class Sheet:
    """The questions of a sheet, the seed that makes them again, and the letter of its version, if there are several."""

    seed: int
    questions: tuple[Question, ...]
    version: str = ""

    @property
    def marks(self) -> int:
        return sum(question.marks for question in self.questions)

    @property
    def name(self) -> str:
        """The sheet's number with its version."""
        return f"{self.seed} {self.version}".strip()


def kinds_of(topics: Sequence[str] = (), levels: Sequence[int] = LEVELS) -> dict[str, tuple[Kind, tuple[str, ...]]]:
    """The kinds of exercise on these topics and levels, each with those of its scenes that are asked for; all without a topic.

    A topic is one of practice's (`scenes_of`). `ValueError` says what there is for a topic that nobody knows, or that has no
    question of these levels.
    """
    found: dict[str, tuple[Kind, tuple[str, ...]]] = {}
    for topic in topics or (None,):
        scenes = scenes_of(topic)
        there = {name: kind for name, kind in KINDS.items() if set(kind.scenes) & set(scenes)}
        fitting = {name: kind for name, kind in there.items() if kind.level in levels}
        if not fitting:
            has = sorted({kind.level for kind in there.values()})
            raise ValueError(f"On {topic} there are no questions of level {_or(levels)}; there are some of level {_or(has)}.")
        for name, kind in fitting.items():
            before = found[name][1] if name in found else ()
            found[name] = kind, tuple(scene for scene in kind.scenes if scene in before or scene in scenes)
    return {name: found[name] for name in KINDS if name in found}


def _or(levels: Sequence[int]) -> str:
    return " or ".join(map(str, levels))


def sheet(questions: int, seed: int, topics: Sequence[str] = (), levels: Sequence[int] = LEVELS) -> Sheet:
    """A sheet of that many questions, each kind once before any comes again; `ValueError` says what is allowed."""
    (made,) = versions(questions, seed, ("",), topics, levels)
    return made


def versions(questions: int, seed: int, letters: Sequence[str], topics: Sequence[str] = (), levels: Sequence[int] = LEVELS) -> list[Sheet]:
    """A sheet for each of `letters` of `VERSIONS`: the same kinds in the same order with other figures, and the same letter always
    the same sheet, whichever others are asked for. "" for the only one. `ValueError` says what is allowed."""
    for name, value, most in (("questions", questions, MOST_QUESTIONS), ("seed", seed, LARGEST_SEED)):
        if not isinstance(value, int) or not 1 <= value <= most:
            raise ValueError(f"{name} takes a whole number from 1 to {most}, not {value!r}.")
    kinds = kinds_of(topics, levels)
    dice = random.Random(f"sheet {seed}")
    whole, rest = divmod(questions, len(kinds))
    names = sorted([*list(kinds) * whole, *dice.sample(list(kinds), rest)], key=list(kinds).index)
    made: list[Sheet] = []
    there: set[Exercise] = set()
    for letter in VERSIONS[: VERSIONS.index(max(letters)) + 1] if max(letters) else ("",):
        drawn = []
        for place, name in enumerate(names):
            kind, scenes = kinds[name]
            exercise = _not_yet_there(kind, scenes, f"{seed}{letter} {place} {name}", there)
            there.add(exercise)
            drawn.append(Question(name, kind.marks, exercise))
        made.append(Sheet(seed, tuple(drawn), letter))
    return [each for each in made if each.version in letters]


def _not_yet_there(kind: Kind, scenes: tuple[str, ...], seed: str, there: set[Exercise]) -> Exercise:
    for attempt in range(TRIES):
        exercise = kind.exercise(random.Random(f"{seed} {attempt}"), scenes)
        if exercise not in there:
            break
    return exercise
