"""The command line as its user meets it: what it prints and returns. A program of its own is run, which takes a second to start,
only where it is the program that is looked at."""

from __future__ import annotations

import io
import json
import os
import random
import re
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import numpy as np
import pytest

from scenes import catalogue
from scenes.__main__ import COMMANDS, main
from scenes.workings.topics import TOPICS
from tests import programs
from tests.scenes.questions.test_directions import RESULT

ROOT = Path(__file__).parents[3]
PATIENCE = 60  # s: what a slow machine may take
PROGRAM = [sys.executable, "-m", "scenes"]


def thumbwise(*arguments: str) -> subprocess.CompletedProcess:
    """The program, run to its end."""
    return programs.run(
        [*PROGRAM, *arguments], cwd=ROOT, capture_output=True, text=True, encoding="utf-8", timeout=PATIENCE,
        env=os.environ | {"PYTHONIOENCODING": "utf-8"},
    )  # fmt: skip


def told_off(capsys, *arguments: str) -> str:
    """The one sentence that says what is wrong with these arguments, checked for its form."""
    assert main(list(arguments)) == 2
    out, err = capsys.readouterr()
    return a_sentence(out, err)


def a_sentence(out: str, err: str) -> str:
    assert out == ""
    assert err.startswith("thumbwise: ") and err.count("\n") == 1 and err.endswith((".\n", "?\n")), err
    return err.removeprefix("thumbwise: ").rstrip("\n")


# help


@pytest.mark.parametrize("command", [(), *[(name,) for name in COMMANDS]])
def test_every_command_helps(command, capsys):
    with pytest.raises(SystemExit) as ended:
        main([*command, "--help"])
    assert ended.value.code == 0
    out, err = capsys.readouterr()
    assert out.startswith(f"usage: {' '.join(['thumbwise', *command])} ") and err == ""


def test_the_first_help_names_every_command_and_scene(capsys):
    with pytest.raises(SystemExit):
        main(["--help"])
    said = capsys.readouterr().out
    for name in (*COMMANDS, *catalogue.NAMES):
        assert re.search(rf"\b{name}\b", " ".join(said.split())), name


@pytest.mark.parametrize("topic", TOPICS.values(), ids=list(TOPICS))
def test_every_topic_of_workings_helps_with_options_and_units(topic, capsys):
    with pytest.raises(SystemExit) as ended:
        main(["workings", topic.name, "--help"])
    assert ended.value.code == 0
    said = " ".join(capsys.readouterr().out.split())
    for ask in topic.asks:
        option = f"--{ask.name.replace('_', '-')}"
        assert option in said and ask.words in said, ask
        assert f"({ask.unit})" in said or not ask.unit
        # what need not be given stands in square brackets
        assert (f"[{option} " in said) != ask.needed
    assert topic.name in thumbwise_overview(capsys)


def thumbwise_overview(capsys) -> str:
    with pytest.raises(SystemExit):
        main(["workings", "--help"])
    return capsys.readouterr().out


# the list of scenes


def test_scenes_as_json_tells_all_about_each(capsys):
    assert main(["scenes", "--json"]) == 0
    scenes = json.loads(capsys.readouterr().out)
    assert [scene["name"] for scene in scenes] == list(catalogue.NAMES)
    for scene in scenes:
        assert scene["title"] and scene["principle"].endswith("."), scene["name"]
        assert scene["controls"] and scene["readings"]
        for control in scene["controls"]:
            assert control["words"] and isinstance(control["unit"], str), control
            if control["kind"] == "number":
                assert control["low"] <= control["default"] <= control["high"], control
            elif control["kind"] == "choice":
                assert control["default"] in [choice["value"] for choice in control["choices"]], control
            else:
                assert isinstance(control["default"], bool), control
        for reading in scene["readings"]:
            assert set(reading) == {"symbol", "words", "unit"} and reading["words"], reading
        assert scene["question"]["text"].endswith("?") and len(scene["question"]["choices"]) >= 2


def test_scenes_as_text_tells_the_same(capsys):
    assert main(["scenes"]) == 0
    text = capsys.readouterr().out
    main(["scenes", "--json"])
    for scene in json.loads(capsys.readouterr().out):
        assert f"{scene['name']}: {scene['title']}\n" in text
        assert scene["principle"] in text and scene["question"]["text"] in text
        for control in scene["controls"]:
            line = rf"^ +{re.escape(control['name'])} .*{re.escape(control['words'])}$"
            assert re.search(line, text, re.MULTILINE), control
            if control["kind"] == "number":
                assert f"{control['low']:g} to {control['high']:g} {control['unit']}".strip() in text


def test_a_closed_pipe_ends_it_quietly():
    """As in `thumbwise scenes | head -1`."""
    program = programs.start([*PROGRAM, "scenes"], cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    program.stdout.close()
    assert program.stderr.read() == b""
    program.stderr.close()
    assert program.wait(PATIENCE) in (0, 1)


def test_a_terminal_without_greek_letters_is_no_reason_to_end(monkeypatch):
    terminal = io.TextIOWrapper(io.BytesIO(), encoding="ascii")
    monkeypatch.setattr(sys, "stdout", terminal)
    assert main(["workings", "wire-field", "--current", "20", "--distance", "60"]) == 0
    assert b"66.67 ?T" in terminal.buffer.getvalue()


# questions, against vectors worked out here

DIRECTIONS = {
    "to the right": (1, 0, 0), "to the left": (-1, 0, 0), "up": (0, 1, 0), "down": (0, -1, 0),
    "toward you": (0, 0, 1), "away from you": (0, 0, -1),
}  # fmt: skip


def in_words(vector) -> str:
    """The word for a vector that lies along an axis."""
    found = [words for words, way in DIRECTIONS.items() if np.dot(way, vector) > 1e-9]
    assert len(found) <= 1, vector
    return found[0] if found else "nowhere"


def any_settings(scene, draw: random.Random) -> dict:
    """Each control at an end, at nought or anywhere; a switch is mostly closed."""
    chosen = {}
    for control in scene.controls:
        if control.kind == "number":
            steps = round((control.high - control.low) / control.step)
            nought = [0.0] if control.low < 0 and control.role == "current" else []
            chosen[control.name] = draw.choice((control.low, control.high, control.low + control.step * draw.randint(0, steps), *nought))
        else:
            chosen[control.name] = draw.choice([name for name, _ in control.choices]) if control.kind == "choice" else draw.random() < 0.7
    return chosen


def with_settings(chosen: dict) -> list[str]:
    return [word for name, value in chosen.items() for word in ("--set", f"{name}={value}")]


@pytest.mark.parametrize("scene", RESULT)
def test_ask_answers_what_the_vectors_say(scene, capsys):
    draw, seen = random.Random(scene), set()
    for _ in range(40):
        settings = any_settings(catalogue.scene_class(scene), draw)
        chosen = {name: "on" if value is True else "off" if value is False else value for name, value in settings.items()}
        answer = in_words(np.round(RESULT[scene](settings), 9))
        assert main(["ask", scene, *with_settings(chosen), "--json"]) == 0
        said = json.loads(capsys.readouterr().out)
        assert said["answer"] == answer, chosen
        assert said["answer"] in [choice["value"] for choice in said["choices"]]
        main(["ask", scene, *with_settings(chosen)])
        question, choices, reply = capsys.readouterr().out.splitlines()
        words = {choice["value"]: choice["words"] for choice in said["choices"]}
        assert question == said["question"]
        assert choices.split(" | ") == [f"  {w}" if not n else w for n, w in enumerate(words.values())]
        assert reply == f"{words[answer].capitalize()}. {said['reason']}"
        seen.add(answer)
    assert "nowhere" in seen and len(seen) >= 3


def test_ask_as_a_program():
    chosen, answer = {"current": -6.5, "field": "down", "tilt": 15}, "to the left"
    ran = thumbwise("ask", "pushed-conductor", *with_settings(chosen), "--json")
    assert (ran.returncode, ran.stderr) == (0, "")
    assert json.loads(ran.stdout)["answer"] == answer


# what cannot be


@pytest.mark.parametrize("arguments", [
    ("ask", "pushed-conducter"), ("ask", "pushed-conductor", "--set", "curent=1"), ("--port", "70000"),
    ("workings", "slip", "--frequency", "50", "--poles", "3", "--speed", "1450"),
])  # fmt: skip
def test_it_is_told_in_a_sentence_with_status_2(arguments, capsys):
    told_off(capsys, *arguments)


def test_as_a_program_it_ends_with_a_sentence_and_status_2():
    ran = thumbwise("nonsense")
    assert ran.returncode == 2
    a_sentence(ran.stdout, ran.stderr)


def test_an_unknown_scene_is_answered_with_the_nearest(capsys):
    said = told_off(capsys, "zzz")
    assert all(name in said for name in (*catalogue.NAMES, *COMMANDS))
    assert "did you mean pushed-conductor?" in told_off(capsys, "ask", "pushd-conductor")
    assert "did you mean moved-conductor?" in told_off(capsys, "movedconductor")
    assert "did you mean scenes?" in told_off(capsys, "scene")
    assert "did you mean workings?" in told_off(capsys, "working")
    assert "did you mean coil-emf?" in told_off(capsys, "workings", "coil_emf")


def test_an_unknown_control_is_answered_with_those_there_are(capsys):
    for scene in catalogue.LESSON:
        said = told_off(capsys, "ask", scene.name, "--set", "zzzz=1")
        assert all(control.name in said for control in scene.controls)


def test_a_misspelt_control_is_answered_with_the_nearest(capsys):
    assert told_off(capsys, "ask", "pushed-conductor", "--set", "curent=1").endswith("no control 'curent'; did you mean current?")


def test_a_wrong_option_is_answered_with_its_commands_help(capsys):
    assert told_off(capsys, "scenes", "--jsn").endswith("--jsn; see thumbwise scenes --help.")
    assert told_off(capsys, "workings", "slip", "--pole", "4", "--x").endswith("see thumbwise workings slip --help.")


@pytest.mark.parametrize("scene", catalogue.LESSON, ids=lambda scene: scene.name)
def test_a_value_out_of_range_is_answered_with_the_range(scene, capsys):
    """What one number, choice or switch is told is told on the command line; every other control says it in the same way."""
    asked = set()
    for control in scene.controls:
        by_command = control.kind not in asked
        asked.add(control.kind)
        if control.kind != "number":
            with pytest.raises(ValueError, match=f"^{control.name} takes"):
                control.checked("nonsense")
            assert not by_command or control.name in told_off(capsys, "ask", scene.name, "--set", f"{control.name}=nonsense")
            continue
        for value in (control.low, control.high):
            assert control.checked(repr(value)) == value
            assert not by_command or main(["ask", scene.name, "--set", f"{control.name}={value!r}"]) == 0
        capsys.readouterr()
        for value in (control.low - 0.01, control.high + 0.01, "nan", "inf", "-inf", "much", ""):
            said = f"{control.name} takes a number from {control.low:g} to {control.high:g}"
            with pytest.raises(ValueError, match=f"^{re.escape(said)}"):
                control.checked(str(value))
            assert not by_command or told_off(capsys, "ask", scene.name, "--set", f"{control.name}={value}").startswith(said)


@pytest.mark.parametrize("command", [(), ("ask", "pushed-conductor")])
def test_set_takes_a_name_and_a_value(command, capsys):
    for wrong in ("current", "=5", ""):
        assert f"--set: must be name=value, not {wrong!r}" in told_off(capsys, *command, "--set", wrong)


@pytest.mark.parametrize("port", ["nonsense", "-1", "65536", "80.5", "", "٣", "1e3"])
def test_a_port_that_is_none(port, capsys):
    assert f"--port: must be a whole number from 0 to 65535, not {port!r}" in told_off(capsys, "--port", port)


@pytest.mark.parametrize(("arguments", "named"), [
    (("ask",), "SCENE"), (("workings",), "TOPIC"), (("scenes", "--jsn"), "--jsn"), (("--port",), "--port: expected one"),
    (("ask", "pushed-conductor", "more"), "more"), (("workings", "slip"), "--frequency, --poles, --speed"),
    (("workings", "slip", "--frequency", "fast", "--poles", "4"), "--frequency: must be a number, not 'fast'"),
])  # fmt: skip
def test_what_is_missing_or_too_much_is_named(arguments, named, capsys):
    assert named in told_off(capsys, *arguments)


# the bench


def test_a_port_in_use_is_told():
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        ran = thumbwise("--no-browser", "--port", str(port))
    assert ran.returncode == 2
    assert f"Port {port} is in use" in a_sentence(ran.stdout, ran.stderr)


FOREGROUND_BROWSER = """
import sys, urllib.request
with urllib.request.urlopen(sys.argv[1], timeout=60) as page:
    open(sys.argv[2], "wb").write(page.read())
"""


@pytest.mark.parametrize("command", [(), ("practice",)])  # one way to open it serves all
def test_a_browser_that_stays_in_the_foreground_gets_its_page(tmp_path, command):
    browser, shown = tmp_path / "browser.py", tmp_path / "shown.html"
    browser.write_text(FOREGROUND_BROWSER)
    bench = programs.start(
        [*PROGRAM, *command, "--port", "0"], cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        env=os.environ | {"BROWSER": f"{sys.executable} {browser} %s {shown}", "XDG_DATA_HOME": str(tmp_path)},
    )  # fmt: skip
    give_up = time.monotonic() + PATIENCE
    while not (shown.exists() and shown.stat().st_size) and time.monotonic() < give_up:
        time.sleep(0.05)
    bench.terminate()
    bench.wait(PATIENCE)
    assert b"<title>" in shown.read_bytes()


def test_control_c_ends_the_bench_well():
    bench = programs.start(
        [*PROGRAM, "pushed-conductor", "--set", "current=-3", "--no-browser", "--port", "0"], cwd=ROOT,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    address = re.search(r"http://localhost:\d+/", bench.stdout.readline())[0]
    with urllib.request.urlopen(address, timeout=PATIENCE) as page:
        assert page.status == 200
    bench.send_signal(signal.SIGINT)
    assert bench.communicate(timeout=PATIENCE) == ("", "")
    assert bench.returncode == 0
