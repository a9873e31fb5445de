"""A motor taken apart in a real browser: parts pressed by mouse, by touch and by keys, and the slider that takes it apart."""

from __future__ import annotations

import numpy as np
import pytest

SETTINGS = "window.bench.socket.told.settings"
LIT = "name => window.bench.socket.told.readings[0].value === name"


@pytest.fixture
def motor(page):
    page.set_up("inside-a-motor", {"motor": "slip-ring", "by": "hand", "apart": 100, "part": 0})
    return page


def part(page, name: str):
    return page.tab.get_by_role("button", name=name, exact=True)


def colour(page, key: str) -> tuple:
    return tuple(page.drawn(f"opened-slip-ring-{key}")["color"])


def test_parts_pressed_by_mouse_and_by_keys_are_lit_and_named(motor):
    assert motor.tab.locator(".picks button:visible").count() == 22
    plain = colour(motor, "fan")
    part(motor, "external fan").click()
    motor.wait_for(LIT, "external fan")
    motor.settle()
    assert colour(motor, "fan") != plain != (1, 0, 0) and colour(motor, "cowl") != colour(motor, "fan")
    letter = motor.tab.locator("#picture .letters span:not([hidden])", has_text="external fan")
    assert "to blow cooling air" in letter.inner_text().replace("\n", " ")
    box, own = letter.bounding_box(), part(motor, "external fan").bounding_box()
    assert box["height"] > 2 * 19 and abs(box["x"] + box["width"] / 2 - own["x"] - own["width"] / 2) < box["width"]
    cowl, forward = part(motor, "fan cowl").bounding_box(), "() => { const f = window.stream.canvas().forward; return [f.x, f.y, f.z] }"
    looked = motor.tab.evaluate(forward)
    motor.tab.mouse.move(cowl["x"] + cowl["width"] / 2, cowl["y"] + cowl["height"] / 2)
    motor.tab.mouse.down()
    motor.tab.mouse.move(cowl["x"] + 90, cowl["y"] + 20, steps=4)
    motor.tab.mouse.up()
    motor.settle()
    assert motor.tab.evaluate(forward) != looked and motor.told("readings")[0]["value"] == "external fan", "dragged, it turns the picture"
    brushes = part(motor, "brushes")
    brushes.focus()
    motor.tab.keyboard.press("Enter")
    motor.wait_for(LIT, "brushes")
    motor.tab.keyboard.press("Tab")
    motor.tab.keyboard.press("Space")
    motor.wait_for(LIT, "brush-holders")
    assert motor.tab.evaluate("() => document.activeElement.title") == "brush-holders", "the focus stays where it is"


def test_a_part_pressed_by_touch_answers_the_question(motor, browser, bench, open_page):
    motor.send(do="set", name="part", value=19)
    motor.send(do="ask", present=True)
    tab = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True).new_page()
    touched = open_page(tab, bench.address)
    touched.wait_for("() => document.querySelectorAll('.picks button').length === 22")
    touched.settle()
    assert tab.get_by_text("Or press it in the picture.").count() == 1
    assert {tab.locator(".picks button").nth(k).get_attribute("title") for k in range(22)} == {"part"}
    places = tab.evaluate("() => Object.fromEntries(window.bench.socket.told.picks.map(({name, on}, k) => [name, k]))")
    boxes = tab.locator(".picks button")
    assert all(boxes.nth(k).bounding_box()["width"] >= 24 for k in places.values())
    at = boxes.nth(places["slip-rings"]).bounding_box()
    tab.touchscreen.tap(at["x"] + at["width"] / 2, at["y"] + at["height"] / 2)
    touched.wait_for("() => window.bench.socket.told.question.given !== null")
    assert touched.told("question")["given"] == "slip-rings" and touched.told("question")["right"] is True
    tab.context.close()
    motor.send(do="enough")


def test_the_slider_takes_it_apart_and_the_buttons_go_with_the_parts(motor):
    slider = motor.tab.get_by_role("slider", name="Apart by")
    before = motor.drawn("opened-slip-ring-cowl")["pos"]
    shown = part(motor, "fan cowl").bounding_box()
    slider.focus()
    motor.tab.keyboard.press("Home")
    motor.wait_for(f"() => {SETTINGS}.apart === 0")
    motor.settle()
    assert np.linalg.norm(np.subtract(motor.drawn("opened-slip-ring-cowl")["pos"], before)) > 0.3
    assert motor.drawn("opened-slip-ring-frame")["pos"] == pytest.approx([0, 0, 0], abs=1e-6)
    moved = part(motor, "fan cowl").bounding_box()
    assert abs(moved["x"] - shown["x"]) > 60, "its button has gone with it"
    assert part(motor, "brushes").count() == 0, "what is covered cannot be pressed"
    motor.tab.keyboard.press("End")
    motor.wait_for(f"() => {SETTINGS}.apart === 100")
    motor.settle()
    assert part(motor, "brushes").count() == 1
