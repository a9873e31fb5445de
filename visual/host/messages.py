"""What comes over the socket, understood or not."""

from __future__ import annotations

import json

LARGEST_MESSAGE = 64 * 1024  # bytes from a page


def understood(text: str | bytes) -> dict | None:
    """The message in what a page sent; `None` when it is none.

    A message is one flat JSON object, texts, numbers, true, false and null by their names, that says under "do" what is
    wanted: nothing in brackets, and no number that is none.
    """
    try:
        message = json.loads(text, parse_constant=_refused)
    except (ValueError, RecursionError):
        return None
    if not isinstance(message, dict) or not isinstance(message.get("do"), str):
        return None
    return None if any(isinstance(value, dict | list) for value in message.values()) else message


def _refused(word: str) -> None:
    raise ValueError(f"{word} is no JSON")  # though Python reads NaN and Infinity
