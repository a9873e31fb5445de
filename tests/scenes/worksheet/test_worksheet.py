"""The worksheet: every key is right, worked out here from what is printed, and the sheet is as it was asked for."""

from __future__ import annotations

import os
import re
import sys
import xml.etree.ElementTree as xml

import pytest

from scenes.__main__ import main
from scenes.worksheet.page import whole_page
from scenes.worksheet.worksheet import KINDS, LARGEST_SEED, MOST_QUESTIONS, sheet
from tests import programs
from tests.scenes.worksheet.by_hand import WORKED_OUT
from tests.scenes.worksheet.printed import ROOT, SPACE, read


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
