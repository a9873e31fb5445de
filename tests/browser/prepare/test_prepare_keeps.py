"""While a lesson is made on the page nothing is lost that was typed, whether its field is left or the page is closed or loaded again."""

from __future__ import annotations

import re
import tomllib

import pytest

from tests.browser.accessibility import violations

BEGUN = 'version = 2\ntitle = "t"\n\n[[step]]\ntitle = "Motors"\n\n[[step]]\nscene = "pushed-conductor"\n'


@pytest.fixture
def made(browser, start_bench, open_page, tmp_path):
    """A page on which that lesson is made, how to open another, and what its file says of the first step."""
    path = tmp_path / "mine.toml"
    path.write_text(BEGUN, "utf-8")
    running = start_bench("lesson", str(path), "--prepare")
    context = browser.new_context(viewport={"width": 1366, "height": 768})

    def opened():
        page = open_page(context.new_page(), running.address)
        page.wait_for("() => document.querySelector('#step-title')?.value === 'Motors'")
        return page

    yield opened, lambda: tomllib.loads(path.read_text("utf-8"))["step"][0]
    assert "Traceback" not in running.stop()


def comes(page, says) -> None:
    """Wait until the file says so."""
    for _ in range(100):
        if says():
            return
        page.tab.wait_for_timeout(100)
    raise AssertionError("it is not in the file")


def test_what_is_typed_is_in_the_file_though_its_field_is_not_left(made):
    opened, step = made
    page = opened()
    notes = page.tab.get_by_label(re.compile("^Notes"))
    notes.click()
    page.tab.keyboard.type("Say: watch it")
    for _ in range(3):
        page.tab.keyboard.press("ArrowLeft")
    comes(page, lambda: step().get("notes") == "Say: watch it")
    page.wait_for("() => window.bench.socket.told.preparing.here.notes === 'Say: watch it'")
    assert notes.evaluate("it => [it === document.activeElement, it.selectionStart]") == [True, 10], "one types on where one was"
    page.tab.keyboard.type("!")
    comes(page, lambda: step().get("notes") == "Say: watch! it")
    page.tab.get_by_role("button", name="Undo").click()
    comes(page, lambda: "notes" not in step())
    # a decimal comma
    page.tab.get_by_label("Minutes planned").click()
    page.tab.keyboard.type("2,5")
    comes(page, lambda: step().get("minutes") == 2.5)
    # closed at once after the last key, and loaded again
    notes.click()
    page.tab.keyboard.type("closed")
    page.tab.close(run_before_unload=True)
    page = opened()
    comes(page, lambda: step().get("notes") == "closed")
    page.tab.get_by_label(re.compile("^Notes")).click()
    page.tab.keyboard.press("Control+End")
    page.tab.keyboard.type(" or not")
    page.tab.reload()
    comes(page, lambda: step().get("notes") == "closed or not")
    page.wait_for("() => document.querySelector('#step-notes')?.value === 'closed or not'")
    assert page.errors == []


def test_a_question_that_is_begun_is_there_again_after_another_step_and_after_loading(made):
    opened, step = made
    page = opened()
    steps, asks = page.tab.locator("#prepare .steps button"), page.tab.get_by_label("Question to the class")
    needed = page.tab.locator("#prepare .needed")
    asks.select_option("own")
    page.tab.get_by_label(re.compile("^Question$")).fill("Who holds it?")
    steps.nth(1).click()
    page.wait_for("() => window.bench.socket.told.step.number === 2 && document.querySelector('#step-asks').value === 'none'")
    steps.nth(0).click()
    stands = "() => document.querySelector('#step-asks')?.value === 'own' && document.querySelector('#own-text').value === 'Who holds it?'"
    page.wait_for(stands)
    assert asks.locator("option:checked").text_content() == "a question of your own (begun)"
    assert "two choices or more" in needed.text_content()
    page.tab.reload()
    page.wait_for(stands)
    page.tab.get_by_label(re.compile("^Choices")).fill("I\nyou")
    page.tab.get_by_label("The right one").select_option("2")
    page.wait_for("() => window.bench.socket.told.question?.text === 'Who holds it?'")
    assert needed.text_content() == ""
    asks.select_option("none")
    page.wait_for("() => window.bench.socket.told.question === null")
    page.wait_for("() => document.querySelector('#asks-own').textContent === 'a question of your own (kept)'")
    asks.select_option("own")
    page.wait_for("() => window.bench.socket.told.question?.text === 'Who holds it?'")
    assert page.tab.locator("#own-choices").input_value() == "I\nyou" and step()["question"]["right"] == 2
    assert page.errors == []


def test_why_a_question_cannot_be_put_stands_at_its_menu(made):
    opened, _ = made
    page = opened()
    page.tab.locator("#prepare .steps button").nth(1).click()
    page.wait_for("() => window.bench.socket.told.step.number === 2")
    page.send(do="set", name="switch", value=False)
    page.tab.get_by_role("button", name="Use the present set-up").click()
    page.wait_for("() => window.bench.socket.told.settings.switch === false")
    asks, refused = page.tab.get_by_label("Question to the class"), page.tab.locator("#prepare .refused")
    asks.scroll_into_view_if_needed()
    asks.select_option(label="how large the force is")
    page.wait_for("() => document.querySelector('#prepare .refused').textContent.includes('how large the force is')")
    menu, said = asks.bounding_box(), refused.bounding_box()
    assert 0 <= said["y"] - menu["y"] - menu["height"] < 12 and said["y"] + said["height"] <= 768, "next to it, and in sight"
    assert page.tab.locator("#notice p").count() == 0 and violations(page.tab, within=("#prepare",)) == ""
    page.tab.set_viewport_size({"width": 390, "height": 844})
    assert refused.is_visible() and page.tab.evaluate("() => document.documentElement.scrollWidth") <= 390
    assert page.errors == []
