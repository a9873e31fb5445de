"""What is in the picture: it moves, stands still when it is held and shows a reversal; how fine it is; and a browser that cannot draw it
says so in a sentence, while the rest of the page goes on.

What the page draws is the same for every scene; what it is told differs, and the tests without a browser look at that."""

from __future__ import annotations

import time

import pytest

from scenes import catalogue

SMALL = {"width": 700, "height": 500}
OF_EACH_KIND = ("pushed-conductor", "coils-and-commutator", "starting")
FINENESS = """const canvas = document.querySelector('#picture canvas'), fineness = canvas.width / canvas.clientWidth / devicePixelRatio"""
FINE = f"() => {{ {FINENESS}; return fineness > 1.9 }}"
AS_THE_PAGE = f"() => {{ {FINENESS}; return Math.abs(fineness - 1) < 0.02 }}"


@pytest.fixture(scope="module")
def pixels():
    return 0.5


@pytest.fixture(scope="module")
def window():
    return SMALL


# these come first: a page that is kept goes on drawing beside them
def test_without_webgl_one_sentence_says_what_is_missing_and_the_page_goes_on(launch_browser, bench):
    browser = launch_browser("--disable-gpu", "--disable-software-rasterizer", "--disable-3d-apis")
    try:
        tab = browser.new_page(viewport=SMALL)
        tab.goto(bench.address)
        told = tab.locator(".no-picture")
        told.wait_for(state="visible", timeout=60000)
        assert "WebGL 2" in told.inner_text()
        tab.wait_for_function("() => window.bench.socket.told.readings && document.querySelectorAll('#readings > div').length > 2")
        tab.keyboard.press("n")
        tab.wait_for_function("() => window.bench.socket.told.scene.name === 'pushed-conductor'")
        tab.keyboard.press("p")
    finally:
        browser.close()


def test_a_picture_of_which_nothing_is_seen_is_noticed(browser, bench):
    """Some drivers draw nothing and report no error: here every drawing is taken away before VPython comes to it."""
    tab = browser.new_page(viewport=SMALL)
    tab.add_init_script("WebGL2RenderingContext.prototype.drawElements = function () {}")
    tab.goto(bench.address)
    told = tab.locator(".no-picture")
    told.wait_for(state="visible", timeout=60000)
    assert "nothing is to be seen" in told.inner_text()


def becomes(page, other) -> bool:
    """Whether the picture soon is one of which that is true."""
    give_up = time.monotonic() + 60
    while not other(page.picture()):
        if time.monotonic() > give_up:
            return False
    return True


def at_rest(page) -> bytes:
    """The picture once it has come to rest, and is drawn finer."""
    page.settle()
    page.wait_for(FINE)
    page.settle()
    return page.picture()


@pytest.mark.parametrize("name", OF_EACH_KIND)
def test_a_scene_opens_moves_and_follows_its_controls(page, name):
    page.send(do="scene", name=name)
    page.wait_for("name => window.bench.socket.told.scene.name === name", name)
    page.send(do="restart")
    page.send(do="run", on=True)
    page.wait_for("() => window.bench.socket.told.bench.running")
    first = page.picture()
    assert becomes(page, lambda picture: picture != first), "nothing moves"
    page.send(do="run", on=False)
    page.wait_for("() => !window.bench.socket.told.readings.some(reading => reading.value === '…')")  # all is worked out
    still = at_rest(page)
    page.settle()
    assert page.picture() == still, "a held scene goes on"
    for role in {control.role for control in catalogue.scene_class(name).controls if control.role}:
        page.send(do="reverse", what=role)
        assert at_rest(page) != still, f"reversing the {role} changes nothing in the picture"
        page.send(do="reverse", what=role)


def test_a_picture_at_rest_is_drawn_twice_as_fine_until_it_moves_again(page):
    page.send(do="scene", name="turning-field")
    page.wait_for("() => window.bench.socket.told.scene.name === 'turning-field'")
    page.wait_for(AS_THE_PAGE)  # on a machine with much to do even a moving picture rests at times
    page.send(do="run", on=False)
    page.wait_for(FINE)
    page.send(do="run", on=True)
    page.wait_for(AS_THE_PAGE)


def test_the_light_is_worked_out_at_the_corners_of_triangles(page):
    """VPython's programs were found and changed: with another VPython they would be drawn as they are, three times as slowly."""
    assert page.tab.evaluate("() => window.picture.quality.plain") is True
    shades = page.tab.evaluate("""() => {
        const canvas = document.querySelector('#picture canvas'), sheet = document.createElement('canvas')
        sheet.width = canvas.width; sheet.height = canvas.height
        window.picture.redraw(); window.picture.drawNow()
        const pen = sheet.getContext('2d'); pen.drawImage(canvas, 0, 0)
        const data = pen.getImageData(0, 0, sheet.width, sheet.height).data, seen = new Set()
        for (let k = 0; k < data.length; k += 4) seen.add(`${data[k] >> 3} ${data[k + 1] >> 3} ${data[k + 2] >> 3}`)
        return seen.size
    }""")
    assert shades > 60  # a lit picture has many shades, one that is not drawn a single one


def test_where_all_is_well_nothing_is_said(page):
    page.wait_for("() => window.bench.socket.told.scene !== undefined")
    page.settle()
    assert page.tab.locator(".no-picture").count() == 0
