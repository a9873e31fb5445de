"""A motor taken apart in a real browser: parts pressed by mouse, by touch and by keys, and the slider that takes it apart."""

from __future__ import annotations

from functools import cache
from itertools import product

import numpy as np
import pytest

from scenes.machines.inside_a_motor.figures import GAP
from scenes.machines.inside_a_motor.parts import PARTS
from visual.machines.opened.motor import OWN, meshes

SETTINGS = "window.bench.socket.told.settings"
CAMERA = """() => {
    const { forward, center, range, fov, width, height } = window.stream.canvas(), plain = ({ x, y, z }) => [x, y, z]
    return { forward: plain(forward), centre: plain(center), range, fov, width, height }
}"""
LIT = "name => window.bench.socket.told.readings[0].value === name"


@pytest.fixture
def motor(page):
    page.set_up("inside-a-motor", {"motor": "slip-ring", "by": "hand", "apart": 100, "part": 0})
    return page


@cache
def shapes_of(motor: str) -> dict:
    shapes = meshes("cage", GAP)
    return shapes | {name: shape for name, shape in meshes(motor, GAP).items() if name not in shapes or name in OWN}


def seen(page, motor: str) -> dict[str, np.ndarray]:
    """Of each part the corners of its triangles in the picture, (n, 3, 3): px from its left and its top, and m from the eye, by central
    projection."""
    eye = page.tab.evaluate(CAMERA)
    ahead = np.array(eye["forward"]) / np.linalg.norm(eye["forward"])
    right = np.cross(ahead, [0, 1, 0]) / np.linalg.norm(np.cross(ahead, [0, 1, 0]))
    above, wide, high, opening = np.cross(right, ahead), eye["width"], eye["height"], np.tan(eye["fov"] / 2)
    shapes, found = shapes_of(motor), {}
    for each in PARTS[motor]:
        away = shapes[each.key].points + page.drawn(f"opened-{motor}-{each.key}")["pos"] - np.array(eye["centre"])
        depth = eye["range"] * high / (min(wide, high) * opening) + away @ ahead
        scale = high / (2 * opening) / depth
        corners = np.column_stack([wide / 2 + scale * (away @ right), high / 2 - scale * (away @ above), depth])
        found[each.key] = corners[shapes[each.key].triangles]
    return found


def in_front(parts: dict[str, np.ndarray], place) -> str:
    """The part whose triangle is the nearest at a place in the picture, "" for none."""
    nearest, first = np.inf, ""
    for name, corners in parts.items():
        a, b, c = (corners[:, k, :2] - place for k in range(3))
        shares = np.stack([p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0] for p, q in ((b, c), (c, a), (a, b))])
        inside = np.all(shares > 0, axis=0) | np.all(shares < 0, axis=0)
        if inside.any():
            shares = shares[:, inside] / shares[:, inside].sum(axis=0)
            depth = 1 / (shares / corners[inside, :, 2].T).sum(axis=0)
            if depth.min() < nearest:
                nearest, first = depth.min(), name
    return first


def on_the_body(page, parts, key: str, dice) -> np.ndarray:
    """A place on the page on the body of a part, with the part all round it, and no button near."""
    corners = parts[key].reshape(-1, 3)
    picture = page.tab.locator("#picture").bounding_box()
    corner = np.array([picture["x"], picture["y"]])
    buttons = [page.tab.evaluate(f"() => [...document.querySelectorAll('.picks button')].map({each})") for each in (MIDDLE, HALF)]
    for _ in range(200):
        place = dice.uniform(corners[:, :2].min(axis=0), corners[:, :2].max(axis=0)).round()
        round_it = [place + step for step in ((0, 0), (3, 0), (-3, 0), (0, 3), (0, -3))]
        if all(in_front(parts, each) == key for each in round_it):
            if np.all(np.linalg.norm(np.array(buttons[0]) - corner - place, axis=1) > np.array(buttons[1]) + 3):
                return place + corner
    raise AssertionError(f"{key} is nowhere to be seen")


MIDDLE = "b => { const { x, y, width, height } = b.getBoundingClientRect(); return [x + width / 2, y + height / 2] }"
HALF = "b => b.getBoundingClientRect().width / 2"


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
    assert letter.bounding_box()["height"] > 2 * 19
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


def test_a_part_is_pressed_anywhere_on_its_body(motor):
    motor.set_up("inside-a-motor", {"motor": "cage", "by": "hand", "apart": 100, "part": 0})
    parts, dice = seen(motor, "cage"), np.random.default_rng(5)
    keys = ("shaft", "cowl", "fan", "frame", "stator-core", "stator-winding", "rotor-core", "drive-shield", "other-shield", "box-cover")
    for key in keys:
        place = on_the_body(motor, parts, key, dice)
        motor.tab.mouse.move(*place)
        motor.wait_for("() => document.querySelector('#picture').style.cursor === 'pointer'")
        motor.tab.mouse.click(*place)
        motor.wait_for(LIT, next(each.name for each in PARTS["cage"] if each.key == key))
    picture = motor.tab.locator("#picture").bounding_box()
    beside = next(place for place in ((x, 60) for x in range(20, 400, 10)) if not in_front(parts, place))
    motor.tab.mouse.move(picture["x"] + beside[0], picture["y"] + beside[1])
    motor.wait_for("() => document.querySelector('#picture').style.cursor === ''")
    motor.tab.mouse.click(picture["x"] + beside[0], picture["y"] + beside[1])
    place = on_the_body(motor, parts, "fan", dice)
    motor.tab.mouse.move(*place)
    motor.tab.mouse.down()
    motor.tab.mouse.move(*(place + [60, 10]), steps=4)
    motor.tab.mouse.up()
    motor.settle()
    assert motor.told("readings")[0]["value"] == "terminal box cover", "neither the floor nor a drag presses anything"


def test_a_finger_presses_a_part_anywhere_on_its_body_as_a_mouse_does(motor, telephone, bench):
    touched, dice = telephone(bench.address), np.random.default_rng(6)
    touched.tab.set_viewport_size({"width": 1080, "height": 1920})
    motor.set_up("inside-a-motor", {"motor": "cage", "by": "hand", "apart": 100, "part": 0})
    touched.wait_for("() => document.querySelectorAll('.picks button').length === 19")
    touched.settle()
    for key in ("cowl", "frame", "rotor-core", "drive-shield"):
        touched.tab.touchscreen.tap(*on_the_body(touched, seen(touched, "cage"), key, dice))
        touched.wait_for(LIT, next(each.name for each in PARTS["cage"] if each.key == key))
        touched.settle()


def test_what_is_said_of_the_lit_part_stands_clear_of_the_motor(motor):
    sizes = [(1366, 768), (390, 844)]  # every other time the other way round
    lit = (("cage", 18), ("cage", 12), ("slip-ring", 9), ("slip-ring", 20))
    for (kind, number), apart in product(lit, (0, 100)):
        motor.set_up("inside-a-motor", {"motor": kind, "by": "hand", "apart": apart, "part": number})
        for width, height in sizes:
            motor.tab.set_viewport_size({"width": width, "height": height})
            motor.settle()
            letters = motor.tab.evaluate("async () => (await import('./page/picture/letters.js')).shown()")
            (sign,) = [each for each in letters if each["role"] == "aside"]
            box, parts = sign["box"], seen(motor, kind)
            for x in np.linspace(box["x"], box["x"] + box["width"], 9):
                for y in np.linspace(box["y"], box["y"] + box["height"], 4):
                    assert not in_front(parts, (x, y)), (kind, number, apart, width, sign["text"])
        sizes.reverse()


def test_a_part_pressed_by_touch_answers_the_question(motor, telephone, bench):
    motor.send(do="set", name="part", value=19)
    motor.send(do="ask", present=True)
    touched = telephone(bench.address)
    tab = touched.tab
    touched.wait_for("() => document.querySelectorAll('.picks button').length === 22")
    touched.settle()
    assert tab.get_by_text("Or press it in the picture.").count() == 1
    assert {tab.locator(".picks button").nth(k).get_attribute("title") for k in range(22)} == {"part"}
    places = tab.evaluate("() => Object.fromEntries(window.bench.socket.told.picks.map(({name, on}, k) => [name, k]))")
    boxes = tab.locator(".picks button")
    assert all(boxes.nth(k).bounding_box()["width"] >= 24 for k in places.values())
    middles = np.array(tab.evaluate(f"() => [...document.querySelectorAll('.picks button')].map({MIDDLE})"))
    apart = np.linalg.norm(middles[:, None] - middles, axis=2)[np.triu_indices(22, 1)]
    assert apart.min() >= 24, "no button lies on another, however close the parts are"
    at = boxes.nth(places["slip-rings"]).bounding_box()
    tab.touchscreen.tap(at["x"] + at["width"] / 2, at["y"] + at["height"] / 2)
    touched.wait_for("() => window.bench.socket.told.question.given !== null")
    assert touched.told("question")["given"] == "slip-rings" and touched.told("question")["right"] is True
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
