"""The file of a student's answers, kept as `kept.lines` does: one JSON object a line, in the order answered.

Every line has these fields, and may have others, which are kept as they are:

    version   1; a later one keeps these fields and may add more
    when      the time of the answer, UTC, as "2026-03-09T14:05:30Z" (ISO 8601)
    scene     the scene's name
    seed      the question's number, from which its set-up follows; null for a set-up of the student's own
    address   the set-up as the query of the page's URL
    question  what was asked, in words
    given     the choice taken, in words, or the figure; of two tries the first; "" where the answer was shown instead
    answer    the right one
    right     whether they are the same
    kind      the kind of question, as `thumbwise scenes` lists it; missing, as in files of before there were kinds: "forward"
    mistake   the usual mistakes that give this answer, joined by " or "; "" or missing where none is known
    avoided   those that would have given another answer, joined so too; "" or missing where none is known
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from scenes.kept.lines import KeptLines, are_texts, is_time, table
from scenes.scene.question import FORWARD

COLUMNS = ("when", "scene", "kind", "seed", "question", "given", "answer", "right", "mistake")
LATER = {"kind": FORWARD, "mistake": "", "avoided": ""}  # fields that a file of before does not have, and what they are then
NO_HOME = "Results cannot be kept: this user has no home folder; give a file with --results."


@dataclass(frozen=True)
class Answer:
    """One answer, with the fields of a line of the file."""

    when: str
    scene: str
    seed: int | None
    address: str
    question: str
    given: str
    answer: str
    right: bool
    kind: str = FORWARD
    mistake: str = ""
    avoided: str = ""

    @property
    def shown(self) -> bool:
        """Whether the answer was shown, and none was given."""
        return not (self.given or self.right)


class Results(KeptLines[Answer]):
    """The answers in a file."""

    def __init__(self, path: Path | None):
        super().__init__(path, _answer, "results", "answer", NO_HOME)

    @property
    def answers(self) -> list[Answer]:
        """Those that are written."""
        return self.entries


def usual_place() -> Path | None:
    """The default file for this user's answers, in the platform's data folder; `None` for a user without a home folder,
    such as a service or a container."""
    try:
        return _data_folder() / "practice.jsonl"
    except RuntimeError:
        return None


def _data_folder() -> Path:
    if sys.platform == "win32":
        told = os.environ.get("LOCALAPPDATA")
        return (Path(told) if told else Path.home() / "AppData" / "Local") / "Thumbwise"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "Thumbwise"
    told = os.environ.get("XDG_DATA_HOME", "")  # the XDG specification: a relative path there is ignored
    return (Path(told) if os.path.isabs(told) else Path.home() / ".local" / "share") / "thumbwise"


def _answer(fields: dict) -> Answer | None:
    """The answer made of a line's fields, ignoring any others; `None` if they are not valid."""
    wanted: dict[str, Any] = {name: fields.get(name, LATER.get(name)) for name in Answer.__dataclass_fields__}
    texts = [wanted[name] for name in ("scene", "address", "question", "given", "answer", *LATER)]
    seed = wanted["seed"] is None or type(wanted["seed"]) is int
    if not (are_texts(*texts) and is_time(wanted["when"]) and seed and type(wanted["right"]) is bool):
        return None
    return Answer(**wanted)


def as_csv(answers: list[Answer], in_words: Callable[[Answer], dict[str, str]] = lambda answer: {}) -> str:
    """The answers as CSV, a heading first; right is yes or no. `in_words`: fields that are told otherwise than they are kept, such as
    the title of a scene."""
    cells = [asdict(answer) | in_words(answer) | {"right": "yes" if answer.right else "no"} for answer in answers]
    return table(COLUMNS, [[each[name] for name in COLUMNS] for each in cells])
