"""The turning field in a real browser: dots, crosses, colours, the field's arrow, poles and MMF as the winding has them."""

from __future__ import annotations

import random

import numpy as np
import pytest

from scenes.machines.turning_field.scene import TurningField
from scenes.machines.turning_field.windings import FULL, largest
from scenes.scene.phases import LINES, REGIONS

DIRECTION = 2e-4


def settings_at_random(seed: int) -> dict:
    dice = random.Random(seed)
    names = {control.name: [value for value, _ in control.choices] for control in TurningField.controls if control.kind == "choice"}
    return {name: dice.choice(names[name]) for name in ("lines", "reversed", "colours", "instants")} | {
        "poles": "2468"[seed % 4],
        "lost": dice.choice(names["lost"]) if seed % 2 else "none",
        "current": float(dice.randint(5, 20)),
        "picture": ("lines", "mmf")[seed // 2 % 2],
    }


@pytest.mark.parametrize("seed", range(3))
def test_the_turning_field_is_drawn_as_it_is(page, seed):
    scene = TurningField()
    settings = settings_at_random(seed)
    drawn = page.stepped(scene, settings, 1 + seed)
    poles = settings["poles"]
    winding, now = scene.setup.winding, scene.now.currents
    slot_currents = winding.slot_currents(now) / winding.turns
    sizes = []
    for slot, current in enumerate(slot_currents):
        name = f"turning-slot-{poles}-{slot}"
        if abs(current) < 0.02 * FULL:
            assert name not in drawn
            continue
        assert drawn[name]["axis"][2] * current > 0, "a dot where current comes toward the drive end, a cross where it goes"
        place = np.asarray(drawn[name]["pos"])[:2]
        assert place / np.linalg.norm(place) == pytest.approx(
            [np.cos(winding.slot_angles[slot]), np.sin(winding.slot_angles[slot])], abs=DIRECTION
        )
        sizes.append(drawn[name]["size"][1] / abs(current))
    assert not sizes or sizes == pytest.approx(np.full(len(sizes), sizes[0]), rel=0.01)  # as large as the current
    region = REGIONS[settings["colours"]]
    for phase, line in zip("UVW", settings["lines"].split("-"), strict=True):
        assert drawn[f"turning-{poles}-{phase}"]["color"] == pytest.approx(region.colours[LINES.index(line)], abs=1e-4)
    axis, pairs = winding.field_axis(now), int(poles) // 2
    strong = scene.now.field > 0.02 * largest(int(poles))[0]
    assert (f"turning-poles-{poles}" in drawn) == strong
    if strong:
        crests = (axis + 2 * np.pi * np.arange(pairs)) / pairs
        for name in [f"turning-poles-{poles}"] + [f"turning-field-{poles}-{k}" for k in range(pairs) if settings["picture"] == "lines"]:
            x, y, _ = drawn[name]["axis"]
            assert np.min(np.abs(np.exp(1j * crests) - (x + 1j * y) / np.hypot(x, y))) < 2 * DIRECTION
    assert not [name for name in drawn if name.startswith("turning-") and f"-{poles}-" not in name and not name.endswith(f"-{poles}")]
    mmf = winding.mmf(winding.slot_angles - np.pi / winding.slots, now) / largest(int(poles))[1]
    for tooth, share in enumerate(mmf):
        for way, size in (("out", share), ("in", -share)):
            name = f"turning-mmf-{way}-{poles}-{tooth}"
            assert (name in drawn) == (settings["picture"] == "mmf" and size > 0.01)
            if name in drawn:
                assert drawn[name]["size"][0] == pytest.approx(size, abs=1e-3)


def test_from_the_other_end_the_same_field_turns_the_other_way_and_an_answer_shows_it_again(page):
    scene = TurningField()
    page.stepped(scene, {"poles": "2", "picture": "lines", "lost": "none", "reversed": "none", "lines": "L1-L2-L3"}, 0)
    told = [page.told("readings")[0]["value"]]
    page.send(do="view", name="other-end")
    page.wait_for("() => window.bench.socket.told.view.name === 'other-end'")
    page.settle()
    told.append(page.told("readings")[0]["value"])
    assert told == ["clockwise", "counter-clockwise"]
    page.send(do="ask", seed=5)
    page.wait_for("() => window.bench.socket.told.question")
    page.settle()
    assert not [name for name in page.drawn_all() if name.startswith(("turning-field", "turning-poles", "turning-mmf"))]
    assert page.told("readings")[0]["value"] == "?"
    page.send(do="answer", choice="clockwise")
    page.wait_for("() => window.stream.drawnNames().some(n => n.startsWith('turning-poles') && window.stream.drawn(n).visible)")
    page.send(do="view", name="drive-end")


def test_the_plot_has_its_curves_and_its_marks_move_along_them(page):
    scene = TurningField()
    settings = {"poles": "2", "lost": "none", "lines": "L1-L2-L3", "current": 20.0, "colours": "iec", "instants": "60"}
    page.stepped(scene, settings, 0)
    page.wait_for("() => document.querySelectorAll('#plot .curves .scatterlayer path.js-line').length >= 3")
    page.wait_for("() => document.querySelectorAll('#plot .told').length === 4")
    label = page.tab.locator("#plot").get_attribute("aria-label")
    assert "current (A)" in label and "electrical angle (°)" in label and "L1, L2, L3" in label

    def places():
        return page.tab.evaluate(
            "() => [...document.querySelectorAll('#plot .told')].map(mark => { const at = new DOMMatrix(getComputedStyle(mark).transform);"
            " return {name: mark.dataset.name, across: mark.classList.contains('across'), x: at.e, y: at.f} })"
        )

    first = places()
    for _ in range(3):
        page.send(do="step")
    page.settle()
    page.wait_for("x => +document.querySelector('#plot .across').dataset.x > x", first[0]["x"] + 20)
    second = places()
    # half a period on, L1 has gone from its crest to its trough and the others as far the other way: mirrored
    width = page.tab.evaluate(
        "() => document.querySelector('#plot .curves .xy .plot, #plot .curves .cartesianlayer .plot').getBBox().width"
    )
    assert first[0]["across"] and second[0]["x"] - first[0]["x"] == pytest.approx(width / 2, rel=0.02)
    heights = {mark["name"]: (mark["y"], later["y"]) for mark, later in zip(first[1:], second[1:], strict=False)}
    middles = [sum(pair) / 2 for pair in heights.values()]
    assert middles == pytest.approx(np.full(3, middles[0]), abs=0.3)
    assert heights["L1"][0] < heights["L1"][1]
    assert (heights["L2"][0] - middles[0]) == pytest.approx((middles[0] - heights["L1"][0]) / 2, rel=0.03)
