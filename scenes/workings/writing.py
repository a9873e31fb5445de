"""Calculations set out as on the board: formula, numbers substituted, result with its unit.

A `Working` is plain data, which page, paper and terminal each lay out in their own way; here it becomes text, or data
for JSON. The topics, in the files beside this one, write out what `physics` computes. Results are shown to four figures
and carried forward unrounded; where one stands in the next line it has two more, so that the line comes out as it is printed.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import asdict, dataclass
from textwrap import fill
from typing import SupportsFloat

WIDTH = 80  # characters of a terminal
MINUS = "\N{MINUS SIGN}"
SUPERSCRIPTS = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


@dataclass(frozen=True)
class Quantity:
    """A value, real or complex, with its unit; shown to `digits` significant figures."""

    value: float | complex
    unit: str = ""
    digits: int = 4

    @property
    def text(self) -> str:
        figures = figure(self.value, self.digits)
        if isinstance(self.value, complex) and self.unit:
            figures = f"({figures})"
        return f"{figures}{self.unit}" if self.unit == "°" else f"{figures} {self.unit}".strip()


@dataclass(frozen=True)
class Given:
    """A given quantity: its symbol, what it is, its value."""

    symbol: str
    words: str
    quantity: Quantity


@dataclass(frozen=True)
class Step:
    """One line of working; further results are the same value in other units."""

    words: str
    symbol: str
    formula: str
    numbers: str
    results: tuple[Quantity, ...]


@dataclass(frozen=True)
class Table:
    """A comparison: column headings with units, and rows of text or numbers; nan where there is no value."""

    title: str
    columns: tuple[tuple[str, str], ...]
    rows: tuple[tuple[str | float, ...], ...]


@dataclass(frozen=True)
class Working:
    """A calculation from the given quantities to the results, with a remark where it helps."""

    title: str
    given: tuple[Given, ...]
    steps: tuple[Step, ...] = ()
    tables: tuple[Table, ...] = ()
    remark: str = ""


@dataclass(frozen=True)
class Ask:
    """An input of a topic: its name, what it is, its unit, and the choices, if it has any."""

    name: str
    words: str
    unit: str = ""
    needed: bool = True
    choices: tuple[str, ...] = ()


@dataclass(frozen=True)
class Topic:
    """A kind of calculation: its inputs, and the function that takes them as keyword arguments. slow: it takes about a second."""

    name: str
    summary: str
    asks: tuple[Ask, ...]
    work: Callable[..., Working]
    slow: bool = False


def known(symbol: str, words: str, value: float, unit: str = "") -> Given:
    """A given quantity, shown with all the figures it was given with."""
    return Given(symbol, words, Quantity(float(value), unit, 10))


def one_or_others(name: str, value, **others) -> bool:
    """Whether all the `others` are given instead of the one called `name`; `ValueError` for a mixture."""
    missing = [other is None for other in others.values()]
    if all(missing) == (value is None) or any(missing) and not all(missing):
        raise ValueError(f"{name} must be given, or {' and '.join(others)} instead")
    return value is None


def step(words: str, symbol: str, formula: str, numbers: str, value: complex, unit: str = "") -> Step:
    """A step with one result."""
    return Step(words, symbol, formula, numbers, (Quantity(value, unit),))


def figure(value: complex, digits: int = 4) -> str:
    """A number as written on the board: to `digits` significant figures, no trailing zeros if exact; complex as R + jX."""
    if isinstance(value, complex):
        sign = MINUS if value.imag < 0 else "+"
        return f"{figure(value.real, digits)} {sign} j{figure(abs(value.imag), digits)}"
    if not math.isfinite(value):
        return "–"
    exponent = math.floor(math.log10(abs(value))) if value else 0
    if not -4 < exponent < 6:
        mantissa, _, power = f"{value:.{digits - 1}e}".partition("e")
        unrounded = float(f"{value:.15e}".partition("e")[0])
        return f"{_plain(mantissa, unrounded)} × 10{str(int(power)).translate(SUPERSCRIPTS)}"
    return _plain(f"{value:.{max(0, digits - 1 - exponent)}f}", value)


def _plain(text: str, value: float) -> str:
    """`text` as printed: with a real minus sign, and without trailing zeros if it is exact."""
    if "." in text and math.isclose(float(text), value, rel_tol=1e-9, abs_tol=1e-300):
        text = text.rstrip("0").rstrip(".")
    return (text if float(text) else text.lstrip("-")).replace("-", MINUS)


def exact(value: SupportsFloat) -> str:
    """A given number, with all its figures."""
    return figure(float(value), 10)


def carried(value: complex, digits: int = 6) -> str:
    """A result of a line before, as it stands in the next one."""
    return figure(value, digits)


def factor(text: str) -> str:
    """A number inside a formula: in brackets if negative."""
    return f"({text})" if text.startswith(MINUS) else text


# on the terminal


def as_text(working: Working) -> str:
    """The working for a terminal, with the "=" signs aligned."""
    parts = [working.title]
    if working.given:
        parts.append("\n".join(_columns([(given.symbol, given.words, given.quantity.text) for given in working.given])))
    width = max((len(step.symbol) for step in working.steps), default=0)
    parts += [_step_as_text(step, width) for step in working.steps]
    parts += [_table_as_text(table) for table in working.tables]
    if working.remark:
        parts.append(fill(working.remark, WIDTH))
    return "\n\n".join(parts)


def _step_as_text(step: Step, width: int) -> str:
    results = " = ".join(result.text for result in step.results)
    return f"  {step.words}\n    {step.symbol:<{width}} = {step.formula}\n    {'':<{width}} = {step.numbers} = {results}"


def _table_as_text(table: Table) -> str:
    """Words aligned left, numbers right; the heading takes as many lines as it needs, with the units in the last."""
    with_units = any(unit for _, unit in table.columns)
    heads = [[*words.split(), *[unit] * with_units] for words, unit in table.columns]
    tallest = max(map(len, heads))
    head = [tuple(([""] * (tallest - len(words)) + words)[line] for words in heads) for line in range(tallest)]
    cells = [tuple(cell if isinstance(cell, str) else figure(cell) for cell in row) for row in table.rows]
    numeric = [not isinstance(cell, str) for cell in table.rows[0]]
    return "\n".join([f"  {table.title}", *_columns(head + cells, numeric)])


def _columns(rows: list[tuple[str, ...]], to_the_right: list[bool] | None = None) -> list[str]:
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    aligned = [">" if right else "<" for right in to_the_right or [False] * len(widths)]
    return ["  " + "  ".join(f"{c:{a}{w}}" for c, a, w in zip(row, aligned, widths, strict=True)).rstrip() for row in rows]


# as data


def as_data(working: Working) -> dict:
    """The working as plain data for JSON: unrounded values, each with the text it is shown as."""
    return {
        "title": working.title,
        "given": [{"symbol": g.symbol, "words": g.words} | _quantity_as_data(g.quantity) for g in working.given],
        "steps": [
            {name: value for name, value in asdict(step).items() if name != "results"}
            | {"results": [_quantity_as_data(result) for result in step.results]}
            for step in working.steps
        ],
        "tables": [
            {
                "title": table.title,
                "columns": [{"words": words, "unit": unit} for words, unit in table.columns],
                "rows": [[_value_as_data(cell) for cell in row] for row in table.rows],
            }
            for table in working.tables
        ],
        "remark": working.remark,
    }


def _quantity_as_data(quantity: Quantity) -> dict:
    return {"value": _value_as_data(quantity.value), "unit": quantity.unit, "text": quantity.text}


def _value_as_data(value):
    """A value that JSON can hold: it has neither complex numbers nor nan."""
    if isinstance(value, complex):
        return {"real": value.real, "imaginary": value.imag}
    return None if isinstance(value, float) and not math.isfinite(value) else value
