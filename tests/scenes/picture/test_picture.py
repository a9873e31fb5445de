"""`thumbwise picture` without a browser: programs of our own stand in for one. The real one draws in tests/browser/."""

from __future__ import annotations

import asyncio
import contextlib
import os
import stat
import struct
import sys
import zlib

import pytest

from scenes.__main__ import main
from scenes.picture import browsers, picture


def png(width: int, height: int) -> bytes:
    """The smallest PNG of that size, all black (PNG specification, W3C, sections 5 and 11)."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    rows = b"".join(b"\0" + b"\0" * width for _ in range(height))
    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")


@pytest.fixture
def stand_in(tmp_path):
    """A program that is started as a browser is: `stand_in(lines)` makes it of lines of Python that know `address`."""

    def made(lines: str) -> str:
        program = tmp_path / "stand-in"
        program.write_text(f"#!{sys.executable}\nimport sys, time, urllib.request\naddress = sys.argv[-1].split('#')[0]\n{lines}\n")
        program.chmod(0o755)
        return str(program)

    return made


def delivering(data: bytes, origin: str = "address.rstrip('/')") -> str:
    return (
        f"request = urllib.request.Request(address + 'delivery', data={data!r}, headers={{'Origin': {origin}}})\n"
        "urllib.request.urlopen(request)\ntime.sleep(60)"
    )


def asked(capsys, *arguments: str) -> tuple[int, str]:
    code = main(["picture", "pushed-conductor", *arguments])
    return code, capsys.readouterr().err


def test_what_the_browser_hands_over_is_the_file(stand_in, tmp_path, capsys):
    out = tmp_path / "picture.png"
    out.write_bytes(b"what was there")
    out.chmod(0o640)
    assert asked(capsys, "--out", str(out), "--browser", stand_in(delivering(png(4, 3)))) == (0, "")
    assert out.read_bytes() == png(4, 3)
    assert stat.S_IMODE(out.stat().st_mode) == 0o640
    assert sorted(os.listdir(tmp_path)) == ["picture.png", "stand-in"]


@pytest.mark.parametrize(
    ("program", "said"),
    [
        ("pass", "ended before it had drawn the picture"),
        ("time.sleep(60)", "drew nothing within 1 seconds"),
        (delivering(b"<html>"), "is not a picture"),
        (delivering(png(4, 3), "'http://evil.example'"), "ended before"),
        (delivering(png(4, 3), "'null'"), "ended before"),
    ],
)
def test_a_browser_that_draws_nothing_is_one_sentence_and_the_old_file_stays(program, said, stand_in, tmp_path, capsys, monkeypatch):
    if "within" in said:  # the others end by themselves, soon or late
        monkeypatch.setattr(picture, "drawn", impatient(picture.drawn))
    out = tmp_path / "picture.png"
    out.write_bytes(b"what was there")
    code, error = asked(capsys, "--out", str(out), "--browser", stand_in(program))
    assert code == 2 and said in error and error.count("\n") == 1
    assert out.read_bytes() == b"what was there"
    assert sorted(os.listdir(tmp_path)) == ["picture.png", "stand-in"]


def impatient(drawn):
    def at_once(*arguments, **named):
        return drawn(*arguments, **named, patience=1.0)

    return at_once


def test_without_a_browser_it_says_what_to_install(tmp_path, capsys, monkeypatch):
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(browsers, "PLACES", {})
    code, error = asked(capsys, "--out", str(tmp_path / "picture.png"))
    assert code == 2 and error.startswith("thumbwise: No browser was found") and error.count("\n") == 1
    assert os.listdir(tmp_path) == []


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--out", "{folder}"], "cannot be written: it is not a regular file"),
        (["--out", "{folder}/no/such/place.png"], "cannot be written: no such file or directory"),
        (["--out", "/proc/picture.png"], "cannot be written"),
        ([], "--out"),
        (["--out", "x.png", "--size", "90x90"], "--size: must be width x height such as 1920x1080, each from 100 to 4096, not '90x90'"),
        (["--out", "x.png", "--size", "large"], "--size: must be width x height"),
        (["--out", "x.png", "--size", "1000x5000"], "--size: must be width x height"),
        (["--out", "x.png", "--view", "moon"], "pushed-conductor is seen from"),
        (["--out", "x.png", "--set", "current=99"], "current takes a number from"),
        (["--out", "x.png", "--seconds", "-1"], "--seconds: must be from 0 to 600 seconds"),
        (["--out", "x.png", "--browser", "/no/such/browser"], "There is no browser at /no/such/browser"),
    ],
)
def test_what_cannot_be_is_one_sentence(arguments, said, stand_in, tmp_path, capsys):
    arguments = [word.replace("{folder}", str(tmp_path)) for word in arguments]
    if "--browser" not in arguments:
        arguments += ["--browser", stand_in("pass")]
    code, error = asked(capsys, *arguments)
    assert code == 2 and said in error and error.startswith("thumbwise: ") and error.count("\n") == 1


def test_a_scene_that_there_is_not(tmp_path, capsys):
    assert main(["picture", "pushed-conducter", "--out", str(tmp_path / "x.png")]) == 2
    assert "did you mean pushed-conductor?" in capsys.readouterr().err


def test_a_picture_waits_for_what_takes_long_to_work_out(monkeypatch):
    """Nothing else comes after it: a start that is still being worked out would be drawn as a motor that is off."""
    benches = []

    class Kept(picture.Bench):
        def __init__(self, *arguments, **named):
            super().__init__(*arguments, **named)
            benches.append(self)

    @contextlib.asynccontextmanager
    async def at_once(*_):
        async def taken():
            return png(1, 1)

        yield taken

    monkeypatch.setattr(picture, "Bench", Kept)
    monkeypatch.setattr(picture, "drawing", at_once)
    asyncio.run(picture.drawn("starting", {"method": "direct", "drive": "fan"}, (8, 8), "no browser", seconds=0.4))
    now = benches[0].scene.now
    assert now.moment.time == pytest.approx(0.4, abs=0.03) and now.moment.speed > 0
