"""Writes a lesson's steps as TOML, which Python's standard library only reads: texts, numbers, lists and tables as a lesson has them."""

from __future__ import annotations

import re
from collections.abc import Mapping

ORDER = (
    "scene", "settings", "view", "title", "text", "picture", "shows", "minutes", "question", "begun", "vote", "go_on", "hold", "answers",
    "readings", "caption", "notes",
)  # fmt: skip
BARE = re.compile(r"[A-Za-z0-9_-]+")
SIGNS = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t", "\r": "\\r"}


def step_text(given: Mapping[str, object]) -> str:
    """A step as it stands in the file, from its header on: the table of a question of one's own comes last."""
    own = given.get("question")
    below = own if isinstance(own, dict) and "kind" not in own else {}
    lines = ["[[step]]", *(statement(key, given[key]) for key in ORDER if key in given and not (key == "question" and below))]
    if below:
        lines += ["[step.question]", *(statement(key, value) for key, value in below.items())]
    return "\n".join(lines) + "\n"


def statement(key: str, value: object) -> str:
    """The line, or lines, that give `key` that value."""
    return f"{_key(key)} = {_lines(value) if isinstance(value, str) and chr(10) in value else _value(value)}"


def _value(value: object) -> str:
    """A value on one line; `TypeError` for what no lesson has."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f'"{_escaped(value, SIGNS)}"'
    if isinstance(value, int):
        return str(value)
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() and abs(value) < 1e15 else repr(value)
    if isinstance(value, list | tuple):
        return f"[{', '.join(map(_value, value))}]"
    if isinstance(value, dict):
        return f"{{ {', '.join(f'{_key(name)} = {_value(part)}' for name, part in value.items())} }}" if value else "{}"
    raise TypeError(f"a lesson has no {value!r}")


def _lines(text: str) -> str:
    """A text over several lines, as it is read: its first line begins below the quotes."""
    written = _escaped(text, {sign: code for sign, code in SIGNS.items() if sign not in '"\n\t'}).replace('"""', '""\\"')
    return f'"""\n{written[:-1]}\\""""' if written.endswith('"') else f'"""\n{written}"""'


def _escaped(text: str, signs: Mapping[str, str]) -> str:
    """`text` with its control characters as codes."""
    return "".join(signs.get(sign) or (f"\\u{ord(sign):04x}" if _is_control(sign) else sign) for sign in text)


def _is_control(sign: str) -> bool:
    return (sign < " " and sign not in "\n\t") or sign == "\x7f"


def _key(name: str) -> str:
    return name if BARE.fullmatch(name) else f'"{_escaped(name, SIGNS)}"'
