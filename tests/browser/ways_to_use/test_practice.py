"""Practice as a student does it on the page: questions of several scenes, answered wrongly and rightly, and kept."""

from __future__ import annotations

import json
import re

import pytest

from scenes import catalogue
from scenes.bench.prediction import Prediction
from tests.scenes.practice.answers import given as to_give


@pytest.fixture
def practised(tmp_path, start_bench, browser, open_page):
    """A page in practice, and the file in which the answers are kept."""
    file = tmp_path / "answers.jsonl"
    running = start_bench("practice", "--seed", "3", "--results", str(file))
    context = browser.new_context(viewport={"width": 1100, "height": 700})
    page = open_page(context.new_page(), running.address)
    yield page, file
    context.close()
    said = running.stop()
    assert "Traceback" not in said, said
    assert page.errors == []


POLES = {"up": "upward (N pole below)", "down": "downward (N pole above)"}


def lines(file) -> list[dict]:
    return [json.loads(line) for line in file.read_text("utf-8").splitlines()]


def answer_of_the_present_question(page):
    """What is right, worked out here from the scene, kind and number that the page shows, and something that is wrong."""
    scene = catalogue.scene_class(page.told("scene")["name"])()
    prediction = Prediction()
    prediction.ask(scene, page.told("question")["seed"], page.told("question")["kind"])
    question = prediction.posed
    assert page.told("question")["text"] == question.text
    return question, to_give(question, False)


def answer(page, value: str) -> None:
    """Answer by the number key that stands before the choice, or with the figure typed; the same again where a wrong one may be tried
    once more."""
    told = page.told("question")
    values = [choice["value"] for choice in told["choices"]]
    for before in ("null", json.dumps(value)):
        if told["answered"] == "typed":
            field = page.tab.get_by_label("A figure with its unit")
            field.fill(value)
            field.press("Enter")
        elif before == "null":
            page.tab.keyboard.press(str(values.index(value) + 1))
        else:
            page.send(do="answer", choice=value)  # its button is crossed out
        page.wait_for(
            "(before) => (({ given, tried }) => given !== null || JSON.stringify(tried) !== before)(window.bench.socket.told.question)",
            before,
        )
        page.settle()
        if page.told("question")["given"] is not None:
            return
        assert page.tab.get_by_text("Try once more.").is_visible()


def another(page) -> None:
    page.tab.get_by_role("button", name="Next question").click()
    page.wait_for("() => window.bench.socket.told.question.given === null")
    page.settle()


def test_a_round_on_the_page_with_wrong_and_right_answers_is_in_the_file(practised):
    page, file = practised
    page.wait_for("() => window.bench.socket.told.question")
    asked = []
    for rightly in (False, True, True, True, True):
        question, wrong = answer_of_the_present_question(page)
        asked.append((page.told("scene")["name"], page.told("question")["kind"], page.told("question")["seed"]))
        answer(page, question.answer if rightly else wrong)
        assert page.tab.locator(".verdict").inner_text().startswith("✓\nRight" if rightly else "✗\nWrong")
        assert question.reason in page.tab.locator("#question .reason").inner_text()
        if not rightly:
            assert page.tab.get_by_text("A question of this kind comes back after 3 others.").is_visible()
        another(page)
    assert len(set(asked)) == 5 and len({scene for scene, _, _ in asked}) > 1
    kept = lines(file)
    assert [(line["scene"], line["kind"], line["seed"]) for line in kept] == asked
    assert [line["right"] for line in kept] == [False, True, True, True, True]
    assert all((line["given"] == line["answer"]) is line["right"] for line in kept)


def test_a_reload_keeps_the_question_and_asks_no_other(practised):
    page, file = practised
    page.wait_for("() => window.bench.socket.told.question")
    before = page.told("question")
    page.reload()
    assert page.told("question") == before
    _, wrong = answer_of_the_present_question(page)
    answer(page, wrong)
    page.open(page.tab.url)
    assert page.told("question")["right"] is False and len(lines(file)) == 1


def test_a_set_up_of_ones_own_is_predicted_and_told_right_or_wrong(practised):
    """Set up with the controls on the page, then W: which way? The answers are worked out here, as I x B."""
    page, file = practised
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
            "([c, f]) => window.bench.socket.told.settings.current === Number(c) && window.bench.socket.told.settings.field === f",
            [current, field],
        )
        page.tab.get_by_role("button", name="Predict this set-up").click()
        page.wait_for("() => window.bench.socket.told.question && window.bench.socket.told.question.given === null")
        page.settle()
        assert page.told("settings")["current"] == float(current) and page.told("question")["seed"] is None
        assert not page.drawn("pushed-force")["visible"] and page.told("bench")["held"]
        answer(page, given)
        assert page.told("question")["right"] is (given == right)
        assert page.tab.locator(".question .reason").inner_text().startswith("Left hand: first finger")
        page.tab.keyboard.press("w")
        page.wait_for("() => window.bench.socket.told.question.given === null")
        page.send(do="enough")
        page.wait_for("() => window.bench.socket.told.question === null")
    assert [(line["seed"], line["given"], line["answer"]) for line in lines(file)] == [
        (None, "to the left", "to the right"), (None, "to the right", "to the right"),
    ]  # fmt: skip


def test_the_progress_page_counts_each_answer_as_it_is_given(practised):
    page, _ = practised
    page.wait_for("() => window.bench.socket.told.question")
    tab = page.tab.context.new_page()
    tab.goto(re.sub(r"/(\?.*)?$", "/progress/", page.tab.url))
    tab.wait_for_function("() => window.bench && window.bench.socket.told.progress")
    assert tab.get_by_text("No question has been answered yet.").is_visible() and not tab.locator("#topics").is_visible()
    title, told = page.told("scene")["title"], page.told("question")
    page.send(do="answer", choice="1 mN" if told["answered"] == "typed" else told["choices"][0]["value"])
    row = tab.locator("#topics tbody tr")
    row.wait_for()
    asked = row.locator("td").nth(1).inner_text()
    assert row.locator("th").inner_text() == title and asked == "1"
    assert tab.locator("#weeks tbody tr").last.locator("td").last.inner_text() == "1"
    assert tab.evaluate("() => document.documentElement.scrollWidth <= window.innerWidth")
    tab.close()
