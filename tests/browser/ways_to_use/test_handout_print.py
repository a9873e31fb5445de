"""The handout as a browser draws and prints it: a picture for each step, on pages that cut none of them."""

from __future__ import annotations

import re
from base64 import b64decode
from dataclasses import replace

import pytest

from scenes.handout.handout import PRINTED, printed_steps
from scenes.handout.page import handout_page
from scenes.lesson.lesson import Lesson, built_in, read
from tests.browser.accessibility import violations
from tests.browser.conftest import run_beside_playwright
from tests.browser.pdf import MILLIMETRES, pdf_of

LESSON = """
title = "Drawn"
[[step]]
scene = "pushed-conductor"
settings = { current = 8.0 }
hold = true
caption = "To be pushed."
[[step]]
scene = "pushed-conductor"
settings = { current = 8.0 }
hold = true
caption = "The same once more."
[[step]]
scene = "pushed-conductor"
settings = { current = 8.0 }
view = "side"
caption = "From the side."
"""
# of each picture: its size, what is in its corner, and how many of 2,500 places differ from those of the first
LOOK = """async () => {
    const pictures = await Promise.all([...document.images].map(async one => { await one.decode(); return one }))
    const read = one => {
        const sheet = Object.assign(document.createElement('canvas'), {width: one.naturalWidth, height: one.naturalHeight})
        const pen = sheet.getContext('2d')
        pen.drawImage(one, 0, 0)
        const all = pen.getImageData(0, 0, sheet.width, sheet.height).data
        const at = place => [0, 1, 2].map(part => all[4 * (Math.floor((Math.floor(place / 50) + 0.5) / 50 * sheet.height) * sheet.width
            + Math.floor((place % 50 + 0.5) / 50 * sheet.width)) + part])
        return Array.from({length: 2500}, (_, place) => at(place))
    }
    const all = pictures.map(read), apart = (a, b) => Math.max(...a.map((part, k) => Math.abs(part - b[k])))
    return pictures.map((one, k) => ({
        size: [one.naturalWidth, one.naturalHeight], corner: all[k][0],
        ground: all[k].filter(place => apart(place, [255, 255, 255]) < 8).length,
        other: all[k].filter((place, at) => apart(place, all[0][at]) > 24).length,
    }))
}"""
EMPTY = 70  # mm at the foot of a page that is not the last, besides its margin
BLANK = """([width, height]) => {
    const sheet = Object.assign(document.createElement('canvas'), {width, height})
    return sheet.toDataURL('image/jpeg').split(',')[1]
}"""


def test_each_step_is_drawn_on_white_from_its_own_view(browser, run_command, tmp_path):
    lesson, out = tmp_path / "lesson.toml", tmp_path / "handout.html"
    lesson.write_text(LESSON)
    run_command("handout", str(lesson), "--out", str(out))
    tab = browser.new_page()
    tab.goto(out.as_uri())
    first, again, aside = tab.evaluate(LOOK)
    for one in (first, again, aside):
        assert one["size"] == [round(side * PRINTED.pixels) for side in PRINTED.size]
        assert min(one["corner"]) > 247 and 500 < one["ground"] < 2400
    assert again["other"] < 25 and aside["other"] > 250
    assert len(re.findall(r"base64,[^\"]{20000,}", out.read_text("utf-8"))) == 3 and out.stat().st_size < 3 * 250_000
    tab.close()


@pytest.fixture(scope="module")
def steps(shared_browser):
    """Steps of the built-in lesson, among them questions and curves, each with a picture of the usual size."""
    lesson = read(built_in(), "it")
    some = Lesson(lesson.title, tuple(replace(step, go_on=False) for step in lesson.steps[4:9] + lesson.steps[46:52]))
    tab = shared_browser.new_page()
    blank = b64decode(tab.evaluate(BLANK, PRINTED.size))
    tab.close()
    return tuple(
        replace(step, picture=blank, shape=PRINTED.size[1] / PRINTED.size[0]) for step in run_beside_playwright(printed_steps(some, None))
    )


@pytest.mark.parametrize("paper", MILLIMETRES)
def test_no_step_and_no_answer_is_cut(browser, steps, tmp_path, paper):
    out = tmp_path / "handout.html"
    out.write_text(handout_page("Cut?", steps, paper, notes=True, answers=True), "utf-8")
    pdf = pdf_of(browser, out)
    names = {mark.rpartition("/")[0] for mark in pdf.marks}
    assert {f"step-{step.number}" for step in steps} <= names
    for name in names:
        (top_page, top), (bottom_page, bottom) = (pdf.marks[f"{name}/{end}"] for end in ("top", "bottom"))
        assert top_page == bottom_page and top > bottom, f"{name} is cut"
    for size in pdf.sizes:
        assert size == pytest.approx([mm / 25.4 * 72 for mm in MILLIMETRES[paper]], abs=1)
    on = {step.number: pdf.marks[f"step-{step.number}/top"][0] for step in steps}
    feet = {page: min(pdf.marks[f"step-{number}/bottom"][1] for number in on if on[number] == page) / 72 * 25.4 for page in on.values()}
    assert sorted(feet) == list(range(len(feet))) and all(foot < 17 + EMPTY for page, foot in feet.items() if page != max(feet)), {
        page: round(foot) for page, foot in feet.items()
    }
    last_step, first_answer = (
        of(page for mark, (page, _) in pdf.marks.items() if mark.startswith(kind)) for kind, of in (("step", max), ("answer", min))
    )
    assert first_answer == last_step + 1, "the answers begin on a page of their own"


def test_where_letters_are_larger_than_was_reckoned_only_what_fills_a_page_is_cut(browser, steps, tmp_path):
    out = tmp_path / "handout.html"
    page = handout_page("Cut?", steps, "a4", notes=True, answers=True)
    out.write_text(page.replace("</style>", ".step { zoom: 1.08; }</style>", 1), "utf-8")
    marks = pdf_of(browser, out).marks
    tops = {name.rpartition("/")[0]: at for name, at in marks.items() if name.startswith("step-") and name.endswith("/top")}
    for name, (page, top) in tops.items():
        alone = all(other <= top for on, other in tops.values() if on == page)
        assert alone or marks[f"{name}/bottom"][0] == page, f"{name} is cut, though it would have had room on a page of its own"


def test_it_can_be_read_on_a_screen_too(browser, steps, tmp_path):
    out = tmp_path / "handout.html"
    out.write_text(handout_page("Read", steps, "a4", notes=True, answers=True), "utf-8")
    tab = browser.new_page()
    tab.goto(out.as_uri())
    for width in (390, 1366):
        tab.set_viewport_size({"width": width, "height": 800})
        assert tab.evaluate("() => document.documentElement.scrollWidth") <= width
    assert violations(tab) == ""
    tab.close()
