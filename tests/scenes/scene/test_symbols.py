"""One letter, one meaning, through all scenes: on arrows, before readings and in formulas, in letter, words and unit."""

from __future__ import annotations

import re
from functools import cache

import pytest

from scenes import catalogue
from tests.scenes.oracle.states import states

# What a symbol stands for, on an arrow or before a reading, in all scenes. The letter gives the kind, a subscript which one of its kind
# (nₛ, Bₑ, I₁). Signs that are not quantities are explained in the scene's key.
MEANINGS: dict[str, str] = {
    "B": "field",
    "E": "EMF",
    "e": "EMF",  # instantaneous
    "F": "force",
    "Θ": "MMF",
    "I": "current",
    "i": "current",  # instantaneous
    "U": "voltage",
    "T": "torque",
    "R": "resistance",
    "X": "reactance",
    "C": "capacitance",
    "P": "power",
    "W": "heat",
    "q": "heat per second",
    "v": "speed",  # along a line
    "n": "speed",  # of rotation
    "s": "slip",
    "f": "frequency",
    "l": "length",
    "d": "distance",
    "N": "turns",
    "Ψ": "flux",
    "t": "time",
    "ωt": "electrical angle",
    "θ": "angle",  # between two directions
    "α": "deflection",
    "β": "angle",  # by which one field lags another
    "δ": "load angle",
    "φ": "phase angle",
    "k": "winding factor",
}
SIGNS = {"\N{CIRCLED DOT OPERATOR}", "\N{CIRCLED TIMES}", "N pole", "S pole", "+", "▶", "\N{MINUS SIGN}"}
SUBSCRIPTS = "₀₁₂₃₄₅₆₇₈₉₊₋ₐₑₕᵢⱼₖₗₘₙₒₚᵣₛₜᵤᵥₓ"
# By meaning: what words may speak of it with, and the units it is told in.
TOLD_WITH = {
    "field": (("field", "flux density"), ("T", "mT", "µT", "× no load")),
    "EMF": (("EMF",), ("V", "mV")),
    "force": (("force",), ("N", "mN")),
    "MMF": (("MMF",), ("A",)),
    "current": (("current",), ("A", "mA")),
    "voltage": (("voltage",), ("V", "mV")),
    "torque": (("torque", "load"), ("N m", "mN m")),
    "resistance": (("resistance",), ("Ω", "kΩ", "MΩ")),
    "reactance": (("reactance",), ("Ω",)),
    "capacitance": (("capacitance",), ("µF",)),
    "power": (("power",), ("W", "mW", "kW")),
    "heat": (("heat",), ("J", "kJ")),
    "heat per second": (("heat per second",), ("W", "kW")),
    "speed": (("speed", "motion"), ("m/s", "r/min")),
    "slip": (("slip", "dropped behind"), ("%",)),
    "frequency": (("frequency",), ("Hz",)),
    "length": (("length",), ("m", "mm")),
    "distance": (("distance",), ("m", "mm")),
    "turns": (("turns",), ("",)),
    "flux": (("flux",), ("Wb", "mWb")),
    "time": (("time",), ("s", "ms")),
    "electrical angle": (("electrical angle",), ("°",)),
    "angle": (("angle",), ("°",)),
    "deflection": (("deflection",), ("°",)),
    "load angle": (("load angle",), ("°",)),
    "phase angle": (("phase angle",), ("°",)),
    "winding factor": (("factor",), ("",)),
}
QUOTIENTS = {"F / l": ("force", "mN/m"), "U / f": ("volts per hertz", "V/Hz"), "dΨ/dt": ("flux cut each second", "mWb/s")}
# What stands in formulas alone: radius, pole pairs, flux of a pole, angular speed, of a winding its coil and full pitch, slots per pole
# and phase and the angle of a slot, and constants
IN_FORMULAS = {"r", "p", "y", "τ", "z", "γ", "Φ", "ω", "π", "µ", "Σ", "sin", "cos", "poles", "Î"}


def letter_of(symbol: str) -> str:
    """The letter of a symbol without its subscript or the phase after it: "nₛ" is n, "k_w" is k, "e U" is e."""
    return re.sub(rf"[{SUBSCRIPTS}]+|_\w+", "", symbol.split(" ")[0])


@cache
def a_few_states(name: str) -> list[dict]:
    fixed = [control.name for control in catalogue.scene_class(name).controls if control.name.startswith("plate-")]
    return [data for _, data in states(name, 0.3, fixed=fixed, count=12)]


def shown(name: str) -> set[tuple[str, str, str, str]]:
    """(symbol, words, unit, formula) of every arrow's key and of the readings of a few states."""
    return {(key.letter, key.words, key.unit, "") for key in catalogue.scene_class(name).arrows} | {
        (each["symbol"], each["words"], each["unit"], each["formula"])
        for data in a_few_states(name)
        for each in data["readings"]
        if each["symbol"]
    }


def test_every_meaning_has_its_words_here():
    assert set(MEANINGS.values()) == set(TOLD_WITH)


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_a_letter_means_in_every_scene_what_the_table_says(name):
    for symbol, words, unit, _ in shown(name):
        if symbol in SIGNS or symbol in words.split():  # a sign, or a mark that bears its own name
            continue
        if symbol in QUOTIENTS:
            said, of_unit = QUOTIENTS[symbol]
            assert said in words and unit == of_unit
            continue
        meaning = MEANINGS.get(letter_of(symbol))
        assert meaning, f"{symbol}, {words}: no letter of the table"
        spoken, units = TOLD_WITH[meaning]
        assert any(each in words for each in spoken), f"{symbol} is {meaning}, but it is told as {words!r}"
        assert not unit or unit in units, f"{symbol} is {meaning}, in {unit}"


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_a_formula_is_that_of_its_symbol_and_speaks_in_letters_of_the_table(name):
    for symbol, _, _, formula in shown(name):
        parts = formula.split(" = ")
        if len(parts) < 3 or not re.fullmatch(r"[^\d:,;]{1,8}", parts[0].strip()):
            continue  # no formula in letters, or a sentence
        left = parts[0].strip("| ")
        if symbol != left and letter_of(symbol) != letter_of(left):
            assert symbol in left.split() or left == f"sin {symbol}", f"{symbol} stands before a formula of {left}"
        for each in re.findall(r"[^\W\d_]+(?:_\w+)?", parts[1]):
            letter = letter_of(each).split("_")[0]
            known = letter in MEANINGS or letter in IN_FORMULAS or each in ("mW", "mm", "m", "A", "V", "T")
            assert known or letter.rstrip("²³") in MEANINGS.keys() | IN_FORMULAS, f"{each} in {formula!r} is no letter of the table"
    if name == "turning-field":
        assert any("Θ / r" in formula for *_, formula in shown(name)), "R is a resistance alone"


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_what_stands_behind_a_letter_in_a_formula_has_its_unit(name):
    """In "I = U / R = 1.20 V / 8.00 Ω" the units behind the figures, in the order of the letters."""
    one = r"[\d.,e\-]+ (Ω|V|A|T|m/s|Hz|N|m|mT|W|rad/s)(?![\w/])"
    for _, _, _, formula in shown(name):
        parts = formula.split(" = ")
        if len(parts) < 3 or not (ratio := re.fullmatch(r"(\w+) / (\w+)", parts[1])):
            continue
        units = re.findall(one, parts[2])
        for letter, unit in zip(ratio.groups(), units, strict=False):
            meaning = MEANINGS.get(letter_of(letter))
            assert meaning is None or unit in TOLD_WITH[meaning][1], f"{letter} in {formula!r} is {meaning}"


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_every_arrow_has_a_key_with_its_unit(name):
    for data in a_few_states(name):
        for arrow in data["arrows"]:
            assert arrow["words"] and arrow["unit"], f"{arrow['letter']} stands for {arrow['words']!r} in {arrow['unit']!r}"
