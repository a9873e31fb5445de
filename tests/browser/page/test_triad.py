"""The small triad that names the bench's directions while the picture is turned by hand: its arrows point where its words lie."""

from __future__ import annotations

import pytest

from tests.oracle import cross, dot, seen, unit

AXES = [tuple(float(sign * (place == axis)) for place in range(3)) for axis in range(3) for sign in (1, -1)]
# each arrow with its words, in the page's own pixels, y downward: what is on the screen, however it came there
SHOWN = """() => {
  const triad = document.querySelector(".triad");
  if (!triad.checkVisibility()) return [];
  const picture = document.querySelector("#picture").getBoundingClientRect();
  const words = [...triad.querySelectorAll("text")], onScreen = triad.getScreenCTM();
  const place = (x, y) => { const at = new DOMPoint(x, y).matrixTransform(onScreen); return [at.x, at.y]; };
  return [...triad.querySelectorAll("line")].map((line, k) => {
    const box = words[k].getBoundingClientRect(), [x1, y1, x2, y2] = ["x1", "y1", "x2", "y2"].map((name) => +line.getAttribute(name));
    return { words: words[k].textContent, from: place(x1, y1), to: place(x2, y2), text: [box.x + box.width / 2, box.y + box.height / 2],
      whole: box.left >= picture.left && box.right <= picture.right && box.top >= picture.top && box.bottom <= picture.bottom };
  });
}"""
FORWARD = "() => { const { x, y, z } = window.stream.canvas().forward; return [x, y, z]; }"
SCENES = [("pushed-conductor", {"current": 4.0}), ("coils-and-commutator", {}), ("field-round-a-wire", {})]


def chosen(page, view: str) -> None:
    page.send(do="view", name=view)
    page.wait_for("name => window.bench.socket.told.view.name === name", view)


def by_keys(page) -> None:
    page.tab.locator("#picture").focus()
    for key in ("ArrowLeft", "ArrowLeft", "ArrowUp", "ArrowLeft"):
        page.tab.keyboard.press(key)


def by_mouse(page) -> None:
    box, mouse = page.tab.locator("#picture").bounding_box(), page.tab.mouse
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    mouse.move(x, y)
    mouse.down()
    mouse.move(x + 190, y - 45, steps=6)
    mouse.up()


def check(page, view: dict) -> None:
    """The triad on the screen is that of the ready view's words, projected as the camera now stands."""
    forward = unit(page.tab.evaluate(FORWARD))
    right = unit(cross(forward, (0.0, 1.0, 0.0)))
    upward = cross(right, forward)
    directions = {seen(axis, view["forward"]): axis for axis in AXES}
    assert len(directions) == 6
    arrows = page.tab.evaluate(SHOWN)
    assert all(arrow["whole"] for arrow in arrows), "no word is cut off at the edge"
    assert len(arrows) == 3 and {arrow["words"] for arrow in arrows} <= set(directions)
    along = [directions[arrow["words"]] for arrow in arrows]
    assert len({tuple(map(abs, axis)) for axis in along}) == 3, "one word for each axis"
    for arrow, axis in zip(arrows, along, strict=False):
        assert dot(axis, forward) < 1e-6, f"of two the one that comes toward the eye, not {arrow['words']}"
        drawn = [arrow["to"][0] - arrow["from"][0], arrow["from"][1] - arrow["to"][1]]
        projected = [dot(axis, right), dot(axis, upward)]
        length = sum(part**2 for part in projected) ** 0.5
        assert drawn == pytest.approx([38 * part for part in projected], abs=0.5), arrow["words"]
        if length > 0.4:  # its words stand at its tip
            beside = [arrow["text"][0] - arrow["from"][0], arrow["from"][1] - arrow["text"][1]]
            assert dot(beside, projected) > 38 * length**2


@pytest.mark.parametrize(("name", "settings"), SCENES, ids=[name for name, _ in SCENES])
def test_a_turned_picture_names_its_directions_until_a_ready_view_is_chosen(page, name, settings):
    page.set_up(name, settings)
    views = [view["name"] for view in page.told("scene")["views"]]
    for place, view in enumerate(views):
        chosen(page, view)
        assert page.tab.evaluate(SHOWN) == []
        before = page.tab.evaluate(FORWARD)
        for turn in (by_keys, by_mouse):
            turn(page)
            assert page.tab.evaluate(FORWARD) != before
            check(page, page.told("view"))
        if place % 2:
            page.tab.locator(f"#views [data-view='{view}']").click()  # the one that is on already
        else:
            chosen(page, views[place - 1])
        assert page.tab.evaluate(SHOWN) == []


def test_the_triad_goes_with_the_key_that_puts_the_view_back_and_with_another_scene(page):
    page.set_up("pushed-conductor", {"current": 4.0})
    by_keys(page)
    assert len(page.tab.evaluate(SHOWN)) == 3
    page.tab.keyboard.press("Enter")
    assert page.tab.evaluate(SHOWN) == []
    by_mouse(page)
    assert len(page.tab.evaluate(SHOWN)) == 3
    page.send(do="scene", name="two-wires")
    page.wait_for("() => window.bench.socket.told.scene.name === 'two-wires'")
    page.settle()
    assert page.tab.evaluate(SHOWN) == []
    page.tab.keyboard.press("+")  # nearer is not turned
    assert page.tab.evaluate(SHOWN) == []
