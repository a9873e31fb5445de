"""What stands still is drawn as one mesh: fewer triangles, and point by point the picture that VPython draws by itself."""

from __future__ import annotations

import pytest

from tests.browser.conftest import Page

LARGE = {"width": 1366, "height": 768}  # on smaller pages the edges are smoothed, and the mesh is not used
COUNTED = """
    const context = WebGL2RenderingContext.prototype, draw = context.drawElements
    window.triangles = 0
    context.drawElements = function (kind, corners, ...rest) { window.triangles += corners / 3; draw.call(this, kind, corners, ...rest) }
"""
# Each of the next pictures beside what VPython draws without the mesh, at once: points that differ and triangles of both.
COMPARED = """pictures => new Promise(done => {
    const gl = document.querySelector('#picture canvas').getContext('webgl2'), { quality, onDrawn } = window.picture, found = []
    const points = () => {
        const [width, height] = [gl.drawingBufferWidth, gl.drawingBufferHeight], all = new Uint8Array(4 * width * height)
        gl.readPixels(0, 0, width, height, gl.RGBA, gl.UNSIGNED_BYTE, all)
        return all
    }
    let busy = false, last = window.triangles
    onDrawn(() => {
        if (busy || found.length === pictures) return
        const drawn = window.triangles - last, picture = points(), { standing } = quality
        busy = true
        quality.standing = null
        window.triangles = 0
        window.picture.redraw()
        window.picture.drawNow()
        const whole = window.triangles, plain = points()
        let differ = 0
        for (let k = 0; k < plain.length; k++) if (Math.abs(plain[k] - picture[k]) > 2 && k % 4 < 3) differ += 1
        quality.standing = standing
        busy = false
        last = window.triangles
        found.push([differ / plain.length, drawn, whole, [...new Set(plain)].length])
        if (found.length === pictures) done(found)
    })
})"""
FEW = 2e-4  # of all points: edges of two things at the same depth


@pytest.fixture(scope="module")
def pixels():
    return True


@pytest.fixture
def large(bench, browser):
    context = browser.new_context(viewport=LARGE)
    context.add_init_script(COUNTED)
    page = Page(context.new_page(), bench.address)
    yield page
    assert page.errors == []


def compared(page, pictures: int = 6) -> list[list[float]]:
    return page.tab.evaluate(COMPARED, pictures)


def until_it_serves(page) -> None:
    """Wait until what stands still is left out of a picture."""
    for _ in range(40):
        *_, (_, drawn, whole, _) = compared(page, 10)
        if drawn < 0.8 * whole:
            return
    raise AssertionError(("all was drawn piece by piece in four hundred pictures", drawn, whole))


def all_alike(found: list[list[float]]) -> None:
    assert max(differ for differ, *_ in found) < FEW, found
    assert min(shades for *_, shades in found) > 60, "nothing was drawn"


FINE = "() => { const canvas = document.querySelector('#picture canvas'); return canvas.width / canvas.clientWidth > 1.9 }"


def test_what_stands_is_one_mesh_and_the_picture_is_the_same_whatever_changes_hides_or_is_seen_from_elsewhere(large):
    for name in ("terminal-box", "turning-field"):  # the first with things that have a place of their own
        large.send_all([{"do": "scene", "name": name}, {"do": "run", "on": True}])
        large.wait_for("name => window.bench.socket.told.scene.name === name", name)
        until_it_serves(large)
        all_alike(compared(large))
    colours, one_phase = ({"do": "set", "name": name, "value": value} for name, value in (("colours", "north-american"), ("coils", "U")))
    for change in (colours, one_phase, {"do": "view", "name": "corner"}):
        large.send(**change)
        all_alike(compared(large))
        until_it_serves(large)
    large.send(do="run", on=False)
    large.wait_for(FINE)  # a picture of another size, and the mesh waits
    large.send(do="set", name="coils", value="all")
    large.send(do="run", on=True)
    all_alike(compared(large))
    until_it_serves(large)
    place = large.tab.locator("#picture").bounding_box()
    large.tab.mouse.move(place["x"] + 300, place["y"] + 150)
    large.tab.mouse.down()
    large.tab.mouse.move(place["x"] + 380, place["y"] + 170, steps=3)
    all_alike(compared(large))
    large.tab.mouse.up()
