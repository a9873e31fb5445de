"""The test as it is held: what a trainee's page is sent and may do, and what the instructor sees. No browser, no network."""

from __future__ import annotations

import json
import random
import re

import pytest

from scenes import catalogue
from scenes.kept.lines import NotKept
from scenes.kept.writer import Writer
from scenes.marked.papers import Brought, Papers
from scenes.marked.questions import Asked, question_for
from scenes.marked.record import Record
from scenes.marked.room import INSTRUCTOR, TRAINEE, Room
from scenes.questions.kinds import draw, kind_of
from scenes.scene.question import FORWARD
from tests import hostile
from tests.made_once import made_anew
from tests.scenes.marked.tests_file import OPENED, TERMS, lines_of, written
from visual.host.bridge import ObjectStream
from visual.host.server import Host
from visual.host.viewers import Viewer


@pytest.fixture(scope="module")
def made_once():
    """Not here: what is made, and for whom, is looked at."""


SCENES = ["pushed-conductor", "two-wires"]
EIGHT = 1773043200.0  # 2026-03-09T08:00:00Z


class Page:
    """A trainee's page: everything that it was sent, and the newest of every key."""

    def __init__(self, held, visitor: str | None, address: str = "192.0.2.7"):
        self.held, self.texts, self.told = held, [], {}
        self.viewer = Viewer(self._hear, (), TRAINEE, lambda: None, frozenset(), visitor, address)
        held.host.viewers.add(self.viewer)

    def _hear(self, text) -> None:
        self.texts.append(text.decode() if isinstance(text, bytes) else text)
        self.told |= json.loads(text)

    def asks(self, **message) -> dict:
        """Send a message; how the page then stands."""
        self.held.host.receive(self.viewer, json.dumps(message))
        self.held.settle()
        return self.told["sitting"]

    def answers(self, right: bool) -> dict:
        question, place = self.told["question"], self.told["sitting"]["place"]
        wanted, words = right_answer(question_for(self.held.room.terms, self.trainee, place))
        others = [choice["value"] for choice in question["choices"] if choice["value"] != wanted]
        return self.asks(
            do="answer", choice=wanted if right else others[0] if others else words.replace(words.split()[0], "-777"), place=place
        )

    @property
    def trainee(self) -> int:
        name = self.told["sitting"]["name"]
        return next(line["trainee"] for line in lines_of(self.held.file) if line.get("name") == name)


def right_answer(asked: Asked) -> tuple[str, str]:
    """The right answer to a question and the same in words, put here on a scene that is not drawn."""
    scene = catalogue.scene_class(asked.scene)()
    question = draw(scene, kind_of(scene, asked.kind), asked.seed).question(scene)
    return question.answer, question.words_of(question.answer)


class Held:
    """A test that is held in this process, on a clock that the test sets."""

    def __init__(self, file, papers: Papers):
        if not file.exists():
            written(file, TERMS | {"scenes": SCENES}, OPENED)
        self.file, self.now = file, EIGHT
        self.host, self.record = papers.host, Record(file)
        self.host.viewers.clear()
        found = self.record.read_test()
        self.record.open()
        self.writer = Writer(self.record)
        self.room = Room(papers, self.record, found, self.writer, lambda: self.now)

    def settle(self) -> None:
        """Everything is written, and told to every page."""
        self.writer._thread.submit(lambda: None).result()
        for _ in range(4):
            for viewer in self.host.viewers:
                viewer.ready = True
            self.room.frame(0.03)
            self.host.frames += 1
            self.host.flush()


@pytest.fixture(scope="module")
def papers():
    """With the scenes built once: that takes longer than most of these tests."""
    with pytest.MonkeyPatch.context() as patch:
        made_anew(patch)
        yield Papers(Host())


@pytest.fixture
def held(tmp_path, papers):
    return Held(tmp_path / "monday.jsonl", papers)


@pytest.fixture
def page(held):
    page = Page(held, "aa")
    held.settle()
    page.asks(do="begin", name="Ada")
    return page


def test_a_trainee_gives_a_name_and_is_put_one_question_after_the_other(held, page):
    assert (page.told["sitting"]["name"], page.told["sitting"]["place"], page.told["sitting"]["count"]) == ("Ada", 1, 3)
    seen = []
    for place in (1, 2, 3):
        assert page.told["sitting"]["place"] == place and not page.told["sitting"]["ended"]
        seen.append((page.told["scene"]["name"], page.told["question"]["text"]))
        page.answers(right=place != 2)
    assert page.told["sitting"]["ended"] and {scene for scene, _ in seen} == set(SCENES)
    answers = [line for line in lines_of(held.file) if line["what"] == "answered"]
    assert [(line["place"], line["right"]) for line in answers] == [(1, True), (2, False), (3, True)]
    assert [line["scene"] for line in answers] == [scene for scene, _ in seen]


def test_nothing_that_is_sent_gives_an_answer_away(held):
    """The answer, the reason and the number of the question stay here; what is hidden in the picture is sent nowhere."""
    for visitor in range(8):
        page = Page(held, f"visitor {visitor}")
        held.settle()
        page.asks(do="begin", name=f"{visitor}")
        for _ in range(3):
            question = page.told["question"]
            assert question["answer"] is None and question["reason"] is None and question["right"] is None and question["seed"] is None
            assert not {"says", "settings", "address", "working", "names"} & page.told.keys()
            assert page.told["scene"]["principle"] == "" == page.told["scene"]["narration"]
            assert not {"?", ""} & {reading["value"] for reading in page.told["readings"]}, "what is hidden is left out"
            page.answers(right=True)


OF_THE_PICTURE = {0, 1, 2, 3, 4}  # and the light
PLACE = re.compile(r"^([a-z])(\d+)(\D)(.*)$")  # an attribute: the object's number, a sign for what of it, and the value


def test_of_what_is_hidden_nothing_is_sent(held, papers):
    """The arrow of the force is not there: held together with the same set-up drawn with the answer shown."""
    asked = Asked("pushed-conductor", FORWARD, 12)
    while right_answer(asked)[0] == "none":
        asked = asked._replace(seed=asked.seed + 1)
    told = papers.published(papers.paper(asked), Brought())
    sent = {command["idx"] for command in told["stream"]["cmds"]}
    placed = {int(PLACE.match(text)[2]) for text in told["stream"]["attrs"]}
    built = papers.build(asked.scene)
    built.scene.set_all(draw(built.scene, kind_of(built.scene, asked.kind), asked.seed).settings)
    built.scene.restart()
    shown = {}
    for reveals_answer in (True, False):
        built.scene.draw(reveals_answer)
        shown[reveals_answer] = ObjectStream.in_sight(built.commands)
    built.drain()
    assert shown[True] - sent, "the answer is to be seen in something"
    assert sent & built.commands.keys() == shown[False] and placed - sent <= OF_THE_PICTURE


def test_what_the_question_hides_is_told_nowhere(papers):
    """Of every kind that asks for a control: it is not among the settings, and where the picture would show it there is none."""
    found = 0
    for name in SCENES:
        scene = catalogue.scene_class(name)()
        for kind in scene.kinds:
            paper = papers.paper(Asked(name, kind.name, 5))
            words = {scene.by_name[control].words for control in kind.hides}
            assert not words & {each["words"] for each in paper.told["given"]}
            assert bool(paper.things) is bool(paper.told["readings"]) is not paper.told["question"]["covers"]
            found += len(words)
    assert found


def test_an_answer_counts_once_and_stays(held, page):
    before = page.told["question"]["choices"]
    page.asks(do="answer", choice=before[0]["value"], place=1)
    for choice in before:
        sitting = page.asks(do="answer", choice=choice["value"], place=1)
        assert sitting["place"] == 2 and sitting["refused"] == ""
    (answer,) = [line for line in lines_of(held.file) if line["what"] == "answered"]
    assert answer["given"] == before[0]["words"]


@pytest.mark.parametrize(
    "message, said",
    [
        ({"do": "answer", "choice": "nonsense", "place": 1}, "The answer is one of"),
        ({"do": "answer", "choice": "up", "place": 2}, "not the question"),
        ({"do": "answer", "choice": "up", "place": 1.5}, "not the question"),
        ({"do": "answer", "choice": "up", "place": -1}, "not the question"),
        ({"do": "answer", "choice": "up"}, "not the question"),
        ({"do": "answer", "choice": "up", "place": 1e300}, "not the question"),
        ({"do": "begin", "name": "Bo"}, "begun already"),
        ({"do": "reveal"}, "only begin, answer and hand in"),
        ({"do": "ask"}, "only begin, answer and hand in"),
        ({"do": "set", "name": "current", "value": 1}, "only begin, answer and hand in"),
    ],
)
def test_everything_else_is_refused_to_that_page_alone(held, page, message, said):
    other = Page(held, "bb")
    held.settle()
    raw, heard = held.file.read_bytes(), len(other.texts)
    assert said in page.asks(**message)["refused"]
    assert page.told["sitting"]["place"] == 1 and held.file.read_bytes() == raw and len(other.texts) == heard


def test_a_name_is_asked_first_and_is_nobody_elses(held, page):
    other = Page(held, "bb")
    held.settle()
    assert other.told["sitting"]["name"] is None and "question" not in other.told and "stream" not in other.told
    assert other.asks(do="answer", choice="up", place=1)["refused"] == "Type your name first."
    assert "begun as 'ada' already" in other.asks(do="begin", name="ada")["refused"]
    assert other.asks(do="begin", name="Bo")["name"] == "Bo"
    assert '"Ada"' not in "".join(other.texts) and '"Bo"' not in "".join(page.texts)


def test_who_comes_back_finds_his_own_question(held, page, papers):
    page.answers(right=True)
    held.host.viewers.clear()
    again = Page(held, "aa")
    held.settle()
    assert (again.told["sitting"]["name"], again.told["sitting"]["place"]) == ("Ada", 2)
    assert again.told["question"] == page.told["question"] and again.told["stream"]["fresh"]
    later = Held(held.file, papers)  # the program is started again
    third = Page(later, "aa")
    later.settle()
    assert (third.told["sitting"]["name"], third.told["sitting"]["place"], third.told["question"]) == ("Ada", 2, page.told["question"])


def test_two_pages_of_one_trainee_keep_in_step_and_each_has_every_shape(held, page):
    second = Page(held, "aa")
    held.settle()
    assert page.told["stream"]["cmds"] == second.told["stream"]["cmds"]
    page.answers(right=True)
    assert second.told["sitting"]["place"] == 2 and second.told["scene"]["name"] == page.told["scene"]["name"]
    page.answers(right=True)
    assert second.told["sitting"]["place"] == 3 and has_every_shape(page) and has_every_shape(second)


def has_every_shape(page) -> bool:
    """Whether everything that a page was sent is placed, has a shape of its own or that of something sent before, and came once."""
    streams = [json.loads(text)["stream"] for text in page.texts if "stream" in json.loads(text)]
    made, meshes = [], set()
    for stream in streams:
        for command in (each for each in stream["cmds"] if each["idx"]):  # 0 is the picture itself
            made.append(command["idx"])
            meshes |= {command["idx"]} if "mesh" in command else set()
            assert command.get("cmd") != "mesh" or ("mesh" in command) != ("like" in command)
            assert command.get("like", command["idx"]) in meshes or "like" not in command
        assert {int(PLACE.match(text)[2]) for text in stream["attrs"]} - set(made) <= OF_THE_PICTURE
    return len(made) == len(set(made))


def test_every_thing_of_the_scenes_before_is_hidden(held, page):
    first = {command["idx"] for command in page.told["stream"]["cmds"]}
    page.answers(right=True)
    cmds, attrs = page.told["stream"]["cmds"], page.told["stream"]["attrs"]
    now = {command["idx"] for command in cmds}
    away = {int(PLACE.match(text)[2]) for text in attrs if PLACE.match(text)[3] == "t"}
    assert now and not now & first and len(away & first) > 10


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
