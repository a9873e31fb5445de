"""The built-in lesson, read once by each process: every step is tried out when it is read."""

from __future__ import annotations

import tomllib
from functools import cache

import pytest

from scenes.lesson.lesson import Lesson, built_in, read

GIVEN = tomllib.loads(built_in())["step"]  # as it stands in the file
NUMBERS = [pytest.param(number, id=f"{number} {step['scene']}") for number, step in enumerate(GIVEN, 1)]


@cache
def built_in_lesson() -> Lesson:
    return read(built_in(), "")
