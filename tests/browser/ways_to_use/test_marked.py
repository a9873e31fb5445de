"""A marked test in real browsers: two trainees and the instructor, while the program is killed and started again."""

from __future__ import annotations

import pytest

from scenes.scene.typed import UNITS
from tests.browser.accessibility import violations
from tests.scenes.marked.test_killed import COMMAND, address_of, opened
from tests.scenes.marked.tests_file import lines_of

PATIENCE = 60_000  # ms
QUESTIONS = 3
STANDS = """place => {
    const { sitting } = (window.bench && window.bench.socket.told) || {}
    return sitting && sitting.place === place && sitting.name && document.querySelector('#question button')
}"""


TAKEN_OR_REFUSED = """given => {
    const refused = document.querySelector('#question .refused'), field = document.querySelector('#figure')
    return !refused || refused.innerText.includes(given) || (field && field.value !== given)
}"""


@pytest.fixture
def held(ready, tmp_path):
    class Held:
        file = tmp_path / "monday.jsonl"

        def start(self) -> None:
            self.program = ready.start([*COMMAND, str(self.file)])
            self.address = address_of(self.program)

        def kill(self) -> None:
            self.program.kill()
            self.program.communicate(timeout=60)

    one = Held()
    opened(one.file, questions=QUESTIONS, minutes=30, seed=5)
    one.start()
    yield one
    one.program.terminate()
    assert "Traceback" not in one.program.communicate(timeout=60)[1]


def came_in(browser, address: str, name: str, width: int):
    page = browser.new_context(viewport={"width": width, "height": 800}, has_touch=width < 500).new_page()
    page.errors = []
    page.on("pageerror", lambda error: page.errors.append(str(error)))
    page.goto(f"{address}/")
    page.wait_for_selector("#door:not([hidden])", timeout=PATIENCE)
    assert "cannot go back" in page.inner_text("#begin"), "this is told before anybody begins"
    page.fill("#name", name)
    page.click("#begin button")
    page.wait_for_function(STANDS, arg=1, timeout=PATIENCE)
    return page


def answer(page, choice: int) -> str:
    """Choose, change one's mind, and answer for good; what was chosen, in words. A figure is first given without its unit."""
    if page.locator("#figure").count():
        page.fill("#figure", "12")
        page.click("#answer")
        page.wait_for_selector("#question .refused")
        assert page.input_value("#figure") == "12", "it stays to be corrected"
        assert page.locator(f"#{page.get_attribute('#figure', 'aria-describedby')}").inner_text() == page.inner_text("#question .refused")
        for unit in UNITS:  # which one it takes is told nowhere
            page.fill("#figure", f"12 {unit}")
            page.press("#figure", "Enter")
            page.wait_for_function(TAKEN_OR_REFUSED, arg=f"12 {unit}", timeout=PATIENCE)
            if not page.locator("#question .refused").count():
                return f"12 {unit}"
        raise AssertionError("it takes none of the units")
    buttons = page.locator("#question [data-choice]")
    buttons.nth(0).click()
    buttons.nth(choice).click()
    assert page.locator("#question [aria-pressed=true]").count() == 1
    words = buttons.nth(choice).locator("span").inner_text()
    page.click("#answer")
    return words


def test_two_trainees_sit_a_test_that_is_killed_in_its_midst(browser, held):
    ada, bo = came_in(browser, held.address, "Ada Qv 3", 1100), came_in(browser, held.address, "Bo Yr 7", 390)
    assert "left" in ada.inner_text("#left") and ada.inner_text("#place") == f"Question 1 of {QUESTIONS}"
    assert ada.inner_text("#given") and ada.locator("#picture canvas").count()
    assert violations(ada, runOnly=["wcag2a", "wcag2aa"]) == ""
    given = {("Ada Qv 3", 1): answer(ada, 1)}
    ada.wait_for_function(STANDS, arg=2, timeout=PATIENCE)
    held.kill()
    bo.wait_for_selector("#waiting:not([hidden])", timeout=PATIENCE)
    held.start()
    ada.wait_for_function(STANDS, arg=2, timeout=PATIENCE)
    bo.wait_for_function(STANDS, arg=1, timeout=PATIENCE)
    ada.wait_for_selector("#waiting", state="hidden", timeout=PATIENCE)
    for page, name, first in ((ada, "Ada Qv 3", 2), (bo, "Bo Yr 7", 1)):
        for place in range(first, QUESTIONS + 1):
            page.wait_for_function(STANDS, arg=place, timeout=PATIENCE)
            given[name, place] = answer(page, place % 2)
        page.wait_for_selector("#door:not([hidden])", timeout=PATIENCE)
        assert (
            "The test is over" in page.inner_text("#door") and name in page.inner_text("#door-words") and page.locator("#begin").is_hidden()
        )
    lines = lines_of(held.file)
    names = {line["trainee"]: line["name"] for line in lines if line["what"] == "begun"}
    answers = [line for line in lines if line["what"] == "answered"]
    assert {(names[line["trainee"]], line["place"]): line["given"] for line in answers} == given and len(answers) == 2 * QUESTIONS
    for page, other in ((ada, "Bo Yr 7"), (bo, "Ada Qv 3")):
        assert other not in page.content() and page.errors == []


def test_an_answer_that_was_not_confirmed_goes_off_again_by_itself(browser, held):
    page = came_in(browser, held.address, "Ada Qv 3", 1100)
    held.kill()
    held.start()  # before the page has noticed
    page.evaluate("""() => {
        const { sitting, question } = window.bench.socket.told
        sessionStorage.setItem('thumbwise-sent', JSON.stringify({name: sitting.name, place: 1, choice: question.choices[0].value}))
    }""")
    page.wait_for_function(STANDS, arg=2, timeout=PATIENCE)
    assert [line["place"] for line in lines_of(held.file) if line["what"] == "answered"] == [1]
