"""The test as it is held: what a trainee's page is sent and may do. No browser, no network."""

from __future__ import annotations

import json
import re

import pytest

from scenes import catalogue
from scenes.marked.papers import Brought
from scenes.marked.questions import Asked
from scenes.questions.kinds import draw, kind_of
from scenes.scene.question import FORWARD
from tests.scenes.marked.held import SCENES, Held, Page, right_answer
from tests.scenes.marked.tests_file import lines_of
from visual.host.bridge import ObjectStream


@pytest.fixture(scope="module")
def made_once():
    """Not here: what is made, and for whom, is looked at."""


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


def test_what_was_set_is_kept_with_the_answer_and_tells_one_trainees_question_from_anothers(held):
    for visitor in range(6):
        page = Page(held, f"visitor {visitor}")
        held.settle()
        page.asks(do="begin", name=f"{visitor}")
        for _ in range(3):
            told = dict(page.told)
            page.answers(right=True)
            kept = [line for line in lines_of(held.file) if line["what"] == "answered"][-1]
            assert kept["question"] == told["question"]["text"]
            for one in told["given"]:
                assert f"{one['words']}: {one['value']} {one['unit']}".strip() in kept["set_up"], "what stood on the page"


def test_the_right_answer_to_the_same_words_follows_from_what_was_set(papers):
    right: dict[tuple[str, str], set[str]] = {}
    by_words: dict[str, set[str]] = {}
    for seed in range(1, 25):
        paper = papers.paper(Asked("cage-rotor", "bar", seed))
        question = paper.put().posed
        answer = question.words_of(question.answer)
        right.setdefault((question.text, paper.set_up), set()).add(answer)
        by_words.setdefault(question.text, set()).add(answer)
    assert all(len(answers) == 1 for answers in right.values()), right
    assert any(len(answers) > 1 for answers in by_words.values()), "by the words alone it could not be marked"


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
    """The arrow of the force is not there, held together with the same set-up drawn with the answer shown; nor is its figure, nor the
    angle at which the rod comes to hang by it."""
    asked = Asked("pushed-conductor", FORWARD, 12)
    while right_answer(asked)[0] == "none":
        asked = asked._replace(seed=asked.seed + 1)
    paper = papers.paper(asked)
    assert {"B", "I"} <= {one["symbol"] for one in paper.told["readings"]} and not {"F", "\N{GREEK SMALL LETTER ALPHA}"} & {
        one["symbol"] for one in paper.told["readings"]
    }
    told = papers.published(paper, Brought())
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


@pytest.mark.parametrize("name", ["inside-a-motor", "laying-the-winding"])
def test_the_benchs_own_controls_are_not_of_the_set_up(papers, name):
    """What is lit, bold or coloured, and what the question is about."""
    for kind in catalogue.scene_class(name).kinds:
        told = [each["words"].lower() for each in papers.paper(Asked(name, kind.name, 5)).told["given"]]
        assert told and not re.search("question|by its number|colours|slow|bold|curves", " ".join(told)), told


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
