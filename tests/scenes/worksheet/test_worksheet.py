"""The worksheet: every question is read off the printed page, drawing and all, worked out here with cross products and
arithmetic of its own, and compared with the key."""

from __future__ import annotations

import math
import os
import re
import sys
import xml.etree.ElementTree as xml
from pathlib import Path

import numpy as np
import pytest

from scenes.__main__ import main
from scenes.worksheet.page import key_page, questions_page, whole_page
from scenes.worksheet.worksheet import KINDS, LARGEST_SEED, MOST_QUESTIONS, sheet
from tests import programs

ROOT = Path(__file__).parents[3]
SEEDS = range(1, 26)
SPACE, GRAPHIC = "{http://www.w3.org/1999/xhtml}", "{http://www.w3.org/2000/svg}"

# reading the page


def words_of(element) -> str:
    return " ".join("".join(element.itertext()).split())


def numbers(text: str) -> list[float]:
    return [float(number.replace("−", "-")) for number in re.findall(r"[−-]?\d+(?:\.\d+)?", text)]


class Drawn:
    """What is seen on a drawing: x to the right and y up from its middle, mm."""

    def __init__(self, svg):
        self.width, self.height = (float(n) for n in svg.get("viewBox").split()[2:])
        self.svg = svg
        self.letters = [(words_of(text), self.place(text.get("x"), text.get("y"))) for text in svg.iter(f"{GRAPHIC}text")]
        groups = {"conductor": [], "arrow": [], "turning": []}
        for group in svg.iter(f"{GRAPHIC}g"):
            name, *more = group.get("class").split()
            groups[name].append((group, *more))
        self.conductors = [(self.current(group), self.circle(group[0])) for group, _ in groups["conductor"]]
        self.arrows = [self.arrow(group) for (group,) in groups["arrow"]]
        self.turning = [sense for _, sense in groups["turning"]]
        self.circles = [self.circle(one) for one in svg if one.tag == f"{GRAPHIC}circle" and one.get("r") == "4.4"]

    def place(self, x, y) -> np.ndarray:
        return np.array([float(x) - self.width / 2, self.height / 2 - float(y), 0.0])

    def circle(self, circle) -> np.ndarray:
        return self.place(circle.get("cx"), circle.get("cy"))

    def current(self, group) -> int:
        """By what is drawn inside the circle: a dot 1, a cross -1, nothing 0."""
        inside = group[1:]
        if not inside:
            return 0
        if [part.tag for part in inside] == [f"{GRAPHIC}circle"]:
            assert inside[0].get("fill") == "#000" and float(inside[0].get("r")) < float(group[0].get("r")) / 2
            return 1
        first, second = (unit(self.points(line)[1] - self.points(line)[0]) for line in inside)
        assert abs(first @ second) < 1e-6
        return -1

    def points(self, line) -> list[np.ndarray]:
        return [self.place(*point.split(",")) for point in line.get("points").split()]

    def arrow(self, group) -> tuple[str, np.ndarray, np.ndarray]:
        """Its letter, where it starts, and where its tip is."""
        shaft, head, *letter = group
        return words_of(letter[0]) if letter else "", self.points(shaft)[0], self.points(head)[0]

    def where(self, letter: str) -> np.ndarray:
        (place,) = [place for text, place in self.letters if text == letter]
        return place

    def way(self, letter: str) -> np.ndarray:
        """The direction of the arrow with that letter; nothing where there is none."""
        ways = [tip - start for text, start, tip in self.arrows if text == letter]
        return ways[0] if ways else np.zeros(3)

    def at(self, letter: str) -> int:
        """Which conductor is nearest to that letter."""
        return int(np.argmin([np.linalg.norm(place - self.where(letter)) for _, place in self.conductors]))

    @property
    def field(self) -> np.ndarray:
        """From N to S."""
        return unit(self.where("S") - self.where("N"))


def unit(vector) -> np.ndarray:
    return np.asarray(vector) / np.linalg.norm(vector)


def cross(a, b) -> np.ndarray:
    return np.array([a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]])


def along_sight(current: float) -> np.ndarray:
    return np.array([0.0, 0.0, current])


class Question:
    """One question of a sheet with its answer, as printed."""

    def __init__(self, asked, answered):
        self.kind = asked.get("data-kind")
        self.text = words_of(asked.find(f".//{SPACE}p"))
        self.answer = words_of(answered.find(f".//{SPACE}p[@class='answer']"))
        self.workings = [words_of(line) for line in answered.findall(f".//{SPACE}div/{SPACE}div/{SPACE}p")]
        self.choices = [words_of(choice) for choice in asked.iter(f"{SPACE}li")]
        self.drawn, self.solved = (next((Drawn(svg) for svg in section.iter(f"{GRAPHIC}svg")), None) for section in (asked, answered))
        self.table, self.filled = (
            [[words_of(cell) for cell in row] for row in section.iter(f"{SPACE}tr")] for section in (asked, answered)
        )


def read(page: str) -> dict[str, object]:
    """The sections of a page by their id."""
    return {section.get("id"): section for section in xml.fromstring(page).iter(f"{SPACE}section")}


def questions_of(seed: int, count: int = len(KINDS)) -> list[Question]:
    made = sheet(count, seed)
    asked, answered = read(questions_page(made, "a4")), read(key_page(made, "a4"))
    return [Question(asked[f"question-{n}"], answered[f"answer-{n}"]) for n in range(1, count + 1)]


@pytest.fixture(scope="module")
def asked() -> dict[str, list[Question]]:
    """Every kind of question as it comes on the sheets of some seeds."""
    found: dict[str, list[Question]] = {name: [] for name in KINDS}
    for seed in SEEDS:
        for question in questions_of(seed):
            found[question.kind].append(question)
    return found


# working out the answers

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
    opened = re.search(r"; (L\d) is open", q.text)
    for line, terminal in zip(order, ("U1", "V1", "W1"), strict=True):
        start, end = q.drawn.where(line)[0], q.drawn.where(terminal)[0]
        reached = any(abs(a[0] - start) < 0.1 and abs(b[0] - end) < 0.1 for a, b in joined if abs(a[1] - b[1]) > 15)
        assert reached is not bool(opened and opened[1] == line)
    if opened:
        return "it does not start"
    even = order in (("L1", "L2", "L3"), ("L2", "L3", "L1"), ("L3", "L1", "L2"))
    from_the_drive_end = q.text.endswith("looking at the drive end?")
    assert from_the_drive_end or q.text.endswith("looking at the non-drive end?")
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
    number, _, words = q.answer.partition(" N, ")
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
}  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_the_key_is_right(asked, kind):
    for question in asked[kind]:
        assert question.answer == WORKED_OUT[kind](question), question.text
        assert not question.choices or question.answer in question.choices
        assert question.workings and all(line.endswith((".", "%")) or "=" in line for line in question.workings)


@pytest.mark.parametrize(("kind", "rare"), [
    ("emf", "nothing: no current"), ("left-hand", "it is not pushed"), ("right-hand", "there is none"),
    ("coil-as-motor", "it does not turn"), ("coil-as-generator", "A nothing: no current; B nothing: no current"),
    ("lines", "it does not start"), ("bar", "nothing: no current; not pushed"),
])  # fmt: skip
def test_cases_without_an_effect_occur(asked, kind, rare):
    answers = [question.answer for question in asked[kind]]
    assert 0 < answers.count(rare) < len(answers) / 2


@pytest.mark.parametrize("kind", sorted(set(KINDS) - {"two-wires"}))
def test_the_answers_vary(asked, kind):
    assert len({question.answer for question in asked[kind]}) >= 3


# the sheet


def test_the_same_seed_makes_the_same_bytes_in_any_process(tmp_path):
    made = [tmp_path / "0.html", tmp_path / "1.html"]
    for file, salt in zip(made, ("0", "77"), strict=True):
        ran = programs.run(
            [sys.executable, "-m", "scenes", "worksheet", "--questions", "25", "--seed", "7", "--out", str(file)],
            cwd=ROOT, capture_output=True, text=True, env=os.environ | {"PYTHONHASHSEED": salt}, timeout=60,
        )  # fmt: skip
        assert (ran.returncode, ran.stderr) == (0, "")
        assert ran.stdout == f"25 questions (--seed 7 makes the same sheet again) in {file}, the key on its last pages.\n"
    assert made[0].read_bytes() == made[1].read_bytes()
    assert made[0].read_text("utf-8") == whole_page(sheet(25, 7), "a4") != whole_page(sheet(25, 8), "a4")


@pytest.mark.parametrize("count", [1, 8, 12, len(KINDS), len(KINDS) + 5, MOST_QUESTIONS])
def test_a_sheet_has_as_many_questions_as_asked_for_and_every_kind_before_one_comes_again(count):
    made = sheet(count, 3)
    names = [name for name, _ in made.exercises]
    assert len(names) == count and len(set(names)) == min(count, len(KINDS))
    assert names == sorted(names, key=list(KINDS).index)
    questions = [exercise for _, exercise in made.exercises]
    assert all(one != other for n, one in enumerate(questions) for other in questions[:n])


@pytest.mark.parametrize(("count", "seed"), [(0, 1), (MOST_QUESTIONS + 1, 1), (1, 0), (1, LARGEST_SEED + 1), (1.5, 1), (1, "x")])
def test_what_no_sheet_can_have(count, seed):
    with pytest.raises(ValueError, match="(questions|seed) takes a whole number from 1 to"):
        sheet(count, seed)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_nothing_is_told_by_a_colour(seed):
    page = whole_page(sheet(len(KINDS), seed), "a4")
    for colour in re.findall(r"#([0-9a-fA-F]{3,8})\b", page):
        assert len(set(colour)) == 1 or len({colour[0:2], colour[2:4], colour[4:6]}) == 1, colour
    assert not re.search(r"\b(red|blue|green|rgb|hsl)\b", page)


def test_every_letter_and_arrow_lies_on_its_drawing(asked):
    for question in (each for kind in asked.values() for each in kind):
        for drawn in filter(None, (question.drawn, question.solved)):
            places = [(place, 2.1 if len(text) == 1 else 0) for text, place in drawn.letters]
            places += [(end, 0.5) for _, start, tip in drawn.arrows for end in (start, tip)]
            places += [(place, 2) for _, place in drawn.conductors]
            for (x, y, _), room in places:
                assert abs(x) + room <= drawn.width / 2 and abs(y) + room <= drawn.height / 2, (question.kind, x, y)
            assert drawn.svg.get("aria-label").endswith(".")


def test_the_sheet_alone_gives_no_answer_away(tmp_path, capsys):
    out, key = tmp_path / "sheet.html", tmp_path / "key.html"
    assert main(["worksheet", "--seed", "5", "--questions", "19", "--out", str(out), "--key", str(key)]) == 0
    assert f"in {out}, the key in {key}." in capsys.readouterr().out
    asked, answered = out.read_text("utf-8"), key.read_text("utf-8")
    assert set(read(asked)) == {f"question-{n}" for n in range(1, 20)}
    assert set(read(answered)) == {f"answer-{n}" for n in range(1, 20)}
    assert "hand:" not in asked and "Key" not in asked and 'class="answer"' not in asked
    for field in ("Name", "Date", "Mark"):
        assert f">{field} </span>" in asked


def test_the_title_and_the_paper(tmp_path):
    out = tmp_path / "sheet.html"
    main(["worksheet", "--out", str(out), "--paper", "letter", "--title", "Motors <1> & wires"])
    page = out.read_text("utf-8")
    assert "size: letter portrait" in page and "size: A4" not in page
    assert "<h1>Motors &lt;1&gt; &amp; wires</h1>" in page
    assert xml.fromstring(page).find(f".//{SPACE}h1").text == "Motors <1> & wires"


def test_without_a_seed_one_is_drawn_and_told(tmp_path, capsys):
    out = tmp_path / "sheet.html"
    main(["worksheet", "--questions", "1", "--out", str(out)])
    seed = int(re.search(r"1 question \(--seed (\d+) makes the same sheet again\)", capsys.readouterr().out)[1])
    assert out.read_text("utf-8") == whole_page(sheet(1, seed), "a4")


@pytest.mark.parametrize(("arguments", "said"), [
    ((), "required: --out"),
    (("--out", "/dev/null/sheet.html"), "/dev/null/sheet.html cannot be written: not a directory."),
    (("--out", "s.html", "--questions", "61"), "--questions: must be a whole number from 1 to 60, not '61'"),
    (("--out", "s.html", "--seed", "0"), "--seed: must be a whole number from 1 to 999999, not '0'"),
    (("--out", "s.html", "--paper", "a5"), "--paper: invalid choice: 'a5' (choose from "),
    (("--out", "s.html", "--key", "./s.html"), "--key needs a different file from --out"),
])  # fmt: skip
def test_what_cannot_be_is_told_in_a_sentence(arguments, said, capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert main(["worksheet", *arguments]) == 2
    out, err = capsys.readouterr()
    assert out == "" and err.startswith("thumbwise: ") and err.count("\n") == 1 and err.endswith(".\n") and said in err
    assert list(tmp_path.iterdir()) == []


def test_a_sheet_that_cannot_be_written_leaves_the_old_one(tmp_path, monkeypatch, capsys):
    out = tmp_path / "sheet.html"
    main(["worksheet", "--seed", "1", "--out", str(out)])
    before = out.read_bytes()

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("scenes.files.os.fsync", full)
    assert main(["worksheet", "--seed", "2", "--out", str(out)]) == 2
    assert "cannot be written: no space left on device." in capsys.readouterr().err
    assert out.read_bytes() == before and list(tmp_path.iterdir()) == [out]
