"""The terminal box joined in a real browser: a star, a delta and a mistake, by mouse, by touch and by keys alone."""

from __future__ import annotations

import math

import numpy as np
import pytest

SETTINGS = "window.bench.socket.told.settings"
LINKS = f"['link-1', 'link-2', 'link-3'].map(name => {SETTINGS}[name]).filter(link => link !== 'off').sort().join(' ')"
STAR, DELTA = "U2-V2 W2-U2", "U1-W2 V1-U2 W1-V2"


@pytest.fixture
def box(page):
    page.set_up("terminal-box", {"joined": "own", "link-1": "off", "link-2": "off", "link-3": "off"})
    return page


def stud(page, name: str):
    return page.tab.get_by_role("button", name=f"{'lead' if name.startswith('L') else 'stud'} {name}", exact=True)


def middle(locator) -> tuple[float, float]:
    box = locator.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def wait_for_links(page, wanted: str) -> None:
    page.wait_for(f"wanted => {LINKS} === wanted", wanted)
    page.settle()


def verdict(page) -> tuple[str, str]:
    """What stands beside "right for plate and supply", and why."""
    found = next(each for each in page.told("readings") if each["words"] == "right for plate and supply")
    return found["value"], found["formula"]


def lies_between(page, number: int, first: str, second: str, studs) -> None:
    """The drawn link goes from the one stud to the other."""
    drawn = page.drawn(f"terminal-link-{number}")
    assert drawn["visible"]
    start, along = np.array(drawn["pos"]), np.array(drawn["axis"])
    ends = {first: np.array(studs[first]), second: np.array(studs[second])}
    near = min(ends, key=lambda name: math.dist(ends[name][:2], start[:2]))
    other = second if near == first else first
    assert math.dist(ends[near][:2], start[:2]) < 1e-4
    between = (ends[other] - ends[near])[:2]
    assert along[:2] / np.linalg.norm(along) == pytest.approx(between / np.linalg.norm(between), abs=1e-3)


def test_a_star_by_mouse_each_button_over_its_stud(box):
    studs = {pick["name"]: pick["at"] for pick in box.told("view")["picks"]}
    for first, second in (("W2", "U2"), ("U2", "V2")):
        stud(box, first).click()
        assert stud(box, first).get_attribute("aria-pressed") == "true"
        stud(box, second).click()
    wait_for_links(box, STAR)
    lies_between(box, 1, "W2", "U2", studs)
    lies_between(box, 2, "U2", "V2", studs)
    assert verdict(box)[0] == "yes"
    assert all(stud(box, name).get_attribute("aria-pressed") == "false" for name in ("W2", "U2", "V2"))
    # they lie as the board does: W2 U2 V2 above U1 V1 W1 (common practice), the leads below
    at = {name: middle(stud(box, name)) for name in studs}
    for row in (("W2", "U2", "V2"), ("U1", "V1", "W1"), ("L1", "L2", "L3")):
        assert at[row[0]][0] < at[row[1]][0] < at[row[2]][0]
        assert max(at[name][1] for name in row) - min(at[name][1] for name in row) < 15
    assert at["W2"][1] < at["U1"][1] - 40 and at["U1"][1] < at["L1"][1] - 40


def test_a_delta_by_dragging_and_a_mistake_is_said_at_once(box):
    for first, second in (("U1", "W2"), ("V1", "U2"), ("W1", "V2")):
        start, end = middle(stud(box, first)), middle(stud(box, second))
        box.tab.mouse.move(*start)
        box.tab.mouse.down()
        box.tab.mouse.move(*end, steps=5)
        box.tab.mouse.up()
        box.settle()
    wait_for_links(box, DELTA)
    value, why = verdict(box)
    assert value == "no" and "gives each winding 400 V" in why and "made for 230 V" in why
    assert "wrong" in " ".join(box.tab.locator("#picture .letters span:visible").all_inner_texts())
    start, end = middle(stud(box, "L2")), middle(stud(box, "U1"))
    box.tab.mouse.move(*start)
    box.tab.mouse.down()
    box.tab.mouse.move(*end, steps=5)
    box.tab.mouse.up()
    box.wait_for(f"() => {SETTINGS}['lead-L2'] === 'U1'")
    box.settle()
    assert "short circuit" in verdict(box)[1]


def test_a_star_by_keys_alone(box):
    keys = box.tab.keyboard
    box.tab.locator("#picture").focus()
    for names in (("W2", "U2"), ("U2", "V2")):
        for name in names:
            for _ in range(60):
                if box.tab.evaluate("document.activeElement.getAttribute('aria-label')") == f"stud {name}":
                    break
                keys.press("Tab")
            else:
                raise AssertionError(f"Tab does not lead to {name}")
            keys.press("Enter" if name != "V2" else "Space")
        box.tab.locator("#picture").focus()
    wait_for_links(box, STAR)
    assert not box.told("bench")["running"], "Space pressed the stud and not the run button"
    stud(box, "U1").focus()
    keys.press("Enter")
    assert stud(box, "U1").get_attribute("aria-pressed") == "true"
    keys.press("Escape")
    assert stud(box, "U1").get_attribute("aria-pressed") == "false"


def test_a_lead_by_touch_on_a_telephone(box, browser, bench, open_page):
    tab = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True).new_page()
    touched = open_page(tab, bench.address)
    touched.wait_for("() => document.querySelectorAll('.picks button').length === 9")
    touched.settle()
    boxes = [stud(touched, name).bounding_box() for name in ("W2", "U2", "V2", "U1", "V1", "W1", "L1", "L2", "L3")]
    assert all(place["width"] >= 24 and place["height"] >= 24 for place in boxes)
    stud(touched, "L3").tap()
    stud(touched, "W1").tap()
    touched.wait_for(f"() => {SETTINGS}['lead-L3'] === 'off'")
    stud(touched, "L3").tap()
    stud(touched, "W2").tap()
    touched.wait_for(f"() => {SETTINGS}['lead-L3'] === 'W2'")
    tab.context.close()


def test_other_scenes_have_no_buttons_over_them(box):
    box.send(do="scene", name="two-wires")
    box.wait_for("() => window.bench.socket.told.scene.name === 'two-wires'")
    box.settle()
    assert box.tab.locator(".picks button:visible").count() == 0
