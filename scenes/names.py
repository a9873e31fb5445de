"""Sentences about names that nobody knows."""

from __future__ import annotations

from collections.abc import Collection
from difflib import get_close_matches

from physics.arguments import quoted


def no_such(kind: str, name: object, names: Collection[str]) -> str:
    """The sentence about an unknown name: "There is no scene 'x'; did you mean y?\""""
    return f"There is no {kind} {quoted(name)}; {did_you_mean(name, names)}"


def did_you_mean(name: object, names: Collection[str], otherwise: str = "there are") -> str:
    """The end of a sentence about an unknown name: the nearest of `names`, or all of them."""
    near = get_close_matches(name.lower() if isinstance(name, str) else "", names, 1, 0.45)
    return f"did you mean {near[0]}?" if near else f"{otherwise} {', '.join(names)}."
