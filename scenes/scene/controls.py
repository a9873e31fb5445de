"""The controls that a scene may have. Settings are checked here, in one place, whether they come from the page, an address or the
command line. A control that matters only while another has a certain value has `only_with`, that control's name and value;
at other times the page leaves it out."""

from __future__ import annotations

import math
from dataclasses import dataclass

from physics.arguments import quoted

ROLES = ("current", "field")  # of the reversing keys


@dataclass(frozen=True)
class Number:
    """A control that takes a number from `low` to `high`; `role` says which reversing key changes its sign."""

    name: str
    words: str
    default: float
    unit: str
    low: float
    high: float
    step: float
    role: str = ""
    only_with: tuple[str, object] | None = None
    kind = "number"

    def checked(self, value) -> float:
        try:
            number = float(value)
        except (TypeError, ValueError, OverflowError):
            number = math.nan
        if isinstance(value, bool) or not self.low <= number <= self.high:
            unit = f" {self.unit}" if self.unit else ""
            raise ValueError(f"{self.name} takes a number from {self.low:g} to {self.high:g}{unit}, not {quoted(value)}.")
        return number + 0.0

    def reversed(self, value: float) -> float:
        return -value + 0.0

    def text(self, value: float) -> str:
        return f"{value:.10g}"


@dataclass(frozen=True)
class Choice:
    """A control with a few values, each with its words; two values can be reversed. `other`: the words where a kind of it takes
    values besides."""

    name: str
    words: str
    default: str
    choices: tuple[tuple[str, str], ...]
    role: str = ""
    unit: str = ""
    only_with: tuple[str, object] | None = None
    other: str = ""
    kind = "choice"

    def checked(self, value) -> str:
        names = [name for name, _ in self.choices]
        if str(value) not in names:
            raise ValueError(f"{self.name} takes one of {', '.join(names)}, not {quoted(value)}.")
        return str(value)

    def reversed(self, value: str) -> str:
        first, second = (name for name, _ in self.choices)
        return second if value == first else first

    def text(self, value: str) -> str:
        return value


@dataclass(frozen=True)
class Switch:
    """A control that is on or off."""

    name: str
    words: str
    default: bool
    unit: str = ""
    role: str = ""
    only_with: tuple[str, object] | None = None
    kind = "switch"
    VALUES = {"on": True, "true": True, "1": True, "yes": True, "off": False, "false": False, "0": False, "no": False}

    def checked(self, value) -> bool:
        if str(value).lower() not in self.VALUES:
            raise ValueError(f"{self.name} takes on or off, not {quoted(value)}.")
        return self.VALUES[str(value).lower()]

    def text(self, value: bool) -> str:
        return "on" if value else "off"


def slow_motion(default: str = "1", factors: tuple[str, ...] = ("1", "2", "5", "10", "50")) -> Choice:
    """The control for slow motion, the number of times slower than real time; every scene has it."""
    return Choice(
        "slow",
        "Slow motion",
        default,
        tuple((n, "real time" if n == "1" else f"1/{n} speed") for n in factors),
    )
