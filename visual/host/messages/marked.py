"""A marked test, on a trainee's page and on the instructor's."""

from __future__ import annotations

from typing import TypedDict


class Sitting(TypedDict):
    """How far a trainee has come in a marked test: under which name, or none yet; which question is put, of how many; if there is a limit,
    the minutes for all of it and the seconds that are left; `another`: whether somebody may begin on that page now. `refused` says why
    the last request was, or is empty."""

    name: str | None
    place: int
    count: int
    minutes: float | None
    seconds: float | None
    ended: bool
    another: bool
    refused: str


class MockAnswer(TypedDict):
    """A question that was put, what was given, "" for nothing, and the right answer, both in words."""

    question: str
    given: str
    answer: str
    right: bool
    reason: str


class MockTest(TypedDict):
    """A mock test in practice: which of so many questions, and the seconds that are left. How many were right, also in words,
    all that was put, and the mistakes that were made, are null and empty until it is over."""

    place: int
    count: int
    seconds: int
    over: bool
    right: int | None
    result: str
    put: list[MockAnswer]
    mistakes: list[str]


class Trainee(TypedDict):
    """Times of day, or empty; `readmitted`: whoever types the name next goes on with it; `here`: whether their page is open."""

    name: str
    begun: str
    ended: str
    readmitted: bool
    here: bool


class MarkedTest(TypedDict):
    """For the instructor: what the test is, the file in which it is kept, and who has begun and ended."""

    topics: list[str]
    questions: int
    minutes: float | None
    file: str
    trainees: list[Trainee]
