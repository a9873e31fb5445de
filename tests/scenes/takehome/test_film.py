"""What is recorded of a lesson is what a page on the bench would be sent, and each step can be shown without those before it."""

from __future__ import annotations

import base64
import gzip
import json
import math
import re
from collections import Counter

import pytest

from scenes.__main__ import main
from scenes.commands.outputs.takehome import chosen
from scenes.lesson.lesson import Lesson, Step
from scenes.lesson.lesson_bench import LessonBench
from scenes.takehome.film import RATE, record
from visual.host.server import Host
from visual.host.viewers import Viewer


@pytest.fixture(scope="module")
def made_once():
    """Not here: what is made, and for whom, is looked at."""


STEPS = (
    Step("field-round-a-wire", {"current": 8.0}, caption="A current makes a field."),
    Step("pushed-conductor", {"current": 6.0}, caption="Which way?", question=True),
    Step("field-round-a-wire", {"current": -8.0}, caption="Reversed.", hold=True),
    Step("pushed-conductor", {"current": -6.0}, caption="And reversed.", view="side"),
)
SECONDS = 1.0
PLACE = re.compile(r"^a(\d+)\D")  # of an attribute: the object's number and a sign for what of it, before the value


def sent_live(place: int, pictures: int) -> dict:
    """Everything that a page opened at that step has been told after so many pictures, by a bench of its own."""
    host = Host()
    told: dict = {}
    bench = LessonBench(host, Lesson("A lesson", STEPS))
    for before in range(place + 1):
        bench.go_to(before)
        if STEPS[before].question:
            bench.reveal()
            bench.show_state()
        bench.running = True
        for _ in range(round(SECONDS * RATE) if before < place else pictures):
            bench.frame(1 / RATE)
    texts: list = []
    host.viewers.add(Viewer(texts.append, host.heard_by("class"), "class"))
    host.flush()
    for text in texts:
        told |= json.loads(text)
    return told


@pytest.fixture(scope="module")
def film():
    return record(Lesson("A lesson", STEPS), SECONDS)


def shown(film, place: int, pictures: int) -> tuple[dict, dict[str, str]]:
    """What is told, and every attribute, after so many pictures of a step of the film, begun with nothing but the shapes."""
    reel = film.reels[place]
    told, attributes = dict(reel.begin), {}
    for message in (reel.begin, *reel.pictures[:pictures]):
        told |= message
        for text in message.get("stream", {}).get("attrs", ()):
            attributes[PLACE.match(text)[0]] = text
    return told, attributes


@pytest.mark.parametrize("place, pictures", [(0, 0), (0, 7), (1, 12), (2, 5), (3, 9)])
def test_a_step_shows_what_a_bench_would_show_then(film, place, pictures):
    told, attributes = shown(film, place, pictures)
    live = sent_live(place, pictures)
    assert {key: told[key] for key in ("scene", "settings", "view", "says", "step")} == {
        key: live[key] for key in ("scene", "settings", "view", "says", "step")
    }
    if pictures % 3 == 0:  # they are read out every third picture
        assert told["readings"] == live["readings"]
    # the same things have other numbers on another bench: held together is what follows the number
    away = {PLACE.match(text)[1] for text in live["stream"]["attrs"] if text.endswith("t0")}
    seen = [text for text in live["stream"]["attrs"] if PLACE.match(text)[1] not in away]
    ours, theirs = (Counter(re.sub(r"^a\d+", "", text) for text in texts) for texts in (attributes.values(), seen))
    assert len(seen) > 50 and theirs - ours == Counter()


def test_a_start_is_worked_out_before_it_is_shown():
    reel = record(Lesson("A lesson", (Step("starting", {"method": "star-delta"}, caption="Started."),)), 0.5).reels[0]
    for message in (reel.begin, *reel.pictures):
        assert "worked out" not in message.get("says", "") and message.get("plot", reel.begin["plot"])["lines"]


def test_things_of_another_scene_are_hidden_and_those_of_this_one_told_whole(film):
    made = {number: {int(PLACE.match(text)[1]) for text in film.reels[number].hides} for number in (0, 1)}
    assert not film.reels[2].shapes and not film.reels[3].shapes, "they were made before"
    assert [reel.scene for reel in film.reels] == [0, 1, 0, 1]
    for number in (0, 1):
        assert len(made[number]) > 20 and made[number] <= {one["idx"] for one in film.reels[number].shapes}
        later = {int(PLACE.match(text)[1]) for text in film.reels[number + 2].begin["stream"]["attrs"]}
        assert later & made[1 - number] == set()
        named = {
            PLACE.match(text)[0]
            for reel in film.reels
            if reel.scene == number
            for message in reel.pictures
            for text in message.get("stream", {}).get("attrs", ())
        }
        for reel in film.reels:
            if reel.scene == number:
                assert named <= {PLACE.match(text)[0] for text in reel.begin["stream"]["attrs"]}, "or another step's would stay"


def test_a_question_waits_without_its_answer_which_comes_with_the_next_picture(film):
    begin, first = film.reels[1].begin, film.reels[1].pictures[0]
    assert begin["question"]["answer"] is None and begin["question"]["reason"] is None
    assert "?" in [reading["value"] for reading in begin["readings"]]
    assert first["question"]["answer"] in [choice["words"] for choice in begin["question"]["choices"]]
    assert "?" not in [reading["value"] for reading in first["readings"]]
    assert [step["asks"] for step in film.steps()] == [False, True, False, False]
    assert [step["holds"] for step in film.steps()] == [False, False, True, False]


def test_the_command_writes_one_file_that_asks_for_nothing_else(tmp_path, capsys):
    out = tmp_path / "home.html"
    assert main(["takehome", "pushed-conductor", "--set", "current=-7", "--seconds", "1", "--out", str(out)]) == 0
    said = capsys.readouterr().out
    text = out.read_text("utf-8")
    assert "2 steps" in said and "MB" in said
    outside = re.sub(r"<script.*?</script>|<!--.*?-->|<style>.*?</style>", "", text, flags=re.S)
    assert re.findall(r"(?:src|href)=\"(?!data:)[^\"]*\"", outside) == []
    for licence in ("Permission is hereby granted", "Redistributions in binary form", "altered from any source distribution"):
        assert licence in text.replace("\n", " "), "the licences of what it brings along"
    for carried in ("VPython", "GlowScript", "jQuery", "Plotly", "opentype.js", "glMatrix", "poly2tri", "D3"):
        assert re.search(rf"^ *{carried}\b", text, re.M), f"whose {carried} is"
    assert '<meta name="generator" content="Thumbwise, take-home file 1">' in text
    about, reel = (
        json.loads(gzip.decompress(base64.b64decode(re.search(rf'id="film-{name}">([^<]*)<', text)[1]))) for name in ("about", "reel-1")
    )
    assert about["version"] == 1 and [step["asks"] for step in about["steps"]] == [True, False]
    assert reel["begin"]["settings"]["current"] == -7.0


def words_of(film, place: int) -> dict[str, tuple[str, str]]:
    """What a step says at its end, by each reading's symbol or words: figure and formula."""
    told, _ = shown(film, place, len(film.reels[place].pictures))
    return {one["symbol"] or one["words"]: (one["value"], one["formula"]) for one in told["readings"]}


def test_what_the_instructor_set_is_in_it():
    """A nameplate, a wiring and a start, each as on the command line; the second of a scene's two steps shows it."""
    plate = {"plate": "on", "plate-power": "7.5", "plate-speed": "1455", "plate-current": "15.1", "plate-power-factor": "0.82"}
    delta = {"link-1": "U1-W2", "link-2": "V1-U2", "link-3": "W1-V2"}  # IEC 60034-8: the end of one winding to the beginning of the next
    start = {"method": "direct", "drive": "fan"}
    lessons = [
        chosen([name], list(settings.items()))
        for name, settings in (("slip-and-speed", plate), ("terminal-box", {"joined": "own", **delta}), ("starting", start))
    ]
    film = record(Lesson("Set", tuple(lesson.steps[1] for lesson in lessons)), SECONDS)
    rated = 7500 / (2 * math.pi * 1455 / 60)
    assert f"{rated:.2f} N m" in words_of(film, 0)["T"][1] and words_of(film, 0)["nₛ"][0] == "1500"
    assert words_of(film, 1)["joined"][0] == "in delta"
    assert [film.reels[1].begin["settings"][name] for name in delta] == list(delta.values())
    speeds = [
        float(one["value"])
        for message in film.reels[2].pictures
        for one in message.get("readings", ())
        if one["symbol"] == "n" and one["value"].replace(".", "").isdigit()
    ]
    assert max(speeds) > 100, "a start that takes long to work out is waited for: a film cannot be told of it later"


@pytest.mark.parametrize(
    "given",
    [
        "http://localhost:8642/?scene=pushed-conductor&current=-6&field=down&view=side",
        "?scene=pushed-conductor&current=-6&field=down&view=side#here",
        "scene=pushed-conductor&current=-6&field=down&view=side",
    ],
)
def test_an_address_of_the_bench_says_which_scene_and_how_it_stands(given):
    asked, shown = chosen([given], []).steps
    assert asked.question is True and shown.question is False
    for step in (asked, shown):
        assert (step.scene, step.view, step.settings["current"], step.settings["field"]) == ("pushed-conductor", "side", -6.0, "down")


def test_an_address_with_a_numbered_question_brings_its_set_up():
    first, again, other = (chosen([f"?scene=pushed-conductor&ask={seed}"], []).steps[0].settings for seed in (7, 7, 8))
    assert first == again != other


def test_an_address_with_a_question_of_a_kind_puts_that_question_and_shows_its_set_up():
    asked, shown = chosen(["?scene=pushed-conductor&current=0&ask=77&kind=current"], []).steps
    film = record(Lesson("One", (asked, shown)), 0.2)
    begin = film.reels[0].begin
    assert begin["question"]["kind"] == "current" and begin["settings"]["current"] == 0, "it asks for the current"
    flows = film.reels[0].pictures[0]["question"]["answer"]
    current = film.reels[1].begin["settings"]["current"]
    assert (current > 0) is (flows == "toward you") and current != 0, "the marked end is nearest the viewer"


@pytest.mark.parametrize(
    "arguments, told",
    [
        (["?scene=no-such-scene"], "no-such-scene"),
        (["?scene=pushed-conductor&curent=6"], "did you mean current?"),
        (["?scene=pushed-conductor&view=moon"], "is seen from"),
        (["?scene=pushed-conductor&ask=0"], "from 1 to 9999"),
        (["no-such-scene"], "no-such-scene"),
        (["pushed-conductor", "lesson.toml"], "lesson.toml"),
        (["pushed-conductor", "cage-rotor", "--set", "current=1"], "one scene"),
        (["--set", "current=1"], "one scene"),
        (["pushed-conductor", "--set", "current=900"], "from -20 to 20"),
        (["pushed-conductor", "--seconds", "0"], "seconds"),
    ],
)
def test_wrong_input_is_told_in_a_sentence_and_writes_nothing(tmp_path, capsys, arguments, told):
    out = tmp_path / "home.html"
    assert main(["takehome", *arguments, "--out", str(out)]) == 2
    said = capsys.readouterr().err
    assert told in said and said.count("\n") == 1
    assert not out.exists()
