"""Checks of arguments: each returns the value ready for computing, or says what is allowed.

Every message is one sentence that names the argument, so that it can be shown to a user unchanged.
"""

from __future__ import annotations

import reprlib
from math import isfinite
from typing import Any, TypeAlias

import numpy as np

NumberOrArray: TypeAlias = Any
"""One number for one number and an array for an array, element by element. numpy types its own such functions no closer:
to say the union would have every caller ask again what he handed in."""

LONGEST_QUOTED = 60  # characters
MOST_FIGURES = 30
EXACT = 2**53  # up to here every whole number is a float


def numbers(name: str, value: object) -> np.ndarray:
    """`value` as a float64 array of any shape; `ValueError` unless every element is a finite number."""
    if type(value) is float and isfinite(value):  # as a rule, and many times in a frame
        return np.array(value)
    try:
        array = np.asarray(value)
        if array.dtype.kind not in "fiub":  # complex would lose its imaginary part unsaid, "50" pass for a number
            raise TypeError
    except (TypeError, ValueError):
        raise ValueError(f"{name} must be a number or an array of numbers, not {quoted(value)}") from None
    array = array.astype(np.float64, copy=False)
    if not np.isfinite(array).all():
        raise ValueError(f"{name} must be finite, without nan or infinity")
    return array


def complex_numbers(name: str, value: object) -> np.ndarray:
    """`value` as a complex128 array of any shape; `ValueError` unless every element is finite."""
    try:
        array = np.asarray(value, dtype=np.complex128)
    except (TypeError, ValueError):
        raise ValueError(f"{name} must be a complex number or an array of them, not {quoted(value)}") from None
    if not np.isfinite(array).all():
        raise ValueError(f"{name} must be finite, without nan or infinity")
    return array


def vector(name: str, value: object) -> np.ndarray:
    """`value` as one xyz vector, shape (3,)."""
    array = numbers(name, value)
    if array.shape != (3,):
        raise ValueError(f"{name} must be one vector of three numbers, not of shape {array.shape}")
    return array


def vectors(name: str, value: object) -> np.ndarray:
    """`value` as rows of xyz, shape (n, 3); one vector of shape (3,) becomes one row."""
    array = numbers(name, value)
    if array.shape == (3,):
        array = array[np.newaxis]
    if array.ndim != 2 or array.shape[1] != 3:
        raise ValueError(f"{name} must be rows of three numbers, shape (n, 3), not of shape {array.shape}")
    return array


def number(name: str, value: object) -> float:
    """`value` as one finite number."""
    if isinstance(value, float) and isfinite(value):  # numpy's own are floats, too
        return float(value)
    if type(value) is int and -EXACT <= value <= EXACT:
        return float(value)
    array = numbers(name, value)
    if array.ndim != 0:
        raise ValueError(f"{name} must be a single number, not of shape {array.shape}")
    return float(array)


def positive(name: str, value: object) -> float:
    """`value` as one number above zero."""
    result = number(name, value)
    if result <= 0:
        raise ValueError(f"{name} must be greater than 0, not {result:g}")
    return result


def not_negative(name: str, value: object) -> float:
    """`value` as one number, zero or above."""
    result = number(name, value)
    if result < 0:
        raise ValueError(f"{name} must be 0 or more, not {result:g}")
    return result


def whole(name: str, value: object, least: int = 1) -> int:
    """`value` as a whole number of at least `least`."""
    if type(value) is int and least <= value <= EXACT:
        return value
    result = number(name, value)
    if result != int(result) or result < least:
        raise ValueError(f"{name} must be a whole number of at least {least}, not {result:g}")
    return int(result)


def poles(name: str, value: object) -> int:
    """`value` as a number of poles: even, at least 2."""
    result = number(name, value)
    if result != int(result) or result < 2 or int(result) % 2:
        raise ValueError(f"{name} must be an even whole number of at least 2, not {result:g}")
    return int(result)


class _Quoted(reprlib.Repr):
    """`reprlib`'s shortened form, with plain words for what users do not know by its Python name."""

    def __init__(self) -> None:
        super().__init__()
        self.maxstring = self.maxother = LONGEST_QUOTED
        self.maxlevel = 3

    def repr_int(self, value: Any, level: int) -> str:
        return repr(value) if abs(value) < 10**MOST_FIGURES else f"a number of more than {MOST_FIGURES} figures"

    def repr_str(self, value: Any, level: int) -> str:
        return repr(value if len(value) <= LONGEST_QUOTED else f"{value[: LONGEST_QUOTED - 1]}…")

    def repr_datetime(self, value: Any, level: int) -> str:
        return str(value)

    repr_date = repr_time = repr_datetime


_QUOTED = _Quoted()


def quoted(value: object) -> str:
    """A user's input quoted for a sentence: on one line, and shortened."""
    return " ".join(_QUOTED.repr(value).split())
