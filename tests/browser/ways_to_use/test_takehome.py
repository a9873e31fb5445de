"""A lesson in one file, opened from a disk: it plays, is run to and fro, and its questions are answered, with no network."""

from __future__ import annotations

import json
import re

import numpy as np
import pytest

from scenes.lesson.lesson import read
from scenes.scene.typed import Figure
from tests.browser.accessibility import violations
from tests.browser.browsers import Browser

LESSON = """
title = "Taken home"
[[step]]
scene = "field-round-a-wire"
settings = { current = 8.0 }
caption = "A current makes a field."
[[step]]
scene = "pushed-conductor"
settings = { current = 6.0 }
caption = "Which way is it pushed?"
question = true
[[step]]
scene = "turning-field"
caption = "A field that turns."
[[step]]
scene = "pushed-conductor"
settings = { current = -6.0 }
caption = "Reversed."
[[step]]
scene = "turning-field"
question = { kind = "figure", number = 2 }
[[step]]
scene = "alternator"
question = { kind = "poles", number = 4 }
"""
READY = "() => window.bench && window.bench.socket.told.scene && document.querySelector('#picture canvas')"
NUMBER = "window.bench.socket.film.number"


@pytest.fixture(scope="module")
def file(tmp_path_factory, run_command):
    folder = tmp_path_factory.mktemp("home")
    lesson, out = folder / "lesson.toml", folder / "home.html"
    lesson.write_text(LESSON)
    assert len(read(LESSON, "it").steps) == 6
    # in a process of its own, as in life: in this one other tests have drawn what no page was sent
    run_command("takehome", str(lesson), "--seconds", "3", "--out", str(out))
    return out


@pytest.fixture(scope="module")
def kept(shared_browser, pixels, file):
    """The file on a page that all tests share, with what it asked for from elsewhere and what went wrong."""
    own = Browser(shared_browser, pixels)
    tab = own.new_page()
    wrong: list[str] = []
    tab.on("pageerror", lambda error: wrong.append(str(error)))
    tab.on("request", lambda asked: wrong.append(asked.url) if not asked.url.startswith(("blob:", "data:", "file:")) else None)
    tab.goto(file.as_uri())
    tab.wait_for_function(READY)
    yield tab, wrong
    own.close_what_was_opened()


@pytest.fixture
def opened(kept):
    """That page, held at the beginning."""
    tab, wrong = kept
    tab.set_viewport_size({"width": 1100, "height": 700})
    tab.evaluate("""async () => {
        const { film } = window.bench.socket
        document.activeElement.blur()
        for (const step of [3, 0]) await film.go(step)  // the step it is at already is not begun anew
        film.hold()
    }""")
    yield tab
    assert wrong == []


def readings(tab) -> dict:
    return {one["symbol"]: one["value"] for one in tab.evaluate("() => window.bench.socket.told.readings")}


def at_step(tab, number: int) -> None:
    tab.wait_for_function(f"number => {NUMBER} === number - 1", arg=number)


def test_a_question_is_answered_before_the_answer_is_shown(opened):
    opened.keyboard.press("n")
    at_step(opened, 2)
    assert readings(opened)["F"] == "?"
    question = opened.evaluate("() => window.bench.socket.told.question")
    # by the left hand: the current toward the viewer (0, 0, 1) in a field that points up pushes to the left
    pushed = np.cross([0, 0, 1], [0, 1, 0])
    assert list(pushed) == [-1, 0, 0] and "toward you" in question["text"] and "up" in question["text"]
    wrong = next(place for place, choice in enumerate(question["choices"], 1) if choice["words"] == "to the right")
    opened.keyboard.press(str(wrong))
    opened.get_by_text("Try once more.").wait_for()
    said = opened.locator("#question .note").inner_text()  # the left hand gives the left; the right hand, as other mistakes, the right
    assert said.startswith("Wrong: to the right.") and "other hand" in said and "fingers exchanged" in said
    assert readings(opened)["F"] == "?" and opened.locator("#question .true").count() == 0, "the answer is still to be found"
    opened.keyboard.press(str(wrong))  # that is known
    up = next(place for place, choice in enumerate(question["choices"], 1) if choice["words"] == "up")
    assert opened.evaluate("() => window.bench.socket.film.waits")
    opened.keyboard.press(str(up))
    opened.get_by_text("Wrong:").wait_for()
    assert "hand" in opened.locator("#question .reason").inner_text() and "mistake" not in opened.locator("#question .reason").inner_text()
    assert opened.locator("#question .true").inner_text().split("\n")[-1].strip().endswith("to the left")
    crossed = [one.inner_text() for one in opened.locator("#question li button").all() if "\u2717" in one.inner_text()]
    assert len(crossed) == 2 and all(any(words in one for one in crossed) for words in ("to the right", "up")), crossed
    assert "first answer was: to the right." in opened.locator("#question").inner_text()
    opened.wait_for_function("() => window.bench.socket.film.place > 3")
    assert float(readings(opened)["F"].replace("\u2212", "-")) != 0
    opened.get_by_role("combobox", name="Step").select_option("0")
    at_step(opened, 1)
    opened.get_by_role("button", name="Next step").click()
    at_step(opened, 2)
    opened.get_by_role("button", name="to the left").click()
    opened.get_by_text("Right:").wait_for()


def answer(tab, text: str) -> str:
    """Type a figure; what the card says then."""
    tab.get_by_label("A figure with its unit").fill(text)
    tab.keyboard.press("Enter")
    return tab.locator("#question").inner_text()


def test_a_figure_is_typed_as_people_write_it_and_tried_again(opened):
    opened.evaluate("() => window.bench.socket.film.go(4)")
    at_step(opened, 5)
    text = opened.locator("#question h2").inner_text()
    poles, hertz = (int(number) for number in re.findall(r"(\d+) poles .* (\d+) Hz", text)[0])
    right = 120 * hertz / poles
    for none in ("fast", f"{right}", f"{right} V"):
        assert "Write a figure with its unit, such as 12 kg." in answer(opened, none), none
    assert violations(opened) == ""
    said = answer(opened, f"{right / 2:g} revs per minute")
    assert f"Wrong: {right / 2:g} r/min. This answer takes poles for pole pairs" in said and "Try once more." in said
    assert readings(opened)["nₛ"] == "?"
    answer(opened, f"about {right:g} rpm")
    opened.get_by_text(f"Right: {right:g} r/min").wait_for()
    assert "nₛ = 120 f" in opened.locator("#question .reason").inner_text()
    opened.wait_for_function("() => window.bench.socket.film.place > 0")
    assert float(readings(opened)["nₛ"]) == right


def test_a_figure_is_read_as_the_bench_reads_it(opened):
    given = (
        "750rpm", "0.75 kA", "750 mA", "750 milliamps", "1 200,5 A", "1,200 A", "-2 A", "\u22122 A", "3 MA", "3 ma", "3 mA.", "3", "3 Hz",
        "= 4 amps", "4e2 A", ".5 A", "2 N m", "2 newton metres", "2 kNm", "2 mN", "3 N per metre", "3 kilohertz", "50 %", "5 percent",
        "20 per second", "20/s", "20 cycles a second", "1500 a minute",
    )  # fmt: skip
    for unit in ("A", "mN", "N m", "N/m", "Hz", "%", "r/min", ""):
        figure = Figure(1.0, unit, 0.03)
        for text in given:
            try:
                wanted = figure.read(text)
            except ValueError:
                wanted = None
            found = opened.evaluate(
                "async ([figure, text]) => (await import('thumbwise/one_file/judge.js')).read(figure, text)", [figure.as_data(), text]
            )
            assert found == (wanted if wanted is None else pytest.approx(wanted)), (unit, text)


def test_a_figure_is_judged_as_the_bench_judges_it(opened):
    figure = Figure(98.6, "mV", 0.03)
    for text in ("95.7 mV", "95.6 mV", "101.5 mV", "101.6 mV", "98.6 mV", "0.1 V"):
        right = opened.evaluate(
            "async ([figure, text]) => (await import('thumbwise/one_file/judge.js')).judge({}, { figure, told: [] }, text).right",
            [figure.as_data(), text],
        )
        assert right == figure.holds(figure.read(text)), text


def test_what_the_picture_would_give_away_is_covered(opened):
    opened.evaluate("() => window.bench.socket.film.go(5)")
    at_step(opened, 6)
    assert opened.locator("#picture canvas").first.is_hidden() and opened.locator("#readings").is_hidden()
    opened.get_by_role("button", name="Show the answer").click()
    opened.locator("#picture canvas").first.wait_for()


def test_it_is_run_to_and_fro_by_pictures_and_each_looks_the_same_again(opened):
    opened.evaluate("() => window.bench.socket.film.go(2)")
    at_step(opened, 3)
    opened.evaluate("() => window.bench.socket.film.hold()")
    slider = opened.get_by_role("slider", name="Seconds into this step")
    state = """() => JSON.stringify([window.bench.socket.told.readings, window.bench.socket.told.says,
        glowObjs.map(one => one && one.visible && one.pos ? [one.pos.x, one.axis && one.axis.x, one.axis && one.axis.y] : 0)])"""
    seen = []
    for picture in (12, 24, 12, 0, 24):
        slider.fill(str(picture))
        seen.append(opened.evaluate(state))
    assert seen[0] == seen[2] and seen[1] == seen[4] and len(set(seen)) == 3
    opened.get_by_role("button", name="One picture back").click()
    opened.get_by_role("button", name="One picture on").click()
    assert opened.evaluate(state) == seen[1]
    opened.get_by_role("button", name="Run", exact=True).click()
    opened.get_by_role("button", name="Run again").wait_for()
    assert opened.evaluate("() => window.bench.socket.film.place") == opened.evaluate("() => window.bench.socket.film.length") > 120, (
        "a turn in 10 s"
    )


def test_a_scene_comes_again_as_it_was_after_another(opened):
    """The rod's current is drawn along the bench's z, the way the setting's sign says, and nothing of other scenes is left."""
    drawn = "() => glowObjs.filter(one => one && one.visible && one.pos && one !== glowObjs[0]).length"
    counts = {}
    for step in (2, 4, 3, 2, 4, 1, 4):
        opened.evaluate("step => window.bench.socket.film.go(step - 1)", step)
        at_step(opened, step)
        opened.evaluate("() => { const { film } = window.bench.socket; film.reveal(); film.hold(); film.seek(10) }")
        counts.setdefault(step, set()).add(opened.evaluate(drawn))
        if step in (2, 4):
            told = json.loads(opened.evaluate("() => JSON.stringify(window.bench.socket.told.settings)"))
            assert told["current"] == (6.0 if step == 2 else -6.0)
            assert float(readings(opened)["I"].replace("\u2212", "-")) == told["current"]
    assert all(len(found) == 1 for found in counts.values()), counts


def test_it_can_be_used_by_all_and_fits_a_telephone(opened):
    opened.set_viewport_size({"width": 390, "height": 844})
    opened.get_by_text("How to turn the picture, and keys").click()
    opened.get_by_text("next and previous step").wait_for()
    assert violations(opened) == "" and opened.evaluate("() => document.documentElement.scrollWidth") <= 390
    opened.get_by_text("How to turn the picture, and keys").click()
    for step in (2, 3):  # past a question that waits, which tells nothing
        assert violations(opened) == ""
        assert opened.evaluate("() => document.documentElement.scrollWidth") <= 390
        opened.keyboard.press("n")
        at_step(opened, step)
    opened.evaluate("() => window.bench.socket.film.hold()")
    pace = opened.locator("#pace").evaluate("it => [it.textContent, it.scrollWidth - it.clientWidth]")
    assert re.fullmatch(r"stopped \(1/[0-9]+ speed\)", pace[0]) and pace[1] <= 0, pace
    opened.evaluate("() => window.scrollTo(0, 400)")
    opened.keyboard.press("p")
    at_step(opened, 2)
    assert opened.evaluate("() => [window.scrollY, window.bench.socket.told.question.answer]") == [0, None]
    assert "computed" in opened.locator(".made").inner_text()
    # a wrong answer is marked at once, and what is told of it comes into sight
    opened.locator("#question h2").scroll_into_view_if_needed()
    wrong = opened.get_by_role("button", name="to the right")
    wrong.click()
    note = opened.get_by_text("Try once more.")
    note.wait_for()
    box = note.bounding_box()
    assert box["y"] >= 0 and box["y"] + box["height"] <= 845
    assert opened.locator("#question .false button").inner_text().split() == ["\u2717", "to", "the", "right"] and violations(opened) == ""


def test_a_reading_is_written_large_on_the_board_and_goes_on_with_the_pictures(opened):
    opened.evaluate("async () => { const { film } = window.bench.socket; await film.go(3); film.hold() }")
    at_step(opened, 4)
    opened.locator("#readings button", has_text="force on the rod").click()
    strip = opened.locator("#board-strip")
    assert "F = B I l sin" in strip.inner_text()
    forces = set()
    for picture in (6, 24):
        opened.evaluate("picture => window.bench.socket.film.seek(picture)", picture)
        forces.add(force := readings(opened)["F"])
        opened.wait_for_function("words => document.querySelector('#board-strip .result').innerText === words", arg=f"F = {force} mN")
        product = 1.0
        for number in re.findall(r"\d+\.\d+", strip.locator(".numbers").inner_text()):
            product *= float(number)
        assert 1000 * product == pytest.approx(float(force), abs=0.2)  # T A m are newtons
    assert len(forces) == 2
    opened.keyboard.press("b")
    assert strip.is_hidden()


def damaged(file, tmp_path, harm) -> str:
    out = tmp_path / "damaged.html"
    out.write_text(harm(file.read_text("utf-8")), "utf-8")
    return out.as_uri()


def altered(name: str):
    """What changes one letter in the middle of a part of the file."""

    def harm(text: str) -> str:
        begins = text.index(f'id="film-{name}">') + len(f'id="film-{name}">')
        middle = (begins + text.index("<", begins)) // 2
        return f"{text[:middle]}{'A' if text[middle] != 'A' else 'B'}{text[middle + 1 :]}"

    return harm


@pytest.mark.parametrize(
    "harm",
    [
        lambda text: text[: len(text) // 2],
        lambda text: text[:-40],
        lambda text: text[:3000],
        altered("about"),
        altered("code"),
        altered("reel-0"),
    ],
    ids=["half", "without its end", "little", "what it is", "code", "first step"],
)
def test_a_damaged_file_says_so_in_a_sentence(browser, file, tmp_path, harm):
    tab = browser.new_page()
    tab.goto(damaged(file, tmp_path, harm))
    tab.get_by_text("This file is damaged, so it cannot be shown: copy or download it again.").wait_for()


def test_a_damaged_step_is_told_and_the_others_are_shown(browser, file, tmp_path):
    tab = browser.new_page()
    tab.goto(damaged(file, tmp_path, altered("reel-2")))
    tab.wait_for_function(READY)
    tab.get_by_role("combobox", name="Step").select_option("2")
    tab.get_by_role("alert").get_by_text("Step 3 is damaged in this file and cannot be shown").wait_for()
    tab.get_by_role("combobox", name="Step").select_option("3")
    at_step(tab, 4)
    assert tab.get_by_role("alert").inner_text() == "" and float(readings(tab)["F"]) > 0
