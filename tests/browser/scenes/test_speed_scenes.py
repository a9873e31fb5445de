"""Slip and speed, changing speed, starting in a real browser: fields, hands, laps and columns as physics has them."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest

from scenes.drives.changing_speed.picture import lines_on_phases, name_of
from scenes.drives.changing_speed.scene import ChangingSpeed
from scenes.drives.slip_and_speed.scene import SlipAndSpeed
from scenes.drives.starting.motors import RATED_CURRENT, SYNCHRONOUS
from scenes.drives.starting.scene import Starting
from scenes.drives.starting.starters import WORDS
from scenes.drives.starting.worked_out import work_out
from scenes.scene.phases import REGIONS

DIRECTION = 2e-4


def unit(vector):
    return np.asarray(vector, float) / np.linalg.norm(vector)


@pytest.mark.parametrize("seed", range(4))
def test_the_field_of_each_connection_is_drawn_where_its_winding_has_it(page, seed):
    dice = random.Random(seed)
    scene = ChangingSpeed()
    settings = {
        "method": dice.choice(("inverter", "one-tapped-winding", "two-windings")),
        "frequency": float(dice.randint(10, 100)),
        "tapped": dice.choice("24"),
        "joined": dice.choice(("2", "4", "6", "12")),
        "load": 20.0,
        "lines": dice.choice(("L1-L2-L3", "L2-L1-L3")),
    }
    scene.set_all(settings)
    scene.restart()
    page.set_up(scene.name, settings)
    name, poles = name_of(scene.setup), scene.setup.poles
    arrow = page.drawn(f"speed-field-{poles}")
    assert arrow["visible"]
    assert unit(arrow["axis"]) == pytest.approx([math.cos(scene.now.peak), math.sin(scene.now.peak), 0], abs=DIRECTION)
    region = REGIONS[scene["colours"]]
    drawn = page.drawn_all()
    shown = {name for name in drawn if name.startswith(("speed-U", "speed-V", "speed-W"))}
    assert shown == {f"speed-{phase}-{name}" for phase in "UVW"}
    for phase, line in zip("UVW", lines_on_phases(scene.setup), strict=True):
        assert drawn[f"speed-{phase}-{name}"]["color"] == pytest.approx(region.colours[line], abs=1e-4)
    signs = [drawn[each]["text"][0] for each in drawn if each.startswith(f"speed-belt-{name}-")]
    sides = [side for side in scene.setup.coils.slot_table if side.layer == 2]
    assert ("+" in signs) == any(side.sign > 0 for side in sides) and signs


@pytest.mark.parametrize("seed", range(3))
def test_field_and_rotor_are_drawn_as_far_apart_as_they_have_slipped(page, seed):
    dice = random.Random(seed)
    scene = SlipAndSpeed()
    settings = {
        "plate": False,
        "load": float(dice.choice((40, 100, 150))),
        "frequency": 50.0,
        "poles": dice.choice("246"),
        "lines": dice.choice(("L1-L2-L3", "L2-L1-L3")),
    }
    page.set_up(scene.name, settings)
    page.send(do="run", on=True)
    page.wait_for("() => parseFloat(window.stream.drawn('slip-count-laps').text.split(' ')[1].replace('\\u2212', '-')) > 0.05")
    page.send(do="run", on=False)
    page.settle()
    laps = float(page.drawn("slip-count-laps")["text"].split()[1].replace("\N{MINUS SIGN}", "-"))
    field, rotor = (unit(page.drawn(name)["axis"]) for name in (f"slip-field-{settings['poles']}", "slip-hand"))
    # laps are counted with the field's own sense, angles counter-clockwise
    sense = -1.0 if settings["lines"] == "L1-L2-L3" else 1.0
    apart = math.atan2(field[1], field[0]) - math.atan2(rotor[1], rotor[0])
    pairs = int(settings["poles"]) / 2
    drift = (sense * apart / (2 * math.pi) - laps) * pairs
    assert drift - round(drift) == pytest.approx(0, abs=0.03 * pairs)
    assert laps > 0


def test_the_bars_of_a_start_are_as_long_as_current_and_speed(page):
    scene = Starting()
    settings = {"method": "direct", "drive": "fan", "load": 80.0}
    page.set_up(scene.name, settings)
    page.wait_for("() => window.stream.drawn('starting-largest-direct').visible")  # worked out: before, a step is none
    page.settle()
    scene.set_all(settings)
    scene.restart()
    now = scene.now.moment
    assert page.drawn("starting-current")["size"][0] == pytest.approx(0.18 * now.line_current / RATED_CURRENT / 8, rel=1e-3)
    for _ in range(10):
        page.send(do="step")
    page.settle()
    for _ in range(10):
        scene.step(1 / 25)
    now = scene.now.moment
    assert page.drawn("starting-speed")["size"][0] == pytest.approx(0.18 * now.speed / SYNCHRONOUS, rel=1e-3)
    assert page.drawn("starting-current")["size"][0] == pytest.approx(0.18 * now.line_current / RATED_CURRENT / 8, rel=1e-3)


@pytest.mark.parametrize("load", [40.0, 150.0])
def test_the_six_ways_to_start_stand_side_by_side_grey_where_it_does_not_run(page, load):
    scene = Starting()
    settings = {"method": "star-delta", "drive": "conveyor", "load": load}
    page.set_up(scene.name, settings)
    scene.set_all(settings)
    starts = {name: work_out(scene.setup.case_by(name)).start for name in WORDS}
    page.wait_for("names => names.every(name => window.stream.drawn(name).visible)", [f"starting-largest-{name}" for name in WORDS])
    page.settle()
    for name, start in starts.items():
        column = page.drawn(f"starting-largest-{name}")
        assert column["size"][0] == pytest.approx(0.18 * start.largest_line_current / RATED_CURRENT / 8, rel=1e-3), name
        red, _, blue = column["color"]
        assert (red - blue > 0.2) == start.starts, name
    heights = [page.drawn(f"starting-largest-{name}")["pos"][1] for name in WORDS]
    assert heights == sorted(heights, reverse=True)
    assert page.drawn("starting-current")["pos"][1] == pytest.approx(heights[list(WORDS).index("star-delta")])
    assert [reading["words"] for reading in page.told("readings")][-6:] == list(WORDS.values())
    page.send(do="ask", present=True)
    page.wait_for("() => window.bench.socket.told.question !== null")
    page.settle()
    assert not any(page.drawn(f"starting-largest-{name}")["visible"] for name in WORDS)
    page.send(do="enough")
    page.settle()
