"""The worksheet: every key is right, worked out here from what is printed, and the sheet is as it was asked for."""

from __future__ import annotations

import os
import re
import sys
import xml.etree.ElementTree as xml

import numpy as np
import pytest

from scenes import catalogue
from scenes.__main__ import main
from scenes.worksheet.page import key_page, questions_page, whole_page
from scenes.worksheet.worksheet import KINDS, LARGEST_SEED, MOST_QUESTIONS, sheet, versions
from tests import programs
from tests.scenes.worksheet.by_hand import WORDS, WORKED_OUT
from tests.scenes.worksheet.printed import ROOT, SPACE, Question, numbers, read, unit


@pytest.mark.parametrize("kind", KINDS)
def test_the_key_is_right(asked, kind):
    for question in asked[kind]:
        assert question.answer == WORKED_OUT[kind](question), question.text
        assert not question.choices or question.answer.partition("; ")[0] in question.choices or question.answer in question.choices
        assert question.workings and all(line.endswith((".", "%")) or "=" in line for line in question.workings)


@pytest.mark.parametrize(("kind", "rare"), [
    ("emf", "nothing: no current"), ("left-hand", "it is not pushed"), ("right-hand", "there is none"),
    ("coil-as-motor", "it does not turn"), ("coil-as-generator", "A nothing: no current; B nothing: no current"),
    ("lines", "it does not start"), ("bar", "nothing: no current; not pushed"), ("run-up", "no, it stays at standstill"),
    ("how-to-join", "in neither: this motor does not fit this supply"),
])  # fmt: skip
def test_cases_without_an_effect_occur(asked, kind, rare):
    answers = [
        question.answer if "; not" in rare or kind == "coil-as-generator" else question.answer.partition("; ")[0]
        for question in asked[kind]
    ]
    assert 0 < answers.count(rare) < len(answers) / 2


@pytest.mark.parametrize("kind", sorted(set(KINDS) - {"two-wires", "capacitor-motor"}))
def test_the_answers_vary(asked, kind):
    assert len({question.answer for question in asked[kind]}) >= 3


def test_every_accepted_range_holds_the_answer_and_rounding_but_not_the_next_figure(asked):
    ranges = 0
    for question in (each for kind in asked.values() for each in kind):
        said = numbers(question.answer)
        for low, high in question.accepted:
            inside = [value for value in said if low <= value <= high]
            assert inside, (question.answer, low, high)
            assert (high - low) / inside[0] < (0.45 if question.kind == "load-angle" else 0.11), question.kind
            ranges += 1
    assert ranges > 20 * len(asked["plugging"])


RULE = {
    "left": r"A (\w+) hand: \w+ hand: first finger (.+) \(field\), second finger (.+) "
    r"\((?:part of the )?current(?: across the field)?\); the thumb then points (.+) \(force\)\.$",
    "right": r"A (\w+) hand: \w+ hand: first finger (.+) \(field\), thumb (.+) "
    r"\((?:part of the )?motion(?: across the field)?\); "
    r"the second finger then points (.+) \(EMF and its current\)\.$",
}


@pytest.mark.parametrize("kind", ["push", "emf", "which-pole", "left-hand", "right-hand", "coil-as-motor", "coil-as-generator",
                                  "force-figure", "emf-figure", "bar", "battery", "brush"])  # fmt: skip
def test_the_key_draws_the_hand_of_the_rule(asked, kind):
    """Its letters lie in the directions that the working says, from one place, as they are seen obliquely."""
    drawn = [hand for question in asked[kind] for hand in question.hands]
    assert len(drawn) > len(asked[kind]) / 2
    for hand in drawn:
        label = hand.svg.get("aria-label")
        side, field, *two = re.match(RULE["left" if "(force)" in label else "right"], label).groups()
        other, answer = (vector_of(words) for words in two)
        assert side == ("left" if "(force)" in label else "right")
        directions = {"B": vector_of(field), "I" if side == "left" else "v": other, "F" if side == "left" else "E": answer}
        if kind != "brush" and kind != "battery":
            assert np.dot(answer, np.cross(other, vector_of(field))) > 0.5  # F = I l x B, E = v x B
        matrix, places = np.zeros((6, 5)), np.zeros(6)
        for n, (letter, (x, y, z)) in enumerate(directions.items()):
            matrix[2 * n : 2 * n + 2, :2] = np.eye(2)
            matrix[2 * n : 2 * n + 2, 2 + n] = x - 0.55 * z, y - 0.42 * z
            places[2 * n : 2 * n + 2] = hand.where(letter)[:2]
        found = np.linalg.lstsq(matrix, places, rcond=None)[0]
        assert np.abs(matrix @ found - places).max() < 3.5 and (found[2:] > 6).all(), label


def vector_of(words: str) -> np.ndarray:
    """The mean direction of words such as "up and to the right"."""
    return np.array(unit(sum(np.array(WORDS[each]) for each in re.split(r" and |, ", words))))


# topics, levels, marks, versions


@pytest.mark.parametrize("scene", catalogue.NAMES)
def test_every_scene_can_be_asked_for_and_the_sheet_keeps_to_it(scene):
    made = sheet(8, 1, [scene])
    for question in made.questions:
        assert scene in KINDS[question.kind].scenes
        if question.kind == "bench":
            assert catalogue.scene_class(scene).title in question.exercise.workings[-1]


def test_no_scene_is_asked_again_before_all_others_and_neighbours_are_asked_the_same_one():
    topics = ("two-wires", "alternator", "cage-rotor")
    titles = {catalogue.scene_class(scene).title: scene for scene in topics}

    def asked_scenes(made) -> list[str]:
        notes = [question.exercise.workings[-1] for question in made.questions if question.kind == "bench"]
        return [next(scene for title, scene in titles.items() if title in note) for note in notes]

    one, other = map(asked_scenes, versions(40, 5, ("A", "B"), topics))
    assert one == other and len(one) >= 6
    assert all(len(set(one[place : place + 3])) == 3 for place in range(len(one) - 2))


def test_topics_are_the_words_of_practice_and_add_up():
    kinds = {question.kind for question in sheet(14, 2, ["left hand", "braking"]).questions}
    assert kinds == {"push", "which-pole", "left-hand", "force-figure", "plugging", "energy-and-heat", "bench"}


@pytest.mark.parametrize("level", [1, 2, 3])
def test_a_level_is_kept_to(level):
    made = sheet(MOST_QUESTIONS, 4, levels=[level])
    assert {question.kind for question in made.questions} == {name for name, kind in KINDS.items() if kind.level == level}


@pytest.mark.parametrize(("arguments", "said"), [
    (["--topics", "starnig"], "There is no topic 'starnig'; did you mean starting?"),
    (["--topics", "two-wires", "--level", "1"], "On two-wires there are no questions of level 1; there are some of level 2 or 3."),
    (["--level", "4"], "--level: invalid choice: 4 (choose from 1, 2, 3)"),
    (["--versions", "Z"], "--versions: invalid choice: 'Z'"),
])  # fmt: skip
def test_what_topics_levels_and_versions_there_are(arguments, said, capsys, tmp_path):
    assert main(["worksheet", "--out", str(tmp_path / "s.html"), *arguments]) == 2
    assert said in capsys.readouterr().err and not list(tmp_path.iterdir())


def test_versions_ask_the_same_kinds_with_other_figures():
    first, second = versions(20, 9, "AB")
    assert [question.kind for question in first.questions] == [question.kind for question in second.questions]
    assert [question.marks for question in first.questions] == [question.marks for question in second.questions]
    assert all(one.exercise != other.exercise for one, other in zip(first.questions, second.questions, strict=True))
    assert versions(20, 9, "B") == [second]
    page = whole_page([first, second], "a4")
    assert [re.search(r"Version (\w)|Key:.*sheet 9 (\w)", each)[0][-1] for each in re.findall("<h1>.*</h1>", page)] == ["A", "B", "A", "B"]
    assert len(read(page)) == 80


CASES = {"energy-and-heat", "star-delta-start", "alternator"}  # kinds whose words tell which case it is


NOTHING = r"^nothing|\bnone\b|no current|not (pushed|turn|start|rotate)|hums|standstill|nowhere|no voltage|not at all|no change-over"


def happens(question) -> tuple:
    """Which case of its kind it is, by its printed text and answer: whether anything happens, fits, is swapped, how far it runs up."""
    found: list[object] = [bool(re.search(NOTHING, question.answer)), "not fit this" in question.answer]
    if question.kind == "run-up":
        found.append("conveyor" in question.text)
    if question.kind in ("board", "run-up"):
        found += [question.answer.partition("; ")[0], "counter-clockwise" in question.answer]
    if question.kind in ("lines", "waves"):
        found.append(re.search("U-[VW]-[VW]|non-drive|drive", question.answer + question.text)[0])
    if question.kind == "lines":
        found.append("".join(re.findall(r"L(\d) to", question.text)) in ("123", "231", "312"))
    if question.kind == "signs":
        found.append(" 0" in question.answer)
    if question.kind == "bar":
        found.append(re.search("faster|standstill|half|exactly|against", question.text)[0])
    return tuple(found)


@pytest.mark.parametrize("seed", [2, 9, 31])
def test_neighbours_have_no_answer_and_no_figure_in_common(asked, seed):
    """But for what there is little choice of, such as 50 and 60 Hz: a figure that comes in at least five sizes is not nearly the same."""
    pages = [read(page([sheet], "a4")) for page in (questions_page, key_page) for sheet in versions(len(KINDS), seed, "AB")]
    for n, kind in enumerate(sorted(KINDS, key=list(KINDS).index), 1):
        one, other = (Question(pages[place][f"question-{v}{n}"], pages[2 + place][f"answer-{v}{n}"]) for place, v in enumerate("AB"))
        assert one.kind == other.kind == kind and happens(one) == happens(other)
        weights = [[re.match(r"\d+ for (each of the \d+)?", point)[0] for point in each.marking] for each in (one, other)]
        assert one.marks == other.marks and weights[0] == weights[1], "as many marks, for as many things"
        assert one.answer != other.answer or re.search(NOTHING, one.answer) or kind in ("lines", "bench")  # where the case leaves no other
        assert kind not in CASES or shape(one) == shape(other), "neither has the harder case of a kind"
        free = of_many_sizes([question for question in asked[kind] if shape(question) == shape(one)])
        if shape(one) == shape(other):
            near = [pair for place, pair in enumerate(zip(figures(one), figures(other), strict=True)) if place in free and alike(*pair)]
            assert not near, (kind, one.text, other.text)


TILTED = r"\band (?:up|down|toward you|away from you|to the (?:left|right))\b"
# by what a question of the bench takes one step more or another one
STEPS = {
    "field-round-a-wire": "open", "pushed-conductor": "rod", "two-wires": "Both|Only|The current in", "moved-conductor": "rod",
    "alternator": "frequency|peaks next|standstill", "turning-field": "lost|backwards",
    "laying-the-winding": "which slot|wrong|rotate|bottom|layers?|full pitch|less than|none",
    "cage-rotor": "held|driven|free|bars are turned|standstill", "inside-a-motor": "comes off|which motor|Which part",
    "terminal-box": "joined\\?|What voltage|which direction|starter|sticks|interlocked|without|load|peak|contactors|inside",
    "instruments": "star|delta",
    "one-phase": "capacitor|switch|lost|open|by hand|at rest|runs under|swapped|star|delta|of its main and",
    "braking": "swapped|direct current|inverter|switched off",
}  # fmt: skip


@pytest.mark.parametrize("scene", STEPS)
def test_a_question_of_the_bench_takes_the_same_steps_for_all_neighbours(scene):
    asked = [[question.exercise for question in sheet.questions if question.kind == "bench"] for sheet in versions(12, 7, "ABC", [scene])]
    for neighbours in zip(*asked, strict=True):
        found = [
            (
                re.findall(STEPS[scene], each.text),
                len(re.findall(TILTED, f"{each.text} {each.answer}")),
                bool(re.search(NOTHING, each.answer)),
            )
            for each in neighbours
        ]
        assert found[0] == found[1] == found[2], [each.text for each in neighbours]


def test_no_neighbour_is_asked_for_heat_where_no_current_flows():
    for made in versions(40, 9, "AB", ["braking"]):
        assert not any("switched off" in each.exercise.text for each in made.questions)


@pytest.mark.parametrize("topic", ["moved-conductor", "starting"])
def test_a_sheet_on_one_topic_holds_no_near_twins(topic):
    made = [(question.kind, question.exercise) for question in sheet(16, 3, [topic]).questions]
    for n, (kind, one) in enumerate(made):
        for other in (each for name, each in made[:n] if name == kind):
            assert (one.text, one.drawing) != (other.text, other.drawing)
            asked = [numbers(each.text) for each in (one, other)]
            assert not any(asked) or shape(one) != shape(other) or not all(map(alike, *asked)), (one.text, other.text)


def figures(question) -> list[float]:
    return numbers(question.text) + [figure for row in question.table[1:] for cell in row for figure in numbers(cell)]


def shape(question) -> str:
    """The question's words without its figures."""
    return re.sub(r"[\d.]+", "#", question.text + str(question.table))


def of_many_sizes(questions) -> set[int]:
    """The places of the figures of which these questions have at least five."""
    return {place for place, sizes in enumerate(zip(*map(figures, questions), strict=True)) if len(set(sizes)) >= 5}


def alike(one: float, other: float) -> bool:
    return abs(one - other) <= 0.05 * max(abs(one), abs(other))


def test_versions_from_the_command(tmp_path, capsys):
    out, key = tmp_path / "sheet.html", tmp_path / "key.html"
    main(["worksheet", "--out", str(out), "--key", str(key), "--versions", "B", "A", "--questions", "3", "--seed", "4"])
    said = capsys.readouterr().out
    assert "3 questions in versions A and B (--seed 4" in said and not out.exists()
    for letter in "AB":
        sheet = tmp_path / f"sheet-{letter}.html"
        assert str(sheet) in said and list(read(sheet.read_text("utf-8"))) == [f"question-{letter}{n}" for n in (1, 2, 3)]
    assert list(read(key.read_text("utf-8"))) == [f"answer-{letter}{n}" for letter in "AB" for n in (1, 2, 3)]


# the sheet


def test_the_same_seed_makes_the_same_bytes_in_any_process(tmp_path):
    """In one whose sets come in an order of their own."""
    file = tmp_path / "sheet.html"
    ran = programs.run(
        [sys.executable, "-m", "scenes", "worksheet", "--questions", "25", "--seed", "7", "--out", str(file)],
        cwd=ROOT, capture_output=True, text=True, env=os.environ | {"PYTHONHASHSEED": "77"}, timeout=60,
    )  # fmt: skip
    assert (ran.returncode, ran.stderr) == (0, "")
    assert ran.stdout == f"25 questions (--seed 7 makes the same sheet again) in {file}, the key on its last pages.\n"
    assert file.read_text("utf-8") == whole_page([sheet(25, 7)], "a4") != whole_page([sheet(25, 8)], "a4")


@pytest.mark.parametrize("count", [1, 8, 12, len(KINDS), len(KINDS) + 5, MOST_QUESTIONS])
def test_a_sheet_has_as_many_questions_as_asked_for_and_every_kind_before_one_comes_again(count):
    made = sheet(count, 3)
    names = [question.kind for question in made.questions]
    assert len(names) == count and len(set(names)) == min(count, len(KINDS))
    assert names == sorted(names, key=list(KINDS).index)
    questions = [question.exercise for question in made.questions]
    assert all(one != other for n, one in enumerate(questions) for other in questions[:n])


@pytest.mark.parametrize(("count", "seed"), [(0, 1), (MOST_QUESTIONS + 1, 1), (1, 0), (1, LARGEST_SEED + 1), (1.5, 1), (1, "x")])
def test_what_no_sheet_can_have(count, seed):
    with pytest.raises(ValueError, match="(questions|seed) takes a whole number from 1 to"):
        sheet(count, seed)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_nothing_is_told_by_a_colour(seed):
    page = whole_page([sheet(len(KINDS), seed)], "a4")
    for colour in re.findall(r"#([0-9a-fA-F]{3,8})\b", page):
        assert len(set(colour)) == 1 or len({colour[0:2], colour[2:4], colour[4:6]}) == 1, colour
    assert not re.search(r"\b(red|blue|green|rgb|hsl)\b", page)


def test_every_letter_and_arrow_lies_on_its_drawing(asked):
    for question in (each for kind in asked.values() for each in kind):
        for drawn in filter(None, (question.drawn, question.solved, *question.hands)):
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
    for field in ("Name ", "Date ", "Mark"):
        assert f">{field}</span>" in asked


def test_the_title_and_the_paper(tmp_path):
    out = tmp_path / "sheet.html"
    main(["worksheet", "--out", str(out), "--paper", "letter", "--title", "Motors <1> & wires"])
    page = out.read_text("utf-8")
    assert "size: letter portrait" in page and "size: A4" not in page
    assert xml.fromstring(page).find(f".//{SPACE}meta[@name='generator']").get("content") == "Thumbwise, page to print 1"
    assert "<h1>Motors &lt;1&gt; &amp; wires</h1>" in page
    assert xml.fromstring(page).find(f".//{SPACE}h1").text == "Motors <1> & wires"


def test_how_few_kinds_there_are_is_told(tmp_path, capsys):
    for questions, told in ((3, "There are 2 kinds of question on this"), (2, "")):
        main(["worksheet", "--out", str(tmp_path / "s.html"), "--topics", "braking", "--level", "2", "--questions", str(questions)])
        said = capsys.readouterr().out
        assert told in said and ("There " in said) == bool(told)


def test_without_a_seed_one_is_drawn_and_told(tmp_path, capsys):
    out = tmp_path / "sheet.html"
    main(["worksheet", "--questions", "1", "--out", str(out)])
    seed = int(re.search(r"1 question \(--seed (\d+) makes the same sheet again\)", capsys.readouterr().out)[1])
    assert out.read_text("utf-8") == whole_page([sheet(1, seed)], "a4")


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
