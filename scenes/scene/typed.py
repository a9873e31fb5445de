"""Answers that are typed: a figure with its unit, as people write it, judged with a tolerance."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Any

from physics.arguments import quoted

PREFIXES = {"n": 1e-9, "µ": 1e-6, "u": 1e-6, "m": 1e-3, "": 1.0, "k": 1e3, "M": 1e6}
# units as they are printed here, with what people write for them, in small letters and without spaces
UNITS: dict[str, tuple[str, ...]] = {
    "r/min": (
        "r/min", "rpm", "r.p.m.", "r.p.m", "rev/min", "revs/min", "revolutions/min", "1/min", "min-1", "min^-1", "/min",
    ),
    "Hz": ("hz", "hertz", "cycles/s", "times/s", "cps", "/s", "1/s", "s-1", "s^-1", "s⁻¹"),
    "A": ("a", "amp", "amps", "ampere", "amperes"),
    "V": ("v", "volt", "volts"),
    "W": ("w", "watt", "watts"),
    "J": ("j", "joule", "joules"),
    "N m": ("nm", "n·m", "n.m", "n*m", "newtonmetres", "newtonmetre", "newtonmeters"),
    "N/m": ("n/m", "newtons/m", "newton/m"),
    "N": ("n", "newton", "newtons"),
    "T": ("t", "tesla", "teslas"),
    "Ω": ("ω", "ohm", "ohms"),
    "s": ("s", "sec", "second", "seconds"),
    "m/s": ("m/s", "metres/s", "meters/s"),
    "%": ("%", "percent"),
    "°": ("°", "degrees", "degree", "deg"),
    "slots": ("slots", "slot"),
}  # fmt: skip
WHOLE_WORDS = {"nano": "n", "micro": "µ", "milli": "m", "kilo": "k", "mega": "M"}
PER = {"min(ute)?s?": "min", "sec(ond)?s?": "s", "met(re|er)s?": "m"}
ALIKE = 1e-9  # share by which a figure may be off as a computer's figures are
EXACT = 0.001  # share up to which only the figure itself is right
EXAMPLE = "12 kg"  # in a unit that nothing is asked in: which one it takes is a part of the answer
WITHOUT_PREFIX = ("r/min", "%", "°", "m/s", "slots")
_NUMBER = re.compile(r"[-+]?(\d+(\.\d*)?|\.\d+)(e[-+]?\d+)?", re.IGNORECASE)


@dataclass(frozen=True)
class Figure:
    """A figure that is asked for: its size in `unit`, what counts as right (a share of it), and what usual mistakes give instead,
    each as size in that unit and the mistake's name."""

    size: float
    unit: str
    tolerance: float
    slips: tuple[tuple[float, str], ...] = ()

    @property
    def bounds(self) -> tuple[float, float]:
        """The least and the most that counts as right: as they are printed, so that what is printed is what counts."""
        if self.tolerance <= EXACT:
            return self.size, self.size
        places = -math.floor(math.log10(self.size * self.tolerance / 5))  # a fifth of what is let pass is not lost by it
        low, high = (self.size * (1 + share) * 10.0**places for share in (-self.tolerance, self.tolerance))
        return round(math.ceil(round(low, 6)) * 10.0**-places, places), round(math.floor(round(high, 6)) * 10.0**-places, places)

    def holds(self, size: float) -> bool:
        """Whether a size counts as the right one."""
        low, high = self.bounds
        return low - abs(low) * ALIKE <= size <= high + abs(high) * ALIKE

    def mistakes_of(self, size: float) -> tuple[str, ...]:
        """The mistakes that give this size."""
        near = (name for wrong, name in self.slips if math.isclose(size, wrong, rel_tol=self.tolerance, abs_tol=1e-12))
        return tuple(dict.fromkeys(near))

    def as_data(self) -> dict[str, Any]:
        """What a page needs to read and judge a figure without us: how many of a unit's prefixes and spellings make one of ours."""
        scale, name = _scaled(self.unit) or (1.0, "")
        return {
            "bounds": self.bounds,
            "unit": self.unit,
            "tolerance": self.tolerance,
            "spellings": list(UNITS.get(name, ())),
            "prefixes": {"": 1 / scale} | ({} if name in WITHOUT_PREFIX else {p: f / scale for p, f in PREFIXES.items() if p}),
        }

    @property
    def accepted(self) -> str:
        """What counts as right, in words."""
        low, high = self.bounds
        return self.written(self.size) if low == high else f"{low:.10g} to {high:.10g} {self.unit}".strip()

    def written(self, size: float) -> str:
        return f"{shown(size)} {self.unit}".strip()

    def read(self, text: str) -> float:
        """What somebody wrote, in `unit`; `ValueError`, in a sentence, if it is no figure, has no unit or one of something else."""
        plain = re.sub(r"(?<=\d)[ ,'\N{NARROW NO-BREAK SPACE}](?=\d{3}(?!\d))", "", text.replace("\N{MINUS SIGN}", "-").strip())
        plain = re.sub(
            r"^(about|approx\.?|approximately|=|~|it is|in slot|slot)\s*", "", re.sub(r"(?<=\d),(?=\d)", ".", plain), flags=re.IGNORECASE
        )
        found = _NUMBER.match(plain)
        if not found:
            raise ValueError(f"{quoted(text)} is not a figure; write one{self._such_as()}.")
        size, unit = float(found.group()), plain[found.end() :].strip().rstrip(".")
        if divided := re.match(r"/\s*(\d+(?:\.\d+)?)", unit):
            raise ValueError(f"{quoted(text)} is a fraction; {_as_decimal(size, float(divided[1]))}.")
        if not math.isfinite(size):
            raise ValueError(f"{quoted(text)} is too large a figure.")
        return size * self._factor(unit, text)

    def _such_as(self) -> str:
        return f" with its unit, such as {EXAMPLE}" if self.unit else ""

    def _factor(self, unit: str, text: str) -> float:
        """How many of our unit one of theirs is."""
        if not self.unit and not unit:
            return 1.0
        if not unit:
            raise ValueError(f"{quoted(text)} has no unit: write it{self._such_as()}.")
        wanted, given = _scaled(self.unit), _scaled(unit)
        if wanted is None or given is None or wanted[1] != given[1]:
            asked = "what is asked for has another one" if self.unit else "give it as a number without a unit"
            raise ValueError(f"{quoted(text)} has the unit {quoted(unit)}; {asked}.")
        return given[0] / wanted[0]


def _as_decimal(size: float, divisor: float) -> str:
    """What to write in place of a fraction."""
    return f"write {shown(size / divisor)} for it" if divisor and math.isfinite(size) else "write it as a decimal"


def shown(size: float) -> str:
    """A size as it is written back: four figures, no exponent where it can be helped."""
    text = f"{size:.4g}"
    return f"{float(text):.0f}" if "e+" in text and abs(size) < 1e6 else text


def _scaled(unit: str) -> tuple[float, str] | None:
    """A unit as people write it: the factor of its prefix, and the unit as it is printed here; `None` if it is not known."""
    spelt = unit.replace("μ", "µ").replace("Ω", "Ω")
    for word, prefix in WHOLE_WORDS.items():
        spelt = re.sub(rf"^{word}", prefix, spelt, flags=re.IGNORECASE)
    spelt = re.sub(r"(^|\s+)(per|a)\s+", "/", spelt, flags=re.IGNORECASE).replace(" ", "")
    for word, short in PER.items():
        spelt = re.sub(rf"/{word}$", f"/{short}", spelt, flags=re.IGNORECASE)
    for prefix, factor in (("", 1.0), *((prefix, factor) for prefix, factor in PREFIXES.items() if prefix)):
        if not spelt.startswith(prefix):
            continue
        rest = spelt[len(prefix) :]
        for name, written in UNITS.items():
            if rest.lower() in written and not (prefix and name in WITHOUT_PREFIX):
                return factor, name
    return None
