"""Messages on the socket: parsing what a page sends, and encoding what it is sent as JSON."""

from __future__ import annotations

import json
import math
from typing import Any

import numpy as np

LARGEST_MESSAGE = 64 * 1024  # bytes from a page


def parse_message(text: str | bytes) -> dict[str, Any] | None:
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


def encoded(value: object) -> str:
    """`value` in JSON. numpy's numbers and arrays become plain ones; what is no number, and infinity, become null, since a
    browser reads neither. `TypeError` for what is no data."""
    try:
        return json.dumps(value, separators=(",", ":"), default=_plain, allow_nan=False)
    except ValueError:
        return json.dumps(_finite(value), separators=(",", ":"), allow_nan=False)


def _plain(value: object) -> Any:
    if isinstance(value, np.generic | np.ndarray):
        return value.tolist()
    raise TypeError(f"a page cannot be told {value!r}")


def _finite(value: object) -> Any:
    if isinstance(value, dict):
        return {key: _finite(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [_finite(part) for part in value]
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    return value if value is None or isinstance(value, str | int) else _finite(_plain(value))


def _refused(word: str) -> None:
    raise ValueError(f"{word} is no JSON")  # though Python reads NaN and Infinity
