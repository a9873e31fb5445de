"""The test as it is held: its time and its end, what the instructor sees and does, and what is kept whatever is sent."""

from __future__ import annotations

import json
import random

import pytest

from scenes import catalogue
from scenes.kept.lines import NotKept
from scenes.marked.questions import question_for
from scenes.marked.record import Record
from scenes.marked.room import INSTRUCTOR
from tests import hostile
from tests.scenes.marked.held import EIGHT, SCENES, Page
from tests.scenes.marked.tests_file import lines_of
from visual.host.viewers import Viewer


@pytest.fixture(scope="module")
def made_once():
    """Not here: what is made, and for whom, is looked at."""


def test_the_time_is_told_and_after_its_end_nothing_counts(held, page):
    assert page.told["sitting"]["seconds"] == pytest.approx(20 * 60)
    held.now = EIGHT + 20 * 60 + 4
    page.answers(right=True)
    assert page.told["sitting"]["place"] == 2, "what was on its way counts"
    held.now = EIGHT + 20 * 60 + 6
    held.settle()
    assert page.told["sitting"]["ended"] and page.told["sitting"]["seconds"] is None
    assert page.asks(do="answer", choice="up", place=2)["refused"] == "Your time is over."
    assert sum(line["what"] == "answered" for line in lines_of(held.file)) == 1


def test_what_is_handed_in_is_over(held, page):
    page.answers(right=True)
    assert page.asks(do="enough")["ended"]
    assert page.asks(do="answer", choice="up", place=2)["refused"] == "Your time is over."


def test_the_instructor_hands_in_for_one_who_has_gone_and_for_all_at_the_end(held, page):
    others = {name: Page(held, name) for name in ("Bo", "Cy", "Di")}
    held.settle()
    for name, other in others.items():
        other.asks(do="begin", name=name)
        assert "only begin, answer and hand in" in other.asks(do="end")["refused"], "no trainee ends anybody's"
    instructor = Viewer(lambda text: None, (), INSTRUCTOR)
    over = []
    for message in ({"name": "Nobody"}, {"name": "Bo"}, {"name": "Bo"}, {}):
        held.now += 60
        held.host.receive(instructor, json.dumps({"do": "end"} | message))
        held.settle()
        over.append([name for name, each in {"Ada": page, **others}.items() if each.told["sitting"]["ended"]])
    assert over == [[], ["Bo"], ["Bo"], ["Ada", "Bo", "Cy", "Di"]]
    assert [line["when"] for line in lines_of(held.file) if line["what"] == "ended"] == [
        f"2026-03-09T08:{minute:02}:00Z" for minute in (2, 4, 4, 4)
    ]


def test_on_one_machine_one_comes_after_the_other(held):
    desk = Page(held, None)
    held.settle()
    assert desk.asks(do="begin", name="Ada")["name"] == "Ada"
    assert "begun already" in desk.asks(do="begin", name="Bo")["refused"]
    first = desk.told["question"], desk.told["given"]
    for _ in range(3):
        desk.answers(right=True)
    assert desk.told["sitting"]["ended"] and desk.told["sitting"]["another"]
    assert desk.asks(do="begin", name="Bo")["name"] == "Bo" and desk.told["sitting"]["place"] == 1
    assert (desk.told["question"], desk.told["given"]) != first or question_for(held.room.terms, 1, 1) != question_for(
        held.room.terms, 2, 1
    )


def test_the_instructor_sees_who_has_begun_and_ended_and_no_more(held, page):
    instructor = Viewer(lambda text: None, held.host.heard_by(INSTRUCTOR), INSTRUCTOR)
    held.host.viewers.add(instructor)
    other = Page(held, "bb")
    held.settle()
    other.asks(do="begin", name="Bo")
    for _ in range(3):
        page.answers(right=True)
    seen = held.host.published_to[INSTRUCTOR]["test"]
    assert [trainee["name"] for trainee in seen["trainees"]] == ["Ada", "Bo"]
    assert [bool(trainee["begun"]) for trainee in seen["trainees"]] == [True, True]
    assert [bool(trainee["ended"]) for trainee in seen["trainees"]] == [True, False]
    held.host.viewers.discard(other.viewer)
    held.now += 1
    held.settle()
    assert [trainee["here"] for trainee in held.host.published_to[INSTRUCTOR]["test"]["trainees"]] == [True, False]
    assert set(held.host.heard_by(INSTRUCTOR)) <= {"test", "share", "names", "notice"}
    assert all(set(trainee) == {"name", "begun", "ended", "readmitted", "here"} for trainee in seen["trainees"])


def test_one_whose_telephone_has_died_goes_on_on_another_when_the_instructor_says_so(held, page):
    page.answers(right=True)
    question = page.told["question"]
    other = Page(held, "bb")
    held.settle()
    for message in ({"do": "begin", "name": "Ada"}, {"do": "readmit", "name": "Ada"}, {"do": "begin", "name": "Ada"}):
        assert other.asks(**message)["refused"], "no trainee lets anybody in"
    instructor = Viewer(lambda text: None, (), INSTRUCTOR)
    for _ in range(2):
        held.host.receive(instructor, json.dumps({"do": "readmit", "name": "Ada"}))
    held.settle()
    assert page.told["question"] == question and page.told["sitting"]["name"] == "Ada", "until then it is the old one's"
    assert (other.asks(do="begin", name="ada")["name"], other.told["sitting"]["place"], other.told["question"]) == ("Ada", 2, question)
    assert page.told["sitting"]["name"] is None
    third = Page(held, "cc")
    held.settle()
    assert "already" in third.asks(do="begin", name="Ada")["refused"]
    assert [line["what"] for line in lines_of(held.file)].count("readmitted") == 1


def test_nothing_counts_before_it_is_written_and_what_cannot_be_is_tried_again(held, page, monkeypatch):
    def full() -> None:
        raise NotKept("Answers cannot be kept in FILE: no space left on device.")

    with monkeypatch.context() as patch:
        patch.setattr(held.record, "keep", full)
        page.answers(right=True)
        assert page.told["sitting"]["place"] == 1, "it is not told that the answer has arrived"
        assert "no space left" in held.host.published_to[INSTRUCTOR]["notice"]["text"]
    held.now += 3
    held.settle()
    held.settle()
    assert page.told["sitting"]["place"] == 2 and sum(line["what"] == "answered" for line in lines_of(held.file)) == 1


def test_names_are_bounded_in_all_and_from_one_address(held, monkeypatch):
    monkeypatch.setattr("scenes.marked.room.OF_ONE_ADDRESS", 3)
    pages = [Page(held, f"visitor {number}") for number in range(5)]
    held.settle()
    refused = [page.asks(do="begin", name=f"{number}")["refused"] for number, page in enumerate(pages)]
    assert [bool(text) for text in refused] == [False] * 3 + [True] * 2 and "network address" in refused[3]
    monkeypatch.setattr("scenes.marked.room.MOST_TRAINEES", 4)
    elsewhere = [Page(held, f"other {number}", f"198.51.100.{number}") for number in range(2)]
    held.settle()
    assert [bool(page.asks(do="begin", name=f"a{number}")["refused"]) for number, page in enumerate(elsewhere)] == [False, True]


def test_whatever_is_sent_every_answer_is_kept_and_nobody_elses_changes(held, page):
    """A hostile page beside a good one: nothing of the good one changes, nothing of it is heard, and the file stays sound."""
    bad = Page(held, "bad")
    held.settle()
    bad.asks(do="begin", name="Mallory")
    dice = random.Random(3)
    sender = hostile.Sender(dice, catalogue.NAMES)
    scene = catalogue.scene_class(SCENES[0])()
    bench = type("Nothing", (), {"scene": scene, "prediction": type("None", (), {"question": None}), "run_word": ""})
    before = json.dumps(page.told)
    for number in range(300):
        text = (
            sender.text(bench) if number % 2 else json.dumps({"do": "answer", "choice": hostile.nasty(dice), "place": hostile.nasty(dice)})
        )
        held.host.receive(bad.viewer, text)
        if number % 50 == 0:
            held.settle()
    held.settle()
    assert json.dumps(page.told) == before and '"Ada"' not in "".join(bad.texts)
    page.answers(right=True)
    record = Record(held.file)
    record.read_test()
    assert not record.told and not list(held.file.parent.glob("*damaged*"))
    assert [line.right for line in record.entries if getattr(line, "place", 0) and line.trainee == 1] == [True]
