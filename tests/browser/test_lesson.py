"""A lesson given in a real browser: walked by its keys, its questions answered, reloaded in the middle."""

from __future__ import annotations

import pytest

from scenes.lesson import built_in, read

STEPS = read(built_in(), "").steps


@pytest.fixture(scope="module")
def lesson(start_bench):
    running = start_bench("lesson")
    yield running
    assert "Traceback" not in running.stop()


def test_the_whole_lesson_is_walked_by_keys(browser, lesson, open_page):
    context = browser.new_context(viewport={"width": 1100, "height": 700})
    page = open_page(context.new_page(), lesson.address)
    for number, step in enumerate(STEPS, 1):
        page.wait_for("number => window.bench.socket.told.step && window.bench.socket.told.step.number === number", number)
        page.wait_for("words => document.querySelector('#caption .words').textContent.includes(words)", step.caption)
        assert page.told("scene")["name"] == step.scene
        if step.question:
            page.wait_for("() => window.bench.socket.told.question !== null")
            page.tab.keyboard.press("1")
            page.wait_for("() => window.bench.socket.told.question.given !== null")
            page.wait_for("() => document.querySelector('#question').textContent.includes(window.bench.socket.told.question.reason)")
        if number == 12:
            page.tab.reload()
            page.open(page.tab.url)
            assert page.told("step")["number"] == 12
        page.tab.keyboard.press("PageDown" if number % 2 else "n")
    page.settle()
    assert page.told("step")["number"] == len(STEPS)
    assert page.errors == []
    context.close()
