"""Practice over the shared address: each with questions of their own, told to their pages alone. No browser, no network."""

from __future__ import annotations

import json
import random
import re

import pytest

from scenes.bench.prediction import Prediction
from scenes.kept.writer import Writer
from scenes.marked.papers import Papers
from scenes.practice.practice import Practice
from scenes.practice.results import Results
from scenes.practice.room import STUDENT, PracticeRoom
from tests import hostile
from tests.scenes.practice.answers import given, lines
from visual.host.viewers import Viewer

SCENES = ("pushed-conductor", "two-wires")


class Room:
    """A room in this process, on answers that are kept in `file`."""

    def __init__(self, file, papers: Papers):
        kept = Results(file)
        kept.open()
        self.host = papers.host
        self.host.viewers.clear()
        self.writer = Writer(kept)
        self.room = PracticeRoom(papers, Practice(kept, SCENES, random.Random(4)), self.writer)

    def settle(self) -> None:
        for _ in range(3):
            for viewer in self.host.viewers:
                viewer.ready = True
            self.room.frame(0.03)
            self.host.frames += 1
            self.host.flush()


class Page:
    """A student's page: everything it was sent, and the newest of every key. `visitor`: None on this machine."""

    def __init__(self, held: Room, visitor: str | None):
        self.held, self.texts, self.told = held, [], {}
        crowd = None if visitor is None else lambda: None
        self.viewer = Viewer(self._hear, (), STUDENT, crowd, frozenset(), visitor, "192.0.2.7")
        held.host.viewers.add(self.viewer)
        held.settle()

    def _hear(self, text) -> None:
        self.texts.append(text.decode() if isinstance(text, bytes) else text)
        self.told |= json.loads(text)

    def asks(self, **message) -> dict | None:
        """Send a message; the question as it then stands."""
        self.held.host.receive(self.viewer, json.dumps(message))
        self.held.settle()
        return self.told["question"]

    def question(self):
        """The question that this page has, as it is put on a scene of the test's own: with its answer."""
        asked = self.held.room._seats[self.viewer.visitor].asked
        put = Prediction()
        put.ask(self.held.room._papers.build(asked.scene).scene, asked.seed, asked.kind)
        assert put.posed.text == self.told["question"]["text"]
        return put.posed

    def letters(self) -> str:
        """All that is written in what was sent of the picture last."""
        return " ".join(text for text in self.texts if '"stream"' in text)


@pytest.fixture
def held(file, papers):
    return Room(file, papers)


def test_each_has_questions_of_their_own_and_only_those_of_this_machine_are_kept(held, file):
    pages = [Page(held, visitor) for visitor in (None, "aa", "bb", "cc")]
    again = Page(held, "aa")
    assert again.told["question"] == pages[1].told["question"], "a second page of the same browser has the same question"
    asked = []
    for _ in range(3):
        asked.append([(page.told["scene"]["name"], page.told["question"]["text"]) for page in pages])
        for page in pages:
            before = [other.told["question"] for other in pages if other is not page]
            answered = page.asks(do="answer", choice=given(page.question(), True))
            assert answered["right"] is True and answered["answer"] and answered["reason"]
            assert [other.told["question"] for other in pages if other is not page] == before
            page.asks(do="ask")
    assert any(len(set(row)) > 2 for row in asked)
    held.writer._thread.submit(lambda: None).result()
    assert len(lines(file)) == 3, "nothing is kept of those who come in from the network"


def test_a_wrong_answer_is_tried_once_more_with_the_mistaken_hand_before_the_answer_comes(held):
    page, seen = Page(held, "hand"), 0
    seat = held.room._seats["hand"]
    seat.practice.kinds = lambda scene: ("why",)
    for _ in range(6):
        page.asks(do="ask")
        question, before = page.question(), len(page.texts)
        wrong = next((value for value, names in question.mistakes if names == ("other hand",)), None)
        if wrong is None:
            continue
        told = page.asks(do="answer", choice=wrong)
        sent = "".join(page.texts[before:])
        assert told["given"] is None and told["tried"] == wrong and told["answer"] is None and question.reason not in sent
        if "grey hand" in told["note"]:
            seen += 1
            assert "other hand" in sent and '"stream"' in sent
        told = page.asks(do="answer", choice=question.answer)
        assert told["right"] is True and told["reason"] and page.told["question"]["score"]["right"] == 0
    assert seen >= 2


def test_nothing_that_is_sent_before_the_answer_gives_it_away(held):
    page = Page(held, "spy")
    for _ in range(8):
        question = page.question()
        sent = page.texts[-1]
        assert page.told["question"]["seed"] is None and page.told["question"]["reason"] is None
        assert question.reason not in sent and '"answer":null' in sent
        assert all(reading["value"] == "?" for reading in page.told["readings"] if reading["symbol"] in ("F", "α"))
        page.asks(do="reveal")
        assert page.told["question"]["answer"] == question.words_of(question.answer) and page.told["question"]["right"] is None
        page.asks(do="ask")


def test_a_mock_test_tells_at_its_end_what_was_right(held):
    page = Page(held, "mock")
    other = Page(held, "beside")
    page.asks(do="mock", questions=3, minutes=5)
    assert page.told["mock"]["place"] == 1 and page.told["mock"]["count"] == 3 and 0 < page.told["mock"]["seconds"] <= 300
    wrongly = None
    for place, rightly in enumerate((True, False, True), 1):
        question = page.question()
        assert page.told["mock"]["place"] == place and page.told["mock"]["right"] is None and page.told["mock"]["put"] == []
        page.asks(do="reveal")
        assert "mock test is going on" in page.told["notice"]["text"] and page.told["question"]["answer"] is None
        choice = given(question, rightly)
        wrongly = wrongly or (None if rightly else (question.text, question.words_of(question.taken(choice))))
        page.asks(do="answer", choice=choice)
        assert page.told["question"] is None or page.told["question"]["given"] is None
    assert page.told["question"] is None and page.told["mock"]["over"] and page.told["mock"]["right"] == 2
    (missed,) = [each for each in page.told["mock"]["put"] if not each["right"]]
    assert (missed["question"], missed["given"]) == wrongly
    assert other.told["mock"] is None
    assert page.asks(do="ask")["given"] is None and page.told["mock"] is None


def test_a_mock_test_ends_with_its_time(held, monkeypatch):
    page = Page(held, "late")
    page.asks(do="mock", questions=3, minutes=1)
    mock = held.room._seats["late"].mock
    monkeypatch.setattr(mock, "_clock", lambda: mock._ends + 0.1)
    held.settle()
    assert page.told["mock"]["over"] and page.told["question"] is None and page.told["mock"]["right"] == 0
    for questions, minutes in ((0, 5), (1.5, 5), (3, 0), (3, 1e9), (1e308, 5)):
        page.asks(do="mock", questions=questions, minutes=minutes)
        assert page.told["notice"]["text"].startswith("A mock test")


def test_a_missed_figure_is_worked_through_with_its_own_figures(held):
    page = Page(held, "works")
    held.room._seats["works"].practice.kinds = lambda scene: ("figure",)
    page.asks(do="ask")
    question = page.question()
    assert page.told["question"]["works"] is None
    for _ in range(2):
        page.asks(do="answer", choice=given(question, False))
    works = page.told["question"]["works"]
    page.asks(do="work", topic=works, inputs="")
    working, answer = page.told["working"], page.told["question"]["answer"]
    assert working["topic"] == works and len(working["lines"]) > 1
    assert working["lines"][-1]["result"].endswith(answer.split()[-1]), (working["lines"], answer)
    told = [float(found) for found in re.findall(r"[\d.]*\d", page.told["question"]["text"])]
    for value in (float(each["value"]) for each in working["inputs"] if each["value"] and each["name"] != "angle"):
        assert any(abs(value * scale - figure) < 1e-9 for figure in told for scale in (1, 1000)), (value, told)


def test_whatever_is_sent_nothing_breaks_and_nobody_else_is_told(held, caplog):
    page, other = Page(held, "foe"), Page(held, "friend")
    before, dice = other.told["question"], random.Random(11)
    sender = hostile.Sender(dice, SCENES)

    class Bench:
        prediction, scene, run_word = Prediction(), held.room._papers.build(SCENES[0]).scene, "abcd"

    for _ in range(150):
        held.host.receive(page.viewer, sender.text(Bench))
    held.settle()
    assert other.told["question"] == before
    assert "could not be carried out" not in caplog.text
    page.asks(do="enough")
    assert page.asks(do="ask")["given"] is None
