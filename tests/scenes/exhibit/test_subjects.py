"""What fills the screen at a stop: all that has a letter there, not too flat for an upright screen, seen so that directions keep their words."""

from __future__ import annotations

import pytest

from scenes.exhibit import tour_file
from scenes.exhibit.exhibit import ExhibitBench
from tests.oracle import flattened, seen
from visual.host.server import Host
from visual.solid.told import told

AXES = [(1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0), (0, 0, 1), (0, 0, -1)]
FLATTEST = 0.65  # so high for its width is what fills an upright screen, at least
BESIDE = 0.01  # m: a letter may stand so far outside what fills the screen, whose margin is wider


def corners(boxes):
    return [(x, y, z) for low, high in boxes for x in (low[0], high[0]) for y in (low[1], high[1]) for z in (low[2], high[2])]


def extent(boxes, forward):
    """Left, right, bottom and top as they are seen along `forward` from far away, metres."""
    across, upward = zip(*(flattened(corner, forward) for corner in corners(boxes)), strict=True)
    return min(across), max(across), min(upward), max(upward)


@pytest.mark.parametrize("name", ["short_tour", "open_day"])
def test_each_stop_fills_the_screen_with_what_it_is_about(name):
    tour = tour_file.read(tour_file.built_in(name), name)
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
        assert told(bench.scene.drawn).hands == [], "nobody explains it"
