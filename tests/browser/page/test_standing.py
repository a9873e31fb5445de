"""What stands still is drawn as one mesh: fewer triangles, and point by point the picture that VPython draws by itself."""

from __future__ import annotations

import pytest

from tests.browser.conftest import Page

LARGE = {"width": 1366, "height": 768}  # on smaller pages the edges are smoothed, and the mesh is not used
PIXELS = 0.5  # of the screen to each of the page's: a quarter to be filled and compared
COUNTED = """
    const context = WebGL2RenderingContext.prototype, draw = context.drawElements
    window.triangles = 0
    context.drawElements = function (kind, corners, ...rest) { window.triangles += corners / 3; draw.call(this, kind, corners, ...rest) }
    window.drawnWhole = () => { // at once, as VPython draws by itself: its triangles
        const { quality } = window.picture, { standing } = quality
        quality.standing = null
        window.triangles = 0
        window.picture.redraw()
        window.picture.drawNow()
        quality.standing = standing
        return window.triangles
    }
    window.eachPicture = look => { // until it answers with something
        let busy = false, last = window.triangles, found
        return new Promise(done => window.picture.onDrawn(() => {
            if (busy || found !== undefined) return
            busy = true
            found = look(window.triangles - last)
            busy = false
            last = window.triangles
            if (found !== undefined) done(found)
        }))
    }
"""
# Each of the next pictures beside what VPython draws without the mesh: the share of points that differ, and how many shades there are.
COMPARED = """pictures => {
    const gl = document.querySelector('#picture canvas').getContext('webgl2'), found = []
    const points = () => {
        const [width, height] = [gl.drawingBufferWidth, gl.drawingBufferHeight], all = new Uint8Array(4 * width * height)
        gl.readPixels(0, 0, width, height, gl.RGBA, gl.UNSIGNED_BYTE, all)
        return all
    }
    return window.eachPicture(() => {
        const picture = points()
        window.drawnWhole()
        const plain = points(), shades = new Uint8Array(256), [words, others] = [picture, plain].map(all => new Uint32Array(all.buffer))
        let differ = 0
        for (let k = 0; k < plain.length; k += 4) {
            shades[plain[k]] = shades[plain[k + 1]] = shades[plain[k + 2]] = 1
            if (words[k / 4] === others[k / 4]) continue
            for (let part = k; part < k + 3; part++) if (Math.abs(plain[part] - picture[part]) > 2) differ += 1
        }
        found.push([differ / plain.length, shades.reduce((sum, one) => sum + one)])
        if (found.length === pictures) return found
    })
}"""
# Whether what stands still is soon left out of a picture.
SERVES = """() => {
    let left = 400, whole = window.drawnWhole()
    return window.eachPicture(drawn => {
        if (left % 10 === 0) whole = window.drawnWhole() // what is in sight changes
        if (drawn < 0.8 * whole) return true
        if (--left === 0) return false
    })
}"""
FEW = 2e-4  # of all points: edges of two things at the same depth


@pytest.fixture(scope="module")
def pixels():
    return True


@pytest.fixture
def large(bench, browser):
    context = browser.new_context(viewport=LARGE, device_scale_factor=PIXELS)
    context.add_init_script(COUNTED)
    page = Page(context.new_page(), bench.address)
    yield page
    assert page.errors == []


def all_alike(page, pictures: int = 4) -> None:
    found = page.tab.evaluate(COMPARED, pictures)
    assert max(differ for differ, _ in found) < FEW, found
    assert min(shades for _, shades in found) > 60, "nothing was drawn"


def until_it_serves(page) -> None:
    assert page.tab.evaluate(SERVES), "all was drawn piece by piece in four hundred pictures"


FINE = "([pixels]) => { const canvas = document.querySelector('#picture canvas'); return canvas.width / canvas.clientWidth > 1.9 * pixels }"


def test_what_stands_is_one_mesh_and_the_picture_is_the_same_whatever_changes_hides_or_is_seen_from_elsewhere(large):
    for name in ("terminal-box", "turning-field"):  # the first with things that have a place of their own
        large.send_all([{"do": "scene", "name": name}, {"do": "run", "on": True}])
        large.wait_for("name => window.bench.socket.told.scene.name === name", name)
        until_it_serves(large)
        all_alike(large)
    colours, one_phase = ({"do": "set", "name": name, "value": value} for name, value in (("colours", "north-american"), ("coils", "U")))
    for change in (colours, one_phase, {"do": "view", "name": "corner"}):
        large.send(**change)
        all_alike(large)
        until_it_serves(large)
    large.send(do="run", on=False)
    large.wait_for(FINE, [PIXELS])  # a picture of another size, and the mesh waits
    large.send(do="set", name="coils", value="all")
    large.send(do="run", on=True)
    all_alike(large)
    until_it_serves(large)
    place = large.tab.locator("#picture").bounding_box()
    large.tab.mouse.move(place["x"] + 300, place["y"] + 150)
    large.tab.mouse.down()
    large.tab.mouse.move(place["x"] + 380, place["y"] + 170, steps=3)
    all_alike(large)
    large.tab.mouse.up()
