"""The file of a lesson that is being made: it has every change at once, and what was written to it elsewhere is taken over."""

from __future__ import annotations

import os
import sys
import threading
import tomllib

from scenes.__main__ import main
from scenes.lesson.lesson import read
from tests import programs
from tests.scenes.lesson.desk import BEGUN, Desk


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
