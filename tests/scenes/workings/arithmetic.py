"""The arithmetic on the board, redone from what it shows."""

from __future__ import annotations

import math
import re

import pytest

from scenes.workings import writing as workings

UNITS = r"(µT m/A|µN/m|kg m²|r/min|rev/s|rad/s|m/s|mWb|N m|Hz|Wb|mm|kW|Ω|V|A|T|m|W|N|J|s|%)"
FACTORS = {"rev/s": 1, "r/min": 60, "": 1, "%": 100, "µT": 1, "T": 1e-6, "µN/m": 1, "N/m": 1e-6, "µN": 1, "N": 1e-6, "J": 1, "kJ": 1e-3}


def arithmetic(numbers: str):
    """What the numbers put in come to: units left out, signs and powers as Python writes them."""
    if numbers.endswith(", rounded down"):
        return math.floor(arithmetic(numbers.removesuffix(", rounded down")))
    text = re.sub(rf"(?<=[\d)⁰¹²³⁴⁵⁶⁷⁸⁹]) {UNITS}(?![\w])", "", numbers)
    plain = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")
    text = re.sub(r"10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)", lambda power: f"10**{power[1].translate(plain)}", text)
    text = re.sub(r"j([\d.]+)", r"\1j", text)
    text = re.sub(r"\|([^|]+)\|", r"abs(\1)", text)
    text = re.sub(r"√(\d+)", r"√(\1)", text).replace("√", "sqrt").replace("2π", "2*pi").replace("π", "pi")
    text = re.sub(r"sin\(([^()]*)\)", lambda inside: f"sin(({inside[1]})*pi/180)", text).replace("°", "")  # angles in degrees
    text = text.replace("²", "**2").replace("½", "0.5").replace("×", "*").replace("−", "-")
    return eval(text, {"__builtins__": {}}, {"sqrt": math.sqrt, "pi": math.pi, "abs": abs, "sin": math.sin})


def check_arithmetic(working: workings.Working) -> None:
    """Every step's numbers give its first result; the others are the same in other units."""
    for step in working.steps:
        first = step.results[0]
        # four figures of each number shown; a difference of two of them is not better than they are
        put_in = [float(number) for number in re.findall(r"\d+\.?\d*", step.numbers)]
        size = max(abs(first.value), *(2 * number for number in put_in if "−" in step.numbers), 0.0)
        assert arithmetic(step.numbers) == pytest.approx(first.value, abs=2e-3 * size), step
        for other in step.results[1:]:
            ratio = FACTORS[other.unit] / FACTORS[first.unit]
            assert other.value == pytest.approx(first.value * ratio, rel=1e-12), step
