"""The terminal board on paper stands as the one in the workshop: each link of delta joins a stud with the one right below it."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest

from visual.paper.circuits import board

# W2 over U1, U2 over V1, V2 over W1: then three upright bars close the delta, three lying ones of the upper row the star.
# Common practice, no source; that delta joins U1 with W2, V1 with U2, W1 with V2 follows from the windings alone.
UPRIGHT = (("U1", "W2"), ("V1", "U2"), ("W1", "V2"))


def lettered(svg: str) -> dict[str, tuple[float, float]]:
    """Where the studs' letters stand, mm, down from the top."""
    found = re.findall(r'<text x="([-\d.]+)" y="([-\d.]+)"[^>]*>([UVW][12])<', svg)
    return {letters: (float(x), float(y)) for x, y, letters in found}


def test_each_winding_ends_over_the_one_that_delta_joins_it_with():
    places = lettered(board((), {}, "").svg())
    assert len(places) == 6
    for below, above in UPRIGHT:
        (x, y), (also, higher) = places[below], places[above]
        assert x == pytest.approx(also) and higher < y
    assert [places[begin][0] for begin in ("U1", "V1", "W1")] == sorted(places[begin][0] for begin in ("U1", "V1", "W1"))


def test_the_links_of_star_lie_and_those_of_delta_stand():
    def ends(links) -> list[list[tuple[float, float]]]:
        drawn = re.findall(r'<g[^>]*link[^>]*><polyline points="([^"]+)"', board(links, {}, "").svg())
        return [[(float(x), float(y)) for x, y in (point.split(",") for point in points.split())] for points in drawn]

    lying, standing = ends((("W2", "U2"), ("U2", "V2"))), ends(UPRIGHT)
    assert len(lying) == 2 and all(a[1] == b[1] for link in lying for a, b in pairwise(link))
    assert len(standing) == 3 and all(a[0] == b[0] for link in standing for a, b in pairwise(link))
