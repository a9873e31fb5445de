"""The report on a test: marks, shares and mistakes counted here by hand."""

from __future__ import annotations

import csv
import io
import re
import socket
from html import escape
from xml.etree import ElementTree

import pytest

from scenes import catalogue
from scenes.__main__ import main
from tests.scenes.marked.tests_file import OPENED, TERMS, answered, begun, lines_of, written

LINES = (
    begun(1, "Ada & Co"), answered(1, 1, True, set_up="Current: 3 A"),
    answered(1, 2, False, mistake="other hand", question="How large at 3 A?"),
    answered(1, 3, True), begun(2, "<b>Bo", visitor="bb"), answered(2, 1, False, mistake="electron flow"),
    answered(2, 2, False, mistake="other hand", question="How large at 5 A?"),
    begun(3, "=1+1", visitor="cc"), answered(3, 2, False, mistake="fingers exchanged", question="=How large?"),
    begun(4, "Dee", visitor="dd"), {"version": 1, "what": "ended", "when": "2026-03-09T08:04:00Z", "trainee": 4},
)  # fmt: skip
TITLES = [catalogue.scene_class(name).title for name in TERMS["scenes"]]


@pytest.fixture
def made(tmp_path):
    file = written(tmp_path / "monday.jsonl", TERMS, OPENED, *LINES)
    assert main(["test", "--results", str(file), "--report", str(tmp_path / "r.html"), "--csv", str(tmp_path / "r.csv")]) == 0
    return tmp_path


def tables(page: str) -> list[list[list[str]]]:
    body = page[page.index("<body>") : page.index("</html>")]
    return [
        [["".join(cell.itertext()) for cell in row] for row in table.iter("tr")] for table in ElementTree.fromstring(body).iter("table")
    ]


def test_the_page_tells_marks_questions_and_mistakes(made):
    marks, questions, mistakes, _ = tables((made / "r.html").read_text("utf-8"))
    assert [row[:2] for row in marks[1:]] == [
        ["<b>Bo", "0 of 3, not handed in"], ["=1+1", "0 of 3, not handed in"], ["Ada & Co", "2 of 3"], ["Dee", "0 of 3"],
    ]  # fmt: skip
    assert [row[2:] for row in marks[1:]] == [["×", "×", "–"], ["–", "×", "–"], ["✓", "×", "✓"], ["–", "–", "–"]]
    assert [row[2:] for row in questions[1:]] == [
        ["up", "1 of 2 (50%)", "electron flow (1)"], ["up", "0 of 3 (0%)", "other hand (2)"], ["up", "1 of 1 (100%)", "–"],
    ]  # fmt: skip
    asked = [row[1].split("\n") for row in questions[1:]]
    assert [lines[1] for lines in asked] == ["For example: Which way?", "For example: How large at 3\N{NO-BREAK SPACE}A?", "Which way?"]
    assert all(re.fullmatch(f"({'|'.join(map(re.escape, TITLES))}): [a-z].+", line) for line, _ in asked), "and what it is about"
    assert [row[:2] for row in mistakes[1:]] == [["other hand", "2"], ["electron flow", "1"], ["fingers exchanged", "1"]]
    assert mistakes[2][2].startswith("Electron flow gives this")


def test_the_page_says_what_the_test_was_and_what_each_was_asked_and_answered(made):
    page = (made / "r.html").read_text("utf-8")
    assert re.search("<h1>.*9 March 2026</h1>", page) and all(escape(title) in page.partition("<h2>")[0] for title in TITLES)
    answers = tables(page)[3][1:]
    assert [row[:2] for row in answers] == [
        ["<b>Bo", "1"], ["<b>Bo", "2"], ["=1+1", "2"], ["Ada & Co", "1"], ["Ada & Co", "2"], ["Ada & Co", "3"],
    ]  # fmt: skip
    assert answers[1][2:] == ["How large at 5\N{NO-BREAK SPACE}A?", "down", "up", "×", "other hand"]
    assert answers[3][2:] == ["Which way?\nCurrent: 3\N{NO-BREAK SPACE}A", "up", "up", "✓", "–"], "a right one too, with what was set"


def test_mistakes_made_equally_often_are_all_shown(tmp_path):
    made = [("other hand", 1), ("electron flow", 2), ("other hand", 3), ("electron flow", 4), ("fingers exchanged", 5)]
    lines = [line for mistake, n in made for line in (begun(n, f"T{n}"), answered(n, 1, False, mistake=mistake))]
    file = written(tmp_path / "m.jsonl", TERMS, OPENED, *lines)
    assert main(["test", "--results", str(file), "--report", str(tmp_path / "r.html")]) == 0
    assert tables((tmp_path / "r.html").read_text("utf-8"))[1][1][-1].split("\n") == ["electron flow (2)", "other hand (2)"]


def test_the_page_has_nothing_from_elsewhere_and_runs_nothing(made):
    page = (made / "r.html").read_text("utf-8")
    assert re.search('<meta name="generator" content="Thumbwise, page to print [0-9]+"/?>', page)
    assert "<b>Bo" not in page and "<script" not in page and "http" not in page and "url(" not in page


def test_the_table_is_for_a_spreadsheet_and_has_no_formulas(made):
    rows = list(csv.DictReader(io.StringIO((made / "r.csv").read_text("utf-8"))))
    assert [(row["name"], row["marks"], row["questions"]) for row in rows] == [
        ("<b>Bo", "0", "3"), ("'=1+1", "0", "3"), ("Ada & Co", "2", "3"), ("Dee", "0", "3"),
    ]  # fmt: skip
    columns = ("question", "given", "right answer", "result", "mistake")
    told = [[[row[f"{name} {place}"] for name in columns] for place in (1, 2, 3)] for row in rows]
    assert told[0] == [
        ["Which way?", "down", "up", "wrong", "electron flow"],
        ["How large at 5 A?", "down", "up", "wrong", "other hand"],
        [""] * 5,
    ]
    assert told[1][1] == ["'=How large?", "down", "up", "wrong", "fingers exchanged"] and told[3] == [[""] * 5] * 3
    assert [row["handed in"] for row in rows] == ["no", "no", "yes", "yes"] and rows[2]["set-up 1"] == "Current: 3 A"
    assert told[2][2] == ["Which way?", "up", "up", "right", ""]


def test_a_report_does_not_change_the_test_and_does_not_take_its_place(made, capsys):
    file = made / "monday.jsonl"
    raw = file.read_bytes()
    assert main(["test", "--results", str(file), "--report", str(file)]) == 2 and "another file" in capsys.readouterr().err
    assert file.read_bytes() == raw


@pytest.mark.parametrize(
    "more, said",
    [
        (["two-wires"], "holds a test already"),
        (["--questions", "4"], "holds a test already"),
        (["two-wires", "--csv", "x.csv"], "--csv goes with --results alone"),
        (["--delete", "--csv", "x.csv"], "write the report first"),
        (["--questions", "0"], "from 1 to 40"),
        (["--minutes", "0"], "from 1 to 600"),
        (["--seed", "x"], "whole number"),
    ],
)
def test_what_does_not_go_together_is_told(made, more, said, capsys):
    raw = (made / "monday.jsonl").read_bytes()
    assert main(["test", *more, "--results", str(made / "monday.jsonl")]) == 2
    error = capsys.readouterr().err
    assert said in error and len(error.splitlines()) == 1
    assert (made / "monday.jsonl").read_bytes() == raw


def test_what_is_asked_for_stands_in_the_file_before_anybody_begins(tmp_path, capsys):
    file = tmp_path / "new.jsonl"
    with socket.socket() as taken:  # so that the program ends again
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        more = ["--questions", "4", "--minutes", "15", "--seed", "8", "--port", str(taken.getsockname()[1])]
        assert main(["test", "two-wires", "alternator", *more, "--results", str(file)]) == 2
    out, err = capsys.readouterr()
    assert "in use" in err and out.splitlines()[0] == "Topics: two-wires, alternator."
    (terms,) = lines_of(file)
    wanted = {"what": "terms", "scenes": ["two-wires", "alternator"], "questions": 4, "minutes": 15, "seed": 8}
    assert terms | wanted == terms and re.fullmatch("[b-z2-9]{6}", terms["word"]) and re.fullmatch("[0-9a-f]{64}", terms["key"])


def test_a_topic_that_there_is_not_makes_no_file(tmp_path, capsys):
    assert main(["test", "two-wirs", "--results", str(tmp_path / "new.jsonl")]) == 2
    assert "two-wires" in capsys.readouterr().err and not list(tmp_path.iterdir())
