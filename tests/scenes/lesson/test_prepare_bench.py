"""A lesson made on the bench: what stands there becomes a step, the file has every change at once, what was written to it elsewhere is
taken over, and the class is told nothing of it."""

from __future__ import annotations

import json
import os
import sys
import threading
import tomllib
from pathlib import Path

import pytest

from scenes.__main__ import main
from scenes.lesson.draft import Draft
from scenes.lesson.lesson import VERSION, built_in, read
from scenes.lesson.lesson_bench import SPEAKER, LessonBench
from scenes.lesson.lesson_file import LessonFile
from scenes.lesson.pictures import Pictures
from scenes.lesson.prepare_bench import PrepareBench
from scenes.takehome.film import record
from tests import programs
from tests.scenes.lesson.images import png
from visual.host.server import Host
from visual.host.viewers import Viewer

BEGUN = 'version = 2\ntitle = "t"\n\n[[step]]\ntitle = "Motors"\n'


class Desk:
    """A bench with Prepare open, its file, and what a page sends."""

    def __init__(self, path: Path, text: str = BEGUN):
        path.write_text(text, "utf-8", newline="")
        self.path = path
        self.now = 0.0
        self.file = LessonFile(path)
        self.bench = PrepareBench(Host(), Draft(self.file.read(), str(path), self.file.pictures), self.file, True, lambda: self.now)

    def send(self, do: str, **fields) -> str:
        """Send a request; returns the sentence that is shown then."""
        self.bench.receive({"do": do, **fields})
        return self.notice

    def does(self, do: str, **fields) -> None:
        assert self.send(do, **fields) == ""

    @property
    def notice(self) -> str:
        return self.bench.host.published.get("notice", {}).get("text", "")

    @property
    def told(self) -> dict:
        return self.bench.host.published_to["bench"]["preparing"]

    @property
    def here(self) -> int:
        return self.told["here"]["number"]

    def in_the_file(self) -> dict:
        self.file.thread.submit(lambda: None).result()
        return tomllib.loads(self.path.read_text("utf-8"))

    def a_second_later(self) -> None:
        """The bench has looked at its file, and heard what is there."""
        self.now += 1.1
        self.bench.frame(0.03)
        self.file.thread.submit(lambda: None).result()
        self.bench.frame(0.03)


@pytest.fixture
def desk(tmp_path):
    made = Desk(tmp_path / "mine.toml")
    yield made
    made.file.thread.shutdown()


def test_the_clock_waits_while_the_lesson_is_made_and_begins_when_it_is_given(desk):
    def clock() -> tuple[bool, int]:
        desk.a_second_later()
        desk.bench.show_state()
        told = desk.bench.host.published_to[SPEAKER]["clock"]
        return told["runs"], told["lesson"]

    desk.does("add", page=True)
    desk.does("previous")
    desk.does("scene", name="starting")
    assert clock() == (False, 0)
    desk.does("prepare", on=False)
    assert clock() == (False, 0)
    desk.does("next")
    assert clock() == (True, 1)
    desk.does("prepare", on=True)
    assert clock() == (True, 2), "a word is changed on the way"


def test_what_stands_on_the_bench_becomes_a_step(desk):
    desk.does("scene", name="pushed-conductor")
    desk.does("set", name="current", value=-8)
    desk.does("set", name="field", value="down")
    desk.does("view", name="side")
    desk.does("answers", shown=False)
    assert desk.bench.host.published["step"]["caption"].startswith("Not yet a step")
    desk.does("add")
    assert desk.bench.host.published["step"]["caption"] == ""
    assert desk.in_the_file()["step"][1] == {
        "scene": "pushed-conductor", "settings": {"current": -8, "field": "down"}, "view": "side", "answers": False,
    }  # fmt: skip
    bench = desk.bench
    assert bench.place == 1 and bench.scene["current"] == -8 and bench.scene.view == "side" and not bench.answers_shown
    desk.does("scene", name="moved-conductor")
    desk.does("add")
    assert desk.in_the_file()["step"][2] == {"scene": "moved-conductor"}, "what is as usual is not written"
    desk.does("ask", present=True)
    desk.does("add")
    assert desk.in_the_file()["step"][3] == {"scene": "moved-conductor", "question": True}
    assert bench.prediction.waiting, "it stands there as the class will have it"


def test_opened_again_a_lesson_begins_with_its_first_step_and_goes_on_where_one_left_off_when_it_was_being_given(desk):
    desk.does("scene", name="pushed-conductor")
    desk.does("add")
    for prepared, comes_up_at in ((True, 0), (False, 1)):
        desk.does("prepare", on=prepared)
        address = desk.bench.host.published["address"]  # that a page left open brings along to the next run of the program
        again = PrepareBench(Host(), Draft(desk.path.read_text("utf-8"), str(desk.path), desk.file.pictures), desk.file)
        again.receive({"do": "open", "address": address, "run": desk.bench.run_word})
        assert again.place == comes_up_at


def test_a_step_is_given_the_set_up_that_stands_on_the_bench_and_keeps_what_it_says(desk):
    desk.does("scene", name="pushed-conductor")
    desk.does("add")
    number = desk.here
    desk.does("change", number=number, name="caption", value="A rod")
    desk.does("change", number=number, name="question", value="scene")
    desk.does("enough")
    desk.does("set", name="current", value=3)
    desk.does("arrange", number=number, how="set-up")
    assert desk.in_the_file()["step"][1] == {
        "scene": "pushed-conductor", "settings": {"current": 3}, "caption": "A rod", "question": True,
    }  # fmt: skip
    desk.does("arrange", number=desk.told["steps"][0]["number"], how="show")
    assert "covers the bench" in desk.send("arrange", number=number, how="set-up")
    assert "covers the bench" in desk.send("add")


def test_the_list_and_the_fields_are_those_of_the_lesson(desk):
    desk.does("scene", name="starting")
    desk.does("add")
    desk.does("change", number=desk.here, name="minutes", value=3)
    desk.does("own", number=desk.here, text="Why?", choices="a\nb", right=2, reason="So.")
    page, step = desk.told["steps"]
    assert page | {"number": 0} == {"number": 0, "words": "Motors", "scene": "", "asks": False, "minutes": 0}
    assert step["asks"] and step["minutes"] == 3 and step["number"] != page["number"]
    assert desk.told["here"]["asks"] == "own" and desk.told["here"]["own"] == {
        "text": "Why?",
        "choices": "a\nb",
        "right": 2,
        "reason": "So.",
    }
    desk.does("arrange", number=step["number"], how="up")
    assert [each["number"] for each in desk.told["steps"]] == [step["number"], page["number"]] and desk.bench.place == 0
    assert "A step is arranged by" in desk.send("arrange", number=step["number"], how="sideways")
    assert "not in the lesson any more" in desk.send("arrange", number=1e300, how="up")


def test_a_change_to_what_is_said_leaves_the_bench_as_it_runs_and_one_to_what_is_set_up_does_not(desk):
    desk.does("scene", name="pushed-conductor")
    desk.does("add")
    desk.does("set", name="current", value=1)
    desk.does("change", number=desk.here, name="caption", value="A rod")
    assert desk.bench.scene["current"] == 1
    desk.does("change", number=desk.here, name="hold", value=True)
    assert desk.bench.scene["current"] == desk.bench.scene.by_name["current"].default and not desk.bench.running


def test_undo_takes_back_and_brings_the_bench_along(desk):
    before = desk.path.read_text()
    desk.does("scene", name="pushed-conductor")
    desk.does("add")
    desk.does("undo")
    assert desk.bench.place == 0 and desk.bench.page is not None and desk.in_the_file() == tomllib.loads(before)
    desk.does("undo", again=True)
    assert len(desk.in_the_file()["step"]) == 2 and desk.bench.place == 1, "what has come back is shown"
    assert "no undone change" in desk.send("undo", again=True)


def test_nothing_is_changed_while_prepare_is_closed_and_nothing_of_it_is_told(desk):
    desk.does("prepare", on=False)
    assert desk.told["steps"] == [] and desk.told["here"] is None
    for request in (
        {"do": "add"},
        {"do": "undo"},
        {"do": "title", "title": "x"},
        {"do": "change", "number": 1, "name": "notes", "value": "x"},
    ):
        assert "while Prepare is open" in desk.send(**request) or "covers the bench" in desk.notice
    assert desk.path.read_text() == BEGUN


def told_to(bench, role: str) -> dict:
    """Everything that a page of that role is told when it is opened now."""
    sent: list = []
    viewer = Viewer(sent.append, bench.host.heard_by(role), role)
    viewer.tell(bench.host.stream, bench.host.heard_by(role), bench.host.chart, {})
    return json.loads(sent[0])


def test_only_the_instructors_page_is_told_and_only_it_may_change_anything(desk):
    desk.does("change", number=desk.here, name="notes", value="Say: my secret")
    desk.does("own", number=desk.here, text="Which end?", choices="this\nthat", right=1, reason="My hidden reason")
    assert "my secret" in json.dumps(told_to(desk.bench, "bench"))
    for role in ("class", SPEAKER, "visitor"):
        assert "preparing" not in told_to(desk.bench, role)
    told = json.dumps(told_to(desk.bench, "class"))
    assert "my secret" not in told and "My hidden reason" not in told and "Which end?" in told
    before = desk.in_the_file()
    follower = Viewer(lambda text: None, (), "class")
    for request in ({"do": "add", "page": True}, {"do": "title", "title": "x"}, {"do": "undo"}, {"do": "prepare", "on": False}):
        desk.bench.receive(request, follower)
    assert desk.in_the_file() == before and desk.bench.opened


# pages and questions of one's own, given

OWN = """[[step]]
title = "Motors"
text = '''
Bring your goggles.
- one
'''
picture = "own-pictures/rotor.png"
shows = "A rotor"
minutes = 2

[[step]]
scene = "pushed-conductor"
caption = "A rod"
minutes = 0.5
[step.question]
text = "Who was first?"
choices = ["Ann", "Bob"]
right = 2
reason = "It was Bob."

[[step]]
title = "One more"
[step.question]
text = "And now?"
choices = ["yes", "no"]
right = 1
"""


@pytest.fixture
def own(tmp_path):
    Pictures(tmp_path / "own.toml").put(png(), "rotor.png")
    return read(OWN, "own.toml", Pictures(tmp_path / "own.toml"))


def test_a_page_of_ones_own_covers_the_bench_until_one_goes_on(own):
    bench = LessonBench(Host(), own)
    page = bench.host.published["step"]["page"]
    assert page["title"] == "Motors" and page["text"].strip() == "Bring your goggles.\n- one" and page["shows"] == "A rotor"
    assert page["picture"].startswith("pictures/") and bench.host.pictures[page["picture"].removeprefix("pictures/")] == png()
    assert bench.host.published["says"] == "Motors. Bring your goggles. - one. A rotor"
    bench.frame(0.03)
    assert not bench.running
    for request in ({"do": "run", "on": True}, {"do": "ask"}, {"do": "set", "name": "current", "value": 1}, {"do": "view", "name": "side"}):
        bench.receive(request)
        assert "A page of the lesson covers the bench" in bench.host.published["notice"]["text"] and not bench.running
    bench.receive({"do": "next"})
    assert bench.host.published["step"]["page"] is None and bench.scene.name == "pushed-conductor"
    bench.receive({"do": "previous"})
    bench.receive({"do": "scene", "name": "starting"})
    assert bench.host.published["step"]["page"] is None and bench.running
    bench.go_to(0)
    bench.receive({"do": "open", "address": "scene=pushed-conductor&current=3"})
    assert bench.host.published["step"]["page"] is None


def test_a_question_of_ones_own_waits_is_voted_on_and_answered_as_any_other(own):
    bench = LessonBench(Host(), own)
    bench.go_to(1)
    asked = bench.host.published["question"]
    assert asked["text"] == "Who was first?" and [choice["words"] for choice in asked["choices"]] == ["Ann", "Bob"]
    assert asked["answer"] is None and bench.host.published_to[SPEAKER]["prompt"]["answer"] == {"words": "Bob", "reason": "It was Bob."}
    one = Viewer(lambda text: None, (), "class", visitor="one")
    bench.host.viewers.add(one)
    bench.receive({"do": "answer", "choice": "1"}, one)
    assert bench.host.published["tally"]["answered"] == 1
    bench.receive({"do": "set", "name": "current", "value": -5})
    bench.receive({"do": "view", "name": "side"})
    assert bench.host.published["question"]["text"] == "Who was first?", "another set-up or view asks the same"
    bench.receive({"do": "next"})
    shown = bench.host.published["question"]
    assert shown["answer"] == "Bob" and shown["reason"] == "It was Bob." and bench.running
    assert bench.host.published["tally"]["counts"] == {"1": 1, "2": 0}
    bench.receive({"do": "ask", "present": True})
    assert bench.host.published["question"]["text"] != "Who was first?", "the next one is the scene's"
    bench.go_to(2)
    bench.receive({"do": "answer", "choice": "1"})
    assert bench.host.published["question"]["right"] is True and not bench.running


def test_the_speaker_has_the_minutes_planned_beside_those_taken(own):
    now = [0.0]
    bench = LessonBench(Host(), own, lambda: now[0])
    bench.begin_clock()
    now[0] = 70.0
    bench.read_out()
    assert bench.host.published_to[SPEAKER]["clock"] == {
        "runs": True, "lesson": 70, "step": 70, "lesson_planned": 150, "planned_steps": 2, "step_planned": 120,
    }  # fmt: skip
    assert bench.host.published_to[SPEAKER]["prompt"]["next"] == {"caption": "A rod", "scene": "", "asks": True}
    bench.go_to(1)
    assert bench.host.published_to[SPEAKER]["clock"]["step_planned"] == 30
    assert bench.host.published_to[SPEAKER]["prompt"]["next"] == {"caption": "One more", "scene": "", "asks": True}


def test_pages_and_own_questions_are_in_what_is_taken_home(own):
    film = record(own, 0.5)
    pages = [reel.begin["step"]["page"] for reel in film.reels]
    assert (
        pages[0]["picture"] == own.pictures["own-pictures/rotor.png"].as_address() and pages[1] is None and pages[2]["title"] == "One more"
    )
    assert film.reels[1].begin["question"]["text"] == "Who was first?" and film.reels[1].begin["question"]["answer"] is None
    for reel in film.reels[1:]:
        answered = [picture["question"] for picture in reel.pictures if "question" in picture]
        assert answered and answered[0]["answer"] in ("Bob", "yes")
    assert [step["caption"] for step in film.steps()] == ["Motors", "A rod", "One more"]


def test_pages_and_own_questions_are_in_the_notes(own, tmp_path, capsys):
    (tmp_path / "own.toml").write_text(OWN)
    assert main(["lesson", str(tmp_path / "own.toml"), "--notes"]) == 0
    assert capsys.readouterr().out.startswith(
        "A lesson\n\n1. page (2 min): Motors\n   Bring your goggles.\n   - one\n   [own-pictures/rotor.png] A rotor\n\n"
        "2. pushed-conductor (asks) (0.5 min): A rod\n   Question: Who was first?\n       Ann\n     * Bob\n   It was Bob.\n\n"
    )


# the file


def test_a_lesson_that_the_version_before_wrote_still_opens():
    text = (Path(__file__).parent / "version_1.toml").read_text("utf-8")
    assert "version" not in tomllib.loads(text) and VERSION == 2
    lesson = read(text, "old.toml")
    assert len(lesson.steps) == text.count("\n[[step]]\n") > 60 and lesson.title == "Why a motor turns"
    assert tomllib.loads(built_in())["version"] == VERSION


@pytest.mark.parametrize(
    ("version", "said"), [("3", "format 3, of a later Thumbwise; this one reads up to 2"), ("0", "version takes"), ('"2"', "version takes")]
)
def test_a_lesson_of_a_later_version_is_told(version, said):
    with pytest.raises(ValueError, match=said):
        read(f"version = {version}\n{OWN}", "m.toml")


def test_what_is_written_to_the_file_elsewhere_is_taken_over_and_can_be_undone(desk):
    desk.does("change", number=desk.here, name="text", value="mine")
    desk.in_the_file()
    desk.path.write_text(desk.path.read_text().replace('"Motors"', '"Generators"'))
    desk.a_second_later()
    assert desk.bench.host.published["step"]["page"]["title"] == "Generators" and "has been read again" in desk.notice
    desk.does("undo")
    assert desk.bench.host.published["step"]["page"]["title"] == "Motors" == desk.in_the_file()["step"][0]["title"]


def test_a_file_that_was_broken_elsewhere_is_told_with_its_line_and_not_overwritten_until_it_is_sound(desk):
    broken = BEGUN.replace("[[step]]", "[[step]")
    desk.path.write_text(broken)
    desk.a_second_later()
    assert desk.told["wrong"].startswith(f"{desk.path}, line 4: ") and desk.notice == desk.told["wrong"]
    assert "Nothing can be changed here until" in desk.send("change", number=desk.here, name="text", value="mine")
    desk.file.thread.submit(lambda: None).result()
    assert desk.path.read_text() == broken and desk.bench.host.published["step"]["page"]["title"] == "Motors", "the lesson goes on"
    desk.path.write_bytes(b"\xff\xfe" + broken.encode())
    desk.a_second_later()
    assert desk.told["wrong"] == f"{desk.path} is not UTF-8 text, as a lesson must be."
    desk.path.write_text(BEGUN.replace("Motors", "Generators"))
    desk.a_second_later()
    assert desk.told["wrong"] == "" and desk.told["steps"][0]["words"] == "Generators"
    desk.does("change", number=desk.here, name="text", value="mine")
    assert desk.in_the_file()["step"] == [{"title": "Generators", "text": "mine"}]


def test_what_was_written_elsewhere_since_the_last_look_is_not_overwritten_and_ones_own_is_not_lost(desk):
    desk.path.write_text(BEGUN.replace("Motors", "Generators"))
    desk.does("change", number=desk.here, name="text", value="mine")
    assert desk.in_the_file()["step"] == [{"title": "Generators"}]
    desk.bench.frame(0.03)
    assert desk.told["steps"][0]["words"] == "Generators"
    desk.does("undo")
    assert desk.in_the_file()["step"] == [{"title": "Motors", "text": "mine"}]


def test_a_change_that_cannot_be_written_is_told_and_written_as_soon_as_it_can_be(desk, monkeypatch):
    def full(*_):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as broken_disk:
        broken_disk.setattr(desk.file, "write", full)
        desk.does("change", number=desk.here, name="text", value="mine")
        desk.a_second_later()  # in which it was tried, and perhaps heard of
        desk.a_second_later()
    assert desk.told["wrong"] == f"{desk.path} cannot be written: no space left on device."
    assert desk.path.read_text() == BEGUN and desk.bench.step.text == "mine"
    desk.a_second_later()
    desk.a_second_later()
    assert desk.told["wrong"] == "" and desk.in_the_file()["step"] == [{"title": "Motors", "text": "mine"}]


def test_a_file_that_is_gone_is_made_again_with_the_next_change(desk):
    desk.path.unlink()
    desk.a_second_later()
    desk.does("change", number=desk.here, name="text", value="mine")
    assert desk.in_the_file()["step"] == [{"title": "Motors", "text": "mine"}]


def test_a_file_as_windows_writes_it_keeps_its_ends_of_lines(tmp_path):
    desk = Desk(tmp_path / "m.toml", ("# mine\n" + BEGUN).replace("\n", "\r\n"))
    desk.does("change", number=desk.here, name="text", value="a\nb")
    desk.in_the_file()
    written = desk.path.read_bytes()
    assert written.startswith(b"# mine\r\nversion = 2\r\n") and written.count(b"\n") == written.count(b"\r\n")
    assert read(written.decode().replace("\r\n", "\n"), "m").steps[0].text == "a\nb\n"
    desk.file.thread.shutdown()


def test_of_many_changes_while_the_disk_is_slow_only_the_newest_is_written_and_no_other_file_is_left(desk, monkeypatch):
    disk, write, written = threading.Event(), desk.file.write, []
    monkeypatch.setattr(desk.file, "write", lambda text: (written.append(text), write(text)))
    desk.file.thread.submit(disk.wait)
    for count in range(20):
        desk.does("change", number=desk.here, name="text", value=f"text {count}")
    disk.set()
    assert desk.in_the_file()["step"][0]["text"] == "text 19" and len(written) == 1
    assert os.listdir(desk.path.parent) == [desk.path.name]


# the command


def test_prepare_needs_a_file_and_begins_one_that_is_not_there(tmp_path, capsys):
    assert main(["lesson", "--prepare"]) == 2
    assert "--prepare needs a FILE" in capsys.readouterr().err
    assert main(["lesson", str(tmp_path / "none.toml")]) == 2
    assert "--prepare begins a new one" in capsys.readouterr().err
    assert main(["lesson", str(tmp_path / "no" / "m.toml"), "--prepare"]) == 2
    assert "cannot be written" in capsys.readouterr().err
    mine = tmp_path / 'My "motors".toml'
    assert main(["lesson", str(mine), "--prepare", "--notes"]) == 0
    assert capsys.readouterr().out == 'My "motors"\n\n1. page: My "motors"\n\n'
    mine.write_text("broken")
    assert main(["lesson", str(mine), "--prepare"]) == 2
    assert f"{mine}, line 1: " in capsys.readouterr().err and mine.read_text() == "broken"


def test_a_program_that_is_ended_has_written_the_last_change(tmp_path):
    code = (
        "import sys, os, signal\n"
        "from scenes.commands import lesson\n"
        "from scenes import __main__\n"
        "def serve(wanted, make, *_):\n"
        "    from visual.host.server import Host\n"
        "    bench = make(Host())\n"
        "    number = bench.draft.document.parts[0].number\n"
        "    for count in range(30):\n"
        "        bench.receive({'do': 'change', 'number': number, 'name': 'text', 'value': f'text {count}'})\n"
        "    os.kill(os.getpid(), signal.SIGTERM)\n"
        "lesson.serve = serve\n"
        "__main__.main(['lesson', sys.argv[1], '--prepare'])\n"
    )
    mine = tmp_path / "m.toml"
    ended = programs.run([sys.executable, "-c", code, str(mine)], capture_output=True, text=True)
    assert ended.returncode == -15 and ended.stderr == ""
    assert tomllib.loads(mine.read_text())["step"] == [{"title": "m", "text": "text 29"}]
