"""JSON on the socket: reading what a page sends, and writing what it is sent."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from dataclasses import MISSING, fields
from functools import cache
from typing import Any, get_args, get_type_hints

import numpy as np

from visual.host.messages import REQUESTS, Request

LARGEST_MESSAGE = 64 * 1024  # bytes from a page


def parse_message(text: str | bytes) -> dict[str, Any] | None:
    """The message in the text that a page sent; `None` if it is not one.

    A message is one flat JSON object: texts, finite numbers, true, false and null by name, with the request's name under "do".
    """
    try:
        message = json.loads(text, parse_constant=_refused)
    except (ValueError, RecursionError):
        return None
    if not isinstance(message, dict) or not isinstance(message.get("do"), str):
        return None
    return None if any(isinstance(value, dict | list) for value in message.values()) else message


_types_of = cache(get_type_hints)  # to read them takes a millisecond
WORDS = {str: "text", float: "a number", bool: "true or false", type(None): "nothing"}


def request(message: Mapping[str, object]) -> Request:
    """The request in a parsed message; `ValueError`, in one sentence, if there is none of that name, or a field is missing or of
    the wrong type. Unknown fields are ignored."""
    kind: Any = REQUESTS.get(str(message["do"]))
    if kind is None:
        raise ValueError(f"There is no request {_shortened(message['do'])}; a page may send {', '.join(REQUESTS)}.")
    values, types = {}, _types_of(kind)
    for field in fields(kind):
        value = values[field.name] = message.get(field.name, None if field.default is MISSING else field.default)
        allowed = get_args(types[field.name]) or (types[field.name],)
        if type(value) not in allowed and not (type(value) is int and float in allowed):
            words = " or ".join(WORDS[each] for each in allowed)
            raise ValueError(f"The request {kind.do} takes {words} as its {field.name}, not {_shortened(value)}.")
    wanted: Request = kind(**values)
    return wanted


def _shortened(value: object) -> str:
    text = encoded(value)
    return text if len(text) < 60 else f"{text[:58]}…"


def encoded(value: object) -> str:
    """`value` in JSON. numpy's numbers and arrays become plain ones; nan and infinity become null, as a browser cannot read
    them. `TypeError` for anything else."""
    try:
        return json.dumps(value, separators=(",", ":"), default=_plain, allow_nan=False)
    except ValueError:
        return json.dumps(_finite(value), separators=(",", ":"), allow_nan=False)


def _plain(value: object) -> Any:
    if isinstance(value, np.generic | np.ndarray):
        return value.tolist()
    raise TypeError(f"a page cannot be sent {value!r}")


def _finite(value: object) -> Any:
    if isinstance(value, dict):
        return {key: _finite(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [_finite(part) for part in value]
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    return value if value is None or isinstance(value, str | int) else _finite(_plain(value))


def _refused(word: str) -> None:
    raise ValueError(f"{word} is not JSON")  # though Python reads NaN and Infinity
