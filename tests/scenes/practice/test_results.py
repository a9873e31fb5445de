"""The file of results: nothing is lost, whatever happens to the file."""

from __future__ import annotations

import json
import resource
import signal
import subprocess
import sys
from collections import Counter

import pytest

from scenes import files
from scenes.kept.lines import KeptLines, NotKept, line_of
from scenes.practice import results
from scenes.practice.results import Results
from tests import programs
from tests.scenes.practice.answers import PATIENCE, ROOT, answered, keep, lines


def test_answers_come_back_from_the_file_with_every_field(file):
    kept = Results(file)
    kept.open()
    for answer in (answered("a", 3, True), answered("b", None, False)):
        keep(kept, answer)
    again = Results(file)
    again.read()
    assert again.answers == kept.answers == [answered("a", 3, True), answered("b", None, False)] and again.told == []
    assert lines(file)[0] == {
        "version": 1, "when": "2026-03-09T14:05:30Z", "scene": "a", "seed": 3, "address": "scene=a",
        "question": "Which way?", "given": "up", "answer": "up", "right": True,
        "kind": "forward", "mistake": "", "avoided": "",
    }  # fmt: skip


def test_fields_and_lines_of_a_later_version_are_kept_as_they_are(file):
    file.parent.mkdir()
    richer = json.loads(line_of(answered("a", 3, False))) | {"version": 2, "seconds": 4.5, "né": "ß"}
    other = {"version": 3, "kind": "pause"}
    plain = json.loads(line_of(answered("b", 4, True))) | {"hint": [1]}
    before = "".join(json.dumps(one, ensure_ascii=False) + "\n" for one in (richer, other, plain))
    file.write_text(before, "utf-8")
    kept = Results(file)
    kept.open()
    keep(kept, answered("c", 5, True))
    assert file.read_text("utf-8") == before + line_of(answered("c", 5, True)) + "\n"
    assert [answer.scene for answer in kept.answers] == ["a", "b", "c"] and kept.told == []


def test_a_file_of_before_there_were_kinds_is_read_as_forward_without_a_mistake(file):
    file.parent.mkdir()
    old = {name: value for name, value in json.loads(line_of(answered("a", 3, False))).items() if name not in ("kind", "mistake")}
    file.write_text(json.dumps(old) + "\n", "utf-8")
    kept = Results(file)
    kept.open()
    assert kept.answers == [answered("a", 3, False, "forward", "")] and kept.told == []
    keep(kept, answered("a", 4, False, "figure", "poles for pole pairs"))
    again = Results(file)
    again.read()
    assert [(answer.kind, answer.mistake) for answer in again.answers] == [("forward", ""), ("figure", "poles for pole pairs")]


GOOD = line_of(answered("a", 3, True)).encode()
DAMAGED = {
    "half a line": (GOOD + b"\n" + GOOD[:50], 1),
    "not text": (b"\xff\xfe\x00\x01", 0),
    "no object": (b"[1, 2]\n" + GOOD + b"\n" + GOOD + b"\n", 2),
    "no version": (b"{}\n", 0),
    "version of nonsense": (GOOD.replace(b'"version": 1', b'"version": true'), 0),
    "a field is gone": (GOOD.replace(b'"given"', b'"gone"'), 0),
    "a field is of the wrong kind": (GOOD.replace(b"true", b'"yes"'), 0),
    "a kind that is no text": (GOOD.replace(b'"forward"', b"7"), 0),
    "no moment": (GOOD.replace(b"2026-03-09T", b"yesterday "), 0),
    "nested without end": (b"[" * 100_000, 0),
}


@pytest.mark.parametrize(("raw", "sound"), DAMAGED.values(), ids=list(DAMAGED))
def test_a_damaged_file_is_set_aside_and_what_can_be_read_goes_on(file, raw, sound):
    file.parent.mkdir()
    for number in (1, 2):
        file.write_bytes(raw)
        kept = Results(file)
        kept.open()
        keep(kept, answered("new", 9, True))
        aside = file.with_name(f"practice.damaged-{number}.jsonl")
        assert aside.read_bytes() == raw
        assert [answer.scene for answer in kept.answers] == ["a"] * sound + ["new"]
        assert len(lines(file)) == sound + 1
        (told,) = kept.told
        assert aside.name in told and told.endswith(".") and "\n" not in told


def test_what_a_hand_or_another_system_writes_is_not_damage(file):
    file.parent.mkdir()
    file.write_bytes(b"\xef\xbb\xbf" + GOOD + b"\r\n\r\n" + GOOD)
    kept = Results(file)
    kept.open()
    keep(kept, answered("b", 1, True))
    assert len(lines(file)) == 3 and kept.told == []


def test_reading_makes_no_file(file):
    Results(file).read()
    assert not file.parent.exists()


def test_an_answer_that_could_not_be_written_is_written_with_the_next(file):
    kept = Results(file)
    kept.open()
    file.unlink()
    file.mkdir()  # what was a file is a folder: nothing can be written
    with pytest.raises(NotKept, match="is a directory"):
        keep(kept, answered("a", 1, True))
    assert [answer.scene for answer in kept.all] == ["a"]
    file.rmdir()
    keep(kept, answered("b", 2, True))
    assert [line["scene"] for line in lines(file)] == ["a", "b"]


def test_a_write_that_breaks_off_leaves_the_file_as_it_was(file, monkeypatch):
    kept = Results(file)
    kept.open()
    keep(kept, answered("a", 1, True))
    before = file.read_bytes()

    def full(*_):
        raise OSError(28, "No space left on device")

    def breaks_off():
        with pytest.raises(NotKept, match=r"practice\.jsonl: (no space left on device|file too large)\.$"):
            keep(kept, answered("b", 2, True))
        assert file.read_bytes() == before
        assert sorted(each.name for each in file.parent.iterdir()) == ["practice.jsonl", "practice.jsonl.lock"]

    with monkeypatch.context() as patch:
        patch.setattr(files.os, "fsync", full)
        breaks_off()
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (len(before) + 20, hard))  # half a line fits
    try:
        breaks_off()
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    kept.keep()
    assert [line["scene"] for line in lines(file)] == ["a", "b", "b"], "nothing is lost"


def test_an_answer_is_added_and_the_rest_of_the_file_neither_read_nor_written(file, monkeypatch):
    file.parent.mkdir()
    before = (line_of(answered("a", 3, True)) + "\n") * 5000
    file.write_text(before, "utf-8")
    kept, other = Results(file), Results(file)
    kept.open()
    other.open()
    inode = file.stat().st_ino
    monkeypatch.setattr(KeptLines, "_lines", None)
    for number in range(3):
        keep(other, answered("theirs", number, True))
        keep(kept, answered("ours", number, True))
    assert file.stat().st_ino == inode and file.read_text("utf-8").startswith(before)
    expected = [(name, number) for number in range(3) for name in ("theirs", "ours")]
    assert [(line["scene"], line["seed"]) for line in lines(file)[5000:]] == expected
    assert [(answer.scene, answer.seed) for answer in kept.all[5000:]] == expected, "the other program's are ours as well"


@pytest.mark.parametrize("raw", [b"nonsense\n", b"\xff\n", b"[" * 40, GOOD[:40]])
def test_what_is_damaged_while_the_program_runs_is_set_aside_with_the_next_answer(file, raw):
    kept = Results(file)
    kept.open()
    keep(kept, answered("a", 1, True))
    with open(file, "ab") as other:
        other.write(raw)
    damaged = file.read_bytes()
    keep(kept, answered("b", 2, True))
    keep(kept, answered("c", 3, True))
    assert [line["scene"] for line in lines(file)] == ["a", "b", "c"] == [answer.scene for answer in kept.all]
    assert file.with_name("practice.damaged-1.jsonl").read_bytes() == damaged and len(kept.told) == 1


def test_a_file_that_was_put_in_its_stead_or_cut_short_is_read_again(file):
    kept = Results(file)
    kept.open()
    keep(kept, answered("a", 1, True))
    beside = file.with_name("other")
    beside.write_text(line_of(answered("x", 1, True)) + "\n" + line_of(answered("y", 2, True)) + "\n")
    beside.replace(file)
    keep(kept, answered("b", 2, True))
    assert [answer.scene for answer in kept.all] == ["x", "y", "b"] == [line["scene"] for line in lines(file)]
    file.write_text("")
    keep(kept, answered("c", 3, True))
    assert [answer.scene for answer in kept.all] == ["c"] == [line["scene"] for line in lines(file)]


def test_a_lock_that_is_never_let_go_is_told(file, monkeypatch):
    monkeypatch.setattr(files, "PATIENCE", 0.1)
    kept = Results(file)
    kept.open()
    with files.locked(file.with_name("practice.jsonl.lock")), pytest.raises(NotKept, match="another program"):
        keep(kept, answered("a", 1, True))
    kept.keep()
    assert len(lines(file)) == 1


WRITER = """
import sys
from pathlib import Path
from scenes.practice.results import Answer, Results
kept = Results(Path(sys.argv[1]))
kept.open()
for seed in range(40):
    kept.add(Answer("2026-03-09T14:05:30Z", sys.argv[2], seed, "", "Which way?", "up", "up", True))
    kept.keep()
"""


def test_programs_that_write_at_once_lose_nothing(file):
    writers = [
        programs.start([sys.executable, "-c", WRITER, str(file), name], cwd=ROOT, stderr=subprocess.PIPE)
        for name in ("first", "second", "third")
    ]
    for writer in writers:
        assert writer.communicate(timeout=PATIENCE)[1] == b""
    found = Counter(line["scene"] for line in lines(file))
    assert found == {"first": 40, "second": 40, "third": 40}
    for name in found:
        assert [line["seed"] for line in lines(file) if line["scene"] == name] == list(range(40))


def test_the_usual_place_by_platform(monkeypatch, tmp_path):
    home = tmp_path / "home"
    monkeypatch.setattr(results.Path, "home", lambda: home)
    for name in ("XDG_DATA_HOME", "LOCALAPPDATA"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(results.sys, "platform", "linux")
    # XDG Base Directory Specification: the default, and that relative paths are to be ignored
    assert results.usual_place() == home / ".local/share/thumbwise/practice.jsonl"
    monkeypatch.setenv("XDG_DATA_HOME", "here")
    assert results.usual_place() == home / ".local/share/thumbwise/practice.jsonl"
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert results.usual_place() == tmp_path / "thumbwise/practice.jsonl"
    monkeypatch.setattr(results.sys, "platform", "darwin")
    assert results.usual_place() == home / "Library/Application Support/Thumbwise/practice.jsonl"
    monkeypatch.setattr(results.sys, "platform", "win32")
    assert results.usual_place() == home / "AppData/Local/Thumbwise/practice.jsonl"
