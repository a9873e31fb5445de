"""The bench without a mouse, without seeing the picture, without motion and in a browser's own colours."""

from __future__ import annotations

import pytest

from scenes import catalogue
from tests.browser.accessibility import violations


@pytest.fixture(scope="module")
def begins_with():
    return catalogue.NAMES[0]


SHOWN = "() => !document.body.classList.contains('blank') && document.getElementById('waiting').hidden"
NAME = """(element) => element.id || element.dataset.do || element.dataset.view || element.dataset.name
    || element.dataset.choice || element.tagName"""
FOCUSED = f"""() => {{
  const element = document.activeElement, seen = element.matches(".pick input") ? element.closest(".row") : element;
  const {{ outlineStyle, outlineWidth }} = getComputedStyle(seen), box = seen.getBoundingClientRect();
  return {{ name: ({NAME})(element), kind: element.type || element.tagName, outline: outlineStyle === "none" ? 0 : parseFloat(outlineWidth),
           region: ["head", "bench", "column"].findIndex((name) => element.closest("." + name)),
           onScreen: box.right > 0 && box.left < innerWidth && box.bottom > 0 && box.top < innerHeight }};
}}"""
TABBABLE = """[...document.querySelectorAll("button, input, select, summary, [tabindex='0']")]
  .filter((e) => e.checkVisibility({ visibilityProperty: true }) && !e.disabled && !(e.type === "radio" && !e.checked))"""


def tab_to(page, name: str) -> None:
    """Give the focus to the thing of that name. That Tab leads to whatever is tabbable, in order and all round, is seen in the first
    test; to press it some twenty times for each thing would take a minute."""
    found = page.tab.evaluate(f"""name => {{
        const found = {TABBABLE}.find((element) => ({NAME})(element) === name);
        if (found) found.focus();
        return Boolean(found) && document.activeElement === found;
    }}""", name)  # fmt: skip
    assert found, f"Tab does not lead to {name}"


def test_the_focus_is_seen_on_everything_and_goes_in_the_order_of_the_screen(page):
    page.send(do="scene", name="moved-conductor")
    page.wait_for("() => window.bench.socket.told.scene.name === 'moved-conductor'")
    page.send(do="ask", seed=3)
    page.wait_for("() => window.bench.socket.told.question !== null")
    page.tab.evaluate("() => document.activeElement.blur()")
    walked = []
    for _ in range(90):
        page.tab.keyboard.press("Tab")
        at = page.tab.evaluate(FOCUSED)
        if at["kind"] == "BODY" or (walked and at["name"] == walked[0]["name"]):
            break
        walked.append(at)
    else:
        raise AssertionError(f"Tab does not come round: {[at['name'] for at in walked]}")
    assert [at["region"] for at in walked] == sorted(at["region"] for at in walked)
    for at in walked:
        assert at["outline"] >= 2 and at["onScreen"], at
    names = [at["name"] for at in walked]
    assert {
        "previous", "next", "picture", "run", "step", "ask", "save", "text", "theme", "keys", "control-slow", "control-strength",
        "control-turns", "control-closed",
    } <= set(names)  # fmt: skip
    assert sorted(names) == sorted(page.tab.evaluate(f"() => {TABBABLE}.map({NAME})"))
    page.send(do="enough")


def test_the_whole_bench_is_worked_by_the_keyboard_alone(page):
    keys, told = page.tab.keyboard, "window.bench.socket.told"
    tab_to(page, "pushed-conductor")
    keys.press("Enter")
    page.wait_for(f"() => {told}.scene.name === 'pushed-conductor'")
    tab_to(page, "control-current")
    keys.press("Control+a")
    keys.type("7")
    keys.press("Enter")
    page.wait_for(f"() => {told}.settings.current === 7")
    keys.press("ArrowRight")  # the slider beside it has the focus now
    page.wait_for(f"() => {told}.settings.current > 7")
    tab_to(page, "control-switch")
    before = page.told("settings")["switch"]
    keys.press("Space")
    page.wait_for(f"before => {told}.settings.switch === !before", before)
    keys.press("Space")
    page.wait_for(f"before => {told}.settings.switch === before", before)
    tab_to(page, "control-field")  # a choice of long words: a list
    before = page.told("settings")["field"]
    keys.press("ArrowDown" if before == page.told("scene")["controls"][2]["choices"][0]["value"] else "ArrowUp")
    page.wait_for(f"before => {told}.settings.field !== before", before)
    tab_to(page, "next")  # in a list letters look for words
    keys.press("n")
    page.wait_for(f"() => {told}.scene.name === '{catalogue.NAMES[catalogue.NAMES.index('pushed-conductor') + 1]}'")
    tab_to(page, "two-wires")
    keys.press("Enter")
    page.wait_for(f"() => {told}.scene.name === 'two-wires'")
    before = page.told("settings")["wire"]
    tab_to(page, f"control-wire-{before}")  # one of short words: a row
    keys.press("ArrowRight")
    page.wait_for(f"before => {told}.settings.wire !== before", before)
    keys.press("p")
    page.wait_for(f"() => {told}.scene.name === '{catalogue.NAMES[catalogue.NAMES.index('two-wires') - 1]}'")
    tab_to(page, "pushed-conductor")
    keys.press("Enter")
    page.wait_for(f"() => {told}.scene.name === 'pushed-conductor'")

    tab_to(page, "run")
    running = page.told("bench")["running"]
    keys.press("Enter")
    page.wait_for(f"before => {told}.bench.running === !before", running)
    tab_to(page, "step")
    keys.press("Enter")
    page.wait_for(f"() => !{told}.bench.running")

    tab_to(page, "ask")
    keys.press("Enter")
    page.wait_for(f"() => {told}.question !== null")
    assert page.tab.evaluate(FOCUSED)["name"] == "ask"
    first = page.told("question")["choices"][0]["value"]
    tab_to(page, first)
    keys.press("Enter")
    page.wait_for(f"() => {told}.question.given !== null")
    page.tab.wait_for_function("() => document.activeElement.closest('#question')")
    assert not page.tab.evaluate("() => Boolean(document.activeElement.closest('button'))"), "nothing looks chosen"
    for _ in ("Keep score", "Next question", "Close"):
        keys.press("Tab")
    keys.press("Enter")
    page.wait_for(f"() => {told}.question === null")
    page.tab.wait_for_function("() => document.activeElement !== document.body")
    tab_to(page, "predict")
    keys.press("Enter")
    page.wait_for(f"() => {told}.question !== null && {told}.question.seed === null")
    keys.press("2")
    page.wait_for(f"() => {told}.question.given !== null")

    tab_to(page, "picture")
    eye = "() => { const { forward, range } = window.stream.canvas(); return [forward.x, forward.y, forward.z, range] }"
    given = page.tab.evaluate(eye)
    for key, changed in (("ArrowLeft", 0), ("ArrowUp", 1), ("+", 3), ("-", 3)):
        before = page.tab.evaluate(eye)
        keys.press(key)
        assert page.tab.evaluate(eye)[changed] != before[changed], key
    keys.press("Enter")
    assert page.tab.evaluate(eye) == pytest.approx(given)
    keys.press("v")
    page.wait_for("given => window.stream.canvas().forward.x !== given", given[0])

    tab_to(page, "save")
    with page.tab.expect_download() as download:
        keys.press("Enter")
    assert download.value.suggested_filename == "thumbwise-pushed-conductor.png"
    for name, read in (("text", "text"), ("theme", "theme")):
        tab_to(page, name)
        before = page.tab.evaluate("name => document.documentElement.dataset[name]", read)
        keys.press("Enter")
        assert page.tab.evaluate("name => document.documentElement.dataset[name]", read) != before
    tab_to(page, "keys")
    keys.press("Enter")
    page.tab.get_by_role("dialog").wait_for(state="visible")
    keys.press("Enter")  # Close has the focus
    page.tab.get_by_role("dialog").wait_for(state="hidden")
    assert page.tab.evaluate(FOCUSED)["name"] == "keys"
    page.send(do="enough")


def test_the_focus_finds_its_way_when_what_had_it_goes_away(page):
    page.send(do="scene", name="pushed-conductor")
    page.wait_for("() => window.bench.socket.told.scene.name === 'pushed-conductor'")
    tab_to(page, "step")
    page.send(do="set", name="current", value=999)
    page.tab.get_by_role("alert").get_by_role("button").wait_for()
    assert page.tab.evaluate(FOCUSED)["name"] == "step"
    page.tab.keyboard.press("Shift+Tab")
    for _ in range(30):
        if page.tab.evaluate("() => Boolean(document.activeElement.closest('#notice'))"):
            break
        page.tab.keyboard.press("Shift+Tab")
    page.tab.keyboard.press("Enter")
    page.tab.wait_for_function("() => !document.querySelector('#notice button') && document.activeElement !== document.body")
    tab_to(page, "control-current")
    page.send(do="scene", name="two-wires")
    page.wait_for("() => window.bench.socket.told.scene.name === 'two-wires'")
    page.tab.wait_for_function("() => document.activeElement !== document.body")


def test_it_is_spoken_when_it_changed_and_no_oftener(page):
    page.set_up("pushed-conductor", {"current": 5.0})
    all_said = "() => document.getElementById('says').textContent === window.bench.socket.told.says"
    page.wait_for(all_said)
    page.tab.evaluate("""() => {
      window.spoken = [];
      new MutationObserver(() => window.spoken.push([performance.now(), document.getElementById("says").textContent]))
        .observe(document.getElementById("says"), { childList: true, characterData: true, subtree: true });
    }""")
    for times in (1, 2):
        for _ in range(7):  # an odd number: in the end it says something else
            before = page.told("says")
            page.tab.keyboard.press("c")
            page.wait_for("before => window.bench.socket.told.says !== before", before)
        page.wait_for(all_said)
        assert len(page.tab.evaluate("() => window.spoken")) >= times
    page.send(do="scene", name="slip-and-speed")
    page.wait_for("() => window.bench.socket.told.scene.name === 'slip-and-speed'")
    before, since = page.told("says"), page.tab.evaluate("() => performance.now()")
    page.send(do="run", on=True)
    page.send(do="set", name="load", value=100)
    # other figures have come, and more than two sentences' time is over
    page.wait_for("([before, since]) => window.bench.socket.told.says !== before && performance.now() > since + 3200", [before, since])
    page.send(do="run", on=False)
    page.wait_for(all_said)
    spoken = page.tab.evaluate("() => window.spoken")
    assert all(later[0] - earlier[0] > 1450 and later[1] != earlier[1] for earlier, later in zip(spoken, spoken[1:], strict=False))
    page.wait_for("last => performance.now() > last + 1700", spoken[-1][0])  # past the pause after which one may be spoken
    page.settle()
    assert len(page.tab.evaluate("() => window.spoken")) == len(spoken), "what stands still is said again"
    page.tab.wait_for_function("() => document.getElementById('state').textContent.includes('field turns')")


def test_who_wants_less_motion_starts_it_himself_is_held_by_an_answer_and_not_by_loading_the_page_again(beside, bench, settle):
    tab = beside(bench.address, reduced_motion="reduce").tab
    tab.wait_for_function(SHOWN)
    tab.wait_for_function("() => window.bench.socket.told.bench.running === false")
    assert tab.evaluate("() => document.getAnimations().length") == 0
    tab.keyboard.press("Space")
    tab.wait_for_function("() => window.bench.socket.told.bench.running")
    tab.reload()
    tab.wait_for_function(SHOWN)
    settle(tab)
    assert tab.evaluate("() => window.bench.socket.told.bench.running")
    tab.keyboard.press("q")
    tab.wait_for_function("() => window.bench.socket.told.question !== null")
    tab.keyboard.press("1")
    tab.wait_for_function("() => window.bench.socket.told.question.given !== null")
    tab.wait_for_function("() => window.bench.socket.told.bench.running === false")
    animated = tab.evaluate("""() => [...document.querySelectorAll("*")].filter((e) => {
      const { transitionDuration, animationName } = getComputedStyle(e);
      return animationName !== "none" || transitionDuration.split(",").some((one) => parseFloat(one) > 0);
    }).length""")
    assert animated == 0
    tab.keyboard.press("Escape")
    tab.wait_for_function("() => window.bench.socket.told.question === null")


def test_in_a_browsers_own_colours_every_state_is_still_told(beside, bench):
    page = beside(bench.address, forced_colors="active")
    page.tab.set_viewport_size({"width": 1366, "height": 768})
    page.send(do="scene", name="pushed-conductor")
    page.wait_for("() => window.bench.socket.told.scene.name === 'pushed-conductor'")
    unmarked = page.tab.evaluate("""() => [...document.querySelectorAll(
        ".pick input:checked + span, [aria-pressed='true'], [aria-current]")]
      .filter((e) => e.checkVisibility() && parseFloat(getComputedStyle(e).outlineWidth) < 2).map((e) => e.textContent)""")
    assert unmarked == []
    shown = page.tab.evaluate("() => getComputedStyle(document.querySelector('.chip')).backgroundColor")
    assert shown == page.tab.evaluate(
        "() => { const e = document.createElement('i'); e.style.background = window.bench.socket.told.scene.arrows[0].colour;"
        " return e.style.backgroundColor }"
    )


def switch_single_keys(page) -> None:
    """By the keyboard alone and without a letter, as who has them switched off must be able to."""
    tab_to(page, "keys")
    page.tab.keyboard.press("Enter")
    page.tab.get_by_role("dialog").wait_for(state="visible")
    for _ in range(5):
        if page.tab.evaluate("() => document.activeElement.type") == "checkbox":
            break
        page.tab.keyboard.press("Shift+Tab")
    page.tab.keyboard.press("Space")


def test_letters_figures_and_signs_can_be_switched_off_as_keys_and_on_again(page):
    """WCAG 2.1 success criterion 2.1.4, character key shortcuts: "a mechanism is available to turn the shortcut off"."""
    keyboard = page.tab.keyboard
    page.set_up("pushed-conductor", {"current": 4.0, "field": "up", "tilt": 0.0})
    switch_single_keys(page)
    assert violations(page.tab) == ""
    keyboard.press("Escape")
    page.tab.get_by_role("dialog").wait_for(state="hidden")

    def all_single_keys_do_nothing():
        keys = ("settings", "bench", "scene", "view", "question", "address")
        before = {key: page.told(key) for key in keys}
        looks = page.tab.evaluate("() => JSON.stringify({...document.documentElement.dataset})")
        for key in "cfsqwanpvoldkrt123456789.?0":
            keyboard.press(key)
            keyboard.press(key.upper())
        page.settle()
        assert {key: page.told(key) for key in keys} == before
        assert page.tab.evaluate("() => JSON.stringify({...document.documentElement.dataset})") == looks
        assert not page.tab.get_by_role("dialog").is_visible()

    all_single_keys_do_nothing()
    said = page.tab.evaluate("() => [...document.querySelectorAll('[aria-keyshortcuts]')].filter(e => e.id !== 'picture')"
                             ".map(e => e.getAttribute('aria-keyshortcuts'))")  # fmt: skip
    assert "Space" in said and all(len(key) > 1 for keys in said for key in keys.split()), said
    assert not page.tab.locator("#bar kbd").first.is_visible()
    page.send(do="ask", seed=3)
    page.wait_for("() => window.bench.socket.told.question !== null")
    all_single_keys_do_nothing()
    page.send(do="enough")
    page.wait_for("() => window.bench.socket.told.question === null")
    running = page.told("bench")["running"]
    page.tab.evaluate("() => document.activeElement.blur()")
    keyboard.press("Space")
    page.wait_for("before => window.bench.socket.told.bench.running !== before", running)
    keyboard.press("Home")
    keyboard.press("PageDown")
    page.wait_for("() => window.bench.socket.told.scene.name !== 'pushed-conductor'")
    keyboard.press("PageUp")
    page.wait_for("() => window.bench.socket.told.scene.name === 'pushed-conductor'")

    page.open(page.tab.url)  # it is remembered
    page.send(do="run", on=False)
    page.wait_for("() => window.bench.socket.told.bench.running === false")
    all_single_keys_do_nothing()
    switch_single_keys(page)
    keyboard.press("Escape")
    before = page.told("settings")["current"]
    keyboard.press("c")
    page.wait_for("before => window.bench.socket.told.settings.current === -before", before)
    page.tab.evaluate("() => localStorage.clear()")


def test_the_speakers_window_has_the_switch_too_and_follows_the_other(browser, start_bench, open_page, settle):
    running = start_bench("lesson")
    context = browser.new_context(viewport={"width": 1000, "height": 700})
    page = open_page(context.new_page(), running.address)
    speaker = context.new_page()
    speaker.goto(f"{running.address}speaker/")
    speaker.wait_for_function("() => window.bench && window.bench.socket.told.step")
    switch_single_keys(page)
    page.tab.keyboard.press("Escape")
    speaker.wait_for_function("() => document.documentElement.dataset.keys === 'off'")
    number = speaker.evaluate("() => window.bench.socket.told.step.number")
    speaker.keyboard.press("n")
    settle(speaker)
    assert speaker.evaluate("() => window.bench.socket.told.step.number") == number
    speaker.get_by_role("button", name="Keys").click()
    speaker.get_by_role("checkbox").check()
    speaker.keyboard.press("Escape")
    speaker.keyboard.press("n")
    speaker.wait_for_function("before => window.bench.socket.told.step.number === before + 1", arg=number)
    context.close()
    running.stop()
