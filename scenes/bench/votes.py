"""The file of a class's votes, kept as `kept.lines` does: one JSON object a line, in the order in which they ended. No names.

version   1; a later one keeps these fields and may add more
when      the end of the vote, UTC, as "2026-03-09T14:05:30Z" (ISO 8601)
address   the set-up as the query of the page's URL; of a page of one's own, its step
question  what was asked, in words
vote      1, or 2 where the class was asked again
counts    how many gave each answer, by the answer's words
answer    the right one
"""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from scenes.kept.lines import KeptLines, are_texts, is_time, table
from scenes.kept.writer import Writer

COLUMNS = ("when (UTC)", "set-up", "question", "vote", "answer", "right", "votes")


@dataclass(frozen=True)
class Vote:
    """One vote, with the fields of a line of the file."""

    when: str
    address: str
    question: str
    vote: int
    counts: dict[str, int]
    answer: str


class Votes(KeptLines[Vote]):
    """The votes in a file."""

    def __init__(self, path: Path):
        super().__init__(path, _vote, "votes", "vote")


def _vote(fields: dict) -> Vote | None:
    """The vote made of a line's fields, ignoring any others; `None` if they are not valid."""
    wanted: dict[str, Any] = {name: fields.get(name) for name in Vote.__dataclass_fields__}
    texts, counts = [wanted[name] for name in ("address", "question", "answer")], wanted["counts"]
    if not (are_texts(*texts) and is_time(wanted["when"]) and wanted["vote"] in (1, 2) and isinstance(counts, dict)):
        return None
    if not (are_texts(*counts) and all(type(count) is int and 0 <= count < 10**6 for count in counts.values())):
        return None
    return Vote(**wanted)


@contextmanager
def kept_in(file: Path | None):
    """What to call with each vote, which is then kept in that file, if there is one. `NotKept` if it cannot be."""
    if file is None:
        yield lambda vote: None
        return
    votes = Votes(file)
    votes.open()
    with Writer(votes) as writer:

        def keep(vote: Vote) -> None:
            votes.add(vote)
            writer.write()

        yield keep


def as_csv(votes: list[Vote]) -> str:
    """The votes as CSV: a row for each answer that there was to give."""
    rows = [
        (vote.when, vote.address, vote.question, vote.vote, words, "yes" if words == vote.answer else "no", count)
        for vote in votes
        for words, count in vote.counts.items()
    ]
    return table(COLUMNS, rows)
