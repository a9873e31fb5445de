"""The page as a class, a student and an exhibit meet it: questions, reloads, a second tab, a browser that dies."""

from __future__ import annotations

import pytest

from scenes import catalogue
from scenes.bench.prediction import Prediction
from tests.browser.accessibility import violations


def asked_question(name: str, seed: int):
    """The question of that seed, worked out here, without a page."""
    scene = catalogue.scene_class(name)()
    prediction = Prediction()
    prediction.ask(scene, seed)
    return prediction.question


@pytest.mark.parametrize("name", ("field-round-a-wire", "turning-field", "starting"))
def test_a_question_is_answered_wrongly_and_then_rightly(page, name):
    page.send(do="scene", name=name)
    page.wait_for("name => window.bench.socket.told.scene.name === name", name)
    before = (page.told("question") or {}).get("score", {"right": 0, "asked": 0})
    for seed, rightly in ((11, False), (12, True)):
        question = asked_question(name, seed)
        page.send(do="ask", seed=seed)
        page.wait_for("seed => window.bench.socket.told.question && window.bench.socket.told.question.seed === seed", seed)
        shown = page.told("question")
        assert shown["text"] == question.text and shown["answer"] is None and shown["reason"] is None
        assert page.told("bench")["held"]
        assert "?" in [reading["value"] for reading in page.told("readings")]
        wanted = [place for place, (value, _) in enumerate(question.choices, 1) if (value == question.answer) == rightly][0]
        page.tab.keyboard.press(str(wanted))
        page.wait_for("() => window.bench.socket.told.question.given !== null")
        page.settle()
        shown = page.told("question")
        assert shown["right"] is rightly
        assert shown["reason"] == question.reason
        assert page.tab.get_by_text(question.reason).is_visible()
    after = page.told("question")["score"]
    assert after["asked"] - before["asked"] in (1, 2) or after["asked"] >= 2
    assert after["right"] < after["asked"]
    page.tab.keyboard.press("Escape")
    page.send(do="enough")
    page.wait_for("() => window.bench.socket.told.question === null")


def test_a_figure_without_its_unit_is_told_at_its_field_where_it_stays_to_be_corrected(page):
    asked = Prediction()
    asked.ask(catalogue.scene_class("field-round-a-wire")(), 3, "figure")
    page.send(do="ask", seed=3, kind="figure")
    field = page.tab.get_by_label("A figure with its unit")
    field.fill("12")
    field.press("Enter")
    told = page.tab.locator(f"#{field.get_attribute('aria-describedby')}")
    told.get_by_text("unit").or_(told.filter(has_text="unit")).first.wait_for(state="visible")
    assert field.input_value() == "12" and field.get_attribute("aria-invalid") == "true"
    assert page.tab.evaluate("() => document.activeElement.id") == "figure" and page.tab.locator("#notice").inner_text() == ""
    above, below = field.bounding_box(), told.bounding_box()
    assert 0 <= below["y"] - above["y"] - above["height"] < 20 and abs(below["x"] - above["x"]) < 20
    field.fill(asked.question.answer)
    field.press("Enter")
    page.tab.locator("#question .verdict.right").wait_for(state="visible")


def test_an_answer_can_be_shown_without_giving_one_and_a_count_is_kept_only_where_one_is_wanted(page):
    foot, button = page.tab.locator("#question .foot"), page.tab.get_by_role("button", name="Show the answer", exact=True)
    page.send(do="ask", seed=11)
    button.wait_for(state="visible")
    before = page.told("question")["score"]["asked"]
    button.click()
    page.tab.locator("#question .correct").wait_for(state="visible")
    assert page.told("question")["score"]["asked"] == before and page.tab.locator("#question .verdict").count() == 0
    page.send(do="ask", seed=12)
    button.wait_for(state="visible")
    page.tab.keyboard.press("1")
    page.tab.locator("#question .verdict").wait_for(state="visible")
    assert " of " not in foot.inner_text()
    score = page.told("question")["score"]
    page.tab.get_by_role("button", name="Keep score", exact=True).click()
    foot.get_by_text(f"{score['right']} of {score['asked']} right").wait_for(state="visible")
    page.tab.evaluate("() => localStorage.clear()")


def test_nothing_in_the_picture_tells_the_answer_before_it_is_given(page):
    for name, hidden in (
        ("pushed-conductor", ["pushed-force", "pushed-left-hand"]),
        ("two-wires", ["two-wires-field-left", "two-wires-force", "two-wires-force-other", "two-wires-left-hand", "two-wires-mark-0"]),
        ("moved-conductor", ["moved-emf", "moved-force", "moved-right-hand"]),
        ("field-round-a-wire", ["wire-field", "wire-grip-hand"]),
    ):
        page.send(do="scene", name=name)
        page.wait_for("name => window.bench.socket.told.scene.name === name", name)
        page.send(do="ask", seed=5)
        page.wait_for("() => window.bench.socket.told.question !== null")
        page.settle()
        for drawn in hidden:
            assert not page.drawn(drawn)["visible"], drawn
        assert not page.tab.locator("#principle").is_visible()  # it answers most of the questions
        page.send(do="answers", shown=True)
        page.wait_for("() => /hidden until/.test((window.bench.socket.told.notice || {}).text || '')")
        for drawn in hidden:
            assert not page.drawn(drawn)["visible"], drawn
        page.send(do="enough")
        page.tab.locator("#principle").wait_for(state="visible")


def test_a_reload_in_mid_swing_finds_the_same_set_up_going_on(page):
    page.set_up("pushed-conductor", {"current": -7.5, "field": "down", "tilt": 30.0})
    page.send(do="run", on=True)
    page.wait_until_it_moves("pushed-current")
    settings, address = page.told("settings"), page.told("address")
    page.reload()
    assert page.told("settings") == settings
    assert page.told("address") == address and page.tab.url.endswith("?" + address)
    assert page.told("bench")["running"]
    assert page.drawn("pushed-current")["axis"][2] < 0


def test_an_address_brings_back_exactly_that_demonstration(page):
    page.open(page.tab.url.split("?")[0] + "?scene=moved-conductor&field=down&turns=20&strength=0.7&motion=to-and-fro")
    page.wait_for("() => window.bench.socket.told.settings.turns === 20 && window.bench.socket.told.settings.field === 'down'")
    assert page.told("settings")["strength"] == 0.7


def test_an_address_with_nonsense_says_so_and_shows_the_bench(page):
    page.open(page.tab.url.split("?")[0] + "?scene=moved-conductor&turns=9999")
    page.wait_for("() => /turns takes a number from 1 to 200/.test((window.bench.socket.told.notice || {}).text || '')")
    assert page.tab.get_by_role("alert").inner_text()
    page.open(page.tab.url.split("?")[0] + "?scene=no-such-thing")
    page.wait_for("() => /no scene/.test((window.bench.socket.told.notice || {}).text || '')")


def test_another_browser_shows_the_same_and_follows_and_once_closed_finds_the_bench_as_it_was(page, browser, bench, open_page, beside):
    """None of the three has anything of the others, as browsers have; tests/browser/page/test_soak.py kills one."""
    page.set_up("field-round-a-wire", {"current": 33.0, "switch": True})
    other = open_page(browser.new_context().new_page(), bench.address)
    assert other.told("settings") == page.told("settings")
    other.send(do="set", name="current", value=-12)
    page.wait_for("() => window.bench.socket.told.settings.current === -12")
    page.settle()
    assert page.drawn("wire-current")["axis"][1] < 0
    assert other.drawn("wire-current")["axis"] == page.drawn("wire-current")["axis"]
    other.set_up("moved-conductor", {"turns": 77.0})
    address = other.tab.url
    other.tab.context.close()
    again = beside(address)
    assert again.told("settings")["turns"] == 77
    assert again.told("scene")["name"] == "moved-conductor"


def test_the_page_waits_for_a_bench_that_was_restarted(start_bench, beside):
    running = start_bench("pushed-conductor", "--set", "current=5")
    page = beside(running.address)
    page.wait_for("() => window.bench.socket.told.settings.current === 5")
    running.stop()
    page.tab.get_by_text("Waiting for the bench").wait_for(state="visible")
    again = start_bench("--port", str(running.port))
    page.wait_for("() => window.bench && window.bench.socket.told.settings && window.bench.socket.told.settings.current === 5")
    page.tab.get_by_text("Waiting for the bench").wait_for(state="hidden")
    again.stop()


KEEPS_ITS_LINE = """() => {
    const send = WebSocket.prototype.send
    window.ready = 0
    window.plainly = () => { WebSocket.prototype.send = send }
    WebSocket.prototype.send = function (text) {
        window.line = this
        if (JSON.parse(text).do === "ready") window.ready += 1
        send.call(this, text)
    }
}"""


def test_a_message_that_cannot_be_read_is_acknowledged_and_the_page_goes_on(page):
    page.tab.evaluate(KEEPS_ITS_LINE)
    for unreadable in ('{"says":NaN}', "", "null", "7", "{", '{"stream":Infinity}'):
        page.errors.clear()
        page.send(do="run", on=False)
        page.settle()
        before = page.tab.evaluate("() => window.ready")
        page.tab.evaluate("text => window.line.dispatchEvent(new MessageEvent('message', {data: text}))", unreadable)
        page.wait_for("before => window.ready > before", before)
        page.send(do="run", on=True)
        page.wait_for("() => window.bench.socket.told.bench.running === true")
        assert len(page.errors) == 1 and "no message" in page.errors[0], unreadable
    page.errors.clear()
    page.tab.evaluate("() => window.plainly()")


def test_without_a_graphics_card_surfaces_are_lit_plainly(page):
    quality = page.tab.evaluate("() => window.picture.quality")
    assert quality["software"] and quality["plain"], "VPython's shader is no longer what before.js looks for"


def test_the_keys_do_what_the_list_says(page):
    page.set_up("pushed-conductor", {"current": 4.0, "field": "up", "tilt": 0.0})
    keyboard = page.tab.keyboard
    keyboard.press("c")
    page.wait_for("() => window.bench.socket.told.settings.current === -4")
    keyboard.press("f")
    page.wait_for("() => window.bench.socket.told.settings.field === 'down'")
    keyboard.press("Space")
    page.wait_for("() => window.bench.socket.told.bench.running")
    keyboard.press(".")
    page.wait_for("() => !window.bench.socket.told.bench.running")
    keyboard.press("a")
    page.wait_for("() => !window.bench.socket.told.bench.answers_shown")
    keyboard.press("a")
    page.wait_for("() => window.bench.socket.told.bench.answers_shown")
    keyboard.press("n")
    page.wait_for("name => window.bench.socket.told.scene.name === name", catalogue.NAMES[catalogue.NAMES.index("pushed-conductor") + 1])
    keyboard.press("p")
    page.wait_for("() => window.bench.socket.told.scene.name === 'pushed-conductor'")
    keyboard.press("?")
    page.tab.get_by_role("dialog").wait_for(state="visible")
    keyboard.press("Escape")
    page.tab.get_by_role("dialog").wait_for(state="hidden")


def test_a_dragged_slider_asks_for_no_more_than_can_be_done(page):
    page.set_up("starting", {"load": 0.0})
    page.tab.evaluate(
        """() => {
            const send = WebSocket.prototype.send
            window.onTheirWay = window.most = 0
            WebSocket.prototype.send = function (text) {
                if (text.includes('"set"')) window.most = Math.max(window.most, ++window.onTheirWay)
                send.call(this, text)
            }
            window.bench.socket.on("alive", () => { window.onTheirWay = 0 })
        }"""
    )
    slider = page.tab.get_by_label("Load", exact=False).and_(page.tab.locator("input[type=range]")).first
    slider.scroll_into_view_if_needed()
    box = slider.bounding_box()
    mouse, middle = page.tab.mouse, box["y"] + box["height"] / 2
    mouse.move(box["x"] + 4, middle)
    mouse.down()
    for place in range(60):
        mouse.move(box["x"] + 4 + (box["width"] - 8) * place / 59, middle)
    mouse.up()
    last = slider.evaluate("slider => slider.valueAsNumber")
    assert last > 50
    page.wait_for("last => window.bench.socket.told.settings.load === last", last)
    assert page.tab.evaluate("() => window.most") <= 2  # the page's own listener hears that the first is done before this one


@pytest.mark.parametrize("size", [(1100, 700), (390, 844)])
def test_only_the_picture_fills_the_page_a_question_stays_beside_it_and_all_comes_back(page, size):
    page.tab.set_viewport_size({"width": size[0], "height": size[1]})
    page.send(do="scene", name="coils-and-commutator")
    page.wait_for("() => window.bench.socket.told.scene.name === 'coils-and-commutator'")
    rest = ("#lesson", "#chart", "#controls", "#readings")
    width, height = (page.tab.locator("#picture").bounding_box()[side] for side in ("width", "height"))
    page.tab.keyboard.press("o")
    page.tab.locator("#controls").wait_for(state="hidden")
    assert not any(page.tab.locator(part).is_visible() for part in rest)
    button = page.tab.get_by_role("button", name="Picture only")
    assert button.is_visible() and button.get_attribute("aria-pressed") == "true"
    box = page.tab.locator("#picture").bounding_box()
    assert box["width"] * box["height"] > 1.5 * width * height and box["width"] > 0.95 * size[0]
    # drawn to the new shape, not stretched: VPython's own size follows
    page.wait_for(
        "([wide, high]) => Math.abs(window.stream.canvas().width - wide) < 2 && Math.abs(window.stream.canvas().height - high) < 2",
        [box["width"], box["height"]],
    )
    page.tab.keyboard.press("q")
    page.tab.locator("#question .answers").wait_for(state="visible")
    question, beside = (page.tab.locator(part).bounding_box() for part in ("#question", "#picture"))
    assert question["x"] >= beside["x"] + beside["width"] - 1 or question["y"] >= beside["y"] + beside["height"] - 1
    assert not any(page.tab.locator(part).is_visible() for part in rest)
    page.tab.keyboard.press("1")
    page.tab.locator("#question .reason").wait_for(state="visible")
    page.send(do="enough")
    page.tab.keyboard.press("Escape")
    for part in rest:
        page.tab.locator(part).wait_for(state="visible")
    assert button.get_attribute("aria-pressed") == "false"


@pytest.mark.parametrize("size", [(1920, 1080), (390, 844)])
def test_a_scene_and_its_question_fit_and_have_no_accessibility_violations_by_day_and_at_night(page, size):
    """A screen and a telephone: a small projector's window is looked at in every scene (every_window.py)."""
    page.tab.set_viewport_size({"width": size[0], "height": size[1]})
    for name, asked in (("changing-speed", False), ("starting", True)):  # the fullest two
        page.send(do="scene", name=name)
        page.wait_for("name => window.bench.socket.told.scene.name === name", name)
        if asked:
            page.send(do="ask", seed=3)
            page.wait_for("() => window.bench.socket.told.question !== null")
        for scheme, rules in (("dark", {"runOnly": ["color-contrast"]}), ("light", {})):  # at night only the colours are others
            page.tab.emulate_media(color_scheme=scheme)
            page.settle()
            assert violations(page.tab, **rules) == "", (name, scheme)
        assert page.tab.evaluate("() => document.documentElement.scrollWidth") <= size[0], name
    page.send(do="enough")
