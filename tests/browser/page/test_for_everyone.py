"""Pages that the other tests do not look at with axe: a lesson and its speaker's window, practice, who follows, and the bench in its
largest letters, with a notice and its keys; by day on a projector's screen and at night on a telephone's.

How wide a page is, is looked at in both; axe, which takes a second, looks at each state in one of them, and at each kind of page by day
and at night."""

from __future__ import annotations

import re

import pytest

from tests.browser.accessibility import violations

LARGEST = 3
PROJECTOR = ("light", (1366, 768))
TELEPHONE = ("dark", (390, 844))


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


def enlarged(tab) -> None:
    while int(tab.evaluate("() => document.documentElement.dataset.text || 1")) < LARGEST:
        tab.keyboard.press("l")


def turned_to(tab, look) -> None:
    scheme, (width, height) = look
    tab.emulate_media(color_scheme=scheme)
    tab.set_viewport_size({"width": width, "height": height})


def assert_fits(*tabs, last) -> None:
    """On either screen, and it is left on the `last`."""
    for look in (TELEPHONE if last == PROJECTOR else PROJECTOR, last):
        for tab in tabs:
            turned_to(tab, look)
            tab.wait_for_function("() => document.documentElement.scrollWidth <= window.innerWidth")  # the picture follows the window


def assert_for_everyone(*tabs, seen) -> None:
    """It fits on either screen, and axe finds nothing wrong as it is `seen`."""
    assert_fits(*tabs, last=seen)
    for tab in tabs:
        assert violations(tab) == "", (tab.url, seen)


def test_a_lesson_and_its_speakers_window(beside, lesson):
    page = beside(lesson.address)
    speaker = page.tab.context.new_page()
    speaker.goto(lesson.address + "speaker/")
    speaker.wait_for_function("() => window.bench && window.bench.socket.told.step")
    assert_for_everyone(page.tab, speaker, seen=PROJECTOR)
    page.send(do="reveal")
    page.tab.bring_to_front()
    enlarged(page.tab)
    assert_for_everyone(page.tab, speaker, seen=TELEPHONE)
    speaker.close()


def test_practice_asked_and_answered(beside, practice):
    page = beside(practice.address)
    page.wait_for("() => window.bench.socket.told.question")
    assert_for_everyone(page.tab, seen=PROJECTOR)
    page.send(do="reveal")  # whichever kind of question it is
    page.wait_for("() => window.bench.socket.told.question.answer !== null")
    enlarged(page.tab)
    assert_for_everyone(page.tab, seen=TELEPHONE)


def test_the_bench_in_its_largest_letters(page):
    enlarged(page.tab)
    for name, seen in (("coils-and-commutator", None), ("slip-and-speed", PROJECTOR), ("pushed-conductor", None), ("starting", TELEPHONE)):
        page.send(do="scene", name=name)
        page.wait_for("name => window.bench.socket.told.scene.name === name", name)
        page.settle()
        if seen:
            assert_for_everyone(page.tab, seen=seen)
        else:
            assert_fits(page.tab, last=PROJECTOR)
    page.tab.keyboard.press("?")
    page.tab.get_by_role("dialog").wait_for(state="visible")
    assert_fits(page.tab, last=TELEPHONE)
    assert violations(page.tab, within=("#keys",)) == ""
    page.tab.keyboard.press("Escape")
    page.tab.keyboard.press("o")
    page.tab.locator("#controls").wait_for(state="hidden")
    assert_for_everyone(page.tab, seen=PROJECTOR)


def test_a_question_with_a_notice_and_its_answer(page):
    page.send(do="scene", name="turning-field")
    page.send(do="ask", seed=7)
    page.wait_for("() => window.bench.socket.told.question !== null")
    page.send(do="set", name="current", value=999)
    page.tab.get_by_role("alert").get_by_role("button").wait_for()
    assert_for_everyone(page.tab, seen=TELEPHONE)
    page.tab.keyboard.press("1")
    page.wait_for("() => window.bench.socket.told.question.given !== null")
    enlarged(page.tab)
    assert_for_everyone(page.tab, seen=PROJECTOR)


def test_who_follows_and_waits(beside, start_bench):
    running = start_bench("--share")
    page = beside(re.search(r"http://\S+:\d+/\w+", running.process.stdout.readline())[0])
    page.tab.evaluate("largest => (document.documentElement.dataset.text = largest)", LARGEST)
    assert_for_everyone(page.tab, seen=PROJECTOR)
    running.stop()
    page.tab.get_by_text("One moment").wait_for(state="visible")
    assert_for_everyone(page.tab, seen=TELEPHONE)


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


def test_what_is_projected_can_be_read(page):
    page.set_up("slip-and-speed", {})
    for scheme in ("light", "dark"):
        for width, height in ((1920, 1080), (1366, 768), (1024, 768)):
            turned_to(page.tab, (scheme, (width, height)))
            page.settle()
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


def test_the_letters_at_things_can_be_read_on_a_projector(page):
    page.tab.set_viewport_size({"width": 1920, "height": 1080})
    for name in ("pushed-conductor", "moved-conductor", "cage-rotor", "starting"):
        page.set_up(name, {})
        letters = page.tab.evaluate(LETTERS)
        assert len(letters) >= 4
        # black on the orange of the current is the faintest where black is lifted; it is a single large letter
        assert [one for one in letters if one["contrast"] < 4.5 or one["lit"] < 2.5 or one["part"] < 1 / 65] == []
