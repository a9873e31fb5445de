"""The page on a Unix socket, for a proxy in front: what it says, who may use it, and what it says where there can be none."""

from __future__ import annotations

import http.client
import signal
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from scenes.__main__ import main
from tests import programs

ROOT = Path(__file__).parents[3]


@pytest.fixture
def short(tmp_path, monkeypatch):
    """A folder to be in, since the whole path of a Unix socket may not be long."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def answered(path: str, host: str, way: str = "/") -> http.client.HTTPResponse:
    line = http.client.HTTPConnection(host)
    line.sock = socket.socket(socket.AF_UNIX)
    line.sock.connect(path)
    line.request("GET", way)
    return line.getresponse()


def test_the_page_is_served_there_to_this_user_and_by_this_machines_name(short):
    running = programs.start(
        [sys.executable, "-m", "scenes", "--socket", "bench"], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        env={"PYTHONPATH": str(ROOT)}, cwd=short,
    )  # fmt: skip
    assert running.stdout.readline() == "A proxy finds the page at the Unix socket bench (Ctrl+C ends it).\n"
    assert (short / "bench").stat().st_mode & 0o777 == 0o600
    assert answered("bench", "localhost").status == 200
    assert answered("bench", "elsewhere.example").status == 403
    running.send_signal(signal.SIGINT)
    said = running.communicate(timeout=30)[1]
    assert said.count("\n") == 1 and "refused: 403" in said


def test_a_lesson_has_its_speakers_window_there_too(short):
    running = programs.start(
        [sys.executable, "-m", "scenes", "lesson", "--socket", "bench"], stdout=subprocess.PIPE, text=True,
        env={"PYTHONPATH": str(ROOT)}, cwd=short,
    )  # fmt: skip
    running.stdout.readline()
    begin = answered("bench", "localhost", "/speaker")
    assert (begin.status, begin.headers["Location"]) == (302, "speaker/"), "whatever the proxy has put before it"
    assert answered("bench", "localhost", "/speaker/").status == 200
    running.send_signal(signal.SIGINT)
    running.communicate(timeout=30)


@pytest.mark.parametrize(
    ("place", "why"),
    [
        ("no-folder/bench", "No Unix socket can be opened at no-folder/bench: No such file or directory."),
        ("letter", "No Unix socket can be opened at letter: File letter exists and is not a socket."),
        ("x" * 200, f"No Unix socket can be opened at {'x' * 200}: AF_UNIX path too long."),
    ],
)
def test_where_there_can_be_none_it_says_why(short, capsys, place, why):
    (short / "letter").write_text("kept")
    assert main(["--socket", place]) == 2
    assert capsys.readouterr().err == f"thumbwise: {why}\n"
    assert (short / "letter").read_text() == "kept"


def test_a_port_and_a_socket_are_two_things(capsys):
    assert main(["--port", "0", "--socket", "bench"]) == 2
    assert capsys.readouterr().err == "thumbwise: Argument --socket: not allowed with argument --port; see thumbwise bench --help.\n"
