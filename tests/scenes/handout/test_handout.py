"""The handout: what is printed of each step is right, worked out here from what is printed, and nothing is given away before its time."""

from __future__ import annotations

import base64
import re
import sys
import xml.etree.ElementTree as xml

import pytest

from scenes.__main__ import main
from scenes.conductors.pushed_conductor.scene import PushedConductor
from scenes.picture import browsers
from tests.oracle import force_on, seen

LESSON = """
title = "Pushed <1> & turned"
[[step]]
scene = "pushed-conductor"
settings = { current = 6.0, field = "up" }
view = "front"
readings = ["F", "I"]
caption = "Which way is it pushed?"
question = true
notes = "Ask: Which hand?"
[[step]]
scene = "pushed-conductor"
settings = { current = 6.0, field = "up" }
view = "side"
readings = ["F", "I"]
caption = "And from there?"
question = true
[[step]]
scene = "pushed-conductor"
settings = { current = -6.0, field = "down" }
readings = ["F", "I"]
caption = "Both reversed."
notes = '''
Say: Two changes, and it is pushed as before.
Care: Leads that carry ten amperes get hot.
A line of its own.
'''
[[step]]
title = "At the <bench>"
text = "Isolate first.\\n- lock off\\n- prove dead"
picture = "own.png"
shows = "A padlock."
[step.question]
text = "Who locks it?"
choices = ["who works", "the caretaker"]
right = 1
reason = "Whoever has the hands in it."
[[step]]
scene = "slip-and-speed"
caption = "The torque falls to nothing at synchronous speed."
"""
SPACE = "{http://www.w3.org/1999/xhtml}"
GRAPHIC = "{http://www.w3.org/2000/svg}"
OWN = bytes.fromhex(
    "89504e470d0a1a0a0000000d4948445200000001000000010800000000"  # PNG: one grey pixel
    "3a7e9b550000000a49444154789c6360000000020001e221bc330000000049454e44ae426082"
)
JPEGS = [b"\xff\xd8\xff\xe0picture " + bytes([65 + place]) for place in range(4)]


@pytest.fixture(scope="module")
def file(tmp_path_factory):
    lesson = tmp_path_factory.mktemp("handout") / "lesson.toml"
    lesson.write_text(LESSON)
    (lesson.parent / "own.png").write_bytes(OWN)
    return lesson


@pytest.fixture
def no_browser(monkeypatch, tmp_path):
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(browsers, "PLACES", {})


def stand_in(folder, pictures: list[bytes]) -> str:
    """A program that is started as a browser is, hands over these pictures and ends."""
    program = folder / "stand-in"
    program.write_text(
        f"#!{sys.executable}\nimport sys, urllib.request\naddress = sys.argv[-1].split('#')[0]\n"
        f"for picture in {pictures!r}:\n"
        "    urllib.request.urlopen(urllib.request.Request(address + 'delivery', picture, {'Origin': address.rstrip('/')}))\n"
    )
    program.chmod(0o755)
    return str(program)


def words(element) -> str:
    return " ".join("".join(element.itertext()).split())


class Printed:
    """A handout read back: its sections by id, and what stands in them."""

    def __init__(self, page: str):
        self.page, self.root = page, xml.fromstring(page)
        self.sections = {section.get("id"): section for section in self.root.iter(f"{SPACE}section")}

    def lines(self, name: str, kind: str) -> list[str]:
        return [words(line) for line in self.sections[name].iter() if line.get("class") == kind]

    def choices(self, name: str) -> list[str]:
        return [words(choice) for choice in self.sections[name].iter(f"{SPACE}li")]

    def readings(self, name: str) -> dict[str, str]:
        """The figure beside each symbol."""
        found = {}
        for row in self.sections[name].iter(f"{SPACE}tr"):
            symbol = row.find(f"{SPACE}th/{SPACE}i")
            if symbol is not None:
                found[symbol.text] = words(row.find(f"{SPACE}td"))
        return found


def made(folder, lesson, *more: str) -> Printed:
    out = folder / "handout.html"
    assert main(["handout", str(lesson), "--out", str(out), *more]) == 0
    return Printed(out.read_text("utf-8"))


@pytest.fixture(scope="module")
def printed(file, tmp_path_factory):
    """With the pictures that a stand-in for a browser hands over."""
    folder = tmp_path_factory.mktemp("printed")
    return made(folder, file, "--browser", stand_in(folder, JPEGS))


def sentences(said: str) -> list[str]:
    """What was told on stderr, but for how far it had come, which only a slow machine is told."""
    return [line for line in said.splitlines() if not line.startswith("step ")]


def number(text: str) -> float:
    return float(re.search(r"[−-]?[\d.]+", text)[0].replace("−", "-"))


def test_each_step_has_its_picture_its_caption_and_its_view(printed):
    pictures = [base64.b64decode(one.get("src").split(",")[1]) for one in printed.root.iter(f"{SPACE}img")]
    assert pictures == [*JPEGS[:3], OWN, JPEGS[3]]
    assert [words(one) for one in printed.root.iter(f"{SPACE}h3")] == [
        "1Which way is it pushed?",
        "2And from there?",
        "3Both reversed.",
        "4At the <bench>",
        "5The torque falls to nothing at synchronous speed.",
    ]
    under = [words(one) for one in printed.root.iter(f"{SPACE}figcaption")]
    views = {view.name: view.words for view in PushedConductor.views}
    assert under[0].startswith(f"View: {views['front']};") and under[1].startswith(f"View: {views['side']};")
    # while the question waits the arrow that answers it is not drawn, and so not in the key either
    assert not re.search(r"; F ", under[0]) and re.search(r"; F ", under[2]) and re.search(r"; B ", under[0])


@pytest.mark.parametrize(("step", "view"), [(1, "front"), (2, "side")])
def test_directions_are_those_of_the_view_that_is_printed(printed, step, view):
    """The current toward the marked end, which is nearest the viewer's z, in a field upward: I x B points to -x."""
    forward = next(each.forward for each in PushedConductor.views if each.name == view)
    current, field = (0.0, 0.0, 1.0), (0.0, 1.0, 0.0)
    (question,) = printed.lines(f"step-{step}", "question")
    assert f"flows {seen(current, forward)}, the field points {seen(field, forward)}" in question
    assert seen(force_on(current, field), forward) in printed.choices(f"step-{step}")
    assert printed.lines(f"answer-{step}", "answer") == [seen(force_on(current, field), forward)]


def test_what_a_question_asks_for_is_left_blank_until_the_last_page(printed):
    for step in (1, 2):
        section = xml.tostring(printed.sections[f"step-{step}"], "unicode")
        assert printed.readings(f"step-{step}")["F"] == "mN" and 'class="blank"' in section, "a line to write the figure on"
        assert "hand" not in section and "B I l" not in section
        assert printed.sections[f"step-{step}"].findall(f".//{SPACE}i") and 'class="lines"' in section
        formula = next(line for line in printed.lines(f"answer-{step}", "formula") if line.startswith("F = B I l"))
        field, current, length, sine = (number(factor) for factor in formula.split(" = ")[2].split(" × "))
        assert current == number(printed.readings(f"step-{step}")["I"]), "of the same moment as what is printed"
        (given,) = [line for line in printed.lines(f"step-{step}", "formula") if line.startswith("B = ")]
        factors = {letter: float(size) for letter, size in re.findall(r"(\S+) = ([\d.]+)", given)}
        assert factors == {"B": field, "I": current, "l": length, "θ": sine}, "all that it takes to work it out"
        assert number(printed.readings(f"answer-{step}")["F"]) == pytest.approx(1000 * field * current * length * sine, rel=0.01)
    assert "left hand" in words(printed.sections["answer-1"]).lower()
    places = [printed.page.index(f'id="{name}"') for name in ("step-5", "answer-1", "answer-2")]
    assert places == sorted(places) and "answer-3" not in printed.sections


def test_a_formula_stands_with_its_numbers_and_comes_out(printed):
    (formula,) = [line for line in printed.lines("step-3", "formula") if line.startswith("F = B I l")]
    _, _, factors, result = formula.split(" = ")
    field, current, length, sine = (number(factor) for factor in factors.split(" × "))
    assert current == 6.0
    assert 1000 * field * current * length * sine == pytest.approx(number(result), rel=0.01)
    assert number(printed.readings("step-3")["F"]) == pytest.approx(number(result), rel=0.01)
    assert number(printed.readings("step-3")["I"]) == -6.0


def test_a_page_of_ones_own_has_its_words_its_list_and_its_picture(printed):
    section = printed.sections["step-4"]
    assert [words(line) for line in section.iter(f"{SPACE}p")][:4] == ["Isolate first.", "lock off", "prove dead", "Who locks it?"]
    assert printed.choices("step-4") == ["who works", "the caretaker"] and printed.lines("answer-4", "answer") == ["who works"]
    assert printed.lines("step-4", "item") == ["lock off", "prove dead"]
    (picture,) = section.iter(f"{SPACE}img")
    assert picture.get("alt") == "A padlock." and picture.get("src").startswith("data:image/png;base64,")


def test_curves_lie_on_their_axes_and_have_their_names(printed):
    (drawing,) = printed.sections["step-5"].iter(f"{GRAPHIC}svg")
    texts = [words(text) for text in drawing.iter(f"{GRAPHIC}text")]
    assert "torque" in texts and "current" in texts
    width, height = (float(part) for part in drawing.get("viewBox").split()[2:])
    lines = [line for line in drawing.iter(f"{GRAPHIC}polyline") if line.get("stroke-width") == "0.7"]
    patterns = {line.get("stroke-dasharray") for line in lines}
    assert len(patterns) >= 2, "told apart without a colour"
    for line in lines:
        for point in line.get("points").split():
            x, y = map(float, point.split(","))
            assert 0 <= x <= width and 0 <= y <= height
    torque = max((line for line in lines if len(line.get("points").split()) > 20), key=lambda line: line.get("stroke-dasharray") or "")
    last = [float(part) for part in torque.get("points").split()[-1].split(",")]
    lowest = max(float(point.split(",")[1]) for point in torque.get("points").split())
    assert last[1] == pytest.approx(lowest, abs=0.5), "no torque at synchronous speed"


def test_notes_are_printed_only_where_they_are_asked_for(printed, file, tmp_path, no_browser):
    assert "Two changes" not in printed.page and "Name </span>" in printed.page
    noted = made(tmp_path, file, "--notes")
    said = [words(line) for line in noted.sections["step-3"].iter(f"{SPACE}p")]
    assert said[-3:] == [
        "Say: Two changes, and it is pushed as before.",
        "Care: Leads that carry ten amperes get hot.",
        "A line of its own.",
    ]
    assert [words(bold) for bold in noted.sections["step-3"].iter(f"{SPACE}b")][-2:] == ["Say:", "Care:"]
    assert noted.lines("step-3", "care") == ["Care: Leads that carry ten amperes get hot."]


def test_the_answers_can_go_elsewhere(file, tmp_path, no_browser, capsys):
    key = tmp_path / "key.html"
    sheet = made(tmp_path, file, "--key", str(key), "--paper", "letter")
    assert f"the answers in {key}" in capsys.readouterr().out
    assert set(sheet.sections) == {f"step-{n}" for n in range(1, 6)} and "Answers" not in sheet.page
    assert set(Printed(key.read_text("utf-8")).sections) == {"answer-1", "answer-2", "answer-4"}
    assert "size: letter portrait" in sheet.page and "size: letter portrait" in key.read_text("utf-8")


def test_without_a_browser_it_says_so_in_a_sentence_and_leaves_the_pictures_out(file, tmp_path, no_browser, capsys):
    sheet = made(tmp_path, file)
    told = capsys.readouterr()
    (sentence,) = sentences(told.err)
    assert sentence.startswith("thumbwise: No browser was found, so the pictures are left out")
    assert "5 steps in" in told.out
    assert len(list(sheet.root.iter(f"{SPACE}img"))) == 1, "the lesson's own"
    assert "Which way is it pushed?" in sheet.page
    assert sheet.root.find(f".//{SPACE}h1").text == "Pushed <1> & turned"
    foot = re.search(r'content: "(.*?), page "', sheet.page)[1]
    assert re.sub(r"\\([0-9a-f]+) ", lambda code: chr(int(code[1], 16)), foot) == "Pushed <1> & turned"


def test_a_browser_that_ends_on_the_way_is_told_and_the_rest_is_printed(file, tmp_path, capsys):
    sheet = made(tmp_path, file, "--browser", stand_in(tmp_path, JPEGS[:2]))
    (sentence,) = sentences(capsys.readouterr().err)
    assert "ended before it had drawn the picture. From here on the pictures are left out" in sentence
    assert [len(list(sheet.sections[f"step-{n}"].iter(f"{SPACE}img"))) for n in range(1, 6)] == [1, 1, 0, 1, 0]


@pytest.mark.parametrize(("arguments", "said"), [
    ((), "required: --out"),
    (("no-such.toml", "--out", "h.html"), "no-such.toml cannot be read: No such file"),
    (("--out", "h.html", "--paper", "a5"), "--paper: invalid choice: 'a5' (choose from "),
    (("--out", "h.html", "--key", "./h.html"), "--key needs a different file from --out"),
    (("--out", "h.html", "--browser", "/no/such/browser"), "There is no browser at /no/such/browser"),
    (("--out", "/dev/null/h.html"), "cannot be written: not a directory"),
])  # fmt: skip
def test_what_cannot_be_is_told_in_a_sentence(arguments, said, capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert main(["handout", *arguments]) == 2
    out, err = capsys.readouterr()
    assert out == "" and err.startswith("thumbwise: ") and err.count("\n") == 1 and said in err
    assert list(tmp_path.iterdir()) == []
