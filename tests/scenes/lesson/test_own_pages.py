"""A lesson with pages and questions of one's own, given, taken home and printed; and lessons of other versions."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from scenes.__main__ import main
from scenes.lesson.lesson import VERSION, built_in, read
from scenes.lesson.lesson_bench import SPEAKER, LessonBench
from scenes.lesson.pictures import Pictures
from scenes.takehome.film import record
from tests.scenes.lesson.images import png
from visual.host.server import Host
from visual.host.viewers import Viewer

OWN = """[[step]]
title = "Motors"
text = '''
Bring your goggles.
- one
'''
picture = "own-pictures/rotor.png"
shows = "A rotor"
minutes = 2

[[step]]
scene = "pushed-conductor"
caption = "A rod"
minutes = 0.5
[step.question]
text = "Who was first?"
choices = ["Ann", "Bob"]
right = 2
reason = "It was Bob."

[[step]]
title = "One more"
[step.question]
text = "And now?"
choices = ["yes", "no"]
right = 1
"""


@pytest.fixture
def own(tmp_path):
    Pictures(tmp_path / "own.toml").put(png(), "rotor.png")
    return read(OWN, "own.toml", Pictures(tmp_path / "own.toml"))


def test_a_page_of_ones_own_covers_the_bench_until_one_goes_on(own):
    bench = LessonBench(Host(), own)
    page = bench.host.published["step"]["page"]
    assert page["title"] == "Motors" and page["text"].strip() == "Bring your goggles.\n- one" and page["shows"] == "A rotor"
    assert page["picture"].startswith("pictures/") and bench.host.pictures[page["picture"].removeprefix("pictures/")] == png()
    assert bench.host.published["says"] == "Motors. Bring your goggles. - one. A rotor"
    bench.frame(0.03)
    assert not bench.running
    for request in ({"do": "run", "on": True}, {"do": "ask"}, {"do": "set", "name": "current", "value": 1}, {"do": "view", "name": "side"}):
        bench.receive(request)
        assert "A page of the lesson covers the bench" in bench.host.published["notice"]["text"] and not bench.running
    bench.receive({"do": "next"})
    assert bench.host.published["step"]["page"] is None and bench.scene.name == "pushed-conductor"
    bench.receive({"do": "previous"})
    bench.receive({"do": "scene", "name": "starting"})
    assert bench.host.published["step"]["page"] is None and bench.running
    bench.go_to(0)
    bench.receive({"do": "open", "address": "scene=pushed-conductor&current=3"})
    assert bench.host.published["step"]["page"] is None


def test_a_question_of_ones_own_waits_is_voted_on_and_answered_as_any_other(own):
    bench = LessonBench(Host(), own)
    bench.go_to(1)
    asked = bench.host.published["question"]
    assert asked["text"] == "Who was first?" and [choice["words"] for choice in asked["choices"]] == ["Ann", "Bob"]
    told = bench.host.published_to[SPEAKER]["prompt"]["answer"]
    assert asked["answer"] is None and told == {"words": "Bob", "accepted": "", "reason": "It was Bob."}
    one = Viewer(lambda text: None, (), "class", visitor="one")
    bench.host.viewers.add(one)
    bench.receive({"do": "answer", "choice": "1"}, one)
    assert bench.host.published["tally"]["answered"] == 1
    bench.receive({"do": "set", "name": "current", "value": -5})
    bench.receive({"do": "view", "name": "side"})
    assert bench.host.published["question"]["text"] == "Who was first?", "another set-up or view asks the same"
    bench.receive({"do": "next"})
    shown = bench.host.published["question"]
    assert shown["answer"] == "Bob" and shown["reason"] == "It was Bob." and bench.running
    assert bench.host.published["tally"]["counts"] == {"1": 1, "2": 0}
    bench.receive({"do": "ask", "present": True})
    assert bench.host.published["question"]["text"] != "Who was first?", "the next one is the scene's"
    bench.go_to(2)
    bench.receive({"do": "answer", "choice": "1"})
    assert bench.host.published["question"]["right"] is True and not bench.running


def test_the_speaker_has_the_minutes_planned_beside_those_taken(own):
    now = [0.0]
    bench = LessonBench(Host(), own, lambda: now[0])
    bench.begin_clock()
    now[0] = 70.0
    bench.read_out()
    assert bench.host.published_to[SPEAKER]["clock"] == {
        "runs": True, "lesson": 70, "step": 70, "lesson_planned": 150, "planned_steps": 2, "step_planned": 120,
    }  # fmt: skip
    assert bench.host.published_to[SPEAKER]["prompt"]["next"] == {"caption": "A rod", "scene": "", "asks": True}
    bench.go_to(1)
    assert bench.host.published_to[SPEAKER]["clock"]["step_planned"] == 30
    assert bench.host.published_to[SPEAKER]["prompt"]["next"] == {"caption": "One more", "scene": "", "asks": True}


def test_pages_and_own_questions_are_in_what_is_taken_home(own):
    film = record(own, 0.5)
    pages = [reel.begin["step"]["page"] for reel in film.reels]
    assert (
        pages[0]["picture"] == own.pictures["own-pictures/rotor.png"].as_address() and pages[1] is None and pages[2]["title"] == "One more"
    )
    assert film.reels[1].begin["question"]["text"] == "Who was first?" and film.reels[1].begin["question"]["answer"] is None
    for reel in film.reels[1:]:
        answered = [picture["question"] for picture in reel.pictures if "question" in picture]
        assert answered and answered[0]["answer"] in ("Bob", "yes")
    assert [step["caption"] for step in film.steps()] == ["Motors", "A rod", "One more"]


def test_pages_and_own_questions_are_in_the_notes(own, tmp_path, capsys):
    (tmp_path / "own.toml").write_text(OWN)
    assert main(["lesson", str(tmp_path / "own.toml"), "--notes"]) == 0
    assert capsys.readouterr().out.startswith(
        "A lesson\n\n1. page (2 min): Motors\n   Bring your goggles.\n   - one\n   [own-pictures/rotor.png] A rotor\n\n"
        "2. pushed-conductor (asks) (0.5 min): A rod\n   Question: Who was first?\n       Ann\n     * Bob\n   It was Bob.\n\n"
    )
    notes = "[[step]]\ntitle = 'A'\ntext = 'On the page.'\nnotes = 'Say: good morning.'\n"
    (tmp_path / "noted.toml").write_text(notes)
    assert main(["lesson", str(tmp_path / "noted.toml"), "--notes"]) == 0
    assert "On the page.\n   Notes:\n   Say: good morning." in capsys.readouterr().out


def test_a_lesson_that_the_version_before_wrote_still_opens():
    text = (Path(__file__).parent / "version_1.toml").read_text("utf-8")
    assert "version" not in tomllib.loads(text) and VERSION == 2
    lesson = read(text, "old.toml")
    assert len(lesson.steps) == text.count("\n[[step]]\n") > 60 and lesson.title == "Why a motor turns"
    assert tomllib.loads(built_in())["version"] == VERSION


@pytest.mark.parametrize(
    ("version", "said"), [("3", "format 3, of a later Thumbwise; this one reads up to 2"), ("0", "version takes"), ('"2"', "version takes")]
)
def test_a_lesson_of_a_later_version_is_told(version, said):
    with pytest.raises(ValueError, match=said):
        read(f"version = {version}\n{OWN}", "m.toml")


def test_a_page_shows_at_once_what_is_written_on_it(desk):
    desk.does("arrange", number=desk.here, how="show")
    desk.does("change", number=desk.here, name="text", value="Stored charge first.")
    desk.bench.show_state()
    assert desk.bench.host.published["step"]["page"]["text"] == "Stored charge first."
