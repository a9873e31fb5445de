"""The answer to each kind of question, worked out from the printed text and drawing alone."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest

from tests.scenes.worksheet import by_hand_drives, by_hand_windings
from tests.scenes.worksheet.printed import GRAPHIC, Question, along_sight, cross, numbers, unit

WORDS = {
    "to the right": (1, 0, 0), "to the left": (-1, 0, 0), "up": (0, 1, 0), "down": (0, -1, 0),
    "toward you": (0, 0, 1), "away from you": (0, 0, -1),
}  # fmt: skip
MARKS = {1: "dot: toward you", -1: "cross: away from you", 0: "nothing: no current"}


def in_words(vector) -> str:
    """The words for a multiple of 45 degrees in the paper, or a direction along an axis."""
    parts = [word for word in ("up", "down", "to the right", "to the left", "toward you", "away from you")
             if np.dot(WORDS[word], vector) > 0.1 * np.linalg.norm(vector)]  # fmt: skip
    return " and ".join(parts)


def same_way(a, b) -> bool:
    return bool(np.dot(unit(a), unit(b)) > 0.9999)


def sign(value: float) -> int:
    return 0 if abs(value) < 1e-6 else 1 if value > 0 else -1


def compass_needles(q: Question) -> str:
    """Ampere: B goes as current x offset."""
    ((current, wire),) = q.drawn.conductors
    needles = {}
    for letter in "ABC":
        place = min(q.drawn.circles, key=lambda circle: np.linalg.norm(circle - q.drawn.where(letter)))
        needles[letter] = cross(along_sight(current), place - wire)
        (drawn,) = [tip - start for _, start, tip in q.solved.arrows if np.linalg.norm((tip + start) / 2 - place) < 0.1]
        assert same_way(drawn, needles[letter])
    return "; ".join(f"{letter} {in_words(needle)}" for letter, needle in needles.items())


def push(q: Question) -> str:
    """F = I l x B."""
    ((current, _),) = q.drawn.conductors
    force = cross(along_sight(current), q.drawn.field)
    assert same_way(q.solved.way("F"), force)
    return in_words(force)


def emf(q: Question) -> str:
    """E = v x B."""
    driven = sign(cross(q.drawn.way("v"), q.drawn.field)[2])
    assert [current for current, _ in q.solved.conductors] == [driven]
    assert [current for current, _ in q.drawn.conductors] == [0]
    return MARKS[driven]


def which_pole(q: Question) -> str:
    """F = I x B with I across B, so B = F x I."""
    ((current, _),) = q.drawn.conductors
    field = cross(q.drawn.way("F"), along_sight(current))
    assert {text for text, _ in q.drawn.letters} == {"?", "F"} and same_way(q.solved.field, field)
    return "N is the pole " + {
        "to the right": "on the left", "to the left": "on the right", "up": "below", "down": "above"
    }[in_words(field)]  # fmt: skip


def left_hand(q: Question) -> str:
    field, current = re.match(r"The field B points (.+), the current I flows (.+?)\. ", q.text).groups()
    return in_space(q, {"B": field, "I": current}, "F", cross(WORDS[current], WORDS[field])) or "it is not pushed"


def right_hand(q: Question) -> str:
    field, motion = re.match(r"The field B points (.+), a conductor moves (.+?) \(v\)", q.text).groups()
    return in_space(q, {"B": field, "v": motion}, "E", cross(WORDS[motion], WORDS[field])) or "there is none"


def in_space(q: Question, given: dict[str, str], asked_for: str, answer) -> str:
    """The arrows of the box as drawn aslant: right, up, and toward the viewer to the lower left."""

    def aslant(vector) -> np.ndarray:
        x, y, z = vector
        return np.array([x - 0.55 * z, y - 0.42 * z, 0.0])

    for letter, words in given.items():
        (way,) = [tip - start for text, start, tip in q.drawn.arrows if letter in text]
        assert same_way(way, aslant(WORDS[words]))
    if np.any(answer):
        assert same_way(q.solved.way(asked_for), aslant(answer))
    else:
        assert not np.any(q.solved.way(asked_for))
    assert not np.any(q.drawn.way(asked_for))
    return in_words(answer) if np.any(answer) else ""


def two_wires(q: Question) -> str:
    """Currents the same way attract (the definition of the ampere before 2019)."""
    (first, _), (second, _) = q.drawn.conductors
    inward = first == second
    pushed = [tip - start for _, start, tip in q.solved.arrows]
    assert [np.sign(way[0]) for way in pushed] == ([1, -1] if inward else [-1, 1])
    return "they attract each other" if inward else "they repel each other"


SENSES = {1: "counter-clockwise", -1: "clockwise", 0: "it does not turn"}


def coil_as_motor(q: Question) -> str:
    torque = sum(
        cross(place, cross(along_sight(current), q.drawn.field))[2] for current, place in q.drawn.conductors
    )  # fmt: skip
    return SENSES[sign(torque)]


def coil_as_generator(q: Question) -> str:
    (sense,) = q.drawn.turning
    spin = along_sight(1 if sense == "counter-clockwise" else -1)
    said = []
    for letter in "AB":
        place = q.drawn.conductors[q.drawn.at(letter)][1]
        driven = sign(cross(cross(spin, place), q.drawn.field)[2])
        assert q.solved.conductors[q.solved.at(letter)][0] == driven
        said.append(f"{letter} {MARKS[driven]}")
    return "; ".join(said)


def stator(q: Question) -> str:
    """The field at the middle of the bore, of the currents in the slots as if they were long wires: I x offset."""
    currents = dict(zip("UVW", (float(n.replace("−", "-")) for n in re.findall(r"I[UVW] = (\S+) A", q.text)), strict=True))
    field = np.zeros(3)
    for belt, place in q.drawn.letters:
        slot = min(range(12), key=lambda n: np.linalg.norm(q.drawn.conductors[n][1] - place))
        current = currents[belt[1]] * (1 if belt[0] == "+" else -1)
        assert q.solved.conductors[slot][0] == sign(current) and q.drawn.conductors[slot][0] == 0
        field += cross(along_sight(current), -place)
    ((_, start, tip),) = q.solved.arrows
    assert same_way(tip - start, field)
    hour = (3 - math.degrees(math.atan2(field[1], field[0])) / 30) % 12
    assert abs(hour - round(hour)) < 0.02
    return f"to {round(hour) % 12 or 12} o'clock"


def lines(q: Question) -> str:
    """IEC 60034-8: the phase sequence in the alphabetical order of the terminal letters is clockwise at the drive end;
    an odd permutation reverses it, and from the other end it is seen the other way round."""
    order = re.search(r"\((L\d) to U1, (L\d) to V1, (L\d) to W1", q.text).groups()
    joined = [q.drawn.points(line) for line in q.drawn.svg if line.tag == f"{GRAPHIC}polyline"]
    opened = []
    for line, terminal in zip(order, ("U1", "V1", "W1"), strict=True):
        start, end = q.drawn.where(line)[0], q.drawn.where(terminal)[0]
        reached = any(abs(a[0] - start) < 0.1 and abs(b[0] - end) < 0.1 for a, b in joined if abs(a[1] - b[1]) > 15)
        opened += [] if reached else [line]
    assert len(opened) < 2
    if opened:
        return "it does not start"
    even = order in (("L1", "L2", "L3"), ("L2", "L3", "L1"), ("L3", "L1", "L2"))
    from_the_drive_end = "looking at the drive end?" in q.text
    assert from_the_drive_end or "looking at the non-drive end?" in q.text
    return "clockwise" if even == from_the_drive_end else "counter-clockwise"


def bar(q: Question) -> str:
    relative = q.drawn.way("n") - q.drawn.way("ns")
    out_of_the_pole = -1 if "N" in [text for text, _ in q.drawn.letters] else 1
    field = np.array([0, out_of_the_pole, 0])
    driven = sign(cross(relative, field)[2])
    force = cross(along_sight(driven), field)
    assert [current for current, _ in q.solved.conductors] == [driven]
    assert not driven or same_way(q.solved.way("F"), force)
    return f"{MARKS[driven]}; " + (f"pushed {in_words(force)}" if driven else "not pushed")


def bench(q: Question) -> str:
    """Its answers are worked out independently where the scenes and the command line are tested."""
    assert len(q.choices) >= 2 and q.answer in q.choices and "See it on the bench" in q.workings[-1]
    return q.answer


def close(text: str, *expected: float) -> bool:
    return numbers(text) == pytest.approx(expected, rel=6e-4)


def field_figure(q: Question) -> str:
    current, distance = numbers(q.text)
    assert close(q.answer, 0.2 * current / (distance / 1000)) and q.answer.endswith("µT")  # 2e-7 I / r
    return q.answer


def force_figure(q: Question) -> str:
    flux_density, length, current = numbers(q.text)
    field, way = field_of_the_text(q), re.search(r"A ((?:to the \w+)|up|down)\. How", q.text)[1]
    force = cross(WORDS[way], field)
    assert same_way(q.drawn.way("I"), WORDS[way]) and same_way(q.solved.way("F"), force)
    number, _, words = q.answer.partition(" N; ")
    assert close(number, flux_density * current * length / 1000) and words == in_words(force)
    return q.answer


def emf_figure(q: Question) -> str:
    flux_density, length, speed = numbers(q.text)
    field, way = field_of_the_text(q), re.search(r"moved ((?:to the \w+)|up|down) at", q.text)[1]
    driven = cross(WORDS[way], field)
    assert same_way(q.drawn.way("v"), WORDS[way])
    number, _, end = q.answer.partition(" V; ")
    positive = max("AB", key=lambda letter: q.drawn.where(letter) @ driven)
    assert close(number, flux_density * length / 1000 * speed) and end == f"{positive} is positive"
    return q.answer


def field_of_the_text(q: Question) -> np.ndarray:
    toward = "toward you" in q.text
    assert {current for current, _ in q.drawn.conductors} == {1 if toward else -1}
    return along_sight(1 if toward else -1)


def speeds(q: Question) -> str:
    """n_s = 120 f / poles and s = (n_s - n) / n_s, from what is given of each motor alone."""
    for given, filled in zip(q.table[1:], q.filled[1:], strict=True):
        frequency, poles, field, rotor, slip = (float(cell) if cell else None for cell in given[1:])
        assert sum(cell is None for cell in (frequency, poles, field, rotor, slip)) == 2
        field = field or 120 * frequency / poles
        frequency, poles = frequency or field * poles / 120, poles or 120 * frequency / field
        rotor = rotor or field * (1 - slip / 100)
        expected = [frequency, poles, field, rotor, 100 * (field - rotor) / field]
        assert [float(cell) for cell in filled[1:]] == pytest.approx(expected, rel=1e-5)
        said = re.search(rf"motor {given[0]}: ([^;]*)", q.answer)[1]
        missing = [value for value, cell in zip(expected, given[1:], strict=True) if not cell]
        assert numbers(said) == pytest.approx(missing, rel=1e-5)
    return q.answer


def alternator(q: Question) -> str:
    poles, given = numbers(q.text)
    assert close(q.answer, 120 * given / poles if q.answer.endswith("r/min") else given * poles / 120)
    assert ("How fast" in q.text) is q.answer.endswith("r/min")
    return q.answer


def nameplate(q: Question) -> str:
    """The most poles whose synchronous speed is above the rated one; then the definitions."""
    plate = {what: value for (what, _), (value, _) in zip(q.drawn.letters[::2], q.drawn.letters[1::2], strict=True)}
    frequency, kilowatts, volts, amperes, rated, factor = (
        numbers(plate[what])[0] for what in ("3~ motor", "power P", "voltage U", "current I", "speed n", "cos φ")
    )
    poles = max(n for n in range(2, 40, 2) if 120 * frequency / n > rated)
    field = 120 * frequency / poles
    slip = (field - rated) / field
    torque, drawn = 1000 * kilowatts / (rated * math.pi / 30), math.sqrt(3) * volts * amperes * factor
    expected = (poles, field, 100 * slip, slip * frequency, torque, 100 * 1000 * kilowatts / drawn)
    assert numbers(q.answer) == pytest.approx(expected, rel=5e-3)  # three figures
    assert 0.01 < slip < 0.08 and 0.7 < 1000 * kilowatts / drawn < 0.95
    return q.answer


WORKED_OUT = {
    "compass-needles": compass_needles, "push": push, "emf": emf, "which-pole": which_pole, "left-hand": left_hand,
    "right-hand": right_hand, "two-wires": two_wires, "coil-as-motor": coil_as_motor,
    "coil-as-generator": coil_as_generator, "stator": stator, "lines": lines, "bar": bar, "bench": bench,
    "field-figure": field_figure, "force-figure": force_figure, "emf-figure": emf_figure, "speeds": speeds,
    "alternator": alternator, "nameplate": nameplate,
    **by_hand_windings.WORKED_OUT, **by_hand_drives.WORKED_OUT,
}  # fmt: skip
