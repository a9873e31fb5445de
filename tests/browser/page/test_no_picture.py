"""A browser that cannot draw says so in a sentence, and the rest of the page goes on."""

from __future__ import annotations

import pytest


@pytest.fixture(scope="module")
def pixels():
    return True


def test_without_webgl_one_sentence_says_what_is_missing_and_the_page_goes_on(launch_browser, bench):
    browser = launch_browser("--disable-gpu", "--disable-software-rasterizer", "--disable-3d-apis")
    try:
        tab = browser.new_page(viewport={"width": 1100, "height": 700})
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


def test_where_all_is_well_nothing_is_said(page):
    page.wait_for("() => window.bench.socket.told.scene !== undefined")
    page.settle()
    assert page.tab.locator(".no-picture").count() == 0


def test_a_picture_of_which_nothing_is_seen_is_noticed(launch_browser, bench):
    """Some drivers draw nothing and report no error: here every drawing is taken away before VPython comes to it."""
    browser = launch_browser()
    try:
        tab = browser.new_page(viewport={"width": 1100, "height": 700})
        tab.add_init_script("WebGL2RenderingContext.prototype.drawElements = function () {}")
        tab.goto(bench.address)
        told = tab.locator(".no-picture")
        told.wait_for(state="visible", timeout=60000)
        assert "nothing is to be seen" in told.inner_text()
    finally:
        browser.close()
