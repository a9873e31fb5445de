"""The terminal box joined in a real browser: a star, a delta, a mistake and a starter, by mouse, by touch and by keys alone."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest

from scenes.drives.terminal_box.scene import TerminalBox
from tests.browser.page.letters_seen import LOOK, Projection
from tests.browser.pointer import middle
from visual.host.server import Host
from visual.solid.told import told

SETTINGS = "window.bench.socket.told.settings"
LINKS = f"['link-1', 'link-2', 'link-3'].map(name => {SETTINGS}[name]).filter(link => link !== 'off').sort().join(' ')"
STAR, DELTA = "U2-V2 W2-U2", "U1-W2 V1-U2 W1-V2"


@pytest.fixture
def box(page):
    page.set_up("terminal-box", {"by": "hand", "joined": "own", "link-1": "off", "link-2": "off", "link-3": "off"})
    return page


def stud(page, name: str):
    return page.tab.get_by_role("button", name=f"{'lead' if name.startswith('L') else 'stud'} {name}", exact=True)


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
    studs = {pick["name"]: pick["at"] for pick in box.told("picks")}
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
    stud(box, "V1").focus()  # one from which a lead was dragged can still be pressed by keys
    box.tab.keyboard.press("Enter")
    assert stud(box, "V1").get_attribute("aria-pressed") == "true"
    box.tab.keyboard.press("Escape")


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


def test_a_lead_by_touch_on_a_telephone(box, telephone, bench):
    touched = telephone(bench.address)
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


@pytest.mark.parametrize("settings", [{"joined": "star"}, {"joined": "delta"}, {"by": "starter", "plate": "400/690", "way": "U1-V2"}])
def test_on_a_telephone_the_figures_of_the_windings_cover_no_terminal(page, settings):
    """Where the letters of ends and lines are drawn is asked of the scene beside the page, in metres."""
    beside = TerminalBox()
    beside.set_all(settings)
    beside.ensure_built(Host())
    beside.step(0.1)
    beside.draw()
    page.set_up("terminal-box", settings | {"slow": "1"})
    page.tab.set_viewport_size({"width": 390, "height": 844})
    page.settle()
    look = page.tab.evaluate(LOOK, [[], 3])[0][-1]
    project = Projection(look["camera"], look["size"])
    figures = [box for text, box in look["letters"] if re.match(r"[UVW] \d", text)]
    marks = {(text, at) for text, at, ground in told(beside.drawn).letters if not ground and len(text) == 2}
    assert {text for text, _ in marks} >= {"L1", "L2", "L3", "U1", "V1", "W1", "U2", "V2", "W2"}
    covered = []
    for name, (x, y, z) in marks:
        (west, north), (east, south) = project([[x - 0.007, y + 0.005, z], [x + 0.007, y - 0.005, z]])  # m: two characters of 10.5 mm
        covered += [name for left, top, right, bottom in figures if left < east and west < right and top < south and north < bottom]
    assert figures and covered == []


def test_other_scenes_have_no_buttons_over_them(box):
    box.send(do="scene", name="two-wires")
    box.wait_for("() => window.bench.socket.told.scene.name === 'two-wires'")
    box.settle()
    assert box.tab.locator(".picks button:visible").count() == 0


SIX = {"Q1-2": "U1", "Q1-4": "V1", "Q1-6": "W1", "Q2-2": "V2", "Q2-4": "W2", "Q2-6": "U2"}


def pole(page, name: str):
    return page.tab.get_by_role("button", name=f"lead of {name[:2]}, pole {name[3]}", exact=True)


def test_a_starter_by_mouse_keys_and_touch_and_it_changes_over(page, telephone, bench):
    """Six leads one by one; until the last is on it stays locked off, then Q1 and Q3 close, and after the timer Q1 and Q2."""
    off = {f"lead-{name}": "off" for name in SIX}
    page.set_up("terminal-box", {"by": "starter", "plate": "400/690", "way": "own", "timer": 0.3, "slow": "1"} | off)
    assert page.tab.locator(".picks button").count() == 12 and verdict(page)[0] == "no"
    for name in ("Q1-2", "Q1-4"):
        pole(page, name).click()
        stud(page, SIX[name]).click()
    for name in ("Q1-6", "Q2-2", "Q2-4"):
        for button in (pole(page, name), stud(page, SIX[name])):
            button.focus()
            page.tab.keyboard.press("Enter")
    page.wait_for(f"() => {SETTINGS}['lead-Q2-4'] === 'W2'")
    page.settle()
    assert verdict(page)[0] == "no"
    page.send(do="view", name="board")
    touched = telephone(bench.address)
    touched.wait_for("() => document.querySelectorAll('.picks button').length === 12")
    touched.settle()
    boxes = [pole(touched, name).bounding_box() for name in SIX]
    assert all(place["width"] >= 24 and place["height"] >= 24 for place in boxes)
    assert all(right["x"] - left["x"] >= left["width"] for left, right in zip(boxes, boxes[1:], strict=False))
    pole(touched, "Q2-6").tap()
    stud(touched, "U2").tap()
    touched.wait_for(f"() => {SETTINGS}['lead-Q2-6'] === 'U2'")
    page.settle()
    assert verdict(page)[0] == "yes" and not page.drawn("starter-delta contactor")["visible"]
    closed = "name => window.stream.drawn(`starter-${name} contactor`).visible"
    for steps, contactor, other in ((4, "star", "delta"), (8, "delta", "star")):  # of 40 ms each
        for _ in range(steps):
            page.send(do="step")
        page.wait_for(closed, contactor)
        assert page.tab.evaluate(closed, "main") and not page.tab.evaluate(closed, other)
    page.send(do="view", name="front")


def test_settings_of_the_other_way_of_joining_are_out_of_sight(box):
    """Joined by hand with links of one's own: the links' settings are there; on a starter they are not, nor what they depend on."""
    label = box.tab.get_by_text("Link 1", exact=True)
    assert label.is_visible() and not box.tab.get_by_text("Timer: time in star", exact=True).is_visible()
    box.send(do="set", name="by", value="starter")
    box.wait_for(f"() => {SETTINGS}.by === 'starter'")
    box.settle()
    assert not label.is_visible() and box.tab.get_by_text("Timer: time in star", exact=True).is_visible()
