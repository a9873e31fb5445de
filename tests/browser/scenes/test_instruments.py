"""The instruments in a real browser: the order of work by mouse, touch and keys, and a fault named wrongly and rightly."""

from __future__ import annotations

import re

import pytest

from tests.browser.pointer import middle

SETTINGS = "window.bench.socket.told.settings"
PROVING = [("K1", "K2"), ("U1", "V1"), ("V1", "W1"), ("W1", "U1"), ("U1", "PE"), ("V1", "PE"), ("W1", "PE"), ("K1", "K2")]


@pytest.fixture
def motor(page):
    """A motor whose winding V has an earth fault, the voltmeter at hand."""
    plain = {"links": True, "leads": True, "work": "on", "joined": "star", "sticks": False}
    page.set_up("instruments", plain | {"fault": "earth-V", "instrument": "voltmeter", "asked": "measured"})
    return page


def point(page, name: str):
    words = {"K1": "proving unit, first socket", "K2": "proving unit, other socket", "PE": "earth terminal PE"}
    return page.tab.get_by_role("button", name=words.get(name, f"stud {name}"), exact=True)


def choose(page, name: str, value) -> None:
    page.send(do="set", name=name, value=value)
    page.wait_for(f"wanted => {SETTINGS}['{name}'] === wanted", value)
    page.settle()


def reading(page, words: str) -> dict:
    return next(each for each in page.told("readings") if words in each["words"])


def shown(page) -> str:
    each = page.told("readings")[0]
    return f"{each['value']} {each['unit']}".strip()


def lay(page, first: str, second: str) -> None:
    point(page, first).click()
    point(page, second).click()
    page.wait_for(f"wanted => {SETTINGS}.first === wanted[0] && {SETTINGS}.second === wanted[1]", [first, second])


def test_who_skips_proving_dead_is_told_before_the_instrument_answers(motor):
    choose(motor, "work", "locked")
    choose(motor, "instrument", "ohmmeter")
    lay(motor, "U1", "V1")
    motor.wait_for("() => /Not proved dead/.test(document.body.innerText)")
    motor.settle()
    assert shown(motor) == "nothing" and "Not proved dead" in reading(motor, "shown by the ohmmeter")["formula"]
    assert motor.drawn("probe-1")["visible"] and motor.drawn("padlock")["visible"], "the probes lie where they were put"
    choose(motor, "work", "on")
    lay(motor, "U1", "V1")
    motor.wait_for("() => /No ohmmeter on a live board/.test(document.body.innerText)")
    caution = motor.tab.evaluate("document.body.innerText")
    assert re.search(r"local code", caution, re.IGNORECASE) and "licensed" in caution


def test_a_fault_is_measured_in_order_by_mouse_and_keys_and_named_wrongly_and_then_rightly(motor):
    motor.send(do="ask", present=True)
    motor.settle()
    choose(motor, "work", "locked")
    for number, (first, second) in enumerate(PROVING, 1):
        if number == 2:  # by dragging from one to the other
            motor.tab.mouse.move(*middle(point(motor, first)))
            motor.tab.mouse.down()
            motor.tab.mouse.move(*middle(point(motor, second)), steps=4)
            motor.tab.mouse.up()
        elif number == 3:  # by keys alone
            for name in (first, second):
                point(motor, name).focus()
                motor.tab.keyboard.press("Enter")
        else:
            lay(motor, first, second)
        motor.wait_for(
            "wanted => window.bench.socket.told.readings.some(each => each.words === 'proved dead' && each.value === wanted)",
            f"{number} of 8 tests",
        )
    motor.wait_for(f"() => {SETTINGS}.work === 'proved'")
    choose(motor, "links", False)
    choose(motor, "leads", False)
    choose(motor, "instrument", "insulation")
    measured = {}
    for phase in "UVW":
        lay(motor, f"{phase}1", "PE")
        motor.settle()
        measured[phase] = shown(motor)
    assert measured["V"] == "0.008 MΩ" and float(measured["U"].split()[0]) > 100
    assert motor.told("question")["right"] is None
    motor.tab.locator("#question .answers button[data-choice=shorted]").click()
    motor.wait_for("() => window.bench.socket.told.question.note")
    answer = motor.told("question")
    assert answer["given"] is answer["answer"] is None and re.search(r"R [UVW]1-PE [\d.]+ MΩ speaks against", answer["note"])
    assert motor.tab.get_by_text("Measure on, and name it once more.").is_visible()
    motor.tab.locator("#question .answers button[data-choice=earth]").click()
    motor.wait_for("() => window.bench.socket.told.question.given === 'earth'")
    answer = motor.told("question")
    assert answer["right"] is True and "Winding V has an earth fault" in answer["reason"]
    before = dict(motor.told("settings"))
    motor.tab.keyboard.press("Escape")
    motor.wait_for("() => window.bench.socket.told.question === null")
    assert motor.told("settings") == before, "what was set up stays"


def test_the_clamp_by_touch_on_a_telephone(motor, telephone, bench):
    choose(motor, "instrument", "clamp")
    touched = telephone(bench.address)
    touched.wait_for("() => document.querySelectorAll('.picks button').length === 9")
    touched.settle()
    leads = [touched.tab.get_by_role("button", name=f"lead L{k}{at}", exact=True) for at in ("", " at the supply") for k in (1, 2, 3)]
    boxes = [each.bounding_box() for each in leads]
    assert all(box["width"] >= 24 and box["height"] >= 24 for box in boxes)
    touched.tab.get_by_role("button", name="lead L1 at stud U1", exact=True).tap()
    touched.wait_for(f"() => {SETTINGS}.first === 'L1'")
    leads[5].tap()
    touched.wait_for(f"() => {SETTINGS}.first === 'L3'")
    motor.settle()
    assert shown(motor) == "16.1 A" and motor.drawn("clamp-jaw")["visible"]
    assert not motor.drawn("probe-1")["visible"]


def test_each_points_button_lies_on_what_it_names(motor):
    """Studs as the board has them, W2 U2 V2 above U1 V1 W1, and the supply's posts below."""
    at = {name: middle(point(motor, name)) for name in ("W2", "U2", "V2", "U1", "V1", "W1", "PE", "K1", "K2")}
    for row in (("W2", "U2", "V2"), ("U1", "V1", "W1"), ("K1", "K2")):
        assert all(at[left][0] < at[right][0] for left, right in zip(row, row[1:], strict=False))
        assert max(at[name][1] for name in row) - min(at[name][1] for name in row) < 15
    assert at["W2"][1] < at["U1"][1] - 40 and at["V1"][1] < at["PE"][1] and at["PE"][0] > at["W1"][0]
