"""An exhibit in a real browser: touched, turned with a finger, asked, left alone; read from afar and by everyone.

The stand's clock is the test's: however slow a machine is, no visitor has gone before the test says so.
"""

from __future__ import annotations

import math
from types import SimpleNamespace

import pytest

from tests.browser.accessibility import violations
from tests.browser.browsers import Browser
from tests.simulated_stand import QUIET, Driven

TEN = 36000  # o'clock, as seconds of the day
ON_PURPOSE = ("meta-viewport",)  # a stand's page cannot be zoomed: its letters are large already


@pytest.fixture(scope="module")
def stand(tmp_path_factory):
    """A stand that waits until it is touched."""
    running = Driven(tmp_path_factory.mktemp("stand") / "counts.json", second=TEN)
    yield running
    assert running.stop() == 0


@pytest.fixture(scope="module")
def bench(stand):
    """The exhibit's own page, without the frame round it, is the one that is kept for all tests."""
    return SimpleNamespace(address=stand.address + "exhibit")


@pytest.fixture(scope="module")
def kept_page(shared_browser, pixels, bench, open_page):
    """It can be touched as well."""
    own = Browser(shared_browser, pixels)
    yield open_page(own.new_context(viewport={"width": 1024, "height": 768}, has_touch=True).new_page(), bench.address)
    own.close_what_was_opened()


@pytest.fixture
def page(kept_page, stand):
    """That page, as nobody is there."""
    kept_page.errors.clear()
    kept_page.tab.set_viewport_size({"width": 1024, "height": 768})
    let_go(kept_page)
    stand.do(f"wait {QUIET}")
    kept_page.wait_for("() => window.bench.socket.told.exhibit.place === -1")
    yield kept_page
    assert kept_page.errors == []


def let_go(page) -> None:
    """Nobody touches it any more, and the bench has heard of the last touch: the page tells of one that goes on only now and then."""
    for _ in range(2):  # it is told at the end of the first, and has come by the second
        page.settle()


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


FRAMED = "() => { const { center: { x, y, z }, range } = window.stream.canvas(); return [x, y, z, range] }"


def test_a_visit_from_one_line_to_the_countdown_after_which_nothing_stays(page, stand):
    """Another language, something to try, a question answered wrongly and rightly, the picture turned, a question left open."""
    assert (
        page.tab.locator("body").inner_text().split() == ["Touch", "English", "Deutsch"] or page.tab.locator("#touch").inner_text().split()
    )
    page.tab.evaluate("async () => { window.drawing = await import('./page/picture/picture.js') }")
    stop(page, 0)
    caption(page, "The rod is pushed.")
    touch(page, "Deutsch")
    caption(page, "Der Stab wird weggedrückt.")
    assert page.tab.evaluate("() => document.documentElement.lang") == "de"
    assert page.tab.get_by_role("button", name="Deutsch").get_attribute("aria-pressed") == "true"
    before = page.told("settings")["current"]
    touch(page, "Andersherum")
    caption(page, "Jetzt wird er andersherum gedrückt.")
    page.wait_for("before => window.bench.socket.told.settings.current === -before", before)
    page.settle()
    assert page.drawn("pushed-current")["axis"][2] * before < 0
    page.tab.reload()
    page.wait_for("() => window.bench && window.bench.socket.told.exhibit")
    caption(page, "Jetzt wird er andersherum gedrückt.")
    assert page.tab.evaluate("() => document.documentElement.lang") == "de", "a page that is opened anew is where the visitor is"
    page.tab.evaluate("async () => { window.drawing = await import('./page/picture/picture.js') }")
    touch(page, "English")
    caption(page, "Now it is pushed the other way.")

    touch(page, "Guess")  # which turns the current round again: as at first it is pushed to the left, by the left hand
    caption(page, "Where will it go?")
    assert page.tab.get_by_role("button", name="Guess").count() == 0
    touch(page, "Right")
    caption(page, "Not quite. Look: Left.")
    touch(page, "Guess")
    touch(page, "Right")
    caption(page, "Right! Right.")

    page.tab.mouse.move(500, 400)
    page.tab.mouse.down()
    page.tab.mouse.move(650, 430, steps=5)
    page.tab.mouse.move(650, 10, steps=5)
    assert page.tab.evaluate("() => window.stream.canvas().forward.y") < 1e-6, "nobody looks at the bench from below, where it hides all"
    page.tab.mouse.up()
    assert page.tab.evaluate("() => window.drawing.hasMoved()")
    page.wait_for("() => !window.drawing.hasMoved()")
    assert page.told("exhibit")["place"] == 0, "let go, it swings back by itself"
    page.tab.set_viewport_size({"width": 768, "height": 1024})
    touch(page, "Deutsch")
    touch(page, "Rate")
    caption(page, "Wohin geht er?")
    page.settle()
    framed = page.tab.evaluate(FRAMED)
    let_go(page)
    stand.do(f"wait {QUIET - 11}")  # nobody answers
    page.settle()
    assert page.tab.locator("#left").is_hidden()
    stand.do("wait 9")
    page.tab.locator("#left").get_by_text("2", exact=True).wait_for(state="visible")
    page.settle()
    assert page.tab.evaluate(FRAMED) == framed, "the picture makes no room for the countdown"
    assert page.told("exhibit")["place"] == 0
    stand.do("wait 2")
    page.tab.get_by_role("button", name="Touch", exact=True).wait_for(state="visible")
    assert not page.tab.locator("#left").is_visible()
    page.wait_for("() => window.bench.socket.told.scene.name === 'two-wires'")
    page.wait_for("() => !window.drawing.hasMoved() && window.bench.socket.told.exhibit.place === -1")
    assert page.tab.evaluate("() => document.documentElement.lang") == "en"


def test_the_machine_turns_as_the_finger_does_and_a_part_is_named_when_it_is_touched(page):
    page.tab.evaluate("async () => { window.drawing = await import('./page/picture/picture.js') }")
    stop(page, 1)
    shaft = page.tab.evaluate("async () => (await import('./page/picture/letters.js')).onScreen([0, 0, 0])")
    for way in (1, -1):  # clockwise, anticlockwise
        for part in range(0, 14):
            angle = way * part * math.pi / 8  # downward in the picture is upward in an angle: clockwise
            page.tab.mouse.move(shaft[0] + 150 * math.cos(angle), shaft[1] + 150 * math.sin(angle))
            if part == 0:
                page.tab.mouse.down()
        page.wait_for("way => way * window.bench.socket.told.settings.speed > 60", way)
        caption(page, "Faster is brighter.")
        page.tab.mouse.up()
    assert not page.tab.evaluate("() => window.drawing.hasMoved()"), "the eye stays where it is"
    touch(page, "Next")
    caption(page, "Touch a part.")
    for name, words in (("English", "The fan blows air over the motor."), ("Deutsch", "Die Welle dreht sich.")):
        touch(page, name)
        page.tab.get_by_role("group").get_by_role("button", name=words, exact=True).focus()
        page.tab.keyboard.press("Enter")
        caption(page, words)
    assert len(page.told("picks")) == 3, "those alone that the tour has words for"


ANSWERED = """() => {
    const begun = (ring) => { const first = !ring.dataset.seen; ring.dataset.seen = 1; return first && ring.getAnimations().length > 0 }
    document.querySelectorAll(".touched").forEach(begun) // of a touch before
    window.answers = []
    for (const kind of ["pointerdown", "keydown"])
        window.addEventListener(kind, () => window.answers.push([...document.querySelectorAll(".touched")].filter(begun).length), true)
}"""


def test_each_touch_is_answered_at_once_by_something_that_moves(page):
    """In the very event of a touch or key, before the bench has heard of it: the browser shows it with the next picture."""
    page.tab.evaluate(ANSWERED)
    for words in ("Touch", "The other way", "Deutsch", "Weiter"):
        page.tab.get_by_role("button", name=words, exact=True).tap()
    page.tab.touchscreen.tap(500, 300)
    page.tab.get_by_role("button", name="Dreh ihn", exact=True).focus()
    page.tab.keyboard.press("Enter")
    assert page.tab.evaluate("() => window.answers") == [1] * 6


TOUCHED = """async () => {
    const touched = () => document.body.dispatchEvent(new PointerEvent("pointerdown", { clientX: 300, clientY: 300, bubbles: true }))
    const everyoneHasBeenTold = async () => { for (let turn = 0; turn < 20; turn++) await null }
    const ringMoves = async () => {
        await [...document.querySelectorAll(".touched")].at(-1).getAnimations()[0].ready
        await everyoneHasBeenTold()
    }
    const asked = () => { const before = drawn; window.picture.redraw(); window.picture.drawNow(); return drawn - before }
    let drawn = 0
    window.picture.onDrawn(() => { drawn += 1 })
    const picture = async () => { for (drawn = 0; !drawn;) await new Promise(requestAnimationFrame) }
    await picture()
    touched()
    const atOnce = asked()
    document.documentElement.dataset.theme = "light" // which makes the picture's buffer anew, and empty
    const before = drawn
    await everyoneHasBeenTold()
    const filled = drawn - before
    await ringMoves()
    await picture()
    touched()
    await ringMoves()
    touched() // a second time, before there was a picture
    return [atOnce, filled, asked()]
}"""


def test_no_picture_is_begun_between_a_touch_and_its_answer(page):
    """It would keep the page from showing the ring. But whoever touches the screen all the time has pictures too."""
    stop(page, 0)
    assert page.tab.evaluate(TOUCHED) == [0, 1, 1]
    page.tab.evaluate("() => { window.goOn = window.bench.socket.holdBack() }")
    page.send(do="speak", language="de")
    page.tab.wait_for_timeout(300)
    assert page.tab.evaluate("() => document.documentElement.lang") == "en"
    page.tab.evaluate("() => window.goOn()")
    page.wait_for("() => document.documentElement.lang === 'de'")
    touch(page, "Andersherum")  # who has tried something is taken to have gone when nobody touches it


def test_all_can_use_it(page):
    """What waits to be touched, a stop and its question, on a telephone's screen, an upright and a lying one."""

    def accessible_at(width: int, height: int) -> None:
        page.tab.set_viewport_size({"width": width, "height": height})
        assert violations(page.tab, ON_PURPOSE) == "", (width, height)

    for size in ((390, 844), (1080, 1920)):
        accessible_at(*size)
    stop(page, 0)
    for size in ((390, 844), (1920, 1080)):
        accessible_at(*size)
    touch(page, "Guess")
    caption(page, "Where will it go?")
    for size in ((1080, 1920), (390, 844)):
        accessible_at(*size)


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
    page.tab.get_by_role("button", name=words, exact=True).wait_for()
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


def test_how_it_goes_is_told_on_the_machine_itself(browser, stand, page):
    tab = browser.new_context().new_page()
    tab.goto(stand.address + "status/")
    tab.get_by_text("It is waiting for somebody to touch the screen.").wait_for(state="visible")
    tab.get_by_text(f"Nobody has touched the screen in the last {QUIET} s.").wait_for(state="visible")
    stop(page, 0)
    tab.get_by_text("It shows stop 1 of 3: A conductor with current is pushed.").wait_for(state="visible")
    tab.get_by_text(f"Somebody has touched the screen in the last {QUIET} s.").wait_for(state="visible")
    tab.get_by_text("Nothing restarts it. A service with WatchdogSec would; the README has one.").wait_for(state="visible")
    counted = tab.get_by_text("Touches today").locator("xpath=following-sibling::dd[1]").inner_text()
    assert int(counted) >= 1 and violations(tab, ON_PURPOSE) == ""
    assert tab.get_by_text("No screen shows the exhibit.").count() == 0
    tab.context.close()
