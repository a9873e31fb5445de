"""Colours tell nothing that letters, signs or broken lines do not: what two colour-blind eyes see is worked out, and where two
things come near each other, something else has to tell them apart.

The matrices are those of Machado, Oliveira and Fernandes, "A Physiologically-based Model for Simulation of Color Vision
Deficiency" (IEEE TVCG 15, 2009), severity 1.0, on linear light (quoted from memory; rows sum to 1, which is checked). Distances
are CIE 1976 L*a*b*, D65; two arrows less than 25 apart are counted as alike.
"""

from __future__ import annotations

import re
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest

from scenes import catalogue
from scenes.scene import phases
from visual import palette

PROTANOPIA = np.array([[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]])
DEUTERANOPIA = np.array([[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]])
ALIKE = 25.0
PAGE = Path(__file__).parents[3] / "visual" / "page"


def lab(linear) -> np.ndarray:
    """CIE L*a*b* of linear red-green-blue (IEC 61966-2-1's primaries, D65)."""
    to_xyz = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
    share = to_xyz @ np.clip(linear, 0, 1) / (to_xyz @ np.ones(3))
    f = np.where(share > (6 / 29) ** 3, np.cbrt(share), share * (29 / 6) ** 2 / 3 + 4 / 29)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


def linear(hexadecimal: str) -> np.ndarray:
    parts = np.array(palette.rgb(hexadecimal))
    return np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)


def distance(one: str, other: str) -> float:
    """How far two colours are apart for the eye that tells them apart worst."""
    return min(float(np.linalg.norm(lab(eye @ linear(one)) - lab(eye @ linear(other)))) for eye in (PROTANOPIA, DEUTERANOPIA))


def test_the_eyes_see_grey_as_grey_and_take_red_and_green_for_each_other():
    for eye in (PROTANOPIA, DEUTERANOPIA):
        assert eye.sum(axis=1) == pytest.approx(np.ones(3), abs=1e-5)
    as_all_see = float(np.linalg.norm(lab(linear("#c77700")) - lab(linear("#7f8520"))))
    assert distance("#c77700", "#7f8520") < 5 < 20 < as_all_see


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_arrows_that_look_alike_carry_other_letters(name):
    arrows = catalogue.scene_class(name).arrows
    for one, other in combinations(arrows, 2):
        if distance(one.colour, other.colour) < ALIKE:
            assert one.letter != other.letter, (one, other)
    assert len({arrow.letter for arrow in arrows}) == len(arrows)


def test_what_a_bench_calls_phases_is_written_beside_the_colours():
    some = [pair for region in phases.REGIONS.values() for pair in combinations(region.hexes, 2) if distance(*pair) < ALIKE]
    assert len(set(phases.LINES)) == len(set(phases.TERMINALS)) == 3
    assert len(some) <= 2, some  # the letters are needed here, and the scenes' own tests see them stand at the belts


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_curves_that_look_alike_are_broken_otherwise(name):
    scene = catalogue.scene_class(name)()
    plot = scene.plot()
    named = [line.name for line in plot.lines if line.name] if plot else []
    charted = [series for series, _ in scene.chart.series] if scene.chart else []
    ways = re.search(r"return \[(\[.*\])\]\[place % (\d+)\]", (PAGE / "panels" / "plotly.js").read_text("utf-8"))
    patterns = re.findall(r"\[[\d, ]*\]", ways[1])
    assert len(patterns) == len(set(patterns)) == int(ways[2])
    assert max(len(named), len(charted)) <= len(patterns)
    assert len(set(named)) == len(named) and len(set(charted)) == len(charted)
