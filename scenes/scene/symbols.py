"""One letter, one meaning in all scenes: what a symbol on an arrow or before a reading stands for.

The letter gives the kind, a subscript which one of its kind (nₛ, Bₑ, I₁). Signs that are not quantities, such as a dot, a
cross, a pole or a terminal, are explained in the scene's key.
"""

from __future__ import annotations

import re

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


def letter_of(symbol: str) -> str:
    """The letter of a symbol without its subscript or the phase after it: "nₛ" is n, "k_w" is k, "e U" is e."""
    return re.sub(rf"[{SUBSCRIPTS}]+|_\w+", "", symbol.split(" ")[0])
