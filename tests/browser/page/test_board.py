"""The board: one formula large, from any reading, with the readings' own numbers of the same instant."""

from __future__ import annotations

import re

LINES = "() => [...document.querySelectorAll('#board-strip p:not([hidden])')].map(line => [line.className, line.textContent])"
LARGE_ENOUGH = 18  # a letter is at least this part of the picture's height: legible from the back row


def on_the_board(page) -> dict[str, str]:
    return dict(page.tab.evaluate(LINES))


def test_any_reading_is_written_large_with_the_numbers_of_the_same_instant(page):
    page.set_up("pushed-conductor", {"current": 8})
    assert page.tab.locator("#board-strip").is_hidden()
    page.tab.locator("#readings button", has_text="force on the rod").click()
    told = next(each for each in page.told("readings") if each["symbol"] == "F")
    written = on_the_board(page)
    assert written["what"] == "force on the rod" and written["in-symbols"] == "F = B I l sin θ"
    assert written["result"] == f"F = {told['value']} {told['unit']}"
    # the numbers, multiplied here, are the result: tesla, amperes and metres make newtons
    product = 1.0
    for number in re.findall(r"\d+\.\d+", written["numbers"]):
        product *= float(number)
    assert abs(1000 * product - float(told["value"])) < 0.2
    sizes = page.tab.evaluate("""() => [...document.querySelectorAll('#board-strip p:not(.what)')]
        .map(line => parseFloat(getComputedStyle(line).fontSize) / document.querySelector('.view').clientHeight)""")
    assert min(sizes) >= 1 / LARGE_ENOUGH
    picture, strip = (page.tab.locator(one).bounding_box() for one in ("#picture", "#board-strip"))
    assert picture["y"] + picture["height"] <= strip["y"] + 1, "the board lies over the picture"

    page.send(do="reverse", what="current")
    page.send(do="set", name="current", value=4)
    page.wait_for("() => document.querySelector('#board-strip .numbers').textContent.includes('4.0 A')")
    page.tab.keyboard.press("o")
    assert page.tab.locator("#board-strip").is_visible()
    page.tab.keyboard.press("o")
    page.tab.keyboard.press("b")
    assert page.tab.locator("#board-strip").is_hidden()


def test_the_board_keeps_the_answer_while_a_question_waits(page):
    page.set_up("pushed-conductor", {"current": 8})
    page.tab.keyboard.press("b")
    assert on_the_board(page)["result"].startswith("F = ")
    page.send(do="ask", present=True)
    page.wait_for("() => window.bench.socket.told.question !== null")
    page.settle()
    written = on_the_board(page)
    assert written["result"] == "F = ? mN" and "numbers" not in written
    page.tab.keyboard.press("b")


def test_a_few_readings_are_in_sight_and_the_fold_remembers(page):
    page.set_up("cage-rotor", {})
    shown = "() => [...document.querySelectorAll('.readings dl > div')].filter(row => row.checkVisibility()).length"
    everything = len(page.told("readings"))
    assert 3 <= page.tab.evaluate(shown) <= 5 < everything
    page.tab.locator("#more-readings summary").click()
    assert page.tab.evaluate(shown) == everything
    page.tab.reload()
    page.wait_for("() => document.querySelectorAll('.readings dl > div').length > 5")
    assert page.tab.evaluate(shown) == everything
    page.tab.locator("#more-readings summary").click()


def test_all_letters_on_demand(page):
    page.set_up("cage-rotor", {})
    count = "() => document.querySelectorAll('#picture .letters span:not([hidden])').length"
    few = page.tab.evaluate(count)
    page.tab.keyboard.press("m")
    page.wait_for(f"few => ({count})() > few && ({count})() > 8", few)
    page.tab.keyboard.press("m")
    page.wait_for(f"() => ({count})() <= 8")
