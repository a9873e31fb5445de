"""Practice as a student does it on the page: questions of several scenes, answered wrongly and rightly, and kept; a mock test, what was
missed worked through, and practice over the shared address."""

from __future__ import annotations

import json
import re
import time

import pytest

from scenes import catalogue
from scenes.bench.prediction import Prediction
from tests.browser.accessibility import violations
from tests.browser.browsers import PATIENCE, Browser
from tests.scenes.practice.answers import given as to_give


class Kept:
    """The file in which the answers are kept, from where a test begins."""

    def __init__(self, path):
        self.path = path
        self.before = len(self._written())

    def _written(self) -> list[str]:
        """The lines so far; the last may be half written."""
        return [line for line in self.path.read_text("utf-8").splitlines(keepends=True) if line.endswith("\n")]

    def lines(self, count: int) -> list[dict]:
        """Those of this test, as soon as there are so many."""
        give_up = time.monotonic() + PATIENCE
        while len(self._written()) < self.before + count and time.monotonic() < give_up:
            time.sleep(0.05)
        return [json.loads(line) for line in self._written()[self.before :]]


@pytest.fixture(scope="module")
def practice(tmp_path_factory, start_bench, shared_browser, pixels, open_page):
    """One practice for all tests of this file, and a page of it: to start it takes longer than most of them."""
    file = tmp_path_factory.mktemp("practice") / "answers.jsonl"
    running = start_bench("practice", "conductor", "--seed", "3", "--results", str(file))  # two scenes, which are soon built
    browser = Browser(shared_browser, pixels)
    yield open_page(browser.new_context(viewport=USUAL).new_page(), running.address), running.address, file
    browser.close_what_was_opened()
    said = running.stop()
    assert "Traceback" not in said, said


@pytest.fixture
def practised(practice):
    """The page with a question that waits, and the answers that are kept from now on."""
    page, address, file = practice
    page.tab.set_viewport_size(USUAL)
    if page.tab.evaluate("() => location.pathname !== '/'"):
        page.open(address)
    page.send(do="enough")
    page.wait_for("() => window.bench?.socket.told.question === null")
    page.send(do="ask")
    page.wait_for("() => window.bench?.socket.told.question && window.bench.socket.told.mock === null")
    yield page, Kept(file)
    assert page.errors == []


USUAL = {"width": 1100, "height": 700}
POLES = {"up": "upward (N pole below)", "down": "downward (N pole above)"}


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
    page.wait_for("() => window.bench?.socket.told.question.given === null")
    page.settle()


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
