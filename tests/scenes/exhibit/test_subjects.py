"""What fills the screen at a stop: all that has a letter there, upright enough for an upright screen, its directions in the same words."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from scenes.exhibit.exhibit import ExhibitBench
from scenes.exhibit.tour import TourStop
from scenes.exhibit.tours import full_loop
from tests.oracle import flattened, seen
from tests.scenes.exhibit.awake import AWAKE, OPEN_DAY, SHORT
from visual.host.server import Host
from visual.machines.commutator.connections import METER, SOURCE
from visual.machines.commutator.shapes import METER_AT, SOURCE_AT
from visual.solid.told import told

AXES = [(1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0), (0, 0, 1), (0, 0, -1)]
FLATTEST = 0.75  # so high for its width is what fills an upright screen, at least
BESIDE = 0.01  # m: a letter may stand so far outside what fills the screen, whose margin is wider


def corners(boxes):
    return [(x, y, z) for low, high in boxes for x in (low[0], high[0]) for y in (low[1], high[1]) for z in (low[2], high[2])]


def extent(boxes, forward):
    """Left, right, bottom and top as they are seen along `forward` from far away, metres."""
    across, upward = zip(*(flattened(corner, forward) for corner in corners(boxes)), strict=True)
    return min(across), max(across), min(upward), max(upward)


@pytest.mark.parametrize("name", ["short_tour", "open_day"])
def test_each_stop_fills_the_screen_with_what_it_is_about(name):
    tour = AWAKE[name]
    bench = ExhibitBench(Host(), tour)
    for place in range(-1, len(tour.stops)):
        bench.go_to(place)
        bench.frame(0.1)
        lying = bench.host.published["view"]
        upright = lying["upright"] or lying
        assert [seen(axis, upright["forward"]) for axis in AXES] == [seen(axis, lying["forward"]) for axis in AXES]
        for view in (lying, upright):
            left, right, bottom, top = extent(view["subject"], view["forward"])
            letters = told(bench.scene.drawn).letters
            for wanted in bench.stop.letters:
                places = [flattened(at, view["forward"]) for text, at, _ in letters if text == wanted]
                assert any(left - BESIDE < x < right + BESIDE and bottom - BESIDE < y < top + BESIDE for x, y in places), wanted
        assert (top - bottom) / (right - left) > FLATTEST, bench.stop.caption
        assert hands_shown(bench) == [], "nobody explains it"
        bench.scene.hold_out_hands(True)
        for hand in hands_shown(bench):
            for box in lying["subject"]:
                assert not all(low < part < high for low, part, high in zip(box[0], hand, box[1], strict=True)), "room is kept for it"


def test_meter_and_battery_of_the_drill_are_seen_whole():
    bench = ExhibitBench(Host(), SHORT)
    bench.go_to(next(place for place, stop in enumerate(bench.tour.stops) if stop.drives == "drill"))
    bench.frame(0.1)
    lying = bench.host.published["view"]
    for view in (lying, lying["upright"]):
        left, right, bottom, top = extent(view["subject"], view["forward"])
        for (x, y, z), half in ((METER_AT, METER / 2), (SOURCE_AT, SOURCE / 2)):
            for across, upward in (flattened((x + side * half, y, z), view["forward"]) for side in (-1, 1)):
                assert left - BESIDE < across < right + BESIDE and bottom < upward < top, (x, y, z)


def hands_shown(bench) -> list:
    """Where hands stand in the picture over a second of it: at the moment when there are most."""
    most: list = []
    for _ in range(8):
        bench.scene.step(0.15 / bench.scene.slowness)
        bench.scene.draw(bench.reveals_answer)
        most = max(most, [hand.at for hand in told(bench.scene.drawn).hands], key=len)
    return most


@pytest.mark.parametrize("name", ["pushed-conductor", "two-wires", "moved-conductor", "coils-and-commutator", "alternator", "cage-rotor"])
def test_in_the_full_loop_a_hand_is_held_out_where_it_is_spoken_of_and_nowhere_else(name):
    tour = full_loop(TourStop("", scene="alternator"))
    bench = ExhibitBench(Host(), replace(tour, stops=[stop for stop in tour.stops if stop.scene == name]))
    for place, stop in enumerate(bench.tour.stops[:-1]):
        bench.go_to(place)
        spoken_of = re.search(r"(left|right) hand ", stop.caption) is not None
        assert len(hands_shown(bench)) == spoken_of, stop.caption
        assert not spoken_of or bench.host.published["view"]["letters"] == ("hand",)


def test_a_hand_comes_with_the_answer_that_speaks_of_it():
    bench = ExhibitBench(Host(), full_loop(TourStop("", scene="pushed-conductor")))
    bench.go_to(next(place for place, stop in enumerate(bench.tour.stops) if stop.scene == "pushed-conductor"))
    bench.scene.set("switch", True)
    bench.ask_present()
    bench.answer(bench.prediction.question.answer)
    bench.read_out()
    assert "hand" in bench.host.published["exhibit"]["caption"] and len(hands_shown(bench)) == 1


def test_no_hand_comes_with_an_answer_in_the_words_of_the_tour():
    bench = ExhibitBench(Host(), OPEN_DAY)
    bench.go_to(next(place for place, stop in enumerate(bench.tour.stops) if any(each.answers for each in stop.tries)))
    bench.receive({"do": "try", "number": 0})
    bench.receive({"do": "answer", "choice": bench.prediction.question.answer})
    assert not bench.prediction.waiting
    assert hands_shown(bench) == []


@pytest.mark.parametrize("name", ["short_tour", "open_day"])
def test_no_arrow_at_the_alternators_coil_passes_for_the_magnets_motion(name):
    bench = ExhibitBench(Host(), AWAKE[name])
    places = [place for place in range(-1, len(bench.tour.stops)) if (bench.go_to(place), bench.stop.scene)[1] == "alternator"]
    for place in places:
        bench.go_to(place)
        bench.frame(0.1)
        assert told(bench.scene.drawn).arrows == []
    assert places
    bench.scene.hold_out_hands(True)
    bench.scene.draw(bench.reveals_answer)
    assert len(told(bench.scene.drawn).arrows) == 2, "with the hand they are there"
