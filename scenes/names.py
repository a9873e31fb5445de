"""Sentences about names that nobody knows."""

from __future__ import annotations

import unicodedata
from collections.abc import Collection
from difflib import get_close_matches

from physics.arguments import quoted


def no_such(kind: str, name: object, names: Collection[str]) -> str:
    """The sentence about an unknown name: "There is no scene 'x'; did you mean y?\""""
    return f"There is no {kind} {quoted(name)}; {did_you_mean(name, names)}"


def did_you_mean(name: object, names: Collection[str], otherwise: str = "there are") -> str:
    """The end of a sentence about an unknown name: the nearest of `names`, or all of them."""
    written = name if isinstance(name, str) else ""
    near = get_close_matches(written, names, 1, 0.45) or get_close_matches(written.lower(), names, 1, 0.45)
    return f"did you mean {near[0]}?" if near else f"{otherwise} {', '.join(names)}."


def plain_name(name: str) -> str:
    """A symbol as any keyboard can write it, its sub- and superscripts on the line: "ns" for nₛ, "Imax" for Iₘₐₓ."""
    return unicodedata.normalize("NFKC", name).replace("_", "")
