"""An exhibit in a real browser: touched, left alone, its browser killed, its program started anew."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import signal
import subprocess
import time
from pathlib import Path

import pytest

from scenes.exhibit.tours import TOURS
from tests import programs

README = Path(__file__).parents[3] / "README.md"
FIRST = TOURS["field-round-a-wire"][0].caption


@pytest.fixture
def stand(start_bench):
    """An exhibit that stays at its first scene until it is touched, and forgets a visitor after three seconds."""
    running = start_bench("exhibit", "--quiet-seconds", "3", "--minutes-per-scene", "20")
    yield running
    assert "Traceback" not in running.stop()


def exhibit(open_page, browser, running, size=(1024, 768), **more):
    """The exhibit's own page, without the frame round it."""
    context = browser.new_context(viewport={"width": size[0], "height": size[1]}, **more)
    return open_page(context.new_page(), running.address + "exhibit")


def framed(browser, running):
    """What a kiosk's browser opens, and the frame in it when it is shown."""
    tab = browser.new_context(viewport={"width": 1024, "height": 768}).new_page()
    tab.goto(running.address)
    tab.locator("#cover").wait_for(state="hidden")
    return tab, tab.frame_locator("iframe")


def test_touched_and_left_alone(browser, stand, open_page):
    page = exhibit(open_page, browser, stand)
    assert page.tab.get_by_text(FIRST).is_visible()
    assert page.tab.get_by_text("Touch the screen").is_visible() and page.letters_lie_on_the_picture()
    page.tab.get_by_role("button", name="Next").click()
    page.wait_for("() => window.bench.socket.told.scene.name === 'pushed-conductor'")
    assert not page.tab.get_by_text("Touch the screen").is_visible()
    before = page.told("settings")["current"]
    page.tab.get_by_role("button", name="Reverse the current").click()
    page.wait_for("before => window.bench.socket.told.settings.current === -before", before)
    page.settle()
    assert page.drawn("pushed-current")["axis"][2] * before < 0
    page.wait_for("() => window.bench.socket.told.exhibit.visited === false")
    page.wait_for("before => window.bench.socket.told.settings.current === before", before)
    page.tab.get_by_text("Touch the screen").wait_for(state="visible")
    assert page.errors == []
    page.tab.context.close()


def test_a_question_is_asked_answered_and_gone(browser, stand, open_page):
    page = exhibit(open_page, browser, stand)
    page.tab.get_by_role("button", name="A question").click()
    page.tab.locator("#question button").first.click()
    page.wait_for("() => window.bench.socket.told.question.given !== null")
    assert page.tab.get_by_text(page.told("question")["reason"]).is_visible()
    page.tab.get_by_role("button", name="Done").click()
    page.tab.locator("#question").wait_for(state="hidden")
    page.tab.get_by_role("button", name="A question").click()
    page.tab.locator("#question").wait_for(state="visible")
    page.tab.locator("#question").wait_for(state="hidden")  # by itself, when nobody answers
    page.tab.get_by_text(FIRST).wait_for(state="visible")
    page.tab.context.close()


def test_what_a_visitor_turned_is_turned_back(browser, stand, open_page):
    page = exhibit(open_page, browser, stand)
    page.tab.evaluate("async () => { window.drawing = await import('./page/picture/picture.js') }")
    page.tab.mouse.move(500, 400)
    page.tab.mouse.down()
    page.tab.mouse.move(650, 430, steps=5)
    page.tab.mouse.up()
    assert page.tab.evaluate("() => window.drawing.hasMoved()")
    page.wait_for("() => window.bench.socket.told.exhibit.visited")
    page.wait_for("() => !window.drawing.hasMoved()")
    page.tab.context.close()


KEYS = [
    "F5",
    "Control+r",
    "Control+p",
    "Control+f",
    "Control+g",
    "Control+u",
    "Control+d",
    "Control+Equal",
    "Alt+ArrowLeft",
    "Backspace",
    "Escape",
    "F1",
    "F3",
    "F6",
    "F7",
    "q",
    "n",
    "l",
    "d",
    "k",
    "?",
    "1",
    "Space",
    "Home",
]


def test_nothing_leads_away_or_stays(browser, stand, open_page):
    page = exhibit(open_page, browser, stand, has_touch=True)
    page.tab.evaluate("() => { window.stayed = true; window.kept = [] }")
    page.tab.evaluate("""() => { for (const kind of ["contextmenu", "selectstart", "dragstart", "drop", "keydown"])
        window.addEventListener(kind, (event) => window.kept.push([kind, event.defaultPrevented])) }""")
    address, scene = page.tab.url, page.told("scene")["name"]
    for key in KEYS:
        page.tab.keyboard.press(key)
    page.tab.locator("#picture").click(button="right")
    page.tab.locator("#caption").click(click_count=3)
    page.tab.locator("#caption").dispatch_event("drop")
    assert page.tab.evaluate("() => String(getSelection())") == ""
    kept = page.tab.evaluate("() => window.kept")
    assert ["contextmenu", True] in kept and ["drop", True] in kept
    assert page.tab.locator("a[href], input, select, video, embed, object").count() == 0
    for message in (
        {"do": "set", "name": "current", "value": 1},
        {"do": "scene", "name": "starting"},
        {"do": "run", "on": False},
        {"do": "open", "address": "scene=starting"},
        {"do": "answers", "shown": False},
        {"do": "view", "name": "top"},
    ):
        page.send(**message)
    page.settle()
    assert page.tab.evaluate("() => window.stayed") and page.tab.url == address
    assert page.told("scene")["name"] == scene and page.told("settings")["current"] == 20 and page.told("bench")["running"]
    assert not (page.told("notice") or {}).get("text")
    for width, height in ((1920, 1080), (1024, 768), (1080, 1920)):
        page.tab.set_viewport_size({"width": width, "height": height})
        page.tab.mouse.wheel(300, 300)
        assert page.tab.evaluate("() => [scrollX, scrollY, document.documentElement.scrollWidth <= innerWidth]") == [0, 0, True]
    picture = page.tab.locator("#picture").bounding_box()  # upright, the words are large and leave it not much more height than width
    assert 0.7 < picture["height"] / picture["width"] < 1.2
    assert page.tab.evaluate("() => parseFloat(getComputedStyle(document.querySelector('#caption')).fontSize)") > 44
    page.tab.context.close()


@pytest.mark.parametrize(("scheme", "size"), [("light", (1920, 1080)), ("dark", (1080, 1920)), ("dark", (390, 844))])
def test_no_accessibility_violations(browser, stand, open_page, scheme, size):
    from axe_playwright_python.sync_playwright import Axe

    page = exhibit(open_page, browser, stand, size, color_scheme=scheme)
    for _ in range(2):
        page.settle()
        # a stand's page cannot be zoomed, on purpose: its letters are large already
        found = [one for one in Axe().run(page.tab).response["violations"] if one["id"] != "meta-viewport"]
        assert found == [], [(one["id"], [node["target"] for node in one["nodes"]]) for one in found]
        page.tab.get_by_role("button", name="A question").click()
        page.tab.locator("#question").wait_for(state="visible")
    page.tab.context.close()


def test_a_killed_browser_comes_back_to_the_loop(launch_browser, stand):
    first = launch_browser()
    _, frame = framed(first, stand)
    frame.get_by_role("button", name="Next").click()
    frame.get_by_role("heading", name="A conductor with current is pushed").wait_for()
    first.close()
    second = launch_browser()
    _, frame = framed(second, stand)
    frame.get_by_text("Touch the screen").wait_for(state="visible")
    second.close()


def test_a_program_started_anew_is_waited_for_with_one_word(browser, start_bench):
    running = start_bench("exhibit")
    tab, frame = framed(browser, running)
    running.stop()
    tab.get_by_text("One moment").first.wait_for(state="visible")
    words = tab.evaluate("() => document.body.innerText.trim()")
    assert words in ("", "One moment")
    again = start_bench("exhibit", "--port", str(running.port))
    tab.locator("#cover").wait_for(state="hidden")
    frame.get_by_text(FIRST).wait_for(state="visible")
    again.stop()
    tab.context.close()


def test_a_page_that_broke_down_is_covered_and_opened_anew(browser, stand):
    tab, frame = framed(browser, stand)
    tab.clock.install()
    tab.frames[1].goto("about:blank")  # as when the browser puts a page of its own there
    for _ in range(40):
        tab.clock.run_for(500)
        time.sleep(0.05)
    tab.clock.resume()
    tab.locator("#cover").wait_for(state="hidden")
    frame.get_by_text("Touch the screen").wait_for(state="visible")
    tab.context.close()


def test_the_kiosks_command_of_the_readme_opens_it_and_a_killed_one_opens_it_again(stand, tmp_path):
    command = shlex.split(re.search(r"^ExecStart=(\S*chromium .+)$", README.read_text("utf-8"), re.MULTILINE)[1])
    assert {"--kiosk", "--noerrdialogs", "--incognito"} <= set(command)
    command[0] = shutil.which(Path(command[0]).name) or command[0]
    command[-1] = stand.address
    flags = [
        "--headless",
        "--no-sandbox",
        "--use-gl=angle",
        "--use-angle=swiftshader",
        "--enable-unsafe-swiftshader",
        f"--user-data-dir={tmp_path}",
        "--enable-logging=stderr",
    ]
    for _ in range(2):
        kiosk = programs.start([*command[:-1], *flags, command[-1]], stderr=subprocess.DEVNULL, start_new_session=True)
        try:
            wait_until(lambda: established(stand.port))
        finally:
            os.killpg(kiosk.pid, signal.SIGKILL)
            kiosk.wait()
        wait_until(lambda: not established(stand.port))


def established(port: int) -> bool:
    """Whether a socket to the program stays open longer than a file takes to be fetched: the page's line to it."""
    seen = connections(port)
    time.sleep(1.5)
    return bool(seen & connections(port))


def connections(port: int) -> set[str]:
    lines = Path("/proc/net/tcp").read_text().splitlines()[1:]
    return {line.split()[2] for line in lines if line.split()[1].endswith(f":{port:04X}") and line.split()[3] == "01"}


def wait_until(condition) -> None:
    end = time.monotonic() + 60
    while not condition():
        assert time.monotonic() < end
        time.sleep(0.1)
