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


WRITTEN = """() => {
    window.penned = []
    const pen = CanvasRenderingContext2D.prototype
    window.fillText ??= pen.fillText
    pen.fillText = function (text, ...place) {
        window.penned.push([text, parseFloat(this.font.match(/([\\d.]+)px/)[1]), this.canvas])
        return window.fillText.call(this, text, ...place)
    }
}"""
IN_VIEW = """() => {
    const high = document.querySelector('.view').clientHeight, rows = document.querySelectorAll('#board-strip p:not(.what):not([hidden])')
    return [...rows].map(row => parseFloat(getComputedStyle(row).fontSize) / high)
}"""


def test_a_calculation_goes_on_the_board_line_by_line(page):
    page.set_up("turning-field", {"poles": "4"})
    page.tab.locator("#workings summary").focus()
    page.tab.keyboard.press("Enter")
    page.wait_for("() => document.querySelectorAll('#workings .lines button').length === 2")
    assert page.tab.locator("#workings-topic").input_value() == "synchronous-speed"
    page.tab.locator("#workings .lines button").nth(1).focus()
    page.tab.keyboard.press("Enter")
    written = on_the_board(page)  # 50 Hz and four poles, worked here
    assert (written["in-symbols"], written["numbers"], written["result"]) == (
        "ns = 120 f / poles",
        "= 120 × 50 Hz / 4",
        f"ns = {3000 // 2} r/min",
    )
    assert page.tab.locator("#board-strip sub").first.text_content() == "s"

    page.send(do="set", name="poles", value="6")
    page.wait_for("() => document.querySelector('#board-strip .result').textContent.includes('1000 r/min')")
    for size in ((1366, 768), (1920, 1080)):
        page.tab.set_viewport_size({"width": size[0], "height": size[1]})
        page.settle()
        assert min(page.tab.evaluate(IN_VIEW)) >= 1 / LARGE_ENOUGH, size
        page.tab.keyboard.press("o")
        page.settle()
        assert min(page.tab.evaluate(IN_VIEW)) >= 1 / LARGE_ENOUGH, size
        page.tab.locator('[data-turn="previous"]').click()
        assert on_the_board(page)["numbers"] == "f = 50 Hz, poles = 6"
        page.tab.locator('[data-turn="next"]').click()
        page.tab.keyboard.press("o")

    page.tab.evaluate(WRITTEN)
    with page.tab.expect_download():
        page.tab.evaluate("() => { window.bench.actions.with(); window.bench.actions.save() }")
    penned = page.tab.evaluate("() => window.penned.map(([text, size, sheet]) => [text, size / sheet.height])")
    page.tab.evaluate("() => { CanvasRenderingContext2D.prototype.fillText = window.fillText; window.bench.actions.with() }")
    shares = {text.strip(): share for text, share in penned}
    assert shares["= 120 × 50 Hz / 6"] >= 1 / LARGE_ENOUGH and shares["s"] < shares["= 120 × 50 Hz / 6"], shares

    page.tab.locator('[data-input="frequency"]').fill("fifty")
    page.tab.locator('[data-input="frequency"]').press("Enter")
    page.wait_for("() => document.querySelector('#workings .wrong').textContent.includes(\"not 'fifty'\")")
    assert page.tab.locator("#board-strip").is_hidden() and page.tab.locator('[data-input="frequency"]').input_value() == "fifty"
    page.tab.locator("#workings .own").click()
    page.wait_for("() => document.querySelectorAll('#workings .lines button').length === 2")
    page.tab.locator("#workings summary").click()
    page.wait_for("() => window.bench.socket.told.working.topic === ''")


def test_a_chart_names_both_axes_with_their_units_and_leaves_the_names_free(page):
    for name, settings, words, size in (
        ("coils-and-commutator", {}, {"EMF (V)", "current I (A)", "time (s)"}, (390, 844)),
        ("slip-and-speed", {}, {"of rated (%)", "speed (r/min)"}, (390, 844)),
        ("one-phase", {"motor": "three"}, {"torque (% of rated)", "speed, clockwise positive (% of nₛ)"}, (1024, 768)),
        ("braking", {}, {"speed, heat × start; torque × rated", "time (s)"}, (1024, 768)),
    ):
        page.set_up(name, settings)
        page.send(do="run", on=True)
        box = "#chart" if name.startswith("coils") else "#plot .curves"
        page.tab.set_viewport_size({"width": size[0], "height": size[1]})
        page.wait_for("box => document.querySelectorAll(`${box} .annotation-text`).length > 1", box)
        page.settle()
        shown = page.tab.evaluate("box => [...document.querySelectorAll(`${box} .annotation-text`)].map(each => each.textContent)", box)
        assert set(shown) == words
        apart = page.tab.evaluate(
            """box => {
                const boxes = chosen => [...document.querySelectorAll(chosen)].map(each => each.getBoundingClientRect())
                const names = boxes(`${box} .annotation-text`), figures = `${box} :is(.xtick, .ytick) text`
                const others = boxes(`${figures}, ${box} .legendtext, #plot .legend span`)
                return names.flatMap(a => others.filter(b => a.width && b.width && a.left < b.right - 1 && b.left < a.right - 1
                    && a.top < b.bottom - 2 && b.top < a.bottom - 2)).length
            }""",
            box,
        )
        assert apart == 0, f"a name lies over a figure or the legend in {name}"


# of each figure with its unit on the page how many lines it is on
WORDS = "#question h2, #question li, #question .reason, .readings .formula"
LINES_OF_FIGURES = r"""words => [...document.querySelectorAll(words)].flatMap(element => {
    const found = []
    const walker = document.createTreeWalker(element, NodeFilter.SHOW_TEXT)
    for (let node; (node = walker.nextNode());) {
        for (const match of node.data.matchAll(/\d[\s\u00a0](?:V|A|T|Hz|mm|m\/s|r\/min|N m)(?!\w)/g)) {
            const range = document.createRange()
            range.setStart(node, match.index)
            range.setEnd(node, match.index + match[0].length)
            const tops = [...range.getClientRects()].filter(({ width }) => width > 0.5).map(({ top }) => Math.round(top))
            found.push([match[0], new Set(tops).size, node.data])
        }
    }
    return found
})"""


def test_no_figure_is_parted_from_its_unit(page):
    seen = 0
    for scene, kind in (("pushed-conductor", "figure"), ("turning-field", "figure"), ("terminal-box", "figure")):
        page.set_up(scene, {})
        page.send(do="ask", seed=3, kind=kind)
        page.wait_for("() => window.bench.socket.told.question !== null")
        for width in range(330, 640, 10):
            page.tab.set_viewport_size({"width": width, "height": 800})
            found = page.tab.evaluate(LINES_OF_FIGURES, WORDS)
            assert all(lines == 1 for _, lines, _ in found), (width, found)
            seen += len(found)
    assert seen > 100
    page.tab.set_viewport_size({"width": 1366, "height": 768})


def test_a_chart_that_waits_for_an_answer_has_no_scale_and_no_line_at_nothing(page):
    """A strip chart as well as curves over a revolution; and a formula's subscripts stand low."""
    hidden = "box => [...document.querySelector(box).children].every(each => getComputedStyle(each).visibility === 'hidden')"
    why = "box => getComputedStyle(document.querySelector(box), '::after').content"
    for scene, box in (("moved-conductor", "#chart"), ("alternator", "#plot")):
        page.set_up(scene, {})
        page.wait_for(f"box => !({hidden})(box)", box)
        page.send(do="ask", seed=2)
        page.wait_for("() => window.bench.socket.told.question !== null")
        page.wait_for(hidden, box)
        assert "with the answer" in page.tab.evaluate(why, box)
        page.send(do="reveal")
        page.wait_for(f"box => !({hidden})(box)", box)
        assert "with the answer" not in page.tab.evaluate(why, box)
    formula = page.tab.locator(".readings .formula", has_text="4.443").first
    assert "_" not in formula.text_content() and formula.locator("sub").all_text_contents() == ["w"]
