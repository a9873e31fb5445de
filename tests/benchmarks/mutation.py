"""One break: where, what becomes what, and which tests should notice."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Mutation:
    file: str
    old: str
    new: str
    tests: tuple[str, ...]
