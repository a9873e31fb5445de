"""Pages that the other tests do not look at with axe: a lesson and its speaker's window, practice, and the bench in its largest
letters; by day and at night, on a projector's and on a telephone's screen."""

from __future__ import annotations

import json

import pytest

LARGEST = 3


def violations(tab) -> str:
    from axe_playwright_python.sync_playwright import Axe

    return json.dumps([(one["id"], [node["target"] for node in one["nodes"]]) for one in Axe().run(tab).response["violations"]])


@pytest.fixture(scope="module")
def lesson(start_bench):
    running = start_bench("lesson")
    yield running
    assert "Traceback" not in running.stop()


@pytest.fixture(scope="module")
def practice(start_bench, tmp_path_factory):
    running = start_bench("practice", "--seed", "5", "--results", str(tmp_path_factory.mktemp("practice") / "results.json"))
    yield running
    assert "Traceback" not in running.stop()


@pytest.fixture(params=[("light", (1366, 768)), ("dark", (390, 844))], ids=["light, projector", "dark, telephone"])
def context(request, browser):
    scheme, (width, height) = request.param
    made = browser.new_context(viewport={"width": width, "height": height}, color_scheme=scheme)
    yield made
    made.close()


def enlarged(tab) -> None:
    while int(tab.evaluate("() => document.documentElement.dataset.text || 1")) < LARGEST:
        tab.keyboard.press("l")


def fits(tab) -> bool:
    return tab.evaluate("() => document.documentElement.scrollWidth <= window.innerWidth")


def test_a_lesson_and_its_speakers_window(context, open_page, lesson):
    page = open_page(context.new_page(), lesson.address)
    speaker = context.new_page()
    speaker.goto(lesson.address + "speaker/")
    speaker.wait_for_function("() => window.bench && window.bench.socket.told.step")
    for _ in range(2):
        for tab in (page.tab, speaker):
            assert violations(tab) == "[]"
            assert fits(tab)
        page.send(do="reveal")
        page.tab.bring_to_front()
        enlarged(page.tab)


def test_practice_asked_and_answered(context, open_page, practice):
    page = open_page(context.new_page(), practice.address)
    page.wait_for("() => window.bench.socket.told.question")
    assert violations(page.tab) == "[]" and fits(page.tab)
    page.tab.keyboard.press("1")
    page.wait_for("() => window.bench.socket.told.question.given !== null")
    enlarged(page.tab)
    assert violations(page.tab) == "[]" and fits(page.tab)


@pytest.mark.parametrize("name", ["pushed-conductor", "coils-and-commutator", "slip-and-speed", "starting"])
def test_the_bench_in_its_largest_letters(context, open_page, bench, name):
    page = open_page(context.new_page(), bench.address)
    page.send(do="scene", name=name)
    page.wait_for("name => window.bench.socket.told.scene.name === name", name)
    enlarged(page.tab)
    page.settle()
    assert violations(page.tab) == "[]" and fits(page.tab)
    page.tab.keyboard.press("?")
    page.tab.get_by_role("dialog").wait_for(state="visible")
    assert violations(page.tab) == "[]" and fits(page.tab)
