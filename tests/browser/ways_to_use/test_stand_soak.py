"""Ten days of a stand in some seconds: a thousand visitors while its browsers are killed and its program hangs and is started anew.

tests/simulated_stand.py is the program, with a clock of its own; the browsers, their deaths and the stopped program are real. In
systemd's place the test hears that the program goes on, and kills and restarts it when it falls silent.
"""

from __future__ import annotations

import contextlib
import json
import os
import select
import signal
import socket
import time
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

import pytest

from scenes import catalogue
from scenes.exhibit.tour import said
from tests.benchmarks.soak import PATIENCE, counted_in_page, growth, kill_browser
from tests.simulated_stand import DAYS, EVERYTHING, QUIET, TOUR, VISITORS, Driven, Sent, counted_by_hand, without_noughts

HANGS_AFTER, FIRST_COUNT = 150, 350  # visitors
WATCHDOG = 0.3  # s
MOST = {"objects": 0.01, "drawn": 0.0, "kept": 0.02, "blocks": 0.01, "page objects": 0.0, "nodes": 0.1, "listeners": 0.1, "heap": 0.06}
# what can be read in a frame once it shows what the program says, the caption that waits for its turn included
READ = """async (wanted) => {
    const { showLate } = await import('./page/common/dom.js'), frame = () => new Promise(requestAnimationFrame)
    window.lively()
    const told = () => { const it = window.bench.socket.told.exhibit; return [it.serial, it.caption, it.answers, it.language] }
    while (JSON.stringify(told()) !== JSON.stringify(wanted)) await frame()
    showLate()
    await frame()
    return document.body.innerText
}"""


@dataclass
class TenDays:
    """What the stand's clock says, what was sent, what somebody left behind, what could be read on the screen, by language, and the
    page's errors."""

    second: int = 0
    sent: list[Sent] = field(default_factory=list)
    amiss: list[str] = field(default_factory=list)
    seen: set[tuple[str, str]] = field(default_factory=set)
    errors: list[str] = field(default_factory=list)


class Program(Driven):
    """The stand's program, and systemd's ear."""

    def __init__(self, ear: socket.socket, counts: Path, days: TenDays, port: int = 0, come: int = 0):
        self.ear, self.days = ear, days
        environment = os.environ | {"NOTIFY_SOCKET": ear.getsockname(), "WATCHDOG_USEC": str(int(WATCHDOG * 1e6))}
        environment.pop("WATCHDOG_PID", None)
        super().__init__(counts, port, days.second, come, env=environment)

    def answer(self) -> dict:
        told = super().answer()
        self.days.second = told["second"]
        self.days.sent += [tuple(each) for each in told["sent"]]
        self.days.amiss += told["amiss"]
        return told

    @property
    def answers(self) -> bool:
        return bool(select.select([self.process.stdout], [], [], 0)[0])

    def goes_on(self, seconds: float) -> bool:
        """Whether it tells systemd so within so many seconds from now on."""
        while select.select([self.ear], [], [], 0)[0]:
            self.ear.recv(100)
        return bool(select.select([self.ear], [], [], seconds)[0])


class Screen:
    """A kiosk's browser; what stands on it is noted."""

    def __init__(self, launch, port: int, days: TenDays):
        self.days = days
        self.browser = launch()
        self.tab = self.browser.new_page(viewport={"width": 480, "height": 360})
        self.tab.set_default_timeout(PATIENCE)
        self.tab.on("pageerror", lambda wrong: days.errors.append(str(wrong)))
        self.tab.goto(f"http://localhost:{port}/")
        self.waits_for_somebody()

    @property
    def frame(self):
        return self.tab.frames[1]

    def waits_for_somebody(self) -> None:
        self.tab.frame_locator("iframe").get_by_role("button", name="Touch", exact=True).wait_for(state="visible")
        self.tab.locator("#cover").wait_for(state="hidden")
        assert self.frame.evaluate("() => document.documentElement.lang") == "en"

    def touch(self, words: str) -> None:
        """A real touch; on a dark screen anywhere."""
        page = self.tab.frame_locator("iframe")
        dark = page.locator("#night")
        (dark if dark.is_visible() else page.get_by_role("button", name=words, exact=True)).click()
        self.days.sent.append((self.days.second, "speak" if words == "Deutsch" else "touch", "de" if words == "Deutsch" else ""))

    def shows(self, caption: str) -> None:
        self.tab.frame_locator("iframe").get_by_role("heading", name=caption, exact=True).wait_for(state="visible")

    def look(self) -> None:
        """Note what can be read there."""
        for frame in self.tab.frames:
            with contextlib.suppress(Exception):  # a frame that is just opened anew
                self._note(*frame.evaluate("() => [document.documentElement.lang, document.body.innerText]"))

    def read(self, exhibit: dict) -> None:
        """Note what can be read there once the screen shows that."""
        self._note(exhibit["language"], self.frame.evaluate(READ, [exhibit[name] for name in ("serial", "caption", "answers", "language")]))

    def _note(self, language: str, text: str) -> None:
        self.days.seen |= {(language, line.strip()) for line in text.split("\n") if line.strip()}

    def die(self) -> None:
        kill_browser(self.browser, self.tab)


@pytest.fixture
def ear(tmp_path):
    """A socket as systemd opens one."""
    with socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as heard:
        heard.bind(os.fspath(tmp_path / "notify"))
        yield heard


def test_a_thousand_visitors_in_ten_days_beside_killed_browsers_and_a_hung_program(ear, launch_browser, tmp_path):
    days, file = TenDays(), tmp_path / "counts.json"
    program = Program(ear, file, days)
    screen = Screen(launch_browser, program.port, days)
    visit(program, screen, HANGS_AFTER)
    touch_it(program, screen)
    screen.die()

    screen = Screen(launch_browser, program.port, days)
    program = hang_and_start_anew(program, screen, file)
    program.order(f"come {FIRST_COUNT}")
    screen.die()
    program.answer()

    screen = Screen(launch_browser, program.port, days)
    visit(program, screen, FIRST_COUNT + 50)
    early = counted(program, screen)
    visit(program, screen, VISITORS)
    late = counted(program, screen)
    touch_it(program, screen)
    screen.browser.close()
    assert program.stop() == 0

    assert days.amiss == [] and days.errors == []
    assert {words for words in captions() if words not in days.seen} == set(), "all that can be tried was seen, in each language"
    assert {text for language, text in days.seen if text not in words_in(language)} == set(), "nothing else is shown, in no other language"
    assert {name: part for name, part in growth(early, late).items() if part > MOST.get(name, 0.05)} == {}, "it is flat"
    kept = json.loads(file.read_text("utf-8"))["days"]
    assert without_noughts(kept) == without_noughts(counted_by_hand(days.sent)), "counts are right to one"
    total = {what: sum(fields.get(what, 0) for fields in kept.values()) for what in ("touches", "uses", "answers")}
    assert total["touches"] > 2500 and 800 < total["uses"] <= VISITORS + 3 and total["answers"] > 200 and len(kept) >= DAYS


def visit(program: Program, screen: Screen, until: int) -> None:
    """The visitors up to that number come, and the screen is looked at meanwhile."""
    program.order(f"come {until}")
    while not program.answers:
        screen.look()
        screen.tab.wait_for_timeout(500)
    program.answer()


def counted(program: Program, screen: Screen) -> dict:
    """What there is of program and page once everything that the stand can show has been on the screen, as drawn to its end: then it is no
    matter how many pictures there was time for before."""
    for number in range(len(EVERYTHING)):
        screen.read(program.do(f"try {number}")["exhibit"])
    left = program.do(f"wait {QUIET + 1}")
    screen.waits_for_somebody()
    screen.read(left["exhibit"])
    return program.do("count")["program"] | counted_in_page(screen.tab, screen.frame)


def touch_it(program: Program, screen: Screen) -> None:
    """Somebody touches the screen itself, and goes away."""
    for words, then in (
        ("Touch", "The rod is pushed."),
        ("Deutsch", "Der Stab wird weggedrückt."),
        ("Andersherum", "Jetzt wird er andersherum gedrückt."),
    ):
        screen.touch(words)
        screen.shows(then)
    program.do(f"wait {QUIET + 1}")
    screen.waits_for_somebody()


def hang_and_start_anew(program: Program, screen: Screen, file: Path) -> Program:
    """In the middle of a visit the program stops; what was counted is on disk, systemd hears nothing, and does what it then does."""
    program.do("begin")
    screen.shows("Wohin geht er?")
    by_hand = sum(day["touches"] for day in counted_by_hand(screen.days.sent).values())
    wait_until(lambda: touches(file) == by_hand)
    assert program.goes_on(60)  # however slow the machine is
    program.process.send_signal(signal.SIGSTOP)
    program.goes_on(WATCHDOG)  # what was on its way
    assert not program.goes_on(3 * WATCHDOG), "silent for longer than systemd waits"
    program.process.kill()
    program.process.wait()
    screen.tab.frame_locator("iframe").get_by_text("Einen Augenblick").wait_for(state="visible")
    screen.look()
    screen.days.second += 2 * QUIET
    again = Program(program.ear, file, screen.days, program.port, HANGS_AFTER)
    screen.waits_for_somebody()
    return again


def touches(file: Path) -> int:
    return sum(day.get("touches", 0) for day in json.loads(file.read_text("utf-8"))["days"].values())


def wait_until(condition) -> None:
    end = time.monotonic() + 60
    while not condition():
        assert time.monotonic() < end
        time.sleep(0.05)


def captions() -> set[tuple[str, str]]:
    """What the tour says of its stops and of what is tried, in each language."""
    said_of = [stop.caption for stop in TOUR.stops] + [each for stop in TOUR.stops for each in stop.parts.values()]
    said_of += [each for stop in TOUR.stops for one in stop.tries for each in (one.after, one.question) if each]
    return {(language, said(each, language)) for language in TOUR.languages for each in said_of}


@cache
def words_in(language: str) -> set[str]:
    """All that the tour can show in that language, with letters and figures; and in English what the arrow of the current is called."""
    tries = [each for stop in TOUR.stops for each in stop.tries]
    words = [*TOUR.words.values(), *(stop.caption for stop in TOUR.stops)]
    words += [each for stop in TOUR.stops for each in stop.parts.values()]
    words += [each for one in tries for each in (one.button, one.after, one.stopped, one.question, *one.answers.values()) if each]
    answers = [said(each, language) for one in tries for each in one.answers.values()]
    verdicts = {f"{said(TOUR.words[name], language)} {answer}." for name in ("right", "wrong") for answer in answers}
    signs = {*TOUR.languages.values(), "N", "S", "I", *(str(number) for number in range(11))}
    arrows = {arrow.words for arrow in catalogue.scene_class("pushed-conductor").arrows if arrow.letter == "I" and language == "en"}
    return {said(each, language) for each in words} | verdicts | signs | arrows
