"""A plot on paper: the names under it stand clear of each other, however narrow it is."""

from __future__ import annotations

import xml.etree.ElementTree as xml

import pytest

from scenes import catalogue
from scenes.scene.described import described_plot
from visual.paper.plots import plotted, rows_of_legend

LETTER = 1.25  # mm, of letters 2.5 mm high in the usual upright sans serif, on the average of a name
SPACE = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("width", [48, 64, 84, 116, 180])
def test_no_name_of_a_curve_runs_into_the_next(width):
    looked_at = 0
    for name in catalogue.NAMES:
        scene = catalogue.scene_class(name)()
        plot = scene.plot()
        if plot is None:
            continue
        plot = described_plot(plot)
        names = [line["name"] for line in plot["lines"] if line["name"]]
        svg = xml.fromstring(plotted(plot, (), width, 42.0))
        legend = [text for text in svg.iter(f"{SPACE}text") if text.text in names and text.get("text-anchor") == "start"]
        rows: dict[float, list] = {}
        for text in legend:
            rows.setdefault(float(text.get("y")), []).append((float(text.get("x")), text.text))
        assert len(rows) == rows_of_legend(plot, width), name
        for row in rows.values():
            begins = [x for x, _ in sorted(row)]
            for (x, words), following in zip(sorted(row), [*begins[1:], width + 11.0], strict=True):
                assert x + LETTER * len(words) <= following - 11.0 + 1 or len(row) == 1, (name, words)  # its line begins 11 mm before
        looked_at += len(legend) > 1
    assert looked_at >= 5
