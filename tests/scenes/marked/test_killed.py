"""A class of thirty plain clients sits a test, among clients that mean ill, while the program is killed and started again."""

from __future__ import annotations

import asyncio
import json
import re
import signal
import socket
import subprocess
import sys
from collections import Counter
from pathlib import Path
from typing import Any

import tornado.httpclient
import tornado.websocket

from scenes.marked.questions import Asked
from tests import hostile_sockets, programs
from tests.scenes.marked.held import right_answer
from tests.scenes.marked.tests_file import OPENED, TERMS, lines_of, written
from tests.scenes.marked.trainees import Trainee

ROOT = Path(__file__).parents[3]
CLASS, QUESTIONS, PATIENCE = 30, 4, 150
KILLED_AT = (CLASS + 13, CLASS + 61)  # lines that are in the file by then
TOPICS = ["pushed-conductor", "two-wires"]


COMMAND = ["test", "--share", "--no-browser", "--port", "0", "--results"]  # and the file


def opened(file: Path, **terms) -> None:
    """A test's file, with a port in it that no other test will take."""
    with socket.socket() as free:
        free.bind(("", 0))
        written(file, TERMS | terms, OPENED | {"port": free.getsockname()[1]})


def address_of(program: Any) -> str:
    """Where the class comes in, as the program says."""
    said = ""
    while not (found := re.search(r"http://\S+:(\d+)/([b-z2-9]{6})", said)):
        line = program.stdout.readline()
        assert line, (said, program.stderr.read())
        said += line
    return f"http://127.0.0.1:{found[1]}/{found[2]}"


def started(file: Path) -> tuple[Any, str]:
    """The program, and the address that the class comes in at."""
    program = programs.start(
        [sys.executable, "-u", "-m", "scenes", *COMMAND, str(file)],
        cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    return program, address_of(program)


async def forged(address: str, trainee: Trainee) -> None:
    """With a cookie that is like a trainee's one is a stranger, and has no answer, name or test of that trainee's."""
    seat, _, signed = trainee.cookie.partition("-")
    other = "".join(dict(zip("0123456789abcdef", "123456789abcdef0", strict=True))[sign] for sign in signed)
    for cookie in (f"{seat}-{other}", f"{seat}-", seat, f"{seat[:-1]}{other[-1]}-{signed}", f"{trainee.cookie}0", "seat=null"):
        request = tornado.httpclient.HTTPRequest(f"{address}/socket".replace("http", "ws", 1), headers={"Cookie": cookie})
        line = await tornado.websocket.websocket_connect(request)
        for message in ({"do": "answer", "choice": "up", "place": 1}, {"do": "begin", "name": trainee.name}, {"do": "enough"},
                        {"do": "readmit", "name": trainee.name}):  # fmt: skip
            await line.write_message(json.dumps(message))
        told: dict = {}
        while not told.get("sitting", {}).get("refused"):
            await line.write_message('{"do": "ready"}')
            told |= json.loads(await asyncio.wait_for(line.read_message(), PATIENCE))
        assert told["sitting"]["name"] is None and "question" not in told and "stream" not in told
        line.close()


async def held(file: Path) -> list[Trainee]:
    opened(file, scenes=TOPICS, questions=QUESTIONS, minutes=None, seed=1)
    program, address = started(file)
    trainees = [Trainee(address, f"Trainee {number}", pause=0.2) for number in range(CLASS)]
    sitting = asyncio.gather(*(trainee.sit() for trainee in trainees))
    try:
        async with hostile_sockets.besieged(int(address.split(":")[2].split("/")[0]), 6, "/" + address.rsplit("/", 1)[1]):
            for lines in KILLED_AT:
                while file.read_bytes().count(b"\n") < lines:  # the last line may be half written
                    assert program.poll() is None and not sitting.done()
                    await asyncio.sleep(0.02)
                program.send_signal(signal.SIGKILL)
                program.wait()
                again = await asyncio.to_thread(started, file)
                program, where = again
                assert where == address, "the class finds it where it was"
                await forged(address, next(trainee for trainee in trainees if trainee.sent))
            await asyncio.wait_for(sitting, PATIENCE)
    finally:
        program.terminate()
        _, said = program.communicate(timeout=60)
    assert "Traceback" not in said, said
    return trainees


def test_a_class_sits_a_test_and_the_program_is_killed_twice(tmp_path):
    file = tmp_path / "monday.jsonl"
    trainees = asyncio.run(held(file))
    lines = lines_of(file)
    number = {line["name"]: line["trainee"] for line in lines if line["what"] == "begun"}
    kept = {(line["trainee"], line["place"]): line for line in lines if line["what"] == "answered"}
    assert Counter(line["what"] for line in lines) == {
        "terms": 1, "opened": 4, "begun": CLASS, "answered": CLASS * QUESTIONS,
    }, "no line is there twice, and those who mean ill have left none"  # fmt: skip
    assert len(kept) == CLASS * QUESTIONS and not list(tmp_path.glob("*damaged*"))
    for trainee in trainees:
        assert trainee.comings >= 2 and trainee.cookie
        for place in range(1, QUESTIONS + 1):
            line = kept[number[trainee.name], place]
            given = dict(trainee.choices[place]).get(trainee.sent[place], line["given"])
            assert (line["given"], line["question"]) == (given, trainee.asked[place]), "none is lost, and each is one's own"
        heard = "".join(trainee.heard)
        assert not any(f'"{other.name}"' in heard for other in trainees if other is not trainee)
        assert '"reason":null' in heard and '"reason":"' not in heard and '"answer":"' not in heard
    for line in list(kept.values())[::9]:
        assert line["answer"] == right_answer(Asked(line["scene"], line["kind"], line["seed"]))[1]
    assert len({(line["scene"], line["seed"]) for line in kept.values()}) == len(kept), "each has other figures"
