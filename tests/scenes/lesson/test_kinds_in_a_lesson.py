"""A lesson's step puts a question of any kind that its scene has: chosen on the page, kept in the file, put by the bench, printed in the
handout and judged in the file that is taken home. What is right is worked out here from the words of the question."""

from __future__ import annotations

import math
import re
import tomllib
import xml.etree.ElementTree as xml

import pytest

from scenes.__main__ import main
from scenes.bench.prediction import setup_of
from scenes.lesson.draft import Draft
from scenes.lesson.lesson import read
from scenes.lesson.lesson_bench import SPEAKER, LessonBench
from scenes.lesson.lesson_file import LessonFile
from scenes.lesson.prepare_bench import PrepareBench
from scenes.picture import browsers
from scenes.questions.kinds import draw, kind_of
from scenes.takehome.film import record
from visual.host.server import Host

KINDS = """
version = 2
title = "Kinds"

[[step]]
scene = "pushed-conductor"
settings = { current = -8 }
readings = ["F", "I"]
question = { kind = "figure", number = 3 }

[[step]]
scene = "alternator"
question = { kind = "poles", number = 1 }

[[step]]
scene = "inside-a-motor"
question = { kind = "place", number = 5 }
vote = true
"""
SPACE = "{http://www.w3.org/1999/xhtml}"


def force(text: str) -> float:
    """mN, from the words of the question: B I l sin."""
    length, angle, field, current = (float(number) for number in re.findall(r"(\d+(?:\.\d+)?)(?= ?(?:mm|°|mT|A)\b|°)", text))
    return field * current * length / 1000 * math.sin(math.radians(angle))


@pytest.fixture(scope="module")
def bench():
    return LessonBench(Host(), read(KINDS, "kinds.toml"), may_wait=True)


def test_the_bench_puts_it_with_the_steps_own_settings_and_hides_what_it_asks_for(bench):
    bench.go_to(0)
    told = bench.host.published
    assert told["question"]["answered"] == "typed" and "8 A" in told["question"]["text"] and told["question"]["seed"] == 3
    read_out = [f"{one['value']} {one['unit']}" for one in told["readings"] if one["value"] != "?"]
    assert all(figure in told["question"]["text"] for figure in read_out), "any other may be what is asked for"
    assert len(read_out) < len(told["readings"]) and not any(one.endswith("mN") for one in read_out)
    right = force(told["question"]["text"])
    said = bench.host.published_to[SPEAKER]["prompt"]["answer"]
    low, high = (float(number) for number in re.fullmatch(r"([\d.]+) to ([\d.]+) mN", said["accepted"]).groups())
    exact = float(said["words"].removesuffix(" mN"))
    assert 0.97 * exact <= low < 0.98 * exact and 1.02 * exact < high <= 1.03 * exact, "all of it is right"
    bench.receive({"do": "tally", "large": True})
    assert "does not vote" in bench.host.published["notice"]["text"] and not bench.tally.opened
    bench.receive({"do": "answer", "choice": f"{right:.4g} mN"})
    assert bench.host.published["question"]["right"] is True and bench.scene["current"] == -8
    shown = {reading["symbol"]: reading["value"] for reading in bench.host.published["readings"]}
    assert float(shown["I"].replace("\N{MINUS SIGN}", "-")) == -8
    bench.go_to(1)
    asked = bench.host.published["question"]
    turns, hertz = (float(number) for number in re.findall(r"(\d+) r/min.* (\d+) Hz", asked["text"])[0])
    assert asked["covers"], "poles that were seen could be counted"
    bench.receive({"do": "reveal"})
    assert bench.host.published["question"]["answer"] == f"{120 * hertz / turns:.0f} poles"


def test_the_class_votes_on_it_where_there_are_choices(bench):
    bench.go_to(2)
    asked = bench.host.published["question"]
    assert asked["answered"] == "pressed"
    bench.tally.take(bench.prediction, "someone", "192.0.2.7", asked["choices"][0]["value"])
    bench.walk(1)
    assert bench.prediction.waiting and bench.host.published["tally"] is not None
    assert bench.tally.shown(bench.prediction, 1)["large"] and bench.tally.shown(bench.prediction, 1)["answered"] == 1


class Follower:
    role, visitor, address = "class", "someone", "192.0.2.7"

    def publish(self, **told) -> None:
        pass


def test_what_the_speaker_is_told_of_a_vote_is_true_after_each_answer(bench):
    def prompt() -> dict:
        bench.read_out()
        return bench.host.published_to[SPEAKER]["prompt"]

    def notice() -> str:
        return bench.host.published.get("notice", {}).get("text", "")

    def votes() -> None:
        bench.receive({"do": "answer", "choice": value}, Follower())

    bench.go_to(2)
    value = bench.host.published["question"]["choices"][1]["value"]
    bench.receive({"do": "next"})
    assert "nobody has voted yet" in notice() and prompt()["onward"] == "Show the answer without a vote"
    votes()
    assert notice() == "" and prompt()["onward"] == "Show the votes" and prompt()["before"] is None
    bench.receive({"do": "next"})
    bench.receive({"do": "next"})
    assert prompt()["before"][value] == 1 and prompt()["counts"][value] == 0, "the first vote, beside the second"
    assert "second vote" in prompt()["onward"] and "yet" not in notice()
    bench.receive({"do": "next"})
    assert "again" in notice()
    votes()
    assert notice() == "" and prompt()["onward"] == "Show the votes"


def test_the_same_number_asks_the_same_and_another_something_else():
    texts = []
    for number in (3, 3, 7):
        one = LessonBench(Host(), read(KINDS.replace("number = 3", f"number = {number}"), "kinds.toml"))
        texts.append(one.prediction.posed.text)
    assert texts[0] == texts[1] != texts[2] and all("8 A" in text for text in texts)


@pytest.fixture
def desk(tmp_path):
    path = tmp_path / "mine.toml"
    path.write_text(KINDS.split('\n[[step]]\nscene = "alternator"')[0].replace('question = { kind = "figure", number = 3 }\n', ""), "utf-8")
    file = LessonFile(path)
    yield PrepareBench(Host(), Draft(file.read(), str(path), file.pictures), file, True)
    file.thread.shutdown()


def told(desk) -> dict:
    return desk.host.published_to["bench"]["preparing"]["here"]


def kept(desk) -> dict:
    desk.file.thread.submit(lambda: None).result()
    return tomllib.loads(desk.file.path.read_text("utf-8"))["step"][desk.place]


def change(desk, name: str, value) -> str:
    desk.receive({"do": "change", "number": told(desk)["number"], "name": name, "value": value})
    return desk.host.published.get("notice", {}).get("text", "") or told(desk)["refused"]


def test_a_kind_is_chosen_on_the_page_and_undone(desk):
    offered = told(desk)["kinds"]
    assert [kind["name"] for kind in offered] == [kind["value"] for kind in desk.host.published["scene"]["questions"]]
    assert {kind["name"] for kind in offered if not kind["choices"]} == {"figure"}
    assert change(desk, "question", "scene") == "" and change(desk, "vote", True) == ""
    assert change(desk, "kind", "compare") == ""
    assert kept(desk)["vote"] is True and kept(desk)["question"] == {"kind": "compare"}
    assert told(desk)["asks"] == "kind" and told(desk)["kind"] == "compare" and told(desk)["numbered"] is False
    listed = desk.host.published_to["bench"]["preparing"]["steps"][0]["asks"]
    assert listed == next(kind["words"] for kind in offered if kind["name"] == "compare")
    assert desk.prediction.kind == "compare" and desk.prediction.waiting and desk.scene["current"] == -8
    assert desk.prediction.seed is None and kept(desk)["settings"] == {"current": -8}
    said = change(desk, "number", 12)
    assert kept(desk)["question"] == {"kind": "compare", "number": 12} and "settings" not in kept(desk), "it brings its own"
    brought = draw(desk.scene, kind_of(desk.scene, "compare"), 12).settings
    assert desk.prediction.seed == 12 and dict(desk.scene.settings) == brought
    number = f"{brought['current']:g} A".replace("-", "\N{MINUS SIGN}")
    assert f"from \N{MINUS SIGN}8 A to {number}" in said and "caption" in said
    assert "from 1 to 9999" in change(desk, "number", 0) and kept(desk)["question"]["number"] == 12
    assert change(desk, "kind", "figure") == "", "nobody can vote on a figure"
    assert "vote" not in kept(desk) and kept(desk)["question"] == {"kind": "figure"}
    assert dict(desk.scene.settings) == brought, "what was brought stays when another question is put about it"
    assert "it has forward, current, poles, figure, compare, why" in change(desk, "kind", "figures")
    desk.receive({"do": "undo"})
    assert kept(desk)["question"] == {"kind": "compare", "number": 12} and desk.prediction.kind == "compare"


def test_a_kind_about_the_set_up_changes_nothing_of_it_or_says_in_a_sentence_why_it_cannot_be_put(desk):
    before = dict(desk.scene.settings)
    for kind in ("figure", "current", "why"):
        assert change(desk, "kind", kind) == ""
        assert desk.prediction.drawn.settings == before and kept(desk)["settings"] == {"current": -8}
    desk.receive({"do": "set", "name": "tilt", "value": 30})
    desk.receive({"do": "arrange", "number": told(desk)["number"], "how": "set-up"})
    assert change(desk, "kind", "current") == "" and desk.scene["tilt"] == 30, "it can be asked of a tilted rod as well"
    assert change(desk, "question", "none") == ""
    desk.receive({"do": "set", "name": "switch", "value": False})
    desk.receive({"do": "arrange", "number": told(desk)["number"], "how": "set-up"})
    assert change(desk, "kind", "figure") == "The question \u201chow large the force is\u201d needs Switch closed: on, not off."


def test_the_scenes_own_question_by_a_number_is_shown_as_one_that_brings_its_set_up(desk):
    assert change(desk, "question", "scene") == "" and told(desk)["numbered"] is False
    assert "changed the set-up" in change(desk, "numbered", "scene")
    assert kept(desk)["question"] == 1 and told(desk)["asks"] == "scene" and told(desk)["numbered"] is True
    change(desk, "number", 7)
    assert kept(desk)["question"] == 7 and told(desk)["number_asked"] == 7 and "settings" not in kept(desk)
    brought = setup_of(desk.scene, 7)
    assert dict(desk.scene.settings) == brought
    change(desk, "number", None)
    assert kept(desk)["question"] is True and told(desk)["numbered"] is False and dict(desk.scene.settings) == brought
    desk.receive({"do": "add", "page": True})
    assert change(desk, "numbered", "scene") != "" and "question" not in kept(desk), "a page has no set-up"


def test_a_scene_chosen_again_begins_without_what_a_question_has_set(desk):
    desk.receive({"do": "set", "name": "current", "value": 5})
    change(desk, "numbered", "figure")
    change(desk, "number", 3)
    assert desk.scene["tilt"] != 0
    desk.receive({"do": "scene", "name": "two-wires"})
    desk.receive({"do": "scene", "name": "pushed-conductor"})
    assert dict(desk.scene.settings) == desk.scene.defaults | {"current": 5}
    desk.receive({"do": "add", "page": False})
    assert kept(desk) == {"scene": "pushed-conductor", "settings": {"current": 5}}


def test_a_question_of_a_kind_that_stands_on_the_bench_becomes_a_step(desk):
    desk.receive({"do": "ask", "kind": "current", "seed": 77})
    text = desk.prediction.posed.text
    desk.receive({"do": "add"})
    assert kept(desk) == {"scene": "pushed-conductor", "question": {"kind": "current", "number": 77}}
    assert desk.prediction.posed.text == text
    desk.receive({"do": "ask", "kind": "figure", "seed": 5})
    desk.receive({"do": "set", "name": "current", "value": 3})
    asked = desk.prediction.posed.text
    desk.receive({"do": "add"})
    assert kept(desk)["settings"]["current"] == 3 and desk.prediction.posed.text == asked, "what was set by hand is kept with it"


@pytest.fixture
def printed(tmp_path, monkeypatch):
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(browsers, "PLACES", {})
    (tmp_path / "kinds.toml").write_text(KINDS)
    assert main(["handout", str(tmp_path / "kinds.toml"), "--out", str(tmp_path / "handout.html")]) == 0
    root = xml.fromstring((tmp_path / "handout.html").read_text("utf-8"))
    return {section.get("id"): section for section in root.iter(f"{SPACE}section")}


def words(element) -> str:
    return " ".join("".join(element.itertext()).split())


def test_it_is_printed_with_room_for_the_figure_and_its_answer_on_the_last_page(printed):
    asked, answered = words(printed["step-1"]), words(printed["answer-1"])
    text = re.search(r"A rod .*?\?", asked)[0]
    right = force(text)
    (blank,) = [one for one in printed["step-1"].iter(f"{SPACE}p") if one.get("class") == "figure"]
    assert words(blank) == "mN" and not printed["step-1"].findall(f".//{SPACE}table"), "no figure from which it is read off"
    said, low, high = (float(number) for number in re.search(r"([\d.]+) mN; accept ([\d.]+) to ([\d.]+) mN", answered).groups())
    assert (
        said == pytest.approx(right, rel=0.01)
        and low == pytest.approx(0.97 * right, rel=0.01)
        and high == pytest.approx(1.03 * right, rel=0.01)
    )
    assert [row for row in printed["answer-1"].iter(f"{SPACE}tr") if words(row).startswith("I ")], (
        "the figures that matter, with the answer"
    )
    assert len(list(printed["step-2"].iter(f"{SPACE}li"))) == 4 and not printed["step-2"].findall(".//{http://www.w3.org/2000/svg}svg")


def test_what_is_taken_home_tells_of_each_wrong_answer_what_practice_tells():
    lesson = KINDS + (
        '\n[[step]]\nscene = "moved-conductor"\nquestion = true\n'
        '\n[[step]]\nscene = "terminal-box"\nsettings = { asked = "joining" }\nquestion = true\n'
        '\n[[step]]\nscene = "pushed-conductor"\n[step.question]\ntext = "Who?"\nchoices = ["Ann", "Bob"]\nright = 2\n'
    )
    film = record(read(lesson, "kinds.toml"), 0.2)
    assert [step["stays"] for step in film.steps()] == [True] + 5 * [False]
    asked, answered = film.reels[0].begin["question"], film.reels[0].pictures[0]
    (figure,) = [each["value"] for each in answered["readings"] if each["symbol"] == "F"]
    assert float(figure.split()[0]) == pytest.approx(force(asked["text"]), rel=0.01), "of the instant that was asked about"
    judged = [step["judged"] for step in film.steps()]
    # a figure: without the sine, without a factor, and of another unit
    text = film.reels[0].begin["question"]["text"]
    right, figure = force(text), judged[0]["figure"]
    assert figure["bounds"][0] < right < figure["bounds"][1] and figure["unit"] == "mN" and figure["prefixes"][""] == 1000
    sentences = dict(judged[0]["told"])
    assert any(size == pytest.approx(1000 * right, rel=0.01) and "prefix" in said for size, said in sentences.items())
    # directions: what the other hand gives is the other way, and more than one mistake gives it
    choices = {choice["value"]: choice["words"] for choice in film.reels[3].begin["question"]["choices"]}
    answer = film.reels[3].pictures[0]["question"]["answer"]
    other = {"toward you": "away from you", "away from you": "toward you", "to the left": "to the right", "to the right": "to the left"}[
        answer
    ]
    (wrong,) = [value for value, said in choices.items() if said == other]
    assert all(name in judged[3]["told"][wrong] for name in ("other hand", "fingers")) and "could" in judged[3]["told"][wrong]
    assert {said for value, said in judged[3]["told"].items() if value != wrong} == {""}, "what no mistake gives is not claimed"
    assert judged[3]["again"] and answer not in [choices[value] for value in judged[3]["told"]]
    # a question that is not the first of its scene's kinds is not told the first one's mistakes
    said = " ".join(judged[4]["told"].values())
    assert "star and delta are exchanged" in said and "other end" not in said
    # of two choices the other is not tried, but known
    assert judged[5] == {"again": "", "told": {"1": ""}, "figure": None}
    for reel in film.reels:
        assert reel.begin["question"]["answer"] is None and reel.begin["question"]["reason"] is None


def test_another_question_of_the_kind_is_stepped_to_and_the_set_up_stays(desk):
    desk.receive({"do": "scene", "name": "slip-and-speed"})
    desk.receive({"do": "set", "name": "frequency", "value": 40})
    desk.receive({"do": "add"})
    assert change(desk, "kind", "compare") == ""
    set_up = kept(desk)["settings"]
    seen = [told(desk)["put"]]
    for _ in range(5):
        assert change(desk, "another", "next") == ""
        assert told(desk)["put"] == desk.prediction.posed.text not in ("", seen[-1]), "another one, as it is put"
        assert kept(desk)["settings"] == set_up and desk.scene["frequency"] == 40
        seen.append(told(desk)["put"])
    changed = {re.search(r"one thing is changed: (?:the )?([a-z ]+?)[, ]", text)[1] for text in seen}
    assert len(changed) > 1, "it is left to nobody's chance what is changed"
    again = LessonBench(Host(), read(desk.draft.document.text, "again.toml"), may_wait=True)
    again.go_to(desk.place)
    assert again.prediction.posed.text == seen[-1], "the file says which"
    change(desk, "another", "before")
    assert told(desk)["put"] == seen[-2]
    change(desk, "numbered", "compare")
    change(desk, "another", "next")
    assert told(desk)["number_asked"] == 2
    assert "one of them" in _wrong(desk.draft.document.text.replace("number = 2", "number = 2, about = 2"))
    change(desk, "question", "none")
    assert "kinds of question first" in change(desk, "another", "next")


def _wrong(text: str) -> str:
    with pytest.raises(ValueError) as wrong:
        read(text, "wrong.toml")
    return str(wrong.value)
