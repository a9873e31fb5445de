"""A lesson of six steps, with an own question and an own picture, made in a real browser by mouse and keys, given, closed and opened
again."""

from __future__ import annotations

import re
import tomllib

import pytest

from tests.browser.accessibility import violations
from tests.scenes.lesson.images import png

SIZES = ((1366, 768), (1024, 768), (820, 1180), (390, 844))  # projector, tablet lying and standing, telephone
SHOWS = "words => document.querySelector('#own-page h1')?.textContent === words"
WAITS = "words => document.querySelector('#question-words')?.textContent === words && window.bench.socket.told.question.given === null"


class Desk:
    """The page on which the lesson is made, and what its panel shows."""

    def __init__(self, page):
        self.page = page
        self.tab = page.tab
        self.panel = page.tab.locator("#prepare")

    def press(self, words: str) -> None:
        self.panel.get_by_role("button", name=words, exact=True).click()

    def steps(self, count: int) -> None:
        self.page.wait_for("count => document.querySelectorAll('#prepare .steps li').length === count", count)

    def write(self, label: str, text: str) -> None:
        """Type into the field of that label and leave it with the Tab key."""
        field = self.panel.get_by_label(re.compile(f"^{label}"))
        field.click()
        self.tab.keyboard.press("Control+a")
        self.tab.keyboard.type(text)
        field.press("Tab")

    def says(self, name: str, value) -> None:
        """The bench has it."""
        self.page.wait_for("([name, value]) => window.bench.socket.told.preparing.here[name] === value", [name, value])

    def set_up(self, scene: str, **settings) -> None:
        self.panel.get_by_label("Demonstration on the bench").select_option(scene)
        self.page.wait_for("name => window.bench.socket.told.scene.name === name && !window.bench.socket.told.step.page", scene)
        for name, value in settings.items():
            self.page.send(do="set", name=name, value=value)

    def add(self, count: int) -> None:
        self.press("Add this set-up")
        self.steps(count)


def fits(tab) -> bool:
    return tab.evaluate("() => document.documentElement.scrollWidth <= innerWidth")


@pytest.fixture
def mine(tmp_path):
    return tmp_path / "motors.toml"


def make(desk: Desk, rotor) -> None:
    tab = desk.tab
    desk.write("Title$", "Why a rod moves")
    desk.write("Text", "Bring goggles.")
    desk.says("text", "Bring goggles.")
    desk.set_up("pushed-conductor", current=-8)
    desk.add(2)
    desk.write("Caption", "A rod in a field")
    desk.write("Minutes planned", "2")
    desk.write("Notes", "Say: watch the rod.")
    desk.says("notes", "Say: watch the rod.")
    # a page with a picture
    desk.press("Add a page")
    desk.steps(3)
    desk.write("Title$", "A rotor")
    desk.panel.get_by_label("Picture (PNG").set_input_files(rotor)
    desk.page.wait_for("() => document.querySelector('#own-page img')?.naturalWidth === 40")
    desk.write("What the picture shows", "A grey rotor")
    # a question of one's own
    desk.set_up("moved-conductor")
    desk.add(4)
    desk.panel.get_by_label("Question to the class").select_option("own")
    desk.panel.get_by_label(re.compile("The class votes")).check()  # before there is a question to vote on
    desk.write("Question$", "Who holds the meter?")
    desk.write("Choices", "the left hand\nnobody")
    assert "which of them is right" in desk.panel.locator(".needed").text_content()
    right = desk.panel.get_by_label("The right one")
    right.focus()
    right.dispatch_event("pointerdown")  # chosen by mouse
    right.select_option("2")
    desk.page.wait_for(WAITS, "Who holds the meter?")
    assert right.evaluate("it => it === document.activeElement"), "what is typed next goes on in the form"
    desk.says("vote", True)
    desk.write("Reason", "It lies on the bench.")
    desk.page.wait_for("() => window.bench.socket.told.preparing.here.own?.reason === 'It lies on the bench.'")
    # the second again, at the end, by the keyboard alone, with the demonstration's own question
    desk.panel.locator(".steps button").nth(1).focus()
    tab.keyboard.press("Enter")
    desk.says("caption", "A rod in a field")
    for words, count in (("Copy", 5), ("Move down", 5), ("Move down", 5)):
        desk.panel.get_by_role("button", name=words, exact=True).focus()
        tab.keyboard.press("Enter")
        desk.steps(count)
    desk.page.wait_for("() => window.bench.socket.told.step.number === 5")
    asks, which = desk.panel.get_by_label("Question to the class"), desk.panel.get_by_label(re.compile("^Question number"))
    another = desk.panel.get_by_label(re.compile("brings a set-up of its own"))
    assert which.is_hidden()
    asks.select_option(label="how large the force is")
    desk.says("kind", "figure")
    desk.page.wait_for("() => window.bench.socket.told.question.answered === 'typed'")
    assert desk.panel.get_by_label(re.compile("The class votes")).is_disabled(), "nobody votes on a figure"
    assert which.is_hidden() and not another.is_checked(), "it is about this set-up"
    assert "No votes" in desk.panel.locator(".no-votes").text_content()
    another.check()
    which.fill("12")
    which.press("Tab")
    desk.page.wait_for("() => window.bench.socket.told.question.seed === 12")
    desk.page.wait_for("() => window.bench.socket.told.notice.text.includes('changed the set-up')")
    another.uncheck()
    desk.says("numbered", False)
    asks.select_option(label="which hand shows it, and how it is held")
    desk.says("kind", "why")
    asks.select_option("scene")
    desk.says("asks", "scene")
    assert which.is_hidden()
    desk.set_up("starting")
    desk.add(6)
    # taken out by mistake, and back
    desk.press("Take out")
    desk.steps(5)
    desk.press("Undo")
    desk.steps(6)


def test_a_lesson_is_made_on_the_page_given_and_opened_again(browser, start_bench, open_page, mine, tmp_path):
    rotor = tmp_path / "Läufer 1.png"
    rotor.write_bytes(png(40, 30))
    running = start_bench("lesson", str(mine), "--prepare")
    page = open_page(browser.new_context(viewport={"width": 1366, "height": 768}).new_page(), running.address)
    desk = Desk(page)
    make(desk, rotor)
    assert desk.panel.locator(".planned").text_content() == "Planned: 4 min, for 2 of 6 steps", "two minutes, and again in the copy"
    for width, height in SIZES:
        page.tab.set_viewport_size({"width": width, "height": height})
        page.settle()
        assert fits(page.tab), (width, height)
        if width > 800:  # else the page scrolls as a whole
            what_adds_a_step_stays_in_sight(desk)
    assert violations(page.tab) == ""
    page.tab.set_viewport_size({"width": 1366, "height": 768})
    made = tomllib.loads(mine.read_text("utf-8"))
    assert [step.get("scene", step.get("title")) for step in made["step"]] == [
        "Why a rod moves", "pushed-conductor", "A rotor", "moved-conductor", "pushed-conductor", "starting",
    ]  # fmt: skip
    assert made["step"][2]["picture"] == "motors-pictures/Laufer-1.png"
    # it is given: the panel goes, and N leads through
    page.tab.keyboard.press("Escape")
    page.tab.locator("#picture, #own-page").last.focus()
    page.tab.keyboard.press("e")
    desk.panel.wait_for(state="hidden")
    page.send(do="open", address="step=1")
    given(page)
    assert page.errors == []
    assert "Traceback" not in running.stop()
    # and opened again, to be given
    again = start_bench("lesson", str(mine))
    page = open_page(browser.new_context(viewport={"width": 820, "height": 420}).new_page(), again.address)
    page.tab.locator("#prepare").wait_for(state="hidden")
    given(page)
    assert page.errors == []
    assert "Traceback" not in again.stop()
    assert tomllib.loads(mine.read_text("utf-8")) == made


def what_adds_a_step_stays_in_sight(desk: Desk) -> None:
    """However far the panel is scrolled, and what follows is covered by it, not seen through."""
    went = desk.panel.evaluate("it => { it.scrollTop = it.scrollHeight; return it.scrollTop }")
    assert went > 100
    panel, add = desk.panel.bounding_box(), desk.panel.get_by_role("button", name="Add this set-up").bounding_box()
    assert panel["y"] <= add["y"] and add["y"] + add["height"] < panel["y"] + panel["height"] / 2
    x, y = add["x"] + add["width"] / 2, add["y"] + add["height"] / 2
    assert desk.tab.evaluate("([x, y]) => document.elementFromPoint(x, y).dataset.prepare", [x, y]) == "add"


def given(page) -> None:
    """The lesson from its first step to its fourth, as the class has it."""
    keys = page.tab.keyboard
    page.wait_for(SHOWS, "Why a rod moves")
    page.tab.locator("#own-page").get_by_text("Bring goggles.").wait_for()
    assert page.tab.locator("#bar").is_hidden() and page.tab.locator("#controls").is_hidden()
    keys.press("n")
    page.wait_for(
        "() => !document.querySelector('#own-page') && document.querySelector('#caption .words').textContent === 'A rod in a field'"
    )
    assert page.told("settings")["current"] == -8
    keys.press("n")
    page.wait_for(SHOWS, "A rotor")
    page.wait_for("() => document.querySelector('#own-page img').naturalWidth === 40")
    assert page.tab.locator("#own-page img").get_attribute("alt") == "A grey rotor"
    keys.press("n")
    page.wait_for(WAITS, "Who holds the meter?")
    keys.press("2")
    page.wait_for("() => document.querySelector('#question .reason')?.textContent === 'It lies on the bench.'")
    assert page.told("question")["right"] is True


def test_a_follower_sees_a_page_and_the_speaker_the_minutes(browser, start_bench, open_page, mine):
    folder = mine.with_name("motors-pictures")
    folder.mkdir()
    (folder / "a.png").write_bytes(png(40, 30))
    mine.write_text(
        '[[step]]\ntitle = "A rotor"\npicture = "motors-pictures/a.png"\nminutes = 2\n\n[[step]]\nscene = "starting"\n'
        '[[step]]\nscene = "pushed-conductor"\nquestion = { kind = "figure" }\n'
    )
    running = start_bench("lesson", str(mine), "--share")
    context = browser.new_context(viewport={"width": 390, "height": 844})
    follower = open_page(context.new_page(), running.process.stdout.readline().split("follow at ")[1].split(" ")[0])
    follower.wait_for(SHOWS, "A rotor")
    follower.wait_for("() => document.querySelector('#own-page img').naturalWidth === 40")
    assert fits(follower.tab) and violations(follower.tab) == ""
    speaker = context.new_page()
    speaker.goto(running.address + "speaker/")
    speaker.wait_for_function("() => document.querySelector('#step-planned')?.textContent === 'of 2:00 planned'")
    assert speaker.text_content("#lesson-planned") == "of 2:00 planned for 1 of 3 steps"
    of_the_bench = [speaker.locator(f'[data-do="{name}"]') for name in ("run", "restart", "ask")]
    assert all(button.is_disabled() for button in of_the_bench), "a page has nothing that runs, nor a question of a scene"
    assert (speaker.text_content("#words"), speaker.text_content("#scene")) == ("A rotor", "A page")
    speaker.get_by_role("button", name="Next").click()
    follower.wait_for("() => !document.querySelector('#own-page') && window.bench.socket.told.scene.name === 'starting'")
    speaker.wait_for_function("() => document.querySelector('#step-planned').textContent === ''")
    assert all(button.is_enabled() for button in of_the_bench)
    # nobody votes on a figure: neither window speaks of votes, though somebody follows
    bench = open_page(browser.new_context(viewport={"width": 1100, "height": 700}).new_page(), running.address)
    speaker.get_by_role("button", name="Next").click()
    speaker.locator("#question:not([hidden])").wait_for()
    bench.wait_for("() => window.bench.socket.told.question?.answered === 'typed' && window.bench.socket.told.tally?.following === 1")
    assert bench.tab.locator("#tally").is_hidden() and bench.tab.locator("#tally-large").is_hidden()
    assert "followers have answered" not in speaker.text_content("#question") and "mN" in speaker.text_content("#question strong")
    assert follower.errors == []
    assert "Traceback" not in running.stop()


def test_what_was_written_to_the_file_elsewhere_is_on_the_page_and_what_is_broken_is_told(browser, start_bench, open_page, mine):
    running = start_bench("lesson", str(mine), "--prepare")
    page = open_page(browser.new_context(viewport={"width": 1024, "height": 768}).new_page(), running.address)
    sound = mine.read_text("utf-8")
    page.wait_for("() => document.querySelector('#step-title')?.value === 'motors'")
    mine.write_text(sound.replace("[[step]]", "[[step]"), "utf-8")
    page.wait_for("() => document.querySelector('#prepare .kept.wrong')?.textContent.includes('line 4')")
    assert violations(page.tab) == ""
    mine.write_text(sound.replace('title = "motors"', 'title = "generators"'), "utf-8")
    page.wait_for("() => document.querySelector('#step-title').value === 'generators' && !document.querySelector('#prepare .kept.wrong')")
    page.tab.get_by_role("button", name="Undo").click()
    page.wait_for("() => document.querySelector('#step-title').value === 'motors'")
    running.stop()
