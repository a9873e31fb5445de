"""A printed sheet read back: its questions, drawings and key, as a teacher would read them."""

from __future__ import annotations

import re
import xml.etree.ElementTree as xml
from collections import defaultdict
from pathlib import Path

import numpy as np

from scenes.worksheet.page import key_page, questions_page
from scenes.worksheet.worksheet import KINDS, sheet

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
        self.groups: dict[str, list] = defaultdict(list)
        for group in svg.iter(f"{GRAPHIC}g"):
            name, *more = group.get("class").split()
            self.groups[name].append((group, *more))
        self.conductors = [(self.current(group), self.circle(group[0])) for group, _ in self.groups["conductor"]]
        self.arrows = [self.arrow(group) for (group,) in self.groups["arrow"]]
        self.turning = [sense for _, sense in self.groups["turning"]]
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

    def lines(self, group) -> list[list[np.ndarray]]:
        """The lines of a group, each as its points."""
        return [self.points(line) for line in group if line.tag == f"{GRAPHIC}polyline"]

    def curve(self, letter: str) -> np.ndarray:
        """The points of the curve with that letter, (n, 2)."""
        (group,) = [group for group, name in self.groups["curve"] if name == letter]
        return np.array(self.lines(group)[0])[:, :2]

    def scale(self, axis: int) -> tuple[float, float]:
        """What 0 mm and 1 mm more mean along an axis, 0 across and 1 upward, from the numbers that stand along it."""
        told = [(float(text), place) for text, place in self.letters if re.fullmatch(r"\d+(\.\d+)?", text)]
        foot, side = min(place[1] for _, place in told), min(place[0] for _, place in told)
        along = [(place[axis], number) for number, place in told if abs(place[1 - axis] - (foot, side)[axis]) < 0.1]
        slope, start = np.polyfit(*zip(*along, strict=True), 1)
        return float(start), float(slope)

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


def drawings_of(section) -> list:
    """The drawings of a section, without a hand."""
    hands = {id(svg) for hand in section.iter(f"{SPACE}div") if hand.get("class") == "hand" for svg in hand}
    return [svg for svg in section.iter(f"{GRAPHIC}svg") if id(svg) not in hands]


class Question:
    """One question of a sheet with its answer, as printed."""

    def __init__(self, asked, answered):
        self.kind = asked.get("data-kind")
        self.text = re.sub(r" \(\d+ marks?\)$", "", words_of(asked.find(f".//{SPACE}p")))
        self.marks = int(re.search(r"\((\d+) marks?\)$", words_of(asked.find(f".//{SPACE}p")))[1])
        self.answer = words_of(answered.find(f".//{SPACE}p[@class='answer']/{SPACE}span"))
        told = re.search(r"^Accept (.*)\.$", words_of(answered.findall(f"./{SPACE}div/{SPACE}p")[-1]))
        self.ranges = told[1].split("; ") if told else []
        self.accepted = [numbers(each)[-2:] for each in self.ranges]
        marking = answered.find(f".//{SPACE}p[@class='marking']")
        self.marking = [] if marking is None else words_of(marking).removeprefix("Marks: ").removesuffix(".").split("; ")
        self.workings = [words_of(line) for line in answered.findall(f".//{SPACE}div/{SPACE}div/{SPACE}p")]
        self.choices = [words_of(choice) for choice in asked.iter(f"{SPACE}li")]
        self.drawn, self.solved = (next((Drawn(svg) for svg in drawings_of(section)), None) for section in (asked, answered))
        self.hands = [Drawn(svg) for hand in answered.iter(f"{SPACE}div") if hand.get("class") == "hand" for svg in hand]
        self.table, self.filled = (
            [[words_of(cell) for cell in row] for row in section.iter(f"{SPACE}tr")] for section in (asked, answered)
        )


def read(page: str) -> dict[str, object]:
    """The sections of a page by their id."""
    return {section.get("id"): section for section in xml.fromstring(page).iter(f"{SPACE}section")}


def questions_of(seed: int, count: int = len(KINDS)) -> list[Question]:
    made = sheet(count, seed)
    asked, answered = read(questions_page([made], "a4")), read(key_page([made], "a4"))
    return [Question(asked[f"question-{n}"], answered[f"answer-{n}"]) for n in range(1, count + 1)]
