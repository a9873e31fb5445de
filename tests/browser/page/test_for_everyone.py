"""Pages that the other tests do not look at with axe: a lesson and its speaker's window, practice, who follows, paper, and the
bench in its largest letters, with a notice and its keys; by day and at night, on a projector's and on a telephone's screen."""

from __future__ import annotations

import json
import re

import pytest

from scenes.__main__ import main

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


def test_the_bench_in_its_largest_letters(context, open_page, bench):
    page = open_page(context.new_page(), bench.address)
    enlarged(page.tab)
    for name in ("coils-and-commutator", "slip-and-speed", "starting", "pushed-conductor"):
        page.send(do="scene", name=name)
        page.wait_for("name => window.bench.socket.told.scene.name === name", name)
        page.settle()
        assert violations(page.tab) == "[]" and fits(page.tab), name
    page.tab.keyboard.press("?")
    page.tab.get_by_role("dialog").wait_for(state="visible")
    assert violations(page.tab) == "[]" and fits(page.tab)
    page.tab.keyboard.press("Escape")
    page.tab.keyboard.press("o")
    page.tab.locator("#controls").wait_for(state="hidden")
    assert violations(page.tab) == "[]" and fits(page.tab)


def test_a_question_with_a_notice_and_its_answer(context, open_page, bench):
    page = open_page(context.new_page(), bench.address)
    page.send(do="scene", name="turning-field")
    page.send(do="ask", seed=7)
    page.wait_for("() => window.bench.socket.told.question !== null")
    page.send(do="set", name="current", value=999)
    page.tab.get_by_role("alert").get_by_role("button").wait_for()
    assert violations(page.tab) == "[]" and fits(page.tab)
    page.tab.keyboard.press("1")
    page.wait_for("() => window.bench.socket.told.question.given !== null")
    enlarged(page.tab)
    assert violations(page.tab) == "[]" and fits(page.tab)
    page.send(do="enough")


def test_who_follows_and_waits(context, open_page, start_bench):
    running = start_bench("--share")
    page = open_page(context.new_page(), re.search(r"http://\S+:\d+/\w+", running.process.stdout.readline())[0])
    page.tab.evaluate("largest => (document.documentElement.dataset.text = largest)", LARGEST)
    assert violations(page.tab) == "[]" and fits(page.tab)
    running.stop()
    page.tab.get_by_text("One moment").wait_for(state="visible")
    assert violations(page.tab) == "[]"


def test_a_worksheet_and_its_key(context, tmp_path):
    assert main(["worksheet", "--out", str(tmp_path / "sheet.html"), "--questions", "12", "--seed", "4"]) == 0
    sheets = sorted(tmp_path.glob("*.html"))
    assert sheets
    for sheet in sheets:
        tab = context.new_page()
        tab.goto(sheet.as_uri())
        assert violations(tab) == "[]", sheet.name


FOCUSED = """() => {
  const it = document.activeElement, looks = getComputedStyle(it), box = it.getBoundingClientRect();
  const inner = it.nextElementSibling && getComputedStyle(it.nextElementSibling); // a choice's own sign is the label beside it
  const seen = (style) => style && style.outlineStyle !== "none" && parseFloat(style.outlineWidth) > 1;
  return {
    what: it === document.body ? "" : `${it.tagName} ${it.id || it.getAttribute("aria-label") || it.textContent.trim().slice(0, 30)}`,
    shown: seen(looks) || seen(inner) || looks.boxShadow !== "none",
    left: box.left, top: box.top,
  };
}"""


def test_the_focus_goes_round_everything_is_seen_and_nowhere_caught(page):
    page.set_up("moved-conductor", {})
    page.tab.evaluate("() => document.activeElement.blur()")
    round_trip, unseen = [], []
    for _ in range(120):
        page.tab.keyboard.press("Tab")
        focused = page.tab.evaluate(FOCUSED)
        if not focused["what"] or focused["what"] in round_trip[:1]:
            break
        round_trip.append(focused["what"])
        if not focused["shown"]:
            unseen.append(focused["what"])
    assert len(round_trip) < 120, "the focus never came round"
    assert unseen == []
    told = " ".join(round_trip)
    for needed in ("previous", "next", "picture", "Hold" if page.told("bench")["running"] else "Run", "Step", "Ask", "control-turns"):
        assert needed in told, f"{needed} is not reached by Tab: {round_trip}"


def test_the_picture_is_turned_and_brought_nearer_by_keys(page):
    page.set_up("pushed-conductor", {"current": 4.0})
    forward, reach = ("() => String(window.stream.canvas().forward)", "() => window.stream.canvas().range")
    page.tab.locator("#picture").focus()
    before = page.tab.evaluate(forward), page.tab.evaluate(reach)
    page.tab.keyboard.press("ArrowLeft")
    assert page.tab.evaluate(forward) != before[0]
    page.tab.keyboard.press("+")
    assert page.tab.evaluate(reach) < before[1]
    page.tab.keyboard.press("Enter")
    assert (page.tab.evaluate(forward), page.tab.evaluate(reach)) == before


def test_a_demonstration_asked_and_answered_by_keys_alone(page):
    page.set_up("pushed-conductor", {"current": 4.0, "field": "up", "tilt": 0.0})
    slider = page.tab.get_by_role("slider").first
    slider.focus()
    page.tab.keyboard.press("ArrowRight")
    page.wait_for("() => window.bench.socket.told.settings.current > 4")
    page.tab.keyboard.press("q")
    page.wait_for("() => window.bench.socket.told.question && window.bench.socket.told.question.given === null")
    page.tab.keyboard.press("2")
    page.wait_for("() => window.bench.socket.told.question.given !== null")
    page.tab.get_by_role("button", name="Close", exact=True).focus()
    page.tab.keyboard.press("Enter")
    page.wait_for("() => window.bench.socket.told.question === null")
    assert page.tab.evaluate("() => document.activeElement !== null && document.activeElement !== document.body"), "the focus is lost"


def test_nothing_starts_by_itself_for_who_wants_less_motion(browser, open_page, bench):
    context = browser.new_context(viewport={"width": 1100, "height": 700}, reduced_motion="reduce")
    page = open_page(context.new_page(), bench.address)
    page.wait_for("() => window.bench.socket.told.bench.running === false")
    moving = page.tab.evaluate("() => document.getAnimations().length")
    page.tab.keyboard.press("Space")
    page.wait_for("() => window.bench.socket.told.bench.running")
    assert moving == 0
    context.close()


# Every text that is seen: its letters' height and its contrast (WCAG 2.2) as the screen has it, and where a projector's
# black is a tenth of its white (stray light in a lit room: common practice, no source).
TEXTS = """() => {
  const rgb = (colour) => (colour.match(/[0-9.]+/g) || [0, 0, 0, 0]).map(Number);
  const linear = (part) => (part / 255 <= 0.04045 ? part / 255 / 12.92 : ((part / 255 + 0.055) / 1.055) ** 2.4);
  const luminance = ([r, g, b]) => 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
  const ground = (it) => {
    for (; it; it = it.parentElement) {
      const colour = rgb(getComputedStyle(it).backgroundColor);
      if (colour.length === 3 || colour[3] === 1) return colour;
    }
    return [255, 255, 255];
  };
  const found = [], walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const it = walk.currentNode.parentElement, box = it.getBoundingClientRect(), looks = getComputedStyle(it);
    if (!walk.currentNode.textContent.trim() || !box.width || looks.visibility === "hidden"
        || it.closest(".unseen, dialog:not([open]), svg, .letters")) continue;
    if (it.disabled || it.closest("[disabled], option")) continue;
    const [low, high] = [luminance(rgb(looks.color)), luminance(ground(it))].sort((a, b) => a - b);
    found.push({
      text: walk.currentNode.textContent.trim().slice(0, 30),
      part: it.closest("kbd") ? 1 : parseFloat(looks.fontSize) / innerHeight, // the keys are for who stands at them
      contrast: (high + 0.05) / (low + 0.05), lit: (high + 0.1 + 0.05) / (low + 0.1 + 0.05),
    });
  }
  return found;
}"""


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [(1920, 1080), (1366, 768), (1024, 768)])
def test_what_is_projected_can_be_read(page, size, scheme):
    page.tab.set_viewport_size({"width": size[0], "height": size[1]})
    page.tab.emulate_media(color_scheme=scheme)
    page.set_up("slip-and-speed", {})
    texts = page.tab.evaluate(TEXTS)
    assert len(texts) > 40
    assert [text for text in texts if text["contrast"] < 4.5] == []
    # a single sign is bold and stands beside its words
    assert [text for text in texts if text["lit"] < (3 if len(text["text"]) > 2 else 2.5)] == []
    # One part in 65 of the picture's height: 23 mm on a picture 1.5 m high, capitals of 16 mm, which fill the five minutes of
    # arc that a sound eye needs (Snellen's chart, quoted from memory) as far as 11 m away.
    assert [text for text in texts if text["part"] < 1 / 65] == []


LETTERS = """async () => {
  const { shown } = await import("./page/picture/letters.js");
  const rgb = (colour) => (colour.match(/[0-9.]+/g) || []).map(Number);
  const linear = (part) => (part / 255 <= 0.04045 ? part / 255 / 12.92 : ((part / 255 + 0.055) / 1.055) ** 2.4);
  const luminance = ([r, g, b]) => 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
  return shown().filter(({ looks }) => rgb(looks.backgroundColor)[3] !== 0).map(({ text, looks }) => {
    const [low, high] = [luminance(rgb(looks.color)), luminance(rgb(looks.backgroundColor))].sort((a, b) => a - b);
    return { text, contrast: (high + 0.05) / (low + 0.05), lit: (high + 0.15) / (low + 0.15),
      part: parseFloat(looks.fontSize) / innerHeight };
  });
}"""


def test_the_letters_at_things_can_be_read_on_a_projector(browser, open_page, bench):
    context = browser.new_context(viewport={"width": 1920, "height": 1080})
    page = open_page(context.new_page(), bench.address)
    for name in ("pushed-conductor", "moved-conductor", "cage-rotor", "starting"):
        page.set_up(name, {})
        letters = page.tab.evaluate(LETTERS)
        assert len(letters) >= 4
        # black on the orange of the current is the faintest where black is lifted; it is a single large letter
        assert [one for one in letters if one["contrast"] < 4.5 or one["lit"] < 2.5 or one["part"] < 1 / 65] == []
    context.close()
