"""Practice as a student does it on the page: questions of several scenes, answered wrongly and rightly, and kept; a mock test,
and practice over the shared address."""

from __future__ import annotations

import re

from tests.browser.accessibility import violations
from tests.browser.browsers import PATIENCE
from tests.browser.practice.answering import another, answer, answer_of_the_present_question

POLES = {"up": "upward (N pole below)", "down": "downward (N pole above)"}


def test_a_round_on_the_page_with_wrong_and_right_answers_is_in_the_file(practised):
    page, file = practised
    asked = []
    for rightly in (False, True, True):  # each new scene takes the page seconds
        question, wrong = answer_of_the_present_question(page)
        asked.append((page.told("scene")["name"], page.told("question")["kind"], page.told("question")["seed"]))
        answer(page, question.answer if rightly else wrong)
        assert page.tab.locator(".verdict").inner_text().startswith("✓\nRight" if rightly else "✗\nWrong")
        assert question.reason in page.tab.locator("#question .reason").inner_text()
        if not rightly:
            assert page.tab.get_by_text("A question of this kind comes back after 3 others.").is_visible()
        another(page)
    assert len(set(asked)) == 3 and len({scene for scene, _, _ in asked}) > 1
    kept = file.lines(3)
    assert [(line["scene"], line["kind"], line["seed"]) for line in kept] == asked
    assert [line["right"] for line in kept] == [False, True, True]
    assert all((line["given"] == line["answer"]) is line["right"] for line in kept)


def test_enter_goes_on_after_the_answer_from_where_the_focus_is_then(practised):
    """Shown by its button, which is gone then; no key but Enter is needed."""
    page, _ = practised
    before = page.told("question")["text"]
    page.tab.get_by_role("button", name="Show the answer").focus()
    page.tab.keyboard.press("Enter")
    page.wait_for("() => window.bench?.socket.told.question.given !== null")
    page.settle()
    assert page.tab.get_by_text("A question of this kind comes back after 3 others.").is_visible()
    assert page.tab.evaluate("() => document.activeElement.id") == "question-words"
    page.tab.keyboard.press("Enter")
    page.wait_for("() => window.bench?.socket.told.question.given === null")
    page.settle()
    assert page.told("question")["text"] != before
    page.tab.keyboard.press("Enter")  # while it waits nothing is to be gone on from
    page.settle()
    assert page.told("question")["given"] is None


def test_a_page_that_loads_itself_anew_keeps_the_question_and_asks_no_other(practised):
    """As it does when its line was lost, and the bench has forgotten it."""
    page, file = practised
    before = page.told("question")
    page.tab.evaluate("() => { window.before = true; window.bench.socket.drop() }")
    page.wait_for("() => !window.before")
    assert page.told("question") == before
    _, wrong = answer_of_the_present_question(page)
    answer(page, wrong)
    page.open(page.tab.url)
    assert page.told("question")["right"] is False and len(file.lines(1)) == 1


def test_a_set_up_of_ones_own_is_predicted_and_told_right_or_wrong(practised):
    """Set up with the controls on the page, then W: which way? The answers are worked out here, as I x B."""
    page, file = practised
    page.open(page.tab.get_by_role("link", name="A set-up of your own").evaluate("link => link.href"))
    page.set_up("pushed-conductor", {"current": 4.0, "field": "up", "tilt": 0.0})
    for current, field, given, right in (
        ("-7", "up", "to the left", "to the right"),  # -z x +y = +x
        ("7", "down", "to the right", "to the right"),  # +z x -y = +x
    ):
        entry = page.tab.get_by_role("spinbutton", name="Current toward the marked end of the rod")
        entry.fill(current)
        entry.press("Enter")
        page.tab.get_by_role("combobox", name="Field across the rod").select_option(label=POLES[field])
        page.wait_for(
            "([c, f]) => window.bench?.socket.told.settings.current === Number(c) && window.bench.socket.told.settings.field === f",
            [current, field],
        )
        page.tab.get_by_role("button", name="Predict this set-up").click()
        page.wait_for("() => window.bench?.socket.told.question && window.bench.socket.told.question.given === null")
        page.settle()
        assert page.told("settings")["current"] == float(current) and page.told("question")["seed"] is None
        assert not page.drawn("pushed-force")["visible"] and page.told("bench")["held"]
        answer(page, given)
        assert page.told("question")["right"] is (given == right)
        assert page.tab.locator(".question .reason").inner_text().startswith("Left hand: first finger")
        page.tab.keyboard.press("w")
        page.wait_for("() => window.bench?.socket.told.question.given === null")
        page.send(do="enough")
        page.wait_for("() => window.bench?.socket.told.question === null")
    assert [(line["seed"], line["given"], line["answer"]) for line in file.lines(2)] == [
        (None, "to the left", "to the right"), (None, "to the right", "to the right"),
    ]  # fmt: skip


def progress(tab) -> dict[str, int]:
    """How many answers the progress page counts of each topic."""
    rows = [(row.locator("th").inner_text(), row.locator("td").first.inner_text()) for row in tab.locator("#topics tbody tr").all()]
    return {title: int(right.split(" of ")[1]) for title, right in rows}


def test_the_progress_page_counts_each_answer_as_it_is_given(practised):
    page, _ = practised
    tab = page.tab.context.new_page()
    tab.set_default_timeout(1000 * PATIENCE)
    tab.goto(re.sub(r"/(\?.*)?$", "/progress/", page.tab.url))
    tab.wait_for_function("() => window.bench && window.bench.socket.told.progress")
    before = progress(tab)
    assert tab.get_by_text("No question has been answered yet.").is_visible() is (not before)
    title, (_, wrong) = page.told("scene")["title"], answer_of_the_present_question(page)
    page.send(do="answer", choice=wrong)
    tab.wait_for_function(
        "all => document.querySelector('#weeks tbody tr:last-child td:last-child')?.textContent.endsWith(` of ${all}`)",
        arg=1 + sum(before.values()),
    )
    assert progress(tab) == before | {title: before.get(title, 0) + 1}
    assert tab.evaluate("() => document.documentElement.scrollWidth <= window.innerWidth")
    tab.get_by_role("link", name="Back to practice").click()
    tab.locator("#question h2").wait_for()
    tab.close()


def test_a_mock_test_by_keyboard_alone(practised):
    page, file = practised
    page.tab.get_by_role("button", name="Mock test").focus()
    page.tab.keyboard.press("Enter")
    page.tab.get_by_label("Questions").fill("2")
    page.tab.get_by_label("Minutes").fill("3")
    page.tab.keyboard.press("Enter")
    put = []
    for place in (1, 2):
        page.wait_for("place => { const { mock, question } = window.bench.socket.told; return mock?.place === place && question }", place)
        page.settle()
        assert page.tab.locator("#place").inner_text() == f"Question {place} of 2" and "left" in page.tab.locator("#left").inner_text()
        assert page.tab.get_by_role("button", name="Show the answer").count() == 0
        assert page.tab.evaluate("() => document.activeElement.closest('#question') !== null"), "one key more would end the test"
        question, wrong = answer_of_the_present_question(page)
        put.append(question.text)
        if question.figure:
            page.tab.get_by_label("A figure with its unit").fill(wrong)
            page.tab.keyboard.press("Enter")
        else:
            page.tab.keyboard.press(str([value for value, _ in question.choices].index(wrong) + 1))
    page.tab.get_by_role("heading", name="0 of 2 right").wait_for()
    assert all(text in page.tab.locator("#result").inner_text() for text in put)
    assert violations(page.tab) == ""
    assert page.tab.locator("#picture").is_hidden() and page.tab.locator("#title").is_hidden(), "of the last question's machine"
    assert page.tab.get_by_role("button", name="Go on practising").evaluate("it => it === document.activeElement")
    page.tab.keyboard.press("Enter")
    page.wait_for("() => window.bench?.socket.told.mock === null && window.bench.socket.told.question")
    assert len(file.lines(2)) == 2 and page.tab.locator("#result").is_hidden()


def test_over_the_shared_address_each_practises_alone_by_touch(browser, start_bench, tmp_path):
    running = start_bench("practice", "two-wires", "--share", "--seed", "3", "--results", str(tmp_path / "own.jsonl"))
    address = re.search(r"http://\S+:\d+/\w+", running.process.stdout.readline())[0]
    tabs = []
    for _ in range(2):
        tab = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True).new_page()
        tab.failed = []
        tab.on("pageerror", lambda error, tab=tab: tab.failed.append(str(error)))
        tab.goto(f"{address}/")
        tab.locator("#question h2").wait_for(timeout=60_000)
        tabs.append(tab)
    told = "() => window.bench.socket.told"
    before = tabs[1].evaluate(f"{told}.question")
    assert tabs[0].locator("#progress, #own").first.is_hidden() and tabs[0].locator("#run").is_hidden()
    for _ in range(2):
        tabs[0].get_by_role("button", name="Show the answer").tap()
        tabs[0].locator("#question .correct").wait_for()
        assert tabs[0].locator("#picture canvas").count()
        tabs[0].get_by_role("button", name="Next question").tap()
        tabs[0].get_by_role("button", name="Show the answer").wait_for()
    assert tabs[1].evaluate(f"{told}.question") == before and all(tab.failed == [] for tab in tabs)
    assert violations(tabs[0]) == ""
    assert "Traceback" not in running.stop()
