"""Boards, measurements and drives: the answers worked out from the printed text and drawing alone."""

from __future__ import annotations

import cmath
import math
import re

import numpy as np
import pytest

from tests.scenes.worksheet.printed import Drawn, Question, numbers, words_of

STUDS = ("U1", "V1", "W1", "U2", "V2", "W2")
LINES = ("L1", "L2", "L3")
EVEN = (("U1", "V1", "W1"), ("V1", "W1", "U1"), ("W1", "U1", "V1"))


# the board, read and solved


def places(drawn: Drawn) -> dict[str, np.ndarray]:
    """The studs: circles, each next to its letters."""
    circles = [drawn.circle(one) for one in drawn.svg if one.tag.endswith("circle") and one.get("r") == "2.2"]
    return {stud: min(circles, key=lambda place: np.linalg.norm(place - drawn.where(stud))) for stud in STUDS}


def stud_at(drawn: Drawn, place) -> str:
    there = places(drawn)
    nearest = min(STUDS, key=lambda stud: np.linalg.norm(there[stud] - place))
    assert np.linalg.norm(there[nearest] - place) < 2.5
    return nearest


def links(drawn: Drawn) -> set[frozenset[str]]:
    found = set()
    for (group,) in drawn.groups["link"]:
        line = drawn.lines(group)[0]
        found.add(frozenset(stud_at(drawn, end) for end in (line[0], line[-1])))
    return found


def leads(drawn: Drawn) -> dict[str, str]:
    found = {}
    for (group,) in drawn.groups["lead"]:
        (line,) = drawn.lines(group)
        found[words_of(group[-1])] = stud_at(drawn, line[-1])
    return found


STAR = [{frozenset(("W2", "U2")), frozenset(("U2", "V2"))}]
DELTA = [
    {frozenset(pair) for pair in (("U1", "W2"), ("V1", "U2"), ("W1", "V2"))},
    {frozenset(pair) for pair in (("U1", "V2"), ("V1", "W2"), ("W1", "U2"))},
]


def kind(drawn: Drawn) -> str:
    joined = links(drawn)
    return "star" if joined in STAR else "delta" if joined in DELTA else "none"


def solved(joined: set[frozenset[str]], on: dict[str, str], volts: float, ohms: dict[str, float]) -> dict[str, complex]:
    """Voltage of each winding from 1 to 2, by node voltages; a link is a resistance of next to nothing."""
    ends = [(f"{w}1", f"{w}2", 1 / ohms[w]) for w in "UVW"] + [(*sorted(link), 1e7) for link in joined]
    matrix, fed = np.zeros((6, 6), complex), np.zeros(6, complex)
    for first, second, conductance in ends:
        a, b = STUDS.index(first), STUDS.index(second)
        matrix[[a, b], [a, b]] += conductance
        matrix[[a, b], [b, a]] -= conductance
    for line, stud in on.items():
        n = STUDS.index(stud)
        matrix[n, n] += 1e9
        fed[n] += 1e9 * volts / math.sqrt(3) * cmath.exp(-2j * math.pi / 3 * LINES.index(line))
    potentials = np.linalg.lstsq(matrix, fed, rcond=None)[0]
    return {w: potentials[STUDS.index(f"{w}1")] - potentials[STUDS.index(f"{w}2")] for w in "UVW"}


def ohms_between(joined: set[frozenset[str]], studs: tuple[str, str], ohms: dict[str, float]) -> float:
    """1 A in at one stud and out at the other."""
    matrix, fed = np.zeros((6, 6)), np.zeros(6)
    for first, second, conductance in [*((f"{w}1", f"{w}2", 1 / ohms[w]) for w in "UVW"), *((*sorted(link), 1e7) for link in joined)]:
        a, b = STUDS.index(first), STUDS.index(second)
        matrix[[a, b], [a, b]] += conductance
        matrix[[a, b], [b, a]] -= conductance
    fed[[STUDS.index(stud) for stud in studs]] = 1, -1
    return float(fed @ np.linalg.pinv(matrix, rcond=1e-13) @ fed)


def close(text: str, *expected: float) -> bool:
    return numbers(text) == pytest.approx(expected, rel=6e-3)  # three figures


def how_to_join(q: Question) -> str:
    low, high, supply = numbers(q.text)
    assert high == pytest.approx(low * math.sqrt(3), rel=0.01) and leads(q.drawn) == dict(zip(LINES, STUDS, strict=False))
    star, delta = supply / math.sqrt(3), supply
    joined = "star" if abs(star / low - 1) < 0.1 else "delta" if abs(delta / low - 1) < 0.1 else "none"
    assert kind(q.drawn) == "none" and kind(q.solved) == joined
    if joined == "none":
        assert not links(q.solved)
        said, _, volts = q.answer.partition("; ")
        assert re.fullmatch("in star (.*) V; in delta (.*) V", volts) and close(volts, star, delta)
        return f"in neither: this motor does not fit this supply; {volts}"
    assert q.answer.startswith(f"in {joined}; ") and close(q.answer, {"star": star, "delta": delta}[joined])
    return q.answer


def board(q: Question) -> str:
    supply, ohm = numbers(q.text)
    on = leads(q.drawn)
    across = solved(links(q.drawn), on, supply, dict.fromkeys("UVW", ohm))
    volts = float(np.mean(np.abs(list(across.values()))))
    line = volts / ohm * (1 if kind(q.drawn) == "star" else math.sqrt(3))
    sense = "clockwise" if tuple(on[each] for each in LINES) in EVEN else "counter-clockwise"  # IEC 60034-8
    winding = "winding voltage (.*) V; winding current (.*) A; line current (.*) A"
    said = re.fullmatch(rf"in {kind(q.drawn)}; {winding}; {sense}", q.answer)
    assert close(" ".join(said.groups()), volts, volts / ohm, line)
    return q.answer


def ohmmeter(q: Question) -> str:
    (ohm,) = numbers(q.text)
    ((group,),) = q.drawn.groups["meter"]
    clips = tuple(stud_at(q.drawn, q.drawn.circle(dot)) for dot in group if dot.tag.endswith("circle") and dot.get("fill") == "#000")
    assert len(set(clips)) == 2
    assert close(q.answer, ohms_between(links(q.drawn), clips, dict.fromkeys("UVW", ohm))) and q.answer.endswith(" Ω")
    return q.answer


def broken_winding(q: Question) -> str:
    (ohm,) = numbers(q.text)
    studs, shown = q.table
    for broken in "UVW":
        ohms = {w: 1e5 if w == broken else ohm for w in "UVW"}
        expected = [ohms_between(links(q.drawn), tuple(pair.split("-")), ohms) for pair in studs[1:]]
        if all(value == "no reading" if found > 1e4 else value.endswith("Ω") and close(value, found)
               for value, found in zip(shown[1:], expected, strict=True)):  # fmt: skip
            return f"winding {broken}"
    raise AssertionError("no broken winding gives these readings")


def phase_lost(q: Question) -> str:
    supply, lost = re.search(r"to (\d+) V between lines; (L\d) is lost", q.text).groups()
    on = leads(q.drawn)
    assert set(on) == set(LINES) - {lost}
    across = solved(links(q.drawn), on, float(supply), dict.fromkeys("UVW", 10.0))
    said, _, starts = q.answer.rpartition("; ")
    assert numbers(said) == pytest.approx([abs(across[w]) for w in "UVW"], rel=6e-3, abs=0.01)
    return f"{said}; it hums and does not start"


def capacitor_motor(q: Question) -> str:
    """Each swap of one winding's ends turns the field round."""
    near_line = []
    for group, _ in q.drawn.groups["motor"]:
        letters = [(words_of(each), -float(each.get("y"))) for each in group if each.tag.endswith("text")]
        near_line.append([max((name for name in letters if name[0][0] == w), key=lambda name: name[1])[0] for w in "UZ"])
    first, second = near_line
    swapped = sum(one != other for one, other in zip(first, second, strict=True))
    assert swapped in (1, 2)
    turns = re.search(r"as in 1 it turns (\S+)\.", q.text)[1]
    return turns if swapped == 2 else {"clockwise": "counter-clockwise", "counter-clockwise": "clockwise"}[turns]


def star_delta_start(q: Question) -> str:
    current, torque, *tap = numbers(q.text)
    share = (tap[0] / 100) ** 2 if tap else 1 / 3
    assert bool(tap) is not bool(q.drawn) and close(q.answer, current * share, torque * share)
    if q.drawn:  # the star has its windings' other ends in one point, the delta each on the next terminal
        for name in ("star", "delta"):
            (group,) = q.drawn.groups[name][0]
            ends = [line[-1] for line in q.drawn.lines(group)]
            starts = [line[0] for line in q.drawn.lines(group)]
            together = all(np.allclose(end, ends[0]) for end in ends)
            onward = all(np.allclose(end, starts[(n + 1) % 3], atol=0.02) for n, end in enumerate(ends))
            assert (together, onward) == ((True, False) if name == "star" else (False, True))
    return q.answer


def order_of_work(q: Question) -> str:
    """Common practice; EN 50110-1 (memory)."""
    signs = ("isolate", "lock", "try the tester on a known", "test every", "supply again", "take the leads off")
    numbered = []
    for step, cell in q.table[1:]:
        (place,) = [n for n, sign in enumerate(signs, 1) if sign in step]
        assert cell == ""
        numbered.append(str(place))
    assert [cell for _, cell in q.filled[1:]] == numbered
    return ", ".join(numbered)


# drives


def run_up(q: Question) -> str:
    """The first place from standstill at which the load takes what star gives."""
    start, per_mm = q.drawn.scale(0)
    star, load, delta = (q.drawn.curve(name) for name in ("star", "load", "delta"))
    zero, torque_per_mm = q.drawn.scale(1)
    assert np.median((zero + torque_per_mm * delta[:, 1]) / (zero + torque_per_mm * star[:, 1])) == pytest.approx(3, rel=0.02)
    short = np.flatnonzero(star[:, 1] <= load[:, 1])
    share = start + per_mm * star[short[0], 0]
    comes = "no, it stays at standstill" if short[0] == 0 else "yes, it runs up" if share > 90 else "no, it crawls at a part of its speed"
    if short[0] == 0:
        return comes
    said, _, number = q.answer.partition("; ")
    assert said == comes and numbers(number)[0] == pytest.approx(share, abs=1.6)
    return q.answer


def plugging(q: Question) -> str:
    poles, rotor, frequency = numbers(q.text)
    field = 120 * frequency / poles
    assert close(q.answer, 100 * (field + rotor) / field, frequency * (field + rotor) / field)
    return q.answer


def energy_and_heat(q: Question) -> str:
    """Heat in the rotor without load: one energy of motion for a run-up, three for a plugging (standard result, memory)."""
    inertia, rpm = numbers(q.text)[:2]
    energy = inertia * (rpm * math.pi / 30) ** 2 / 2000
    assert close(q.answer, energy, energy * (3 if "swapping" in q.text else 1))
    return q.answer


def load_angle(q: Question) -> str:
    (arrow,) = q.drawn.arrows
    field, rotor = (math.atan2(place[1], place[0]) for place in (arrow[2], q.drawn.where("N")))
    (sense,) = q.drawn.turning
    ahead = math.degrees(field - rotor) * (1 if sense == "counter-clockwise" else -1)
    ahead = (ahead + 180) % 360 - 180
    return f"{abs(ahead):.0f}°; as a {'motor' if ahead > 0 else 'generator'}"


def machine_of(q: Question):
    poles, volts, frequency, reactance, emf = numbers(q.text)[:5]
    return poles, volts / math.sqrt(3), emf / math.sqrt(3), reactance, 4 * math.pi * frequency / poles


def synchronous_torque(q: Question) -> str:
    """P = 3 U E sin(delta) / X of a round rotor (standard result)."""
    _, volts, emf, reactance, speed = machine_of(q)
    most = 3 * volts * emf / reactance / speed
    assert close(q.answer, most, most * math.sin(math.radians(numbers(q.text)[-1])))
    return q.answer


def excitation(q: Question) -> str:
    """U = E exp(-j delta) + j X I."""
    _, volts, emf, reactance, _ = machine_of(q)
    degrees = float(re.search(r"load angle of (\d+)°", q.text)[1])
    current = (volts - emf * cmath.exp(-1j * math.radians(degrees))) / (1j * reactance)
    side = "leading" if current.imag > 0 else "lagging"
    assert numbers(q.answer)[:2] == pytest.approx((abs(current), current.real / abs(current)), rel=6e-3)
    assert current.real / abs(current) < 0.975, "near 1 nobody can say whether it leads"
    assert q.answer.endswith(f", {side}; {'lowered' if side == 'leading' else 'raised'}")
    return q.answer


def inverter(q: Question) -> str:
    poles, volts, rated, frequency = numbers(q.text)[:4]
    assert close(q.answer, 120 * frequency / poles, volts * frequency / rated)
    return q.answer


def motor_parts(q: Question) -> str:
    """What a cut motor looks like: from the shaft outward and from the middle to both ends."""
    named = {}
    blocks = [np.array(q.drawn.points(block))[:, :2] for block in q.drawn.svg if block.tag.endswith("polygon")]
    boxes = [(*block.min(axis=0), *block.max(axis=0)) for block in blocks]
    for (group,) in q.drawn.groups["pointer"]:
        letter, end = words_of(group[-1]), q.drawn.lines(group)[0][1]
        (box,) = [box for box in boxes if box[0] < end[0] < box[2] and box[1] < end[1] < box[3]]
        named[letter] = part_at(box, boxes)
    assert q.filled[0] == ["part", "name", "job"] and {row[0]: row[1] for row in q.filled[1:]} == named
    assert all(row[2].startswith("to ") for row in q.filled[1:]) and all(row[1:] == ["", ""] for row in q.table[1:])
    return "; ".join(f"{letter} {name}" for letter, name in named.items())


def part_at(box, boxes) -> str:
    left, low, right, high = box
    lowest = min(each[1] for each in boxes)
    middle = left < 0 < right
    if low == lowest:
        return "shaft"
    if middle:
        stack = sorted(each[1] for each in boxes if each[0] < 0 < each[2])
        return ("shaft", "rotor core", "stator core", "frame")[stack.index(low)]
    shield = max((each for each in boxes if each[0] > 0), key=lambda each: (each[0] > 15, each[3] - each[1]))
    if left < -shield[2]:
        return "external fan" if high - low > 5 else "fan cowl"
    if abs(left) >= shield[0]:
        return "end shield" if high - low > 8 else "bearing"
    rotor = min((each for each in boxes if each[0] < 0 < each[2] and each[1] > lowest), key=lambda each: each[1])
    return "end rings" if high <= rotor[3] else "stator winding"


WORKED_OUT = {
    "how-to-join": how_to_join, "board": board, "ohmmeter": ohmmeter, "broken-winding": broken_winding, "phase-lost": phase_lost,
    "capacitor-motor": capacitor_motor, "star-delta-start": star_delta_start, "order-of-work": order_of_work, "run-up": run_up,
    "plugging": plugging, "energy-and-heat": energy_and_heat, "load-angle": load_angle, "synchronous-torque": synchronous_torque,
    "excitation": excitation, "inverter": inverter, "motor-parts": motor_parts,
}  # fmt: skip
