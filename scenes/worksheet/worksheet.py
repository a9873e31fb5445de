"""A worksheet: exercises drawn at random from a seed, each answered by `physics`, in one version or several."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import count, cycle, islice

from scenes import catalogue
from scenes.practice.topics import scenes_of
from scenes.worksheet import conductors, connections, drives, figures, machines, windings
from scenes.worksheet.exercise import Exercise, Kind
from scenes.worksheet.likeness import likeness

_ALL = {name: kind for room in (conductors, windings, machines, connections, drives, figures) for name, kind in room.KINDS.items()}
KINDS = dict(sorted(_ALL.items(), key=lambda item: (item[1].asks_scene, catalogue.NAMES.index(item[1].scenes[0]), item[1].level)))
"""Every kind of exercise by name, in the order of the lesson; a scene's own question comes last."""

MOST_QUESTIONS = 60
LARGEST_SEED = 999_999
LEVELS = (1, 2, 3)
VERSIONS = "ABCDEFGH"
TRIES, TRIES_OF_A_SCENE = 30, 6  # at drawing an exercise that is unlike those already there; some scenes take long over theirs
MOST_TRIES = 100  # at drawing a second one of a rare case


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
    """A sheet for each of `letters` of `VERSIONS`: the same kinds, and cases of them, in the same order with other figures, and the same
    letter always the same sheet, whichever others are asked for. "" for the only one. `ValueError` says what is allowed."""
    for name, value, most in (("questions", questions, MOST_QUESTIONS), ("seed", seed, LARGEST_SEED)):
        if not isinstance(value, int) or not 1 <= value <= most:
            raise ValueError(f"{name} takes a whole number from 1 to {most}, not {value!r}.")
    kinds = kinds_of(topics, levels)
    dice = random.Random(f"sheet {seed}")
    whole, rest = divmod(questions, len(kinds))
    names = sorted([*list(kinds) * whole, *dice.sample(list(kinds), rest)], key=list(kinds).index)
    places = list(zip(names, _scenes_in_turn(dice, names, kinds), strict=True))
    made: list[Sheet] = []
    for letter in VERSIONS[: VERSIONS.index(max(letters)) + 1] if max(letters) else ("",):
        drawn: list[Question] = []
        for place, (name, scenes) in enumerate(places):
            kind = kinds[name][0]
            beside = [sheet.questions[place] for sheet in made]
            there = [question for sheet in made for question in sheet.questions] + drawn
            others = [[question.exercise for question in some if question.kind == name] for some in (beside, there)]
            case = made[0].questions[place].exercise.case if made else None
            drawn.append(Question(name, kind.marks, _another(kind, scenes, f"{seed}{letter} {place} {name}", case, *others)))
        made.append(Sheet(seed, tuple(drawn), letter))
    return [each for each in made if each.version in letters]


def _scenes_in_turn(dice: random.Random, names: Sequence[str], kinds: dict[str, tuple[Kind, tuple[str, ...]]]) -> Iterator[tuple[str, ...]]:
    """For each question the scenes that it may be of: for a kind that asks a scene one in turn, so that no scene comes again before all
    others, and every version asks the same."""
    turns = {name: cycle(dice.sample(scenes, len(scenes))) for name, (kind, scenes) in kinds.items() if kind.asks_scene}
    for name in names:
        yield (next(turns[name]),) if name in turns else kinds[name][1]


def _another(
    kind: Kind, scenes: tuple[str, ...], seed: str, case: str | None, beside: Sequence[Exercise], there: Sequence[Exercise]
) -> Exercise:
    """Of some exercises of that case, or of any, the one least like those `beside` it on the other versions, and like any of its kind
    that are `there`."""
    found: dict[float, Exercise] = {}
    drawn = ((attempt, kind.exercise(random.Random(f"{seed} {attempt}"), scenes)) for attempt in count())
    fitting = ((attempt, exercise) for attempt, exercise in drawn if case in (None, exercise.case))
    for attempt, exercise in islice(fitting, TRIES_OF_A_SCENE if kind.asks_scene else TRIES):
        if found and attempt > MOST_TRIES:  # a rare case
            break
        alike = sum(max((likeness(exercise, other) for other in others), default=0.0) for others in (beside, there))
        found.setdefault(alike, exercise)
        if not alike:
            break
    return found[min(found)]
