"""An exhibit in a real browser: touched, turned with a finger, asked, left alone; read from afar and by everyone."""

from __future__ import annotations

import math
import shutil
from pathlib import Path
from types import SimpleNamespace

import pytest

TOUR = Path(__file__).with_name("stand.toml")
QUIET = 3  # s


@pytest.fixture(scope="module")
def stand(start_bench, tmp_path_factory):
    """A stand that waits until it is touched, and forgets a visitor after three seconds."""
    file = shutil.copy(TOUR, tmp_path_factory.mktemp("stand"))  # beside which it counts
    running = start_bench("exhibit", str(file), "--quiet-seconds", str(QUIET))
    yield running
    assert "Traceback" not in running.stop()


@pytest.fixture(scope="module")
def bench(stand):
    """The exhibit's own page, without the frame round it, is the one that is kept for all tests."""
    return SimpleNamespace(address=stand.address + "exhibit")


@pytest.fixture
def page(kept_page):
    """That page, as nobody is there."""
    kept_page.errors.clear()
    kept_page.tab.set_viewport_size({"width": 1024, "height": 768})
    kept_page.wait_for("() => window.bench.socket.told.exhibit.place === -1")
    yield kept_page
    assert kept_page.errors == []


def stop(page, place: int) -> None:
    """A visitor goes to that stop."""
    touch(page, "Touch")
    for at in range(place + 1):
        page.wait_for("at => window.bench.socket.told.exhibit.place === at", at)
        if at < place:
            touch(page, "Next")
    page.settle()


def touch(page, words: str) -> None:
    page.tab.get_by_role("button", name=words, exact=True).click()


def caption(page, words: str) -> None:
    page.tab.get_by_role("heading", name=words, exact=True).wait_for(state="visible")


def test_one_line_until_it_is_touched_then_something_to_try_and_left_alone_it_counts_down(page):
    assert (
        page.tab.locator("body").inner_text().split() == ["Touch", "English", "Deutsch"] or page.tab.locator("#touch").inner_text().split()
    )
    stop(page, 0)
    caption(page, "The rod is pushed.")
    before = page.told("settings")["current"]
    touch(page, "The other way")
    caption(page, "Now it is pushed the other way.")
    page.wait_for("before => window.bench.socket.told.settings.current === -before", before)
    page.settle()
    assert page.drawn("pushed-current")["axis"][2] * before < 0
    page.tab.locator("#left").get_by_text("1", exact=True).wait_for(state="visible")
    page.tab.get_by_role("button", name="Touch", exact=True).wait_for(state="visible")
    assert not page.tab.locator("#left").is_visible()
    page.wait_for("() => window.bench.socket.told.scene.name === 'two-wires'")


def test_a_question_is_asked_answered_and_gone(page):
    stop(page, 0)
    touch(page, "Guess")
    caption(page, "Where will it go?")
    assert page.tab.get_by_role("button", name="Guess").count() == 0
    touch(page, "Left")
    caption(page, "Not quite. Look: Right.")
    touch(page, "Guess")
    touch(page, "Left")
    caption(page, "Right! Left.")
    touch(page, "Guess")
    caption(page, "Where will it go?")
    page.tab.get_by_role("button", name="Touch", exact=True).wait_for(state="visible")  # by itself, when nobody answers


def test_each_language_has_a_button_and_the_first_one_comes_back(page):
    stop(page, 0)
    touch(page, "Deutsch")
    caption(page, "Der Stab wird weggedrückt.")
    assert page.tab.evaluate("() => document.documentElement.lang") == "de"
    assert page.tab.get_by_role("button", name="Deutsch").get_attribute("aria-pressed") == "true"
    touch(page, "Andersherum")
    caption(page, "Jetzt wird er andersherum gedrückt.")
    page.tab.get_by_role("button", name="Touch", exact=True).wait_for(state="visible")
    assert page.tab.evaluate("() => document.documentElement.lang") == "en"


def test_what_a_visitor_turned_is_turned_back(page):
    stop(page, 0)
    page.tab.evaluate("async () => { window.drawing = await import('./page/picture/picture.js') }")
    page.tab.mouse.move(500, 400)
    page.tab.mouse.down()
    page.tab.mouse.move(650, 430, steps=5)
    page.tab.mouse.up()
    assert page.tab.evaluate("() => window.drawing.hasMoved()")
    page.wait_for("() => !window.drawing.hasMoved() && window.bench.socket.told.exhibit.place === -1")


@pytest.mark.parametrize("way", [1, -1], ids=["clockwise", "anticlockwise"])
def test_the_machine_turns_as_the_finger_does(page, way):
    stop(page, 1)
    shaft = page.tab.evaluate("async () => (await import('./page/picture/letters.js')).onScreen([0, 0, 0])")
    for part in range(0, 14):
        angle = way * part * math.pi / 8  # downward in the picture is upward in an angle: clockwise
        page.tab.mouse.move(shaft[0] + 150 * math.cos(angle), shaft[1] + 150 * math.sin(angle))
        if part == 0:
            page.tab.mouse.down()
    page.wait_for("way => way * window.bench.socket.told.settings.speed > 60", way)
    caption(page, "Faster is brighter.")
    page.tab.mouse.up()
    page.tab.evaluate("async () => { window.drawing = await import('./page/picture/picture.js') }")
    assert not page.tab.evaluate("() => window.drawing.hasMoved()"), "the eye stays where it is"


def test_a_part_is_named_when_it_is_touched(page):
    stop(page, 2)
    caption(page, "Touch a part.")
    for name, words in (("English", "The fan blows air over the motor."), ("Deutsch", "Die Welle dreht sich.")):
        touch(page, name)
        page.tab.get_by_role("group").get_by_role("button", name=words, exact=True).focus()
        page.tab.keyboard.press("Enter")
        caption(page, words)
    assert len(page.told("picks")) == 3, "those alone that the tour has words for"


ANSWERED = """() => {
    const begun = (ring) => { const first = !ring.dataset.seen; ring.dataset.seen = 1; return first && ring.getAnimations().length > 0 }
    window.answers = []
    for (const kind of ["pointerdown", "keydown"])
        window.addEventListener(kind, () => window.answers.push([...document.querySelectorAll(".touched")].filter(begun).length), true)
}"""


def test_each_touch_is_answered_at_once_by_something_that_moves(browser, bench, open_page, page):
    """In the very event of a touch or key, before the bench has heard of it: the browser shows it with the next picture."""
    own = open_page(browser.new_context(viewport={"width": 1024, "height": 768}, has_touch=True).new_page(), bench.address)
    own.tab.evaluate(ANSWERED)
    for words in ("Touch", "The other way", "Deutsch", "Weiter"):
        own.tab.get_by_role("button", name=words, exact=True).tap()
    own.tab.touchscreen.tap(500, 300)
    own.tab.get_by_role("button", name="Dreh ihn", exact=True).focus()
    own.tab.keyboard.press("Enter")
    assert own.tab.evaluate("() => window.answers") == [1] * 6
    assert own.errors == []


def test_by_keyboard_alone(page):
    tab_to(page, "Touch")
    page.tab.keyboard.press("Enter")
    caption(page, "The rod is pushed.")
    assert focused(page) == "The other way", "the focus is not lost"
    page.tab.keyboard.press("Enter")
    caption(page, "Now it is pushed the other way.")
    tab_to(page, "Guess")
    page.tab.keyboard.press("Space")
    caption(page, "Where will it go?")
    assert page.tab.locator("#caption").get_attribute("aria-live") == "polite", "it is read aloud when it changes"
    tab_to(page, "Left")
    page.tab.keyboard.press("Enter")
    tab_to(page, "Deutsch")
    page.tab.keyboard.press("Enter")
    page.wait_for("() => document.documentElement.lang === 'de'")
    tab_to(page, "Weiter")
    page.tab.keyboard.press("Enter")
    caption(page, "Ein Magnet dreht sich.")
    tab_to(page, "Dreh ihn")
    page.tab.keyboard.press("Enter")
    page.wait_for("() => window.bench.socket.told.settings.speed > 60")


def focused(page) -> str:
    return page.tab.evaluate("() => document.activeElement.textContent")


def tab_to(page, words: str) -> None:
    for _ in range(8):
        if focused(page) == words:
            return
        page.tab.keyboard.press("Tab")
    raise AssertionError(words)


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


def test_nothing_leads_away_or_stays(page):
    page.tab.evaluate("() => { window.stayed = true; window.kept = [] }")
    page.tab.evaluate("""() => { for (const kind of ["contextmenu", "selectstart", "dragstart", "drop", "keydown"])
        window.addEventListener(kind, (event) => window.kept.push([kind, event.defaultPrevented])) }""")
    stop(page, 0)
    address, scene = page.tab.url, page.told("scene")["name"]
    page.tab.evaluate("() => document.activeElement.blur()")
    for key in KEYS:
        page.tab.keyboard.press(key)
    page.tab.locator("#picture").click(button="right")
    page.tab.locator("#caption").dispatch_event("drop")
    page.tab.mouse.click(200, 40, click_count=3)
    assert page.tab.evaluate("() => String(getSelection())") == ""
    kept = page.tab.evaluate("() => window.kept")
    assert ["contextmenu", True] in kept and ["drop", True] in kept
    assert page.tab.locator("a[href], input, select, video, embed, object").count() == 0
    before = page.told("settings")
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
    assert page.told("scene")["name"] == scene and page.told("settings") == before and page.told("bench")["running"]
    assert not (page.told("notice") or {}).get("text")
    for width, height in ((1920, 1080), (1024, 768), (1080, 1920)):
        page.tab.set_viewport_size({"width": width, "height": height})
        page.tab.mouse.wheel(300, 300)
        assert page.tab.evaluate("() => [scrollX, scrollY, document.documentElement.scrollWidth <= innerWidth]") == [0, 0, True]


@pytest.mark.parametrize("size", [(1920, 1080), (1080, 1920), (390, 844)])
def test_no_accessibility_violations(page, size):
    page.tab.set_viewport_size({"width": size[0], "height": size[1]})
    assert violations(page.tab) == []
    stop(page, 0)
    assert violations(page.tab) == []
    touch(page, "Guess")
    caption(page, "Where will it go?")
    assert violations(page.tab) == []


def violations(tab) -> list:
    """A stand's page cannot be zoomed, on purpose: its letters are large already."""
    from axe_playwright_python.sync_playwright import Axe

    found = [one for one in Axe().run(tab).response["violations"] if one["id"] != "meta-viewport"]
    return [(one["id"], [node["target"] for node in one["nodes"]]) for one in found]


def test_how_it_goes_is_told_on_the_machine_itself(browser, stand, page):
    tab = browser.new_context().new_page()
    tab.goto(stand.address + "status/")
    tab.get_by_text("waiting for somebody").wait_for(state="visible")
    stop(page, 0)
    tab.get_by_text("stop 1 of 3: A conductor with current is pushed").wait_for(state="visible")
    counted = tab.get_by_text("Touches today").locator("xpath=following-sibling::dd[1]").inner_text()
    assert int(counted) >= 1 and violations(tab) == []
    assert tab.get_by_text("No screen shows the exhibit.").count() == 0
    tab.context.close()
