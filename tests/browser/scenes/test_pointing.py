"""Answers given in the picture of a real browser: an arrow drawn by mouse, by touch and by keys, a thing that is pressed; and the menu
from which the instructor takes the kind of question."""

from __future__ import annotations

import math

import pytest

from tests import oracle
from tests.browser.pointer import middle

ANSWERED = "() => window.bench.socket.told.question?.given"
CORNER = (-0.46, -0.44, -1.0)  # how one looks in the first view of the pushed rod


@pytest.fixture
def asked(page):
    """The rod with 10 A toward its marked end, toward the viewer, in a field upward."""
    page.set_up("pushed-conductor", {"field": "up", "current": 10, "tilt": 0})
    page.send(do="ask", present=True)
    page.tab.locator(".drawn-arrow button").wait_for()
    page.settle()
    return page


FORCE = oracle.force_on((0, 0, 1), (0, 1, 0))


def on_screen(vector, pixels: float = 120):
    across, upward = oracle.flattened(vector, CORNER)
    return pixels * across / math.hypot(across, upward), -pixels * upward / math.hypot(across, upward)


def draw(page, along) -> None:
    x, y = middle(page.tab.locator(".drawn-arrow button"))
    page.tab.mouse.move(x, y)
    page.tab.mouse.down()
    page.tab.mouse.move(x + along[0] / 2, y + along[1] / 2)
    page.tab.mouse.move(x + along[0], y + along[1])


def test_an_arrow_by_mouse_is_seen_while_it_is_drawn_and_judged_when_it_is_let_go(asked):
    tab, shaft = asked.tab, asked.tab.locator(".drawn-arrow path")
    tab.get_by_text("Or draw F in the picture, from the ring.").wait_for()
    draw(asked, (60, 60))
    begun, tip = shaft.get_attribute("d").split(" M")[0].split(" L")
    x, y = (float(to) - float(of) for to, of in zip(tip.split(), begun[1:].split(), strict=True))
    assert (x, y) == pytest.approx((60, 60), abs=1.5)
    tab.mouse.up()  # along none of the answers
    asked.wait_for("() => window.bench.socket.told.notice?.text.startsWith('That arrow lies along none of the answers')")
    assert shaft.get_attribute("d") == "" and asked.told("question")["given"] is None
    before = asked.told("view")
    draw(asked, on_screen(FORCE))
    tab.mouse.up()
    asked.wait_for(ANSWERED)
    assert asked.told("question")["right"] is True and asked.told("view") == before
    assert not tab.locator(".drawn-arrow button").is_visible()


def test_an_arrow_by_keys_is_turned_and_let_go(asked):
    tab = asked.tab
    tab.locator(".drawn-arrow button").focus()
    assert "arrow keys" in tab.locator(".drawn-arrow button").get_attribute("aria-label")
    x, y = on_screen([-part for part in FORCE])
    tab.keyboard.press("ArrowRight")  # to the right, from where it is turned
    for _ in range(round(math.degrees(math.atan2(-y, x)) % 360 / 15)):
        tab.keyboard.press("ArrowLeft")
    tab.keyboard.press("Enter")
    asked.wait_for(ANSWERED)
    assert asked.told("question")["right"] is False, "the opposite of the force"
    assert not asked.told("bench")["running"] or asked.told("question")["given"]


def test_an_arrow_by_touch_on_a_telephone(asked, telephone, bench):
    touched = telephone(bench.address)
    tab = touched.tab
    ring = tab.locator(".drawn-arrow button")
    ring.wait_for()
    touched.settle()
    assert min(ring.bounding_box()["width"], ring.bounding_box()["height"]) >= 44
    x, y = middle(ring)
    dx, dy = on_screen(FORCE, 80)
    fingers = tab.context.new_cdp_session(tab)
    for what, points in (
        ("touchStart", [(x, y)]), ("touchMove", [(x + dx / 2, y + dy / 2)]), ("touchMove", [(x + dx, y + dy)]), ("touchEnd", []),
    ):  # fmt: skip
        fingers.send("Input.dispatchTouchEvent", {"type": what, "touchPoints": [{"x": at, "y": down} for at, down in points]})
    touched.wait_for(ANSWERED)
    assert touched.told("question")["right"] is True


def test_a_brush_is_pressed_where_it_is_and_the_rings_are_seen(page):
    page.set_up("coils-and-commutator", {})
    page.send(do="ask", kind="brush", seed=4)
    page.wait_for("() => document.querySelectorAll('.picks .answer').length === 2")
    page.settle()
    one, two = (page.tab.get_by_role("button", name=name, exact=True).and_(page.tab.locator(".picks button")) for name in ("A1", "A2"))
    assert middle(one)[0] < middle(two)[0], "A1 stands on the left, seen from the drive end"
    seen = "() => getComputedStyle(document.querySelector('.picks .answer')).borderTopColor"
    assert page.tab.evaluate(seen) == "rgb(255, 255, 255)"
    one.click()
    page.wait_for(ANSWERED)
    assert page.told("question")["given"] == "A1" and page.tab.locator(".picks .answer").count() == 0


def test_the_instructor_takes_the_kind_from_a_menu_and_asks_it_again_with_one_key(page):
    page.set_up("pushed-conductor", {})
    menu, keys = page.tab.get_by_label("Kind of question"), page.tab.keyboard
    page.tab.evaluate("() => HTMLSelectElement.prototype.showPicker = undefined")  # a list that covers the page takes the keys
    keys.press("g")
    assert page.tab.evaluate("() => document.activeElement.className") == "kinds"
    keys.type("how large")
    assert page.told("question") is None, "nothing is asked while one looks through the list"
    keys.press("Enter")
    page.wait_for("() => window.bench.socket.told.question?.kind === 'figure'")
    first = page.told("question")["seed"]
    page.tab.locator("body").click(position={"x": 2, "y": 2})
    page.send(do="reveal")
    keys.press("q")
    page.wait_for(
        "first => window.bench.socket.told.question?.kind === 'figure' && window.bench.socket.told.question.seed !== first", first
    )
    menu.select_option(index=0)
    page.send(do="enough")
    page.tab.locator("[data-do=ask]").click()
    page.wait_for("() => window.bench.socket.told.question?.kind === 'forward'")
    page.send(do="enough")
    page.set_up("two-wires", {})
    assert menu.input_value() == "" and menu.locator("option").count() == 5, "another scene has its own"
