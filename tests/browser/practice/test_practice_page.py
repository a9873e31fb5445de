"""The page on which a student practises: the picture, the question and little else, on every screen; the hand of a mistake, and what was
missed worked through."""

from __future__ import annotations

import re

from tests.browser.accessibility import violations
from tests.browser.practice.answering import answer, answer_of_the_present_question

SIZES = {"projector": (1366, 768), "telephone": (390, 844), "tablet, upright": (820, 1180)}


def put(page, scene: str, kind: str, seed: int) -> None:
    page.send(do="scene", name=scene)
    page.send(do="ask", seed=seed, kind=kind)
    page.wait_for(
        "([kind, seed]) => { const it = window.bench.socket.told.question; return it?.kind === kind && it.seed === seed }", [kind, seed]
    )
    page.settle()


def share_of_the_page(page) -> float:
    return page.tab.evaluate("""() => {
        const { width, height } = document.querySelector('#picture').getBoundingClientRect()
        return width * height / (innerWidth * innerHeight)
    }""")


def test_the_page_has_the_picture_the_question_and_little_else(practised):
    """Largest where it is upright: the picture has what the question leaves. Nothing that sets the bench is there."""
    page, _ = practised
    put(page, "pushed-conductor", "why", 3)
    for name, (width, height) in SIZES.items():
        page.tab.set_viewport_size({"width": width, "height": height})
        page.settle()
        assert page.tab.evaluate(
            "() => document.documentElement.scrollWidth <= innerWidth && document.documentElement.scrollHeight <= innerHeight"
        )
        assert share_of_the_page(page) >= (0.37 if width == 390 else 0.5), name
        assert page.tab.locator("#question h2").is_visible() and page.tab.locator("#question .answers button").count() == 4
        assert page.letters_lie_on_the_picture()
        assert violations(page.tab) == "", name
    assert page.tab.locator("#controls, #bar, #views").count() == 0
    shown = {each for each in page.tab.locator("button:visible, a:visible").all_inner_texts() if each}
    choices = set(page.tab.locator("#question .answers button").all_inner_texts())
    assert shown - choices == {"Mock test", "Progress", "A set-up of your own", "Show the answer"}
    put(page, "pushed-conductor", "poles", 3)  # where the picture would tell, the question has the page to itself
    card = page.tab.locator("#question").bounding_box()
    assert page.tab.locator("#picture").is_hidden() and abs(card["x"] + card["width"] / 2 - page.tab.viewport_size["width"] / 2) < 2
    page.send(do="reveal")
    page.tab.locator("#picture").wait_for()


def test_on_a_telephone_a_wrong_answer_is_marked_at_once_and_what_is_told_of_it_comes_into_sight(practised):
    page, _ = practised
    size = page.tab.viewport_size
    page.tab.set_viewport_size({"width": 390, "height": 844})
    put(page, "pushed-conductor", "why", 3)
    question, _ = answer_of_the_present_question(page)
    wrong = next(value for value, _ in question.choices if value != question.answer)
    page.tab.locator(f'#question [data-choice="{wrong}"]').dispatch_event("click")  # as on a telephone whose buttons take no focus
    page.wait_for("() => window.bench?.socket.told.question.tried !== null")
    page.settle()
    box = page.tab.locator("#question .note").bounding_box()
    assert box["y"] >= 0 and box["y"] + box["height"] <= 845
    assert page.tab.locator("#question .false [data-choice]").get_attribute("data-choice") == wrong
    assert "\u2717" in page.tab.locator("#question .false").inner_text()
    page.tab.set_viewport_size(size)


def test_the_mistaken_hand_is_named_in_the_picture_and_read_out_before_the_second_try(practised):
    page, _ = practised
    put(page, "pushed-conductor", "why", 3)
    question, _ = answer_of_the_present_question(page)
    wrong = next(value for value, names in question.mistakes if names == ("other hand",))
    place = [value for value, _ in question.choices].index(wrong)
    page.tab.locator("#question [data-choice]").nth(place).focus()
    page.tab.keyboard.press("Enter")
    page.wait_for("() => window.bench?.socket.told.question.tried !== null")
    page.settle()
    page.tab.locator(".letters span:visible", has_text="\N{BALLOT X} other hand").wait_for()
    assert "The grey hand shows it: right hand" in page.tab.locator("#question[aria-live=polite] .note").inner_text()
    assert page.tab.evaluate("() => document.querySelector('#question').contains(document.activeElement)"), "the focus stays at the answers"
    page.tab.keyboard.press(str([value for value, _ in question.choices].index(question.answer) + 1))
    page.wait_for("() => window.bench?.socket.told.question.given !== null")
    page.settle()
    assert page.tab.locator(".letters span:visible", has_text="\N{BALLOT X}").count() == 0 and page.drawn("pushed-left-hand")["visible"]


def test_what_was_missed_is_worked_through_line_by_line(practised):
    """By keyboard alone, with the figures of the question; the last lines come to what was asked for."""
    page, _ = practised
    put(page, "pushed-conductor", "figure", 4)
    question, wrong = answer_of_the_present_question(page)
    answer(page, wrong)
    page.tab.get_by_role("button", name="Work it through").focus()
    page.tab.keyboard.press("Enter")
    lines = page.tab.locator("#workings .lines li")
    lines.first.wait_for()
    assert lines.count() == 1
    onward = page.tab.get_by_role("button", name="Next line")
    onward.focus()
    while onward.is_visible():
        before = lines.count()
        page.tab.keyboard.press("Enter")
        assert lines.count() == before + 1
    found = float(re.search(r"F = .* = ([\d.]+) mN$", lines.last.inner_text().strip())[1])
    assert question.figure.unit == "mN" and abs(found / question.figure.size - 1) < 0.01
    assert not page.tab.get_by_role("button", name="Take the given figures again").is_visible(), "these are the question's"


def test_on_a_telephone_what_goes_on_is_in_sight_however_long_the_reason(practised):
    """Of the answer buttons of a usual question all are; the picture gives way to them."""
    page, _ = practised
    page.tab.set_viewport_size({"width": 390, "height": 844})
    inside = "it => { const { top, bottom } = it.getBoundingClientRect(); return top >= 0 && bottom <= innerHeight }"
    for scene, kind, seed in (("starting", "forward", 3), ("one-phase", "forward", 2), ("cage-rotor", "forward", 3)):
        put(page, scene, kind, seed)
        page.tab.locator("#question .answers button").first.wait_for()
        assert all(each.evaluate(inside) for each in page.tab.locator("#question button").all()), scene
        page.send(do="reveal")
        page.tab.locator("#question .reason").wait_for()
        page.settle()
        assert page.tab.get_by_role("button", name="Next question").evaluate(inside), scene
    assert page.tab.locator("#seen-from").inner_text() in ("Seen from the drive end", "Seen from the non-drive end")


def test_curves_that_would_tell_are_said_to_come_with_the_answer(practised):
    page, _ = practised
    put(page, "alternator", "forward", 2)
    why = "() => getComputedStyle(document.querySelector('#plot'), '::after').content"
    assert "with the answer" in page.tab.evaluate(why) and page.tab.get_by_role("img", name="The curves come with the answer.").count() == 1
    page.send(do="reveal")
    page.wait_for("() => window.bench.socket.told.plot.lines.length === 3")
    page.settle()
    assert "with the answer" not in page.tab.evaluate(why)
