"""The file of a marked test: what is damaged is set aside and the rest goes on; nobody else may read it; it goes when it shall."""

from __future__ import annotations

import json
import os
import stat
from dataclasses import replace

import pytest

from scenes import catalogue
from scenes.__main__ import main
from scenes.kept.lines import NotKept
from scenes.marked import questions
from scenes.marked.questions import kinds_asked, question_for
from scenes.marked.record import Answered, Begun, Opened, Record, Terms
from scenes.marked.sittings import checked_name, sittings_of
from scenes.questions import compare
from scenes.questions.kinds import draw, kind_of
from tests.scenes.marked.tests_file import OPENED, TERMS, answered, begun, lines_of, written


@pytest.fixture
def file(tmp_path):
    return tmp_path / "monday.jsonl"


def test_every_line_comes_back_as_it_was_written(file):
    record = Record(file)
    lines = [
        Terms("2026-03-09T08:00:00Z", ["two-wires"], 2, None, 5, "k7m3qd", "0f" * 32),
        Opened("2026-03-09T08:00:01Z", None),
        Begun("2026-03-09T08:00:02Z", 1, "Ada", None),
        Answered("2026-03-09T08:00:03Z", 1, 1, "two-wires", "forward", 9, "Which?", "a", "b", False, "other hand"),
    ]
    for line in lines:
        record.add(line)
    record.keep()
    again = Record(file)
    assert again.read_test() == lines[0] and again.entries == lines
    assert [line["what"] for line in lines_of(file)] == ["terms", "opened", "begun", "answered"]
    assert {line["version"] for line in lines_of(file)} == {1}


def test_nobody_else_may_read_the_file_whatever_becomes_of_it(file):
    before = os.umask(0o022)
    try:
        record = Record(file)
        record.add(Terms("2026-03-09T08:00:00Z", ["two-wires"], 2, None, 5, "k7m3qd", "0f" * 32))
        record.keep()
        with open(file, "a", encoding="utf-8") as other:
            other.write("damage\n")
        record.add(Begun("2026-03-09T08:00:02Z", 1, "Ada", None))
        record.keep()
    finally:
        os.umask(before)
    (aside,) = file.parent.glob("*.damaged-1.jsonl")
    assert [stat.S_IMODE(each.stat().st_mode) for each in (file, aside)] == [0o600, 0o600]


def test_a_test_begun_with_other_questions_is_not_gone_on_with_and_loses_nothing(file, tmp_path, capsys):
    written(file, TERMS | {"drawn": "0123456789abcdef"}, OPENED, begun(1, "Ada"), answered(1, 1, True))
    before = file.read_bytes()
    assert main(["test", "--results", str(file), "--no-browser"]) == 2
    said = capsys.readouterr().err
    assert said.count("\n") == 1 and "other questions" in said and "--report" in said and "that version" in said
    assert file.read_bytes() == before
    assert main(["test", "--results", str(file), "--csv", str(tmp_path / "marks.csv")]) == 0
    assert "Ada" in (tmp_path / "marks.csv").read_text("utf-8")


@pytest.fixture
def version():
    """The version of a test's questions, each time drawn anew."""

    def of(terms: Terms) -> str:
        questions._seeds.cache_clear()
        return questions.version_of(terms)

    yield of
    questions._seeds.cache_clear()


def test_the_version_of_the_questions_is_another_when_anything_that_is_asked_is_another(monkeypatch, version):
    terms = Terms("2026-03-09T08:00:00Z", ["two-wires"], 5, None, 5, "k7m3qd", "0f" * 32)
    first = version(terms)
    assert version(terms) == first != version(replace(terms, seed=6))
    assert "compare" in [kind for _, kind in kinds_asked(terms)]
    said_now = compare._changed
    with monkeypatch.context() as other:
        other.setattr(compare, "_changed", lambda *given: said_now(*given).replace("Now", "Then"))
        assert version(terms) != first, "other words"
    assert version(terms) == first
    scene = catalogue.scene_class("two-wires")
    drawn = scene.random_setup
    monkeypatch.setattr(scene, "random_setup", lambda self, dice: drawn((dice.random(), dice)[1]))
    assert version(terms) != first, "other figures"


GOOD = answered(1, 1, True)
DAMAGED = {
    "cut off": json.dumps(GOOD)[:60],
    "no object": "[1]",
    "no version": json.dumps({name: value for name, value in GOOD.items() if name != "version"}),
    "a right that is a word": json.dumps(GOOD | {"right": "yes"}),
    "a place that is a fraction": json.dumps(GOOD | {"place": 1.5}),
    "a place that there is not": json.dumps(GOOD | {"place": 0}),
    "a place that is true": json.dumps(GOOD | {"place": True}),
    "half a sign": json.dumps(GOOD | {"given": "\ud800"}),
    "no such time": json.dumps(GOOD | {"when": "2026-13-09T08:00:00Z"}),
    "a time of nowhere": json.dumps(GOOD | {"when": "2026-03-09"}),
    "of no kind": json.dumps(GOOD | {"what": "nonsense"}),
    "a trainee too many": json.dumps(begun(10**30, "Ada")),
    "a name without end": json.dumps(begun(2, "A" * 10**5)),
    "no name": json.dumps(begun(2, "")),
}


@pytest.mark.parametrize("damage", DAMAGED.values(), ids=list(DAMAGED))
def test_a_damaged_line_is_set_aside_and_the_test_goes_on_with_the_others(file, damage):
    written(file, TERMS, OPENED, begun(1, "Ada"), GOOD)
    with open(file, "a", encoding="utf-8") as other:
        other.write(damage + "\n")
    raw = file.read_bytes()
    record = Record(file)
    terms = record.read_test()
    assert file.with_name("monday.damaged-1.jsonl").read_bytes() == raw and len(record.told) == 1
    assert lines_of(file) == [TERMS, OPENED, begun(1, "Ada"), GOOD]
    (ada,) = sittings_of(terms, record.entries).values()
    assert (ada.name, ada.marks, ada.place(3)) == ("Ada", 1, 2)


TERMS_THAT_ARE_NONE = [
    {"scenes": []}, {"scenes": ["nowhere"]}, {"scenes": [["two-wires"]]}, {"questions": 0}, {"questions": 10**9}, {"minutes": -1},
    {"minutes": float("nan")}, {"word": "../x"}, {"word": ""}, {"key": "xyz"}, {"key": ""}, {"seed": "5"}, {"when": "now"},
]  # fmt: skip


@pytest.mark.parametrize("wrong", TERMS_THAT_ARE_NONE, ids=str)
def test_a_file_that_says_no_test_is_left_as_it_is(file, wrong, capsys):
    written(file, TERMS | wrong, begun(1, "Ada"))
    raw = file.read_bytes()
    for more in ([], ["--report", str(file.with_name("r.html"))], ["--delete"]):
        assert main(["test", "--results", str(file), *more]) == 2
        assert capsys.readouterr().err == f"thumbwise: {file} holds no test.\n"
    assert file.read_bytes() == raw and [each.name for each in file.parent.iterdir()] == [file.name]


def test_something_quite_else_is_left_as_it_is(file):
    file.write_text("My notes\nof Monday.\n")
    with pytest.raises(NotKept, match="holds no test"):
        Record(file).read_test()
    assert file.read_text() == "My notes\nof Monday.\n"


def test_a_later_versions_lines_are_kept(file):
    later = {"version": 2, "what": "paused", "when": "2026-03-09T08:03:00Z"}
    richer = begun(1, "Ada") | {"version": 2, "table": 4}
    written(file, TERMS, later, richer)
    record = Record(file)
    assert len(sittings_of(record.read_test(), record.entries)) == 1
    record.add(Opened("2026-03-09T09:00:00Z", 8643))
    record.keep()
    assert lines_of(file)[:3] == [TERMS, later, richer] and not record.told


def test_one_command_deletes_everything(file, capsys):
    written(file, TERMS, begun(1, "Ada"))
    with open(file, "a", encoding="utf-8") as other:
        other.write("damage\n")
    Record(file).read_test()
    beside = file.with_name("tuesday.jsonl")
    beside.write_text("x")
    assert main(["test", "--results", str(file), "--delete"]) == 0
    assert [each.name for each in file.parent.iterdir()] == ["tuesday.jsonl"]
    assert main(["test", "--results", str(file), "--delete"]) == 2 and "There is no file" in capsys.readouterr().err


# what follows from the lines


def sat(*lines: dict, file) -> dict:
    record = Record(written(file, TERMS, OPENED, *lines))
    return sittings_of(record.read_test(), record.entries)


def test_of_two_answers_to_a_question_the_first_counts_and_strangers_have_none(file):
    found = sat(begun(1, "Ada"), answered(1, 1, False), answered(1, 1, True), answered(2, 1, True), answered(1, 4, True), file=file)
    assert list(found) == [1] and found[1].marks == 0 and list(found[1].answers) == [1]


def test_the_time_that_the_program_was_away_is_given_back(file):
    away = OPENED | {"when": "2026-03-09T08:15:00Z"}
    found = sat(begun(1, "Ada"), answered(1, 1, True, "08:05:00"), away, begun(2, "Bo", "08:16:00", "bb"), file=file)
    at = {name: 60 * minutes + found[1].begun - 60 for name, minutes in {"Ada": 31, "Bo": 36}.items()}  # counted from eight
    assert found[1].ends == at["Ada"], "twenty minutes from 8:01, and the ten that it was away"
    assert found[2].ends == at["Bo"]
    assert not found[1].over(3, at["Ada"] + 4) and found[1].over(3, at["Ada"] + 6)


def test_one_whose_time_was_over_before_gets_none_back(file):
    away = OPENED | {"when": "2026-03-09T10:15:00Z"}
    found = sat(begun(1, "Ada", "08:01:00"), begun(2, "Bo", "09:30:00", "bb"), away, file=file)
    assert found[1].ends == found[1].begun + 20 * 60 and found[2].ends == found[2].begun + 65 * 60


def test_all_have_the_same_topics_at_the_same_places_and_each_other_figures():
    terms = Terms("2026-03-09T08:00:00Z", ["two-wires", "pushed-conductor", "alternator"], 7, None, 5, "k7m3qd", "0f" * 32)
    papers = {trainee: [question_for(terms, trainee, place) for place in range(1, 8)] for trainee in range(1, 13)}
    topics = [[(asked.scene, asked.kind) for asked in each] for each in papers.values()]
    assert all(each == topics[0] for each in topics)
    assert {scene for scene, _ in topics[0][:3]} == {scene for scene, _ in topics[0][3:6]} == set(terms.scenes)
    for place in range(7):
        scene = catalogue.scene_class(topics[0][place][0])()
        put = [said(scene, papers[trainee][place]) for trainee in range(1, 13)]
        assert len(set(put)) >= 3 and all(one != other for one, other in zip(put, put[1:], strict=False)), "no neighbours have the same"
        assert len({papers[trainee][place].seed for trainee in papers}) == 12
    assert papers[4] == [question_for(terms, 4, place) for place in range(1, 8)]


def said(scene, asked) -> tuple[str, str]:
    question = draw(scene, kind_of(scene, asked.kind), asked.seed).question(scene)
    return question.text, question.answer


def test_nobody_is_put_the_same_question_twice():
    terms = Terms("2026-03-09T08:00:00Z", ["two-wires"], 12, None, 5, "k7m3qd", "0f" * 32)
    scene = catalogue.scene_class("two-wires")()
    asked = [question_for(terms, 2, place) for place in range(1, 13)]
    kinds = [each.kind for each in asked]
    assert max(map(kinds.count, kinds)) >= 2
    for kind in set(kinds):
        put = [said(scene, each) for each in asked if each.kind == kind]
        assert len(set(put)) == len(put)


@pytest.mark.parametrize("typed, kept", [("  Ada  Byron ", "Ada Byron"), ("17", "17"), ("e\u0301", "\u00e9"), ("x" * 40, "x" * 40)])
def test_a_name_is_kept_as_a_name(typed, kept):
    assert checked_name(typed, []) == kept


@pytest.mark.parametrize("typed", ["", " \n\t", "x" * 41, "x" * 10**6, "\u202e17", "a\x00b", "---", "\U0001f4a1", "ada", "ADA ", "A\ud800"])
def test_what_is_no_name_or_taken_is_told(typed):
    with pytest.raises(ValueError) as wrong:
        checked_name(typed, ["Ada"])
    assert str(wrong.value)[-1] == "." and "\n" not in str(wrong.value) and len(str(wrong.value)) < 200
