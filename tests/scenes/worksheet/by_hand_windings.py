"""Windings, commutator and waves: the answers worked out from the printed text and drawing alone."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest

from tests.scenes.worksheet.printed import GRAPHIC, Drawn, Question, along_sight, cross, numbers

MARKS = {1: "dot: toward you", -1: "cross: away from you"}
SENSES = {1: "counter-clockwise", -1: "clockwise"}
SIGNS = {1: "+", -1: "−", 0: "0"}


# the commutator


def brush_of_a(drawn: Drawn) -> str:
    """The name of the brush that stands on the segment from which a line goes to side A."""
    side = drawn.conductors[drawn.at("A")][1]
    (segment,) = [group for (group,) in drawn.groups["segment"] if np.linalg.norm(drawn.lines(group)[0][0] - side) < 0.1]
    _, arc = drawn.lines(segment)
    on = {}
    for (group,) in drawn.groups["brush"]:
        block = np.mean(drawn.points(group[0]), axis=0)
        (name,) = [text for text, place in drawn.letters if text in ("A1", "A2") and np.linalg.norm(place - block) < 11]
        on[name] = min(np.linalg.norm(block - place) for place in arc)
    nearest, other = sorted(on, key=on.get)
    assert on[nearest] < 3.2 < on[other], "one brush stands on it, the other does not"
    return nearest


def sides(q: Question) -> dict[str, np.ndarray]:
    return {letter: q.drawn.conductors[q.drawn.at(letter)][1] for letter in "AB"}


def said_and_drawn(q: Question, currents: dict[str, int]) -> str:
    for letter, current in currents.items():
        assert q.solved.conductors[q.solved.at(letter)][0] == current and q.drawn.conductors[q.drawn.at(letter)][0] == 0
    return "; ".join(f"{letter} {MARKS[current]}" for letter, current in currents.items())


def battery(q: Question) -> str:
    """From + into the brush, the segment, and the side joined to it at the end nearest to the reader: away from the reader."""
    plus = q.drawn.where("+")
    positive = min(("A1", "A2"), key=lambda brush: np.linalg.norm(q.drawn.where(brush) - plus))
    first = -1 if brush_of_a(q.drawn) == positive else 1
    currents = {"A": first, "B": -first}
    torque = sum(cross(place, cross(along_sight(currents[letter]), q.drawn.field))[2] for letter, place in sides(q).items())
    return f"{said_and_drawn(q, currents)}; {SENSES[int(np.sign(torque))]}"


def brush(q: Question) -> str:
    """E = v x B; at the end nearest to the reader current comes out of the side in which it flows toward the reader, at +."""
    (sense,) = q.drawn.turning
    spin = along_sight(1 if sense == "counter-clockwise" else -1)
    currents = {letter: int(np.sign(cross(cross(spin, place), q.drawn.field)[2])) for letter, place in sides(q).items()}
    under_a = brush_of_a(q.drawn)
    positive = under_a if currents["A"] > 0 else {"A1": "A2", "A2": "A1"}[under_a]
    return f"{said_and_drawn(q, currents)}; {positive} is positive, and stays so"


# waves


def zeros(curve: np.ndarray) -> list[tuple[float, bool]]:
    """Where a wave crosses its middle, and whether upward."""
    middle = (curve[:, 1].max() + curve[:, 1].min()) / 2
    y = curve[:, 1] - middle
    found = []
    for n in np.flatnonzero(np.sign(y[:-1]) * np.sign(y[1:]) < 0):
        share = y[n] / (y[n] - y[n + 1])
        found.append((float(curve[n, 0] + share * (curve[n + 1, 0] - curve[n, 0])), bool(y[n] < 0)))
    return found


def waves(q: Question) -> str:
    poles = numbers(q.text)[0]
    start, per_mm = q.drawn.scale(0)
    half = [
        b - a for letter in "UVW" for (a, _), (b, _) in zip(zeros(q.drawn.curve(letter)), zeros(q.drawn.curve(letter))[1:], strict=False)
    ]
    period = 2 * per_mm * float(np.mean(half))
    rising = {}
    for letter in "UVW":
        at, up = zeros(q.drawn.curve(letter))[0]
        rising[letter] = (start + per_mm * at - (0 if up else period / 2)) % period
    lag = ((rising["V"] - rising["U"]) / period) % 1
    assert lag == pytest.approx(1 / 3, abs=0.02) or lag == pytest.approx(2 / 3, abs=0.02)
    order, sense = ("U-V-W", "clockwise") if lag < 0.5 else ("U-W-V", "counter-clockwise")  # IEC 60034-8
    expected = (period, 1000 / period, 120 * 1000 / period / poles)
    said = re.fullmatch(r"(\S+) ms; (\S+) Hz; (\S+); (\S+) r/min; (\S+)", q.answer).groups()
    assert [float(said[n]) for n in (0, 1, 3)] == pytest.approx(expected, rel=0.01)
    assert said[2] == order and said[4] == sense
    return q.answer


def signs(q: Question) -> str:
    (group,) = q.drawn.groups["instant"][0]
    x = q.drawn.lines(group)[0][0][0]
    curves = {letter: q.drawn.curve(letter) for letter in "UVW"}
    axis = np.mean([curve[:, 1].max() + curve[:, 1].min() for curve in curves.values()]) / 2
    at = {letter: float(np.interp(x, *curve.T)) - axis for letter, curve in curves.items()}
    return "; ".join(f"{letter} {SIGNS[0 if abs(y) < 1 else int(np.sign(y))]}" for letter, y in at.items())


# coils in slots


def slot_at(drawn: Drawn, x: float) -> int:
    """The slot at a place, from the numbers below the slots."""
    told = {int(text): place[0] for text, place in drawn.letters if text.isdigit()}
    last = max(told)
    slot = 1 + (x - told[1]) / ((told[last] - told[1]) / (last - 1))
    assert abs(slot - round(slot)) < 0.05
    return round(slot)


def coil_pitch(q: Question) -> str:
    slots, poles, start = (int(n) for n in numbers(q.text))
    finish = start + slots // poles - ("one slot less" in q.text)
    ((group, *_),) = q.solved.groups["coil"]
    upright = [slot_at(q.solved, line[1][0]) for line in q.solved.lines(group)]
    assert upright == [start, finish] and not q.drawn.groups["coil"]
    assert len([line for line in q.drawn.svg if line.tag == f"{GRAPHIC}polyline"]) == slots
    return f"in slot {finish}"


def phase_starts(q: Question) -> str:
    """120 electrical degrees a phase: with p pole pairs a slot is 360 p / slots of them."""
    slots, poles, first = (int(n) for n in numbers(q.text))
    later = {phase: first + round(degrees / (180 * poles / slots)) for phase, degrees in (("V", 120), ("W", 240))}
    for phase, slot in {"U": first, **later}.items():
        assert slot_at(q.solved, q.solved.where(f"{phase}1")[0]) == slot
    assert [text for text, _ in q.drawn.letters if not text.isdigit()] == ["U1"]
    return f"V in slot {later['V']}; W in slot {later['W']}"


def winding_factor(q: Question) -> str:
    """The phasors of the coils of a phase belt added up, and of the two sides of a coil."""
    slots, poles, span = (int(n) for n in numbers(q.text))
    step = math.pi * poles / slots
    belt = slots // (3 * poles)
    distribution = abs(sum(np.exp(1j * step * n) for n in range(belt))) / belt
    pitch = abs(1 - np.exp(1j * step * span)) / 2
    assert numbers(q.answer) == pytest.approx((distribution, pitch, distribution * pitch), abs=6e-5)
    if q.drawn:
        ((group, *_),) = q.drawn.groups["coil"]
        assert [slot_at(q.drawn, line[1][0]) for line in q.drawn.lines(group)] == [1, 1 + span]
    return q.answer


WORKED_OUT = {
    "battery": battery, "brush": brush, "waves": waves, "signs": signs, "coil-pitch": coil_pitch, "phase-starts": phase_starts,
    "winding-factor": winding_factor,
}  # fmt: skip
