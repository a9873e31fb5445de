"""On the bench a question of a kind hides what it asks for, in settings, figures, address and picture, until it is answered."""

from __future__ import annotations

import re
from urllib.parse import parse_qs

import pytest

from scenes import catalogue
from scenes.bench.bench import Bench
from scenes.marked.questions import Asked
from scenes.questions.kinds import draw, kind_of
from visual.host.server import Host


@pytest.fixture(scope="module")
def benches():
    """A bench for each scene, made once."""
    made: dict[str, Bench] = {}

    def bench(name: str) -> Bench:
        if name not in made:
            made[name] = Bench(Host(), name, may_wait=True)
        made[name].receive({"do": "enough"})
        return made[name]

    return bench


@pytest.mark.parametrize(("name", "kind", "control", "shown"), [
    ("pushed-conductor", "current", "current", 0.0), ("two-wires", "current", "other", 0.0), ("alternator", "direction", "speed", 0.0),
])  # fmt: skip
def test_what_is_asked_for_is_not_there_until_it_is_answered(benches, name, kind, control, shown):
    bench = benches(name)
    bench.receive({"do": "ask", "seed": 3, "kind": kind})
    truth = draw(bench.scene, kind_of(bench.scene, kind), 3).settings[control]
    published = bench.host.published
    assert truth != shown and published["settings"][control] == shown and published["question"]["kind"] == kind
    assert parse_qs(published["address"])[control] == [f"{shown:g}"] and not published["question"]["covers"]
    assert {reading["value"] for reading in published["readings"]} == {"?"} and not any(each["formula"] for each in published["readings"])
    bench.receive({"do": "answer", "choice": bench.prediction.posed.answer})
    assert bench.host.published["settings"][control] == truth and bench.host.published["question"]["right"] is True
    assert any(reading["value"] != "?" for reading in bench.host.published["readings"])


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_no_reading_is_false_of_what_is_asked_about_and_what_the_question_tells_may_be_read(benches, papers, name):
    """Held against the figures of the set-up that is asked about, read from another bench; the trainee's page beside the instructor's."""
    bench, other = benches(name), catalogue.scene_class(name)()
    for kind in bench.scene.kinds:
        for seed in (1, 2, 3):
            bench.receive({"do": "ask", "seed": seed, "kind": kind.name})
            question, drawn = bench.prediction.posed, draw(other, kind_of(other, kind.name), seed)
            other.look(bench.scene.eye.name)
            other.set_all(drawn.settings)
            other.restart()
            true = {(each.symbol, each.words, each.value, each.unit) for each in other.readings(reveals_answer=False)}
            told = papers.paper(Asked(name, kind.name, seed)).told["readings"]
            for reading in (*bench.host.published["readings"], *told):
                said = tuple(reading[part] for part in ("symbol", "words", "value", "unit"))
                if reading["value"] != "?":
                    assert said in true, (kind.name, seed, said)
                elif kind.hides:
                    assert ": " not in said[1] or said[1] in {words for _, words, *_ in true}, said
            for reading in bench.host.published["readings"]:
                if reading["value"] != "?":
                    assert f"{reading['value']} {reading['unit']}" in question.text and f"{reading['value']} " not in question.answer


def test_the_speed_that_a_question_tells_may_be_read(benches):
    bench = benches("alternator")
    bench.receive({"do": "ask", "seed": 4, "kind": "figure"})
    told = re.search(r"turns at (\d+) r/min", bench.prediction.posed.text)[1]
    values = {each["symbol"]: each["value"] for each in bench.host.published["readings"]}
    assert values["n"] == told and values["f"] == "?" == values["E"]
    bench.receive({"do": "ask", "seed": 4, "kind": "direction"})
    (speed,) = [each for each in bench.host.published["readings"] if each["symbol"] == "n"]
    assert speed["value"] == "?" and speed["words"] == "speed"


def test_where_the_picture_itself_would_tell_it_is_covered(benches):
    bench = benches("alternator")
    bench.receive({"do": "ask", "seed": 2, "kind": "poles"})
    assert bench.host.published["question"]["covers"] is True
    bench.receive({"do": "answer", "choice": bench.prediction.posed.answer})
    assert bench.host.published["question"]["covers"] is False
    bench.receive({"do": "ask", "seed": 2})
    assert bench.host.published["question"]["covers"] is False and bench.host.published["question"]["kind"] == "forward"


def test_the_address_brings_the_same_question_of_the_same_kind(benches):
    bench, other = benches("turning-field"), benches("alternator")
    bench.receive({"do": "ask", "seed": 7, "kind": "figure"})
    address, text = bench.host.published["address"], bench.host.published["question"]["text"]
    other.receive({"do": "open", "address": address})
    assert other.host.published["question"]["text"] == text and other.host.published["address"] == address
    before = other.prediction.posed
    other.receive({"do": "open", "address": address})
    assert other.prediction.posed is before, "it is not put again"
    other.receive({"do": "open", "address": address.replace("kind=figure", "kind=figures")})
    assert "no kind of question 'figures'" in other.host.published["notice"]["text"]


def test_a_figure_is_typed_and_what_is_none_is_told_and_can_be_corrected(benches):
    bench = benches("turning-field")
    bench.receive({"do": "ask", "seed": 7, "kind": "figure"})
    assert bench.host.published["question"]["answered"] == "typed" and bench.host.published["question"]["choices"] == []
    bench.receive({"do": "answer", "choice": "fast"})
    assert "is not a figure" in bench.host.published["notice"]["text"] and bench.prediction.waiting
    size = bench.prediction.posed.figure.size
    bench.receive({"do": "answer", "choice": f"{size / 2:g} rpm"})
    said = bench.host.published["question"]
    assert said["right"] is False and said["reason"].startswith(f"Why not \u201c{size / 2:g} r") and said["answer"] == f"{size:g} r/min"


def test_a_control_that_is_moved_meanwhile_changes_the_question_and_what_is_hidden_stays_so(benches):
    bench = benches("pushed-conductor")
    bench.receive({"do": "ask", "seed": 3, "kind": "current"})
    before = bench.prediction.posed
    field = "down" if bench.scene["field"] == "up" else "up"
    bench.receive({"do": "set", "name": "field", "value": field})
    after = bench.prediction.posed
    assert after.answer == before.answer and after.text != before.text and bench.host.published["settings"]["current"] == 0.0


def test_of_things_that_are_pressed_each_by_itself_answers(benches):
    bench = benches("laying-the-winding")
    bench.receive({"do": "ask", "seed": 4, "kind": "slot"})
    picks = {pick["name"]: pick for pick in bench.host.published["picks"]}
    values = [choice["value"] for choice in bench.host.published["question"]["choices"]]
    assert all(picks[value]["alone"] for value in values)
    bench.receive({"do": "press", "name": bench.prediction.posed.answer})
    assert bench.host.published["question"]["right"] is True
    assert not any(pick["alone"] for pick in bench.host.published["picks"] if pick["name"].startswith("slot"))


def test_a_class_may_not_answer_a_figure(benches):
    bench = benches("turning-field")
    bench.receive({"do": "ask", "seed": 7, "kind": "figure"})
    with pytest.raises(ValueError, match="answered with a figure, at the bench"):
        bench.tally.take(bench.prediction, "someone", "1.2.3.4", "750 r/min")
