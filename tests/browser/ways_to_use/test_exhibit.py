"""An exhibit in a real browser: touched, turned with a finger, asked, left alone; read from afar and by everyone."""

from __future__ import annotations

import math
import shutil
from pathlib import Path
from types import SimpleNamespace

import pytest

TOUR = Path(__file__).with_name("stand.toml")
QUIET = 3  # s
SIZES = [(1080, 1920), (1920, 1080), (3840, 2160)]


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
    fan = next(pick for pick in page.told("picks") if pick["name"] == "fan")
    page.tab.get_by_role("button", name=fan["words"], exact=True).focus()
    page.tab.keyboard.press("Enter")
    page.wait_for("() => document.getElementById('caption').textContent.includes('fan')")
    assert page.tab.locator("#caption").get_attribute("lang") == "en"


ANSWERED = """async () => {
    const seen = []
    const watch = new MutationObserver((changes) => changes.forEach(({ addedNodes }) => addedNodes.forEach((node) => {
        if (node.classList && node.classList.contains("touched")) seen.push([performance.now(), node.getAnimations().length]) })))
    watch.observe(document.body, { childList: true })
    window.addEventListener("pointerdown", (event) => (window.pressed = event.timeStamp), true)
    window.answers = () => seen.map(([at, moves]) => [at - window.pressed, moves])
}"""


def test_each_touch_is_answered_within_a_tenth_of_a_second_by_something_that_moves(browser, bench, open_page, page):
    own = open_page(browser.new_context(viewport={"width": 1024, "height": 768}, has_touch=True).new_page(), bench.address)
    own.tab.evaluate(ANSWERED)
    for number, words in enumerate(("Touch", "The other way", "Deutsch", "Weiter"), 1):
        own.tab.get_by_role("button", name=words, exact=True).tap()
        delay, moves = own.tab.evaluate("() => window.answers().at(-1)")
        assert 0 <= delay < 100 and moves > 0 and own.tab.evaluate("() => window.answers().length") == number, (words, delay)
    own.tab.touchscreen.tap(500, 300)
    assert own.tab.evaluate("() => window.answers().length") == 5
    assert own.errors == []


MEASURED = """async () => {
    const letters = await import('./page/picture/letters.js')
    const seen = (element) => { const { width, height } = element.getBoundingClientRect(); return width > 2 && height > 2 }
    const own = (element) => [...element.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim())
    const texts = [...document.querySelectorAll('body *')].filter((element) => element.checkVisibility() && own(element) && seen(element))
    const box = (element) => { const { left, top, right, bottom } = element.getBoundingClientRect(); return [left, top, right, bottom] }
    const corners = window.bench.socket.told.view.subject.flatMap(([low, high]) => [0, 1, 2, 3, 4, 5, 6, 7]
        .map((one) => letters.onScreen([0, 1, 2].map((axis) => ((one >> axis) & 1 ? high : low)[axis]))))
    return {
        texts: texts.map((element) => [element.textContent, parseFloat(getComputedStyle(element).fontSize)]),
        caption: parseFloat(getComputedStyle(document.getElementById('caption')).fontSize),
        buttons: [...document.querySelectorAll('#touch button')].filter((button) => button.checkVisibility()).map(box),
        letters: letters.shown().map(({ text }) => text),
        subject: [Math.min(...corners.map(([x]) => x)), Math.min(...corners.map(([, y]) => y)),
            Math.max(...corners.map(([x]) => x)), Math.max(...corners.map(([, y]) => y))],
        scrolls: document.documentElement.scrollWidth > innerWidth || document.documentElement.scrollHeight > innerHeight,
        over: [box(document.querySelector('.band')), box(document.getElementById('touch'))],
    }
}"""


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
def test_it_is_read_from_some_metres_and_reached_from_a_wheelchair(page, size):
    """The sizes are shares of the screen's shorter side; what is touched lies in its lower third, 64 px high at least."""
    width, height = size
    shorter = min(size)
    page.tab.set_viewport_size({"width": width, "height": height})
    stop(page, 0)
    touch(page, "The other way")
    page.tab.evaluate("() => { window.there = setInterval(() => window.bench.socket.request.touch(true), 500) }")  # however slow it is here
    caption(page, "Now it is pushed the other way.")
    seen = page.tab.evaluate(MEASURED)
    page.tab.evaluate("() => clearInterval(window.there)")
    assert seen["caption"] >= shorter / 22 and not seen["scrolls"]
    assert len(seen["texts"]) >= 6 and all(high >= shorter / 40 for _, high in seen["texts"]), seen["texts"]
    assert 0 < len(seen["letters"]) <= 3 and set(seen["letters"]) <= {"N", "S", "I"}
    for left, top, right, bottom in seen["buttons"]:
        assert bottom - top >= 64 and right - left >= 64 and top >= 2 / 3 * height
        assert left >= 0 and right <= width and bottom <= height
    left, top, right, bottom = seen["subject"]
    band, buttons = seen["over"]
    assert left >= 0 and right <= width and band[3] <= top and bottom <= buttons[1], "nothing lies over what is spoken of"
    room = buttons[1] - band[3]
    assert right - left > 0.8 * width or bottom - top > 0.8 * room, "it fills what room there is"


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
