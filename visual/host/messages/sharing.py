"""What a class is told, and what is counted of it."""

from __future__ import annotations

from typing import TypedDict


class Code(TypedDict):
    """A code to scan: `size` squares each way with the quiet zone, and the outline of the dark ones as an SVG path."""

    size: int
    path: str


class Share(TypedDict):
    """Where others on the network may follow, and the first of these addresses as a code."""

    addresses: list[str]
    code: Code | None


class Tally(TypedDict):
    """The class's answers: how many follow, and how many have answered; `counts` by choice, while they are shown, and those `before` it
    was asked again. `vote` is 1, or 2 when it is asked again; `large`: to be shown over the picture; `closed`: no answer is taken any
    more. `round` counts votes."""

    round: int
    following: int
    answered: int
    counts: dict[str, int] | None
    before: dict[str, int] | None
    vote: int
    large: bool
    closed: bool


class Vote(TypedDict):
    """To one follower: the choice that counts in the tally's round, if any; `refused` says why the last one does not, or is empty."""

    round: int
    choice: str | None
    refused: str
