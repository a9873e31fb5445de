"""A page on which a student practises, with the file in which the answers are kept."""

from __future__ import annotations

import json
import time

import pytest

from tests.browser.browsers import PATIENCE, Browser

USUAL = {"width": 1100, "height": 700}


class Kept:
    """The file in which the answers are kept, from where a test begins."""

    def __init__(self, path):
        self.path = path
        self.before = len(self._written())

    def _written(self) -> list[str]:
        """The lines so far; the last may be half written."""
        return [line for line in self.path.read_text("utf-8").splitlines(keepends=True) if line.endswith("\n")]

    def lines(self, count: int) -> list[dict]:
        """Those of this test, as soon as there are so many."""
        give_up = time.monotonic() + PATIENCE
        while len(self._written()) < self.before + count and time.monotonic() < give_up:
            time.sleep(0.05)
        return [json.loads(line) for line in self._written()[self.before :]]


@pytest.fixture(scope="module")
def practice(tmp_path_factory, start_bench, shared_browser, pixels, open_page):
    """One practice for all tests of this file, and a page of it: to start it takes longer than most of them."""
    file = tmp_path_factory.mktemp("practice") / "answers.jsonl"
    running = start_bench("practice", "conductor", "--seed", "3", "--results", str(file))  # two scenes, which are soon built
    browser = Browser(shared_browser, pixels)
    yield open_page(browser.new_context(viewport=USUAL).new_page(), running.address), running.address, file
    browser.close_what_was_opened()
    said = running.stop()
    assert "Traceback" not in said, said


@pytest.fixture
def practised(practice):
    """The page with a question that waits, and the answers that are kept from now on."""
    page, address, file = practice
    page.tab.set_viewport_size(USUAL)
    if page.tab.evaluate("() => location.pathname !== '/'"):
        page.open(address)
    page.send(do="enough")
    page.wait_for("() => window.bench?.socket.told.question === null")
    page.send(do="ask")
    page.wait_for("() => window.bench?.socket.told.question && window.bench.socket.told.mock === null")
    yield page, Kept(file)
    assert page.errors == []
