"""More, less or the same: the snapshot is made again with one control changed, and a quantity of both compared."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from scenes.questions.kinds import Kind, SetUp
from scenes.questions.mistakes import AN_EFFECT, INVERSE, NO_EFFECT
from scenes.scene.question import Question
from scenes.scene.typed import shown

MORE, LESS, SAME = "more", "less", "same"
CLEARLY, ALIKE = 1.15, 1e-6  # times, from where it counts as more; share up to which it counts as the same
FAR, NOTHING = 1000, 1e-6  # times, from where no one is helped by how many; share of the other size that is as good as nothing
COUNTED = ("Poles", "Turns")  # controls that are a number of things
CHOICES = ((MORE, "it becomes more"), (LESS, "it becomes less"), (SAME, "it stays the same"))


@dataclass(frozen=True)
class Measure:
    """What is compared: its words, its size from a snapshot in `unit`, and the law that it follows, a sentence or "". `alike`: for a
    control that it goes with only as long as something else stays, why that leaves it as it was; "" where the law says it. `shows`:
    settings with which it is seen."""

    words: str
    size: Callable[[Any], float]
    unit: str
    law: str = ""
    alike: Mapping[str, str] = field(default_factory=dict)
    shows: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Change:
    """What is changed: a control, the values that it may have instead, from its present one, and, where its own words do not do in a
    sentence, what it is called there and how values are said."""

    control: str
    values: Callable[[Any], Sequence[Any]]
    called: str = ""
    said: Mapping[Any, str] = field(default_factory=dict)


def times(*factors: float, low: float, high: float) -> Callable[[float], list[float]]:
    """Values of a control that are so many times the present one, as far as it goes."""
    return lambda value: [value * factor + 0.0 for factor in factors if low <= value * factor <= high]


def one_of(*values: Any) -> Callable[[Any], list[Any]]:
    """The others of these values."""
    return lambda value: [each for each in values if each != value]


def reverse(value: float) -> list[float]:
    """The other direction, of the same size and of others: the direction alone then tells no answer."""
    return [-value + 0.0, -2 * value + 0.0, -value / 2 + 0.0]


def compared(before: float, after: float) -> str | None:
    """Whether it became more or less or stayed the same; `None` where that is not clear."""
    if math.isclose(before, after, rel_tol=ALIKE, abs_tol=1e-12):
        return SAME
    if min(before, after) < 0:  # against what counts as positive: its size and its direction would be two questions
        return None
    if min(before, after) == 0:
        return MORE if after > before else LESS
    return MORE if after > CLEARLY * before else LESS if before > CLEARLY * after else None


def compare(
    given: Callable[[SetUp], str],
    changes: Sequence[Change],
    measures: Sequence[Measure],
    *,
    name: str = "compare",
    of: Callable[[SetUp], Any] = lambda setup: setup.now,
    **more,
) -> Kind:
    """What happens to a quantity when one control is changed. First it is left to chance which answer shall be right, then which change
    and which quantity have it; set-ups are drawn until there are such. `of`: what is measured, for one that needs no snapshot."""

    def put(setup: SetUp) -> Question | None:
        pairs = [(change, measure) for change in changes for measure in measures]
        setup.dice.shuffle(pairs)
        wanted = setup.dice.choice((MORE, LESS, SAME))
        others: dict[tuple[str, Any], Any] = {}  # worked out once for all measures
        found: dict[str, tuple[Change, Any, Measure, tuple[float, float]]] = {}  # the first that has each answer
        for change, measure in pairs:
            values = list(change.values(setup.settings[change.control]))
            setup.dice.shuffle(values)
            for value in values:
                if wanted in found or not _can_be_told(setup.scene.by_name[change.control], setup.settings[change.control], value):
                    continue
                if (change.control, value) not in others:
                    others[change.control, value] = of(setup.other(**{change.control: value}))
                before, after = measure.size(of(setup)), measure.size(others[change.control, value])
                if math.isfinite(before) and math.isfinite(after) and (before or after) and (answer := compared(before, after)):
                    found.setdefault(answer, (change, value, measure, (before, after)))
        asked = found.get(wanted) or next(iter(found.values()), None)
        return _asked(setup, given(setup), *asked, name) if asked else None

    return Kind(name, "what becomes more or less, or stays the same", put, **more)


def _asked(setup: SetUp, given: str, change: Change, value, measure: Measure, sizes: tuple[float, float], name: str) -> Question:
    before, after = sizes
    answer = compared(before, after)
    assert answer is not None  # it is the one that was wanted
    changed = _changed(setup, change, value)
    comparable = min(before, after) * FAR > max(before, after)
    times = float(_rounded(after)) / float(_rounded(before)) if comparable else 1.0  # of the figures as they are printed
    by = f", {_rounded(times)} times as much" if comparable else ""
    was, becomes = (
        "nothing" if size < NOTHING * max(before, after) else f"{_rounded(size)}{_after_figure(measure.unit)}" for size in (before, after)
    )
    reason = (
        f"{measure.law} {_why_alike(setup, change, value, measure)} It stays {was}."
        if answer == SAME
        else f"{measure.law} From {was} to {becomes}{by}."
    )
    wrong = {
        MORE: {LESS: [INVERSE], SAME: [NO_EFFECT]},
        LESS: {MORE: [INVERSE], SAME: [NO_EFFECT]},
        SAME: {MORE: [AN_EFFECT], LESS: [AN_EFFECT]},
    }[answer]
    reason = re.sub(" +", " ", reason).strip()
    question = Question(f"{given} {changed} What happens to {measure.words}?", CHOICES, answer, reason, shows=tuple(measure.shows.items()))
    return question.of_kind(name, setup.shuffled(CHOICES), wrong)


def _why_alike(setup: SetUp, change: Change, value, measure: Measure) -> str:
    """Why what is changed leaves the quantity as it was."""
    before = setup.settings[change.control]
    if isinstance(before, float) and value == -before:
        return "The other direction leaves its size as it was."
    called = _called(setup.scene.by_name[change.control], change).partition(",")[0]
    return measure.alike.get(change.control, f"{called[0].upper()}{called[1:]} has no part in it.")


def _called(control, change: Change) -> str:
    """What is changed, in a sentence."""
    return change.called or f"the {'number of ' * (control.words in COUNTED)}{control.words[0].lower()}{control.words[1:]}"


def _can_be_told(control, before: Any, value: Any) -> bool:
    """Whether it is a change that a class can picture: of a control with a sign, another size in the same direction, or reversed; and
    one to which it can be set, as 5 turns cannot be to half of them."""
    if not isinstance(before, float):
        return True
    steps = (value - control.low) / control.step
    if value == before or not control.low <= value <= control.high or abs(steps - round(steps)) > ALIKE:
        return False
    return min(before, value) >= 0 or max(before, value) < 0 or value in reverse(before)


def _changed(setup: SetUp, change: Change, value) -> str:
    of, before = setup.scene.by_name[change.control], setup.settings[change.control]
    called = _called(of, change)
    short, unit, alike = _after_figure(of.unit.split(" ")[0]), _after_figure(of.unit), ""  # "60 %" before "30 % of rated torque"
    if of.kind == "number" and min(before, value) < 0:  # sizes are told, and no sign: what counts as positive stands after the comma
        called = called.split(",")[0]
        if max(before, value) > 0:
            one_way, other_way = (f"{_said(of, change, abs(each))}{unit}" for each in (before, value))
            return f"Now one thing is changed: {called}, from {one_way} one way to {other_way} the other way."
        before, value, alike = -before, -value, " in the same direction"
    return f"Now one thing is changed: {called}, from {_said(of, change, before)}{short} to {_said(of, change, value)}{unit}{alike}."


def _said(control, change: Change, value) -> str:
    if value in change.said:
        return change.said[value]
    if control.kind == "switch":
        return "on" if value else "off"
    return dict(control.choices).get(value, value) if control.kind == "choice" else shown(value)


def _after_figure(unit: str) -> str:
    return unit if unit in ("", "°") else f" {unit}"


def _rounded(size: float) -> str:
    """To three figures, as well as what is given is known."""
    return shown(float(f"{size:.3g}"))
