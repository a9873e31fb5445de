"""A lesson given in a real browser: walked by keys with the speaker's window in step, its questions answered and revealed,
either window loaded again in the middle, the browser closed and opened. All that the class is told is kept and looked through."""

from __future__ import annotations

import asyncio
import json
import re
import threading

import pytest
import tornado.websocket

from scenes import catalogue
from tests.browser.browsers import Browser
from tests.scenes.lesson.built_in_lesson import built_in_lesson

STEPS = built_in_lesson().steps
WITH_QUESTION = [number for number, step in enumerate(STEPS, 1) if step.question]
IN_THE_MIDDLE = len(STEPS) // 2

SHOWS_STEP = """([number, count, caption, scene]) => {
  const shown = (id) => (document.querySelector(id) || {}).textContent;
  return shown("#caption .place") === `Step ${number} of ${count}` && shown("#caption .words") === caption && shown("#title") === scene;
}"""
SPEAKER_SHOWS_STEP = """([number, count, caption, scene, notes, next]) => {
  const shown = (id) => document.querySelector(id).textContent;
  return shown("#place") === `Step ${number} of ${count}` && shown("#words") === caption && shown("#scene") === scene
    && [...document.querySelectorAll("#notes p")].map((line) => line.textContent).join("\\n") === notes && shown("#coming") === next;
}"""

# Every word that a page's sockets hear, but for the shapes and pictures: `window.heard`, until it is taken.
HEARS = """
    const Line = window.WebSocket
    window.heard = []
    window.WebSocket = class extends Line {
        constructor(...given) {
            super(...given)
            this.addEventListener("message", ({ data }) => {
                const { stream, chart, ...words } = JSON.parse(data)
                window.heard.push(JSON.stringify(words))
            })
        }
    }
"""


class Follower(threading.Thread):
    """One who follows at the shared address, as plain a socket as it can be, and keeps every word."""

    def __init__(self, address: str):
        super().__init__(daemon=True)
        self.address = address.replace("http", "ws") + "/socket"
        self.heard: list[str] = []
        self.start()

    def run(self) -> None:
        asyncio.run(self._follow())

    async def _follow(self) -> None:
        line = await tornado.websocket.websocket_connect(self.address)
        while (text := await line.read_message()) is not None:
            self.heard.append(text)
            await line.write_message('{"do": "ready"}')


class Lesson:
    """The class page, the speaker's window that it opened, and all that the class page's sockets got."""

    def __init__(self, browser, open_page, address: str):
        self.context = browser.new_context(viewport={"width": 820, "height": 420})
        self.context.add_init_script(f"{{{HEARS}}}")
        self.heard: list[str] = []
        self.page = open_page(self.context.new_page(), address)
        self.page.wait_for("() => window.bench.socket.told.step")
        with self.context.expect_page() as opened:
            self.page.tab.keyboard.press("t")
        self.speaker = opened.value
        self.errors: list[str] = []
        self.speaker.on("pageerror", lambda error: self.errors.append(str(error)))
        self.speaker.wait_for_function("() => window.bench && window.bench.socket.told.step", timeout=60000)

    def go_to(self, number: int) -> None:
        self.page.send(do="open", address=f"step={number}")
        self.is_at(number)
        self.heard.clear()

    def told_the_speaker(self, key: str):
        return self.speaker.evaluate("key => window.bench.socket.told[key]", key)

    def is_at(self, number: int) -> None:
        """Both windows show this step, and each what is for its reader."""
        step, following = STEPS[number - 1], STEPS[number] if number < len(STEPS) else None
        here = [number, len(STEPS), step.caption, catalogue.scene_class(step.scene).title]
        notes = "\n".join(line.strip() for line in step.notes.strip().splitlines())
        self._listen()
        self.speaker.evaluate("() => window.lively()")
        self.page.wait_for(SHOWS_STEP, here)
        self.speaker.wait_for_function(
            SPEAKER_SHOWS_STEP, arg=[*here, notes, following.caption if following else "End of the lesson."], timeout=60000
        )

    def question_waits(self) -> dict:
        """The question is put to the class, its answer only to the speaker."""
        self.page.wait_for("() => !document.querySelector('#question').hidden && window.bench.socket.told.question.given === null")
        assert self.page.told("question")["answer"] is None and self.page.told("question")["reason"] is None
        self.speaker.wait_for_function(
            "() => { const { prompt, question } = window.bench.socket.told; return prompt && prompt.answer && question"
            " && document.querySelector('#question .reason').textContent === prompt.answer.reason }"
        )
        answer = self.told_the_speaker("prompt")["answer"]
        self._listen()
        assert not any(answer["reason"] in text for text in self.heard[-40:])
        return answer

    def answer_is_shown(self, answer: dict) -> None:
        self.page.wait_for("reason => document.querySelector('#question .reason')?.textContent === reason", answer["reason"])
        self.speaker.wait_for_function("() => document.querySelector('#buttons [data-do=next] .words').textContent === 'Next'")

    def _listen(self) -> None:
        """Keep what the page has heard, and have it shown at once."""
        self.heard += self.page.tab.evaluate("() => { window.lively(); return window.heard.splice(0) }")


@pytest.fixture(scope="module")
def shared_lesson(start_bench):
    running = start_bench("lesson", "--share")
    running.follow = re.search(r"http://\S+:\d+/\w+", running.process.stdout.readline())[0]
    yield running
    assert "Traceback" not in running.stop()


@pytest.fixture(scope="module")
def kept_lesson(shared_browser, pixels, shared_lesson, open_page):
    """The two windows, for all tests that close none."""
    own = Browser(shared_browser, pixels)
    yield Lesson(own, open_page, shared_lesson.address)
    own.close_what_was_opened()


@pytest.fixture
def lesson(kept_lesson):
    yield kept_lesson
    assert kept_lesson.page.errors == kept_lesson.errors == []


def secrets_in(heard: list[str]) -> set[str]:
    """What was told of the speaker's own."""
    found = set()
    notes = {line.strip() for step in STEPS for line in step.notes.splitlines() if line.strip()}
    for text in heard:
        message = json.loads(text)
        found |= {"prompt", "clock"} & set(message)
        words = json.dumps({key: value for key, value in message.items() if key not in ("stream", "chart")}, ensure_ascii=False)
        found |= {line for line in notes if line in words or line.partition(": ")[2] and line.partition(": ")[2] in words}
    return found


def test_the_speaker_works_the_bench_and_the_clock(lesson):
    page, speaker = lesson.page, lesson.speaker
    lesson.go_to(7)
    page.wait_for("() => window.bench.socket.told.bench.running")
    speaker.keyboard.press(" ")
    page.wait_for("() => !window.bench.socket.told.bench.running")
    speaker.wait_for_function("() => document.querySelector('[data-do=run] .words').textContent === 'Run'")
    page.tab.keyboard.press(" ")
    speaker.wait_for_function("() => document.querySelector('[data-do=run] .words').textContent === 'Hold'")
    speaker.keyboard.press("c")
    page.wait_for("() => window.bench.socket.told.settings.current === -8")
    speaker.keyboard.press("v")
    page.wait_for("() => window.bench.socket.told.view.name === 'front'")
    speaker.click("[data-do=clock]")
    speaker.wait_for_function("() => document.querySelector('#in-step').textContent > '0:01'")
    assert (speaker.text_content("[data-do=clock] .words"), speaker.text_content("#clock-waits")) == ("Restart clock", "")
    assert re.fullmatch(r"\d+:\d\d(:\d\d)?", speaker.text_content("#in-lesson"))
    assert re.search(r"\d\d:\d\d", speaker.text_content("#now"))
    speaker.click("[data-do=clock]")
    speaker.wait_for_function("() => document.querySelector('#in-lesson').textContent === '0:00'")
    # another set-up asked about by the speaker: the answer is his before it is theirs
    speaker.keyboard.press("w")
    answer = lesson.question_waits()
    speaker.click("#buttons [data-do=next]")
    lesson.answer_is_shown(answer)
    assert lesson.page.told("step")["number"] == 7
    # the same key brings the same window to the front, not a second one
    page.tab.keyboard.press("t")
    page.settle()
    assert len(lesson.context.pages) == 2


def test_a_browser_that_is_closed_comes_back_to_the_step_and_is_told_where_no_window_opens(browser, shared_lesson, open_page):
    """Each of the two has nothing of the other, as two browsers have; the second lets no page open another."""
    lesson = Lesson(browser, open_page, shared_lesson.address + "?step=12")
    lesson.question_waits()
    lesson.context.close()
    # the speaker's window comes back by its address, the class page by the one that the program printed
    context = browser.new_context(viewport={"width": 390, "height": 780})
    context.add_init_script("window.open = () => null")
    speaker = context.new_page()
    speaker.goto(shared_lesson.address + "speaker")
    speaker.wait_for_function("() => document.querySelector('#place').textContent.startsWith('Step 12 of')", timeout=60000)
    assert speaker.url.endswith("/speaker/")
    assert speaker.evaluate("() => document.documentElement.scrollWidth <= innerWidth"), "it fits a telephone"
    page = open_page(context.new_page(), shared_lesson.address)
    page.wait_for("() => window.bench.socket.told.step.number === 12 && window.bench.socket.told.question.given === null")
    speaker.click("[data-do=next]")
    page.wait_for("() => window.bench.socket.told.question.given !== null")
    page.tab.set_viewport_size({"width": 820, "height": 420})
    page.tab.click("[data-do=speaker]")
    page.wait_for("() => document.querySelector('#notice').textContent.includes(location.origin + '/speaker/')")
    assert page.errors == []
    context.close()


def test_a_whole_lesson_is_walked_by_keys_with_the_speaker_in_step(lesson, shared_lesson):
    """The last one: from then on a page that is opened has every scene to make."""
    follower = Follower(shared_lesson.follow)
    lesson.go_to(1)
    page, speaker = lesson.page.tab, lesson.speaker
    revealed = 0
    for number, step in enumerate(STEPS, 1):
        lesson.is_at(number)
        if number == 1:
            assert page.locator("#previous").is_disabled() and speaker.locator("[data-do=previous]").is_disabled()
        if step.question:
            answer = lesson.question_waits()
            choices = [words["words"] for words in lesson.page.told("question")["choices"]]
            if WITH_QUESTION.index(number) % 3 == 0:
                page.keyboard.press(str(choices.index(answer["words"]) + 1))
                lesson.answer_is_shown(answer)
                assert lesson.page.told("question")["right"] is True
            elif WITH_QUESTION.index(number) % 3 == 1:
                speaker.keyboard.press("n")
                lesson.answer_is_shown(answer)
                assert lesson.page.told("question")["right"] is None and lesson.page.told("step")["number"] == number
                revealed += 1
            else:
                (page if revealed % 2 else speaker).keyboard.press("r")
                lesson.answer_is_shown(answer)
        if number == IN_THE_MIDDLE:
            page.reload()
            lesson.is_at(number)
            speaker.reload()
            lesson.is_at(number)
        if number < len(STEPS):  # either leads
            [page.keyboard, speaker.keyboard][number % 2].press(["n", "PageDown"][number // 2 % 2])
    assert revealed >= 3
    for number in range(len(STEPS) - 1, len(STEPS) - 9, -1):
        [page.keyboard, speaker.keyboard][number % 2].press(["p", "PageUp"][number // 2 % 2])
        lesson.is_at(number)
    assert secrets_in(lesson.heard) == set() and len(lesson.heard) > len(STEPS)
    assert secrets_in(follower.heard) == set() and len(follower.heard) > len(STEPS)
    assert secrets_in([json.dumps({"note": STEPS[3].notes.splitlines()[0]})]), "what is looked for can be found"
