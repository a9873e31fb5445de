"""What is printed as a sum, worked out again as with a pocket calculator: from the figures as they are printed."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from typing import NamedTuple

POWERS = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")
PREFIXED = r"[nµmk]?(?:Pa|F|V/Hz|T m/A|N/A²|N/m|N m|Wb|Hz|T|A|V|W|N|J|Ω)"
PLAIN = {"kg m²": 1, "r/min": 1, "rev/s": 1, "rad/s": 1, "m/s²": 1, "m/s": 1, "mm": 1e-3, "ms": 1e-3, "kg": 1, "g": 1e-3, "m": 1, "s": 1,
         "%": 0.01, "slots": 1, "poles": 1, "phases": 1, "pole pairs": 1, "pole pair": 1}  # fmt: skip
UNIT = rf"(?:{PREFIXED}|{'|'.join(PLAIN)})(?![\w²/])"
PREFIX = {"n": 1e-9, "µ": 1e-6, "m": 1e-3, "k": 1e3}
FIGURE = r"\d+(?:\.\d+)?(?: × 10[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)?"
HALF = 0.65  # of a last place: what rounding takes at most, and a little for the rounding of the figures that are put in
NAMES = {"sqrt": math.sqrt, "pi": math.pi, "sin": math.sin, "cos": math.cos, "abs": abs, "j": 1j}


class Sum(NamedTuple):
    """A sum with its result, as printed, in the result's unit; `comes_to`: what the sum gives; `last`: one in the result's last place."""

    text: str
    printed: complex
    comes_to: complex
    last: float

    @property
    def off(self) -> float:
        """By how much it misses, in last places."""
        missed = complex(self.comes_to - self.printed)
        return max(abs(missed.real), abs(missed.imag)) / self.last


def _size(unit: str) -> float:
    return PLAIN[unit] if unit in PLAIN else PREFIX.get(unit[0], 1.0) if len(unit) > 1 and unit[1] in "TNWHAVJΩPF" else 1.0


def value(text: str) -> complex:
    """What a sum gives, in units without prefixes; `ValueError` that says what is not understood if it is none."""
    plain = text.replace("−", "-").replace("×", "*").replace("·", "*")
    plain = re.sub(r"([\d.]+) \* 10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)", lambda power: f"{power[1]}e{power[2].translate(POWERS)}", plain)
    plain = re.sub(rf"(?<=[\d)]) ({UNIT})", lambda found: f"*{_size(found[1])!r}", plain)
    plain = re.sub(r"(sin|cos) (-?[\d.]+)°", r"\1(\2°)", plain)
    plain = re.sub(r"(sin|cos) ?\(([^()]*)\)", lambda found: f"{found[1]}(({found[2].replace('°', '')})*pi{'/180' * ('°' in found[2])})"
                   if "°" in found[2] else f"{found[1]}({found[2]})", plain)  # fmt: skip
    plain = re.sub(r"\|([^|]+)\|", r"abs(\1)", plain).replace("°", "")
    plain = re.sub(r"√([\d.]+)", r"√(\1)", plain).replace("√", "sqrt")
    plain = re.sub(r"(?<=\d) ?π", "*pi", plain).replace("π", "pi").replace("²", "**2").replace("½", "0.5")
    plain = re.sub(r"j([\d.]+)", r"j*\1", plain)
    plain = re.sub(r"(?<=\d) ?(?=\(|sin|cos|sqrt)|(?<=\)) ?(?=\(|sin|cos|sqrt)", "*", plain)
    unknown = re.findall(r"[^\W\d_]+", re.sub("|".join(NAMES), " ", re.sub(r"(?<=\d)e(?=[-+]?\d)", "", plain)))
    if unknown:
        raise _unread(text, f"{', '.join(unknown)} is no unit and no function")
    try:
        return eval(plain, {"__builtins__": {}}, NAMES)
    except (SyntaxError, TypeError) as wrong:
        raise _unread(text, f"{plain!r} is no sum") from wrong
    except ZeroDivisionError:
        return math.nan


def _unread(text: str, why: str) -> ValueError:
    return ValueError(
        f"{text!r} cannot be worked out: {why}. What is read: figures, each with its unit behind it ({PREFIXED}; {', '.join(PLAIN)}), "
        "+ − × / ² √ ½ π ( ) | |, sin 61°, cos 61°, 1.2 × 10⁻³. A symbol stands before the last ' = '; words stand behind a comma or colon."
    )


def sums(text: str) -> Iterator[Sum]:
    """Each "figures = result" in a text, but for formulae in symbols; `ValueError` for one whose figures are no sum."""
    parts = text.split(" = ")
    for before, after in zip(parts, parts[1:], strict=False):
        result = re.match(rf"[-−]?{FIGURE}(?: ?(?:{UNIT}|°))?", after)
        before = re.split(r"[:;.,] (?=\S)", before)[-1]
        if result and re.search(r"\d", before) and re.search(r"[×/√²(]| [+−] |sin|cos", before.lstrip("(−")):
            try:
                yield of(before, result[0])
            except ValueError:
                if re.search(rf"\d\.\d|\d ?({UNIT}|°)", before):
                    raise


def of(figures: str, result: str) -> Sum:
    """The sum of these figures with that result, "12.3 mN", or "(3 + j4) Ω"."""
    found = re.fullmatch(rf"\(?([-−]?{FIGURE})(?: ([+−]) j({FIGURE}))?\)?( ?.*)", result)
    if not found:
        raise _unread(result, "a result is one figure with its unit")
    real, sign, imaginary, unit = found[1], found[2], found[3], found[4].strip()
    numbers = [_number(real), *([_number(imaginary)] if imaginary else [])]
    printed = numbers[0][0] + (1j * numbers[1][0] * (-1 if sign == "−" else 1) if imaginary else 0)
    rounded_down = figures.endswith(", rounded down")
    comes_to = value(figures.removesuffix(", rounded down"))
    # where no figure has a unit, the result's is understood
    scale = _size(unit) if unit == "%" or unit not in ("", "°") and re.search(UNIT, figures) else 1.0
    return Sum(
        f"{figures} = {result}", printed, math.floor(comes_to) if rounded_down else comes_to / scale, max(last for _, last in numbers)
    )


def _number(text: str) -> tuple[float, float]:
    """A figure as printed, and one in its last place."""
    digits, _, power = text.replace("−", "-").partition(" × 10")
    scale = 10.0 ** int(power.translate(POWERS)) if power else 1.0
    return float(digits) * scale, scale * 10.0 ** -len(digits.partition(".")[2])
