"""Answers drawn in the picture, through a camera of the test's own: what is drawn along a vector is that vector, from every view."""

from __future__ import annotations

import itertools
import math

import pytest

from scenes import catalogue
from scenes.bench.bench import Bench
from scenes.questions.kinds import about, draw, kind_of
from scenes.scene.drawn_arrow import DrawnArrow
from scenes.scene.question import Question
from tests import oracle
from tests.scenes.questions.drawn import scene
from visual.host.server import Host

DRAWN = [(each.name, kind.name) for each in catalogue.LESSON for kind in each.kinds if kind.answered == "drawn"]
FAR = 0.6  # m from the eye to the foot


def frame(view):
    """Right, up and forward of a camera."""
    forward = oracle.unit(view.forward)
    right = oracle.unit(oracle.cross(forward, view.up))
    return right, oracle.cross(right, forward), forward


def sights(view, at, by, aside=(0.02, -0.015)):
    """Lines of sight through a foot, which is a little off the middle of the picture, and through a tip that is moved on the screen."""
    right, up, forward = frame(view)

    def through(x, y):
        return tuple(f + x * r + y * u for f, r, u in zip(forward, right, up, strict=True))

    return through(*aside), through(aside[0] + by[0], aside[1] + by[1])


def on_screen(view, vector, aside=(0.02, -0.015)):
    """Where the tip of a vector of 0.05 m comes to lie on the screen, from its foot, by a camera `FAR` away."""
    right, up, forward = frame(view)
    v = [0.05 * part for part in oracle.unit(vector)]
    foot = [FAR * (f + aside[0] * r + aside[1] * u) for f, r, u in zip(forward, right, up, strict=True)]
    tip = [a + b for a, b in zip(foot, v, strict=True)]
    deep = oracle.dot(tip, forward)
    return oracle.dot(tip, right) / deep - aside[0], oracle.dot(tip, up) / deep - aside[1]


def turned(by, degrees):
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return c * by[0] - s * by[1], s * by[0] + c * by[1]


def test_there_are_arrows_to_be_drawn_in_five_scenes():
    assert {name for name, _ in DRAWN} >= {
        "pushed-conductor", "moved-conductor", "field-round-a-wire", "two-wires", "turning-field"
    }  # fmt: skip


@pytest.mark.parametrize(("name", "kind"), DRAWN)
def test_an_arrow_along_a_vector_is_taken_for_that_vector_and_judged(name, kind):
    """In every ready view; in the first one each choice can be drawn."""
    of = scene(name)
    drawn = draw(of, kind_of(of, kind), 3)
    for view in of.views:
        question = drawn.question(of, view)
        vectors = dict(question.arrow.vectors)
        assert question.answer in vectors or question.words_of(question.answer).startswith(("it is not", "there is no"))
        for value in vectors.keys() & dict(question.choices).keys():
            by = on_screen(view, vectors[value])
            apart = [
                abs(math.remainder(math.atan2(*on_screen(view, other)[::-1]) - math.atan2(*by[::-1]), 2 * math.pi))
                for key, other in vectors.items()
                if key != value and key in dict(question.choices)
            ]
            told = min(apart) > math.radians(25) and math.hypot(*by) > 0.3 * 0.05 / FAR
            assert told or view is not of.views[0], (view.name, value)
            if told:
                for askew in (-10, 0, 10):
                    assert question.drawn_as(*sights(view, question.arrow.at, turned(by, askew))) == value
                assert question.is_right(question.drawn_as(*sights(view, question.arrow.at, by))) is (value == question.answer)


STRAIGHT = next(view for view in scene("turning-field").views if view.name == "drive-end")
FOUR = DrawnArrow("F", (0, 0, 0), (("right", (1, 0, 0)), ("up", (0, 3, 0)), ("left", (-2, 0, 0)), ("end-on", STRAIGHT.forward)))


def test_between_two_both_are_meant_and_along_none_none():
    right, up = on_screen(STRAIGHT, (1, 0, 0)), on_screen(STRAIGHT, (0, 1, 0))
    halfway = [a / math.hypot(*right) + b / math.hypot(*up) for a, b in zip(right, up, strict=True)]
    near = FOUR.meant(*sights(STRAIGHT, (0, 0, 0), turned(right, 12)))
    assert near == ["right"] and FOUR.meant(*sights(STRAIGHT, (0, 0, 0), turned(right, -60))) == []
    thirty = DrawnArrow("B", (0, 0, 0), (("1", (1, 0, 0)), ("2", (math.cos(0.9), math.sin(0.9), 0))))
    assert thirty.meant(*sights(STRAIGHT, (0, 0, 0), turned(on_screen(STRAIGHT, (1, 0, 0)), 25.8))) == ["1", "2"]
    assert FOUR.meant(*sights(STRAIGHT, (0, 0, 0), halfway)) == []


@pytest.mark.parametrize("way", [1, -1])
def test_a_vector_seen_end_on_is_not_meant_by_the_bit_of_it_that_shows(way):
    """Beside the middle of the picture one along the view shows a little, outward or inward; 37 degrees off the nearest other."""
    assert FOUR.meant(*sights(STRAIGHT, (0, 0, 0), (0.02 * way, -0.015 * way))) == []


def test_an_arrow_between_two_answers_is_asked_back():
    arrow = DrawnArrow("B", (0, 0, 0), (("one", (1, 0, 0)), ("two", (math.cos(0.9), math.sin(0.9), 0))))
    question = Question("Which?", (("one", "the first"), ("two", "the second")), "one", "So it is.", arrow=arrow)
    right = on_screen(STRAIGHT, (1, 0, 0))
    with pytest.raises(ValueError, match="may mean the first or the second"):
        question.drawn_as(*sights(STRAIGHT, (0, 0, 0), turned(right, 25.8)))
    assert question.drawn_as(*sights(STRAIGHT, (0, 0, 0), turned(right, 15))) == "one"


def test_a_slip_of_the_finger_is_no_arrow():
    for foot, tip in itertools.product([(0, 0, -1.0), (0, 0, 0)], [(1e-5, 0, -1.0), (0, 0, -1.0), (0, 0, 0)]):
        with pytest.raises(ValueError, match="too short: draw it longer"):
            FOUR.meant(foot, tip)


@pytest.fixture(scope="module")
def bench():
    return Bench(Host(), "pushed-conductor", may_wait=True)


def drawing(bench, vector) -> dict:
    """The message of a page on which that vector is drawn."""
    foot, tip = sights(bench.scene.eye, bench.prediction.posed.arrow.at, on_screen(bench.scene.eye, vector))
    return {"do": "draw", **dict(zip(("x", "y", "z", "to_x", "to_y", "to_z"), (*foot, *tip), strict=True))}


def test_on_the_bench_the_force_is_drawn_and_judged_by_the_tests_own_cross_product(bench):
    for field, current in itertools.product(("up", "down"), (-10.0, 10.0)):
        bench.receive({"do": "enough"})
        for name, value in (("field", field), ("current", current), ("tilt", 0.0)):
            bench.receive({"do": "set", "name": name, "value": value})
        bench.receive({"do": "ask", "present": True})
        assert bench.host.published["question"]["answered"] == "drawn"
        assert bench.host.published["question"]["arrow"]["letter"] == "F"
        force = oracle.force_on((0, 0, current), (0, 1 if field == "up" else -1, 0))
        wrong = tuple(-part for part in force)
        vector = force if field == "up" else wrong
        bench.receive(drawing(bench, vector))
        assert bench.host.published["question"]["right"] is (vector is force)
        assert bench.host.published["question"]["arrow"] is None


def test_what_is_no_answer_is_told_and_the_question_goes_on_waiting(bench):
    bench.receive({"do": "enough"})
    bench.receive({"do": "ask", "present": True})
    oblique = drawing(bench, (1, 1, 0))
    bench.receive(oblique)
    assert "That arrow lies along none of the answers" in bench.host.published["notice"]["text"] and bench.prediction.waiting
    bench.receive(oblique | {"to_x": oblique["x"], "to_y": oblique["y"], "to_z": oblique["z"]})
    assert "too short" in bench.host.published["notice"]["text"] and bench.prediction.waiting
    bench.receive(oblique | {"x": 1e308, "y": -1e308})
    assert bench.prediction.waiting
    bench.receive({"do": "ask", "seed": 3, "kind": "figure"})
    bench.receive(oblique)
    assert "not answered with an arrow" in bench.host.published["notice"]["text"] and bench.prediction.waiting


def test_where_the_picture_is_covered_nothing_is_drawn():
    covered = scene("field-round-a-wire")
    question = about(covered, kind_of(covered, "place"), covered.settings | {"switch": True, "current": 20.0}).question(covered)
    assert question.arrow is None


def test_round_a_wire_the_place_that_is_asked_about_does_not_lie_behind_the_wire():
    """By the test's own line from the place toward the eye: at no point does it come nearer to the wire, upright through the middle, than
    a hand round it is thick, 25 mm."""
    of = scene("field-round-a-wire")
    places = set()
    for seed in range(1, 60):
        put = draw(of, kind_of(of, "forward"), seed)
        view = next(each for each in of.views if each.name == put.view)
        x, _, z = put.question(of).arrow.at
        toward = [-part for part in oracle.unit(view.forward)]
        flat = math.hypot(toward[0], toward[2])
        along = max(0.0, -(x * toward[0] + z * toward[2]) / flat**2)
        assert math.hypot(x + along * toward[0], z + along * toward[2]) > 0.025, (seed, put.settings["compass"])
        places.add(put.settings["compass"])
    assert len(places) == 3
