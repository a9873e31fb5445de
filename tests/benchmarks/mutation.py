"""One break, or several: where, what becomes what, and which tests should notice."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Mutation:
    file: str
    old: str
    new: str
    tests: tuple[str, ...]


def noticed_by(tests: tuple[str, ...], *breaks: tuple[str, str, str]) -> tuple[Mutation, ...]:
    """Breaks (file, old, new) which the same tests should notice."""
    return tuple(Mutation(file, old, new, tests) for file, old, new in breaks)
