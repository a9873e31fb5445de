"""An exhibit in a real browser: touched, left alone, its browser killed, its program started anew."""

from __future__ import annotations

import pytest


@pytest.fixture
def stand(start_bench):
    running = start_bench("exhibit", "--quiet-seconds", "3", "--minutes-per-scene", "5")
    yield running
    assert "Traceback" not in running.stop()


def test_touched_and_left_alone(browser, stand, open_page):
    context = browser.new_context(viewport={"width": 1024, "height": 768})
    page = open_page(context.new_page(), stand.address)
    page.wait_for("() => document.body.classList.contains('exhibit')")
    for panel in ("#column", "#bar", "#controls", "#lesson"):
        assert not page.tab.locator(panel).is_visible()
    page.tab.get_by_role("button", name="Next").click()
    page.wait_for("() => window.bench.socket.told.scene.name === 'pushed-conductor'")
    before = page.told("settings")["current"]
    page.tab.get_by_role("button", name="Reverse the current").click()
    page.wait_for("before => window.bench.socket.told.settings.current === -before", before)
    assert page.told("exhibit")["visited"]
    # nothing a visitor's page may say changes anything else
    page.send(do="set", name="current", value=1)
    page.send(do="scene", name="starting")
    page.tab.keyboard.press("q")
    page.tab.keyboard.press("F5")
    page.settle()
    assert page.told("scene")["name"] == "pushed-conductor" and page.told("settings")["current"] == -before
    assert page.told("question") is None
    page.wait_for("() => window.bench.socket.told.exhibit.visited === false")
    page.wait_for("before => window.bench.socket.told.settings.current === before", before)
    assert page.tab.get_by_text("Touch a button").is_visible()
    assert page.errors == []
    context.close()


def test_a_killed_browser_and_a_program_started_anew(launch_browser, start_bench, open_page):
    running = start_bench("exhibit", "--minutes-per-scene", "5")
    first = launch_browser()
    open_page(first.new_page(), running.address)
    first.close()
    second = launch_browser()
    page = open_page(second.new_page(), running.address)
    page.wait_for("() => document.body.classList.contains('exhibit')")
    running.stop()
    page.tab.get_by_text("One moment").wait_for(state="visible")
    again = start_bench("exhibit", "--port", str(running.port))
    page.wait_for("() => window.bench && window.bench.socket.told.exhibit && document.body.classList.contains('exhibit')")
    page.tab.get_by_text("One moment").wait_for(state="hidden")
    second.close()
    again.stop()
