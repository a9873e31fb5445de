"""A worksheet: exercises drawn at random from a seed, each answered by `physics`."""

from __future__ import annotations

import random
from dataclasses import dataclass

from scenes.worksheet import conductors as worksheet_conductors
from scenes.worksheet import figures as worksheet_figures
from scenes.worksheet import machines as worksheet_machines
from scenes.worksheet.exercise import Exercise

KINDS = worksheet_conductors.KINDS | worksheet_machines.KINDS | worksheet_figures.KINDS
"""Every kind of exercise by name, in the order of the lesson: a function of the random generator."""

MOST_QUESTIONS = 60
LARGEST_SEED = 999_999
TRIES = 30  # at drawing an exercise that is not yet on the sheet


@dataclass(frozen=True)
class Sheet:
    """The exercises of a sheet with the names of their kinds, and the seed that makes them again."""

    seed: int
    exercises: tuple[tuple[str, Exercise], ...]


def sheet(questions: int, seed: int) -> Sheet:
    """A sheet of that many questions, each kind once before any comes again; `ValueError` says what is allowed."""
    for name, value, most in (("questions", questions, MOST_QUESTIONS), ("seed", seed, LARGEST_SEED)):
        if not isinstance(value, int) or not 1 <= value <= most:
            raise ValueError(f"{name} takes a whole number from 1 to {most}, not {value!r}.")
    dice = random.Random(f"sheet {seed}")
    whole, rest = divmod(questions, len(KINDS))
    names = sorted([*list(KINDS) * whole, *dice.sample(list(KINDS), rest)], key=list(KINDS).index)
    exercises: list[tuple[str, Exercise]] = []
    for place, name in enumerate(names):
        exercises.append((name, _not_yet_there(name, f"{seed} {place} {name}", [each for _, each in exercises])))
    return Sheet(seed, tuple(exercises))


def _not_yet_there(name: str, seed: str, there: list[Exercise]) -> Exercise:
    for attempt in range(TRIES):
        exercise = KINDS[name](random.Random(f"{seed} {attempt}"))
        if exercise not in there:
            break
    return exercise
