"""The tours that come with the program, walked through from end to end: the first by keys alone, the other by touch alone.

At each stop, before and after everything that may be tried there, the screen is measured, at one size after the other: a lying one, an
upright one and one that is 4K. The sizes asked for are shares of the screen's shorter side.
"""

from __future__ import annotations

import re
from itertools import cycle

import pytest

from scenes.exhibit import tour_file
from scenes.exhibit.tour import said

SIZES = [(1080, 1920), (3840, 2160), (1920, 1080)]
MOST_LETTERS = 3
# of the letters in the picture, at any moment
MOST = """async () => {
    const letters = await import('./page/picture/letters.js')
    window.most = 0
    window.picture.onDrawn(() => (window.most = Math.max(window.most, letters.shown().length)))
}"""
FRAMED = "() => { const { center: { x, y, z }, range } = window.stream.canvas(); return [x, y, z, range] }"
MEASURED = """async () => {
    const letters = await import('./page/picture/letters.js')
    const seen = (element) => { const { width, height } = element.getBoundingClientRect(); return width > 2 && height > 2 }
    const own = (element) => [...element.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim())
    const texts = [...document.querySelectorAll('body *')].filter((element) => element.checkVisibility() && own(element) && seen(element))
    const box = (element) => { const { left, top, right, bottom } = element.getBoundingClientRect(); return [left, top, right, bottom] }
    const { view } = window.bench.socket.told
    const { subject } = (innerHeight > innerWidth && view.upright) || view
    const corners = subject.flatMap(([low, high]) => [0, 1, 2, 3, 4, 5, 6, 7]
        .map((one) => letters.onScreen([0, 1, 2].map((axis) => ((one >> axis) & 1 ? high : low)[axis]))))
    return {
        screen: [innerWidth, innerHeight],
        most: window.most,
        texts: texts.map((element) => [element.textContent, parseFloat(getComputedStyle(element).fontSize)]),
        caption: parseFloat(getComputedStyle(document.getElementById('caption')).fontSize),
        buttons: [...document.querySelectorAll('#touch button')].filter((button) => button.checkVisibility()).map(box),
        letters: letters.shown().map(({ text }) => text),
        subject: [Math.min(...corners.map(([x]) => x)), Math.min(...corners.map(([, y]) => y)),
            Math.max(...corners.map(([x]) => x)), Math.max(...corners.map(([, y]) => y))],
        scrolls: document.documentElement.scrollWidth > innerWidth || document.documentElement.scrollHeight > innerHeight,
        over: [box(document.querySelector('.band')), box(document.getElementById('touch'))],
        signs: [...document.querySelectorAll('#pace, #speed')].filter((sign) => sign.textContent && sign.checkVisibility()).map(box),
        picture: box(document.getElementById('picture')),
    }
}"""


def measure(page, stop) -> None:
    """Read from some metres, and reached from a wheelchair: what is touched lies in the lower third, 64 px high at least."""
    page.settle()
    seen = page.tab.evaluate(MEASURED)
    width, height = seen["screen"]
    shorter = min(width, height)
    assert seen["caption"] >= shorter / 22 and not seen["scrolls"]
    assert len(seen["texts"]) >= 3 and all(high >= shorter / 40 for _, high in seen["texts"]), seen["texts"]
    assert set(seen["letters"]) <= set(stop.letters) and seen["most"] <= MOST_LETTERS
    touched, signs = seen["buttons"], seen["signs"]
    assert bool(stop.wheel) == (len(signs) == 2), "where a wheel is given its speed is told"
    assert not any(overlap(seen["subject"], sign) for sign in signs if width > height and sign[1] < height / 2)
    assert not any(overlap(one, other) for place, one in enumerate(touched + signs) for other in (touched + signs)[:place])
    assert all(left >= 0 and right <= width and bottom <= seen["picture"][3] for left, _, right, bottom in signs)
    for left, top, right, bottom in seen["buttons"]:
        assert bottom - top >= 64 and right - left >= 64 and top >= 2 / 3 * height
        assert left >= 0 and right <= width and bottom <= height
    left, top, right, bottom = seen["subject"]
    band, buttons = seen["over"]
    assert left >= 0 and right <= width and band[3] <= top and bottom <= buttons[1], "nothing lies over what is spoken of"
    room = buttons[1] - band[3]
    assert right - left > 0.8 * width or bottom - top > 0.8 * room, "it fills what room there is"
    assert height < width or bottom - top > 0.65 * room, "and an upright screen more than in the middle"


def overlap(one, other) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def measure_what_attracts(page, words: str) -> None:
    """One line that is read from afar, and a machine that uses what room the line and the buttons leave, all of it in sight."""
    page.settle()
    seen = page.tab.evaluate(MEASURED)
    width, height = seen["screen"]
    across, down = seen["picture"][:2]
    left, top, right, bottom = (part + by for part, by in zip(seen["subject"], (across, down, across, down), strict=True))
    band, buttons = seen["over"]
    assert page.tab.get_by_role("heading", name=words, exact=True).is_visible() and seen["caption"] >= min(width, height) / 15
    assert left >= across and right <= width and top >= 0 and bottom <= height and not seen["scrolls"]
    over = [other for other in (band, *seen["buttons"]) if overlap((left, top, right, bottom), other)]
    assert over == [], ("nothing lies over it", (left, top, right, bottom))
    free = (width, buttons[1] - band[3]) if height > width else (width - across, height)
    assert all(button[0] >= 0 and button[2] <= (width if height > width else across) for button in seen["buttons"])
    assert right - left > 0.75 * free[0] or bottom - top > 0.75 * free[1]
    assert band[1] < height / 4 and not overlap(band, buttons)


@pytest.mark.parametrize(("name", "by_touch"), [("short_tour", False), ("open_day", True)], ids=["keys", "touch"])
def test_at_every_stop_it_can_be_read_reached_and_tried(browser, start_bench, open_page, tmp_path, name, by_touch):
    tour = tour_file.read(tour_file.built_in(name), name)
    text = re.sub(r"(?m)^sleep = .*\n", "", tour_file.built_in(name))  # tests are run at night too
    text = re.sub(r"(?m)^(version = 1\b.*\n)", r'\1counts = "counts.json"\n', text)
    (tmp_path / "tour.toml").write_text(text, "utf-8")
    running = start_bench("exhibit", str(tmp_path / "tour.toml"), "--quiet-seconds", "600")
    page = open_page(browser.new_context(has_touch=by_touch).new_page(), f"{running.address}exhibit")
    page.tab.evaluate(MOST)

    def press(words: str) -> None:
        button = page.tab.get_by_role("button", name=words, exact=True)
        if by_touch:
            button.tap()
        else:
            button.focus()
            page.tab.keyboard.press("Enter")

    def caption(*words) -> None:
        page.wait_for(
            "wanted => wanted.includes(document.getElementById('caption').textContent)", [said(each, "en") for each in words if each]
        )

    sizes = cycle(SIZES)
    for language, spoken in reversed(tour.languages.items()):  # the first one last
        if len(tour.languages) > 1:
            press(spoken)
            press(said(tour.words["back"], language))
        for width, height in SIZES:
            page.tab.set_viewport_size({"width": width, "height": height})
            measure_what_attracts(page, said(tour.attract.caption, language))
    press("Touch")
    for stop in tour.stops:
        caption(stop.caption)
        width, height = next(sizes)
        page.tab.set_viewport_size({"width": width, "height": height})
        measure(page, stop)
        framed = page.tab.evaluate(FRAMED)
        buttons = page.tab.locator("#touch button").all_inner_texts()
        grey = page.tab.locator("#touch [aria-disabled='true']").all_inner_texts()
        for tried in sorted(stop.tries, key=lambda each: said(each.button, "en") in grey):  # what goes one way can go back again
            press(said(tried.button, "en"))
            caption(tried.question, tried.after, tried.stopped)
            measure(page, stop)
            assert page.tab.evaluate(FRAMED) == pytest.approx(framed, abs=1e-3), "the picture stays where it is"
            for answer in list(tried.answers.values())[:1]:
                press(said(answer, "en"))
                page.wait_for("asked => document.getElementById('caption').textContent !== asked", said(tried.question, "en"))
                measure(page, stop)
                assert page.tab.evaluate(FRAMED) == pytest.approx(framed, abs=1e-3)
            assert page.tab.locator("#touch button").all_inner_texts() == buttons, "and so do the buttons, each with its meaning"
        press("Next")
    page.wait_for("() => window.bench.socket.told.exhibit.place === -1")
    assert page.errors == [] and "Traceback" not in running.stop()
