"""A winding of twelve slots laid in a real browser by mouse, by touch and by keys alone; its field turns, and what is wrong is told."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tests.browser.pointer import middle

SETTINGS = "window.bench.socket.told.settings"
# winder's table of 12 slots, 2 poles, one layer (any handbook, memory): start and finish of the coils of U, V, W
TABLE = (("U", 1, 7), ("U", 2, 8), ("V", 5, 11), ("V", 6, 12), ("W", 9, 3), ("W", 10, 4))
WHOLE = "all"


@pytest.fixture
def bare(page):
    page.set_up("laying-the-winding", {"stator": "12-2", "winding": "one-layer", "laid": "none", "hand": "U", "current": 20})
    page.send(do="view", name="both")
    page.settle()
    return page


def slot(page, number: int):
    return page.tab.get_by_role("button", name=f"slot {number}", exact=True)


def wait_for_coils(page, text: str) -> None:
    page.wait_for(f"wanted => {SETTINGS}.laid === wanted", text)
    page.settle()


def turned_by(page, steps: int) -> float:
    """By how much the drawn poles turn in so many steps, rad, counter-clockwise looking at the drive end."""
    turned, before = 0.0, None
    for _ in range(steps + 1):
        x, y, _ = page.drawn("laying-poles-1")["axis"]
        now = math.atan2(y, x)
        if before is not None:
            turned += (now - before + math.pi) % (2 * math.pi) - math.pi
        before = now
        page.send(do="step")
        page.settle()
    return turned


def wave_turns(coils) -> float:
    """The same by own phasors, for currents of U, V, W a third of a cycle apart: above 0 counter-clockwise. Slots count clockwise."""
    turn = np.exp(-2j * np.pi * np.arange(12) / 12)  # of the slots, counter-clockwise
    axes = {phase: 0j for phase in "UVW"}
    for phase, start, finish in coils:
        axes[phase] += turn[start - 1] - turn[finish - 1]
    at = [sum(axes[p] * math.cos(t - 2 * math.pi * k / 3) for k, p in enumerate("UVW")) for t in (0.0, 0.1)]
    return float(np.angle(at[1] / at[0]))


def sentence(page) -> str:
    return page.told("says")


def test_by_mouse_pressed_and_dragged_and_its_field_turns(bare):
    """The first four coils by two clicks each, the others dragged; then it turns as the phasors of the table say."""
    for _, start, finish in TABLE[:4]:
        wanted = f"Press slot {start}, then slot {finish}; or Lay next coil."
        bare.tab.locator(".to-press", has_text=wanted).wait_for()
        slot(bare, start).click()
        assert slot(bare, start).get_attribute("aria-pressed") == "true"
        slot(bare, finish).click()
    wait_for_coils(bare, "U1-7.U2-8.V5-11.V6-12")
    for _, start, finish in TABLE[4:]:
        bare.tab.mouse.move(*middle(slot(bare, start)))
        bare.tab.mouse.down()
        bare.tab.mouse.move(*middle(slot(bare, finish)), steps=4)
        bare.tab.mouse.up()
        bare.settle()
    wait_for_coils(bare, WHOLE)
    assert "all 6 coils are laid" in sentence(bare) and not bare.tab.locator(".to-press").is_visible()
    assert wave_turns(TABLE) < 0 and turned_by(bare, 4) < -0.05
    assert "rotates clockwise." in sentence(bare)
    # each button stands over its slot's arrow on the drawing, which stands right of the one before
    places = [middle(slot(bare, number))[0] for number in range(1, 13)]
    assert places == sorted(places)


def test_by_keys_alone_and_a_wrong_coil_is_told(bare):
    keys = bare.tab.keyboard
    for start, finish in ((1, 7), (8, 2)):
        slot(bare, start).focus()
        keys.press("Enter")
        slot(bare, finish).focus()
        keys.press("Space")
    wait_for_coils(bare, "U1-7.U8-2")
    assert "one coil of U laid the wrong way round" in sentence(bare)
    assert not bare.told("bench")["running"], "Space pressed the slot and not the run button"
    button = bare.tab.get_by_role("button", name="Lay next coil", exact=True)
    for _ in range(4):
        button.focus()
        keys.press("Enter")
        bare.settle()
    wrong = "U1-7.U8-2.V5-11.V6-12.W9-3.W10-4"
    wait_for_coils(bare, wrong)
    coils = [("U", 1, 7), ("U", 8, 2), *TABLE[2:]]
    assert "unevenly" in sentence(bare) and turned_by(bare, 4) * wave_turns(coils) > 0
    bare.tab.get_by_role("button", name="Take last out", exact=True).focus()
    keys.press("Enter")
    wait_for_coils(bare, wrong.removesuffix(".W10-4"))


def test_by_touch_on_a_telephone_and_what_does_not_fit_is_one_sentence(bare, telephone, bench):
    bare.send(do="view", name="unrolled")
    touched = telephone(bench.address)
    touched.wait_for("() => document.querySelectorAll('.picks button').length === 15")
    touched.settle()
    boxes = [slot(touched, number).bounding_box() for number in range(1, 13)]
    assert all(box["width"] >= 24 and box["height"] >= 24 for box in boxes)
    assert all(right["x"] - left["x"] >= left["width"] for left, right in zip(boxes, boxes[1:], strict=False))
    slot(touched, 1).tap()
    slot(touched, 6).tap()
    touched.wait_for("() => window.bench.socket.told.notice?.text.includes('A coil spans 6 slots here')")
    assert touched.tab.evaluate(f"{SETTINGS}.laid") == "none"
    slot(touched, 1).tap()
    slot(touched, 7).tap()
    touched.wait_for(f"() => {SETTINGS}.laid === 'U1-7'")
    bare.send(do="view", name="both")


def test_a_finished_winding_opens_on_the_bench_of_the_rotating_field(bare):
    bare.send(do="set", name="laid", value="ends")
    bare.settle()
    bare.tab.get_by_role("button", name="To rotating field", exact=True).click()
    # a page that had to wait too long for that scene to be built has begun anew
    bare.wait_for("() => window.bench?.socket.told.scene?.name === 'turning-field' && window.bench.socket.told.says")
    bare.settle()
    coils = [(phase, *((finish, start) if phase == "V" else (start, finish))) for phase, start, finish in TABLE]
    assert wave_turns(coils) > 0 and "rotates counter-clockwise, unevenly" in sentence(bare)
    assert sentence(bare).startswith("Your winding of 12 slots, V laid the wrong way round")
    assert not bare.tab.get_by_label("Coil connected backwards").is_visible()
    assert bare.tab.locator(".picks button:visible").all_inner_texts() == ["Back to laying"]
    bare.tab.get_by_role("button", name="Back to laying", exact=True).click()
    bare.wait_for("() => window.bench?.socket.told.scene?.name === 'laying-the-winding' && window.bench.socket.told.says")
    bare.settle()
    assert bare.told("settings")["laid"] == "ends"
    bare.tab.locator(".to-press", has_text="To take a wrong coil out, press its two slots again").wait_for()
