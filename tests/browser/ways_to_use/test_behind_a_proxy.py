"""Every page behind a path prefix, and the bench in a JupyterHub's place: started by the real jupyter-server-proxy."""

from __future__ import annotations

import asyncio
import contextlib
import http.client
import os
import re
import secrets
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import threading
import time
import tomllib
import urllib.error
import urllib.request
from pathlib import Path

import pytest

from tests import programs

ROOT = Path(__file__).parents[3]
TOUR = Path(__file__).with_name("stand.toml")
PREFIX = "/rooms/3/bench"
PATIENCE = 60  # s: what a slow machine may take


class Prefix:
    """A proxy that takes `PREFIX` off every path and hands on all else as it comes; `strays` are requests without it."""

    def __init__(self, port: int):
        self.behind = port
        self.strays: list[bytes] = []
        self.loop = asyncio.new_event_loop()
        threading.Thread(target=self.loop.run_forever, daemon=True).start()
        opening = asyncio.run_coroutine_threadsafe(asyncio.start_server(self.connection, "127.0.0.1", 0), self.loop)
        self.address = f"http://localhost:{opening.result().sockets[0].getsockname()[1]}{PREFIX}"

    def stop(self) -> None:
        self.loop.call_soon_threadsafe(self.loop.stop)

    async def connection(self, from_browser, to_browser) -> None:
        from_bench, to_bench = await asyncio.open_connection("127.0.0.1", self.behind)
        back = asyncio.create_task(self.carry(from_bench, to_browser))
        with contextlib.suppress(asyncio.IncompleteReadError, ConnectionError):
            upgraded = False
            while not upgraded:  # requests without a body, one after the other
                head = await from_browser.readuntil(b"\r\n\r\n")
                method, path, rest = head.split(b" ", 2)
                if not path.startswith(PREFIX.encode() + b"/"):
                    self.strays.append(path)
                to_bench.write(b" ".join([method, path.removeprefix(PREFIX.encode()), rest]))
                upgraded = b"upgrade: websocket" in head.lower()
            await self.carry(from_browser, to_bench)
        to_bench.close()
        await back

    async def carry(self, source, target) -> None:
        with contextlib.suppress(ConnectionError):
            while data := await source.read(65536):
                target.write(data)
                await target.drain()
        target.close()


@pytest.fixture
def behind_a_prefix(browser, start_bench):
    """Start a bench, `behind_a_prefix("lesson")`, with a proxy in front of it, and one in front of what the class follows."""
    started, proxies = [], []

    def start(*arguments: str) -> list[str]:
        bench = start_bench(*arguments)
        started.append(bench)
        doors = [(bench.port, "")]
        if "--share" in arguments:
            doors.append(re.search(r":(\d+)/(\w+)", bench.process.stdout.readline()).groups())
        addresses = []
        for port, word in doors:
            proxies.append(Prefix(int(port)))
            addresses.append(f"{proxies[-1].address}/{word}")
        return addresses

    yield start
    browser.close_what_was_opened()
    for proxy in proxies:
        proxy.stop()
    assert "Traceback" not in str([bench.stop() for bench in started])
    assert [proxy.strays for proxy in proxies] == [[]] * len(proxies)


def connected(tab, key: str) -> None:
    tab.wait_for_function("key => window.bench && window.bench.socket.told[key] !== undefined", arg=key, timeout=PATIENCE * 1000)


def test_the_bench_and_what_a_class_follows_work_under_a_prefix(browser, behind_a_prefix):
    own, followed = behind_a_prefix("--share")
    tab = browser.new_page()
    tab.goto(own + "?scene=pushed-conductor&current=-6")
    connected(tab, "settings")
    tab.wait_for_function("() => window.bench.socket.told.settings.current === -6")
    tab.goto(followed)  # as it is typed, without a stroke at its end
    connected(tab, "scene")


def test_a_lesson_and_its_speakers_window_work_under_a_prefix(browser, behind_a_prefix):
    [address] = behind_a_prefix("lesson")
    tab = browser.new_page()
    for path, key in (("", "step"), ("speaker", "prompt")):
        tab.goto(address + path)
        connected(tab, key)


def test_practice_works_under_a_prefix(browser, behind_a_prefix, tmp_path):
    [address] = behind_a_prefix("practice", "--results", str(tmp_path / "answers.jsonl"))
    tab = browser.new_page()
    tab.goto(address)
    connected(tab, "question")


def test_the_exhibit_and_the_frame_that_opens_it_work_under_a_prefix(browser, behind_a_prefix, tmp_path):
    [address] = behind_a_prefix("exhibit", str(shutil.copy(TOUR, tmp_path)))  # beside which it counts
    tab = browser.new_page()
    tab.goto(address + "exhibit")
    connected(tab, "exhibit")
    tab.goto(address)
    tab.frame_locator("iframe").locator("#touch button").first.wait_for(timeout=PATIENCE * 1000)


class Hub:
    """A Jupyter server of one user, as a JupyterHub starts it, reached by a name that is not this machine's."""

    NAME = "hub.example"

    def __init__(self, folder: Path):
        with socket.socket() as any_port:
            any_port.bind(("127.0.0.1", 0))
            self.port = any_port.getsockname()[1]
        self.sockets = Path(tempfile.mkdtemp(prefix="hub"))  # the path of a Unix socket must be short
        self.token = secrets.token_hex(16)
        self.path = "/user/ada/"
        self.address = f"http://{self.NAME}:{self.port}{self.path}"
        declare_the_entry_points(folder)
        own = {name: str(folder / name) for name in ("HOME", "JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR")}
        for place in own.values():
            Path(place).mkdir()
        (folder / "HOME" / "physics.py").write_text("raise SystemExit('a student has a file of that name')\n")
        self.log = (folder / "log").open("w+")
        self.process = programs.start(
            [
                sys.executable, "-m", "jupyter_server", "--no-browser", "--allow-root", f"--port={self.port}", "--ip=127.0.0.1",
                f"--IdentityProvider.token={self.token}", f"--ServerApp.base_url={self.path}",
                "--ServerApp.allow_remote_access=True",
            ],
            cwd=own["HOME"], env=os.environ | own | {"PYTHONPATH": f"{folder}{os.pathsep}{ROOT}", "TMPDIR": str(self.sockets)},
            stdout=self.log, stderr=subprocess.STDOUT,
        )  # fmt: skip
        give_up = time.monotonic() + PATIENCE
        while not self.answers():
            assert self.process.poll() is None and time.monotonic() < give_up, self.said()
            time.sleep(0.2)

    def answers(self) -> bool:
        try:
            return urllib.request.urlopen(f"http://127.0.0.1:{self.port}{self.path}api", timeout=5).status == 200
        except urllib.error.URLError:
            return False

    def said(self) -> str:
        self.log.seek(0)
        return self.log.read()

    def stop(self) -> None:
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGTERM)
            self.process.wait(PATIENCE)


def declare_the_entry_points(folder: Path) -> None:
    """Have the packages in `folder` say what an installed copy of this one says, whether there is one or not."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    info = folder / "thumbwise-0.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: thumbwise\nVersion: 0\n")
    lines = [f"[{group}]\n" + "".join(f"{name} = {what}\n" for name, what in entries.items())
             for group, entries in project["entry-points"].items()]  # fmt: skip
    (info / "entry_points.txt").write_text("\n".join(lines))


@pytest.fixture(scope="module")
def hub(tmp_path_factory):
    started = Hub(tmp_path_factory.mktemp("hub"))
    yield started
    started.stop()
    shutil.rmtree(started.sockets)
    said = started.said()
    assert not re.search(rf'File "{re.escape(str(ROOT))}/(visual|scenes|physics)/', said), said


def test_a_hub_gives_its_user_a_bench(browser, hub, open_page):
    tab = browser.new_context(viewport={"width": 1100, "height": 700}).new_page()
    tab.goto(f"{hub.address}login?token={hub.token}&next={hub.path}api")
    entry = tab.request.get(f"http://127.0.0.1:{hub.port}{hub.path}server-proxy/servers-info?token={hub.token}").json()
    assert [one["launcher_entry"]["title"] for one in entry["server_processes"]] == ["Thumbwise"]
    icon = tab.request.get(f"http://127.0.0.1:{hub.port}{hub.path}server-proxy/icon/thumbwise?token={hub.token}")
    assert icon.headers["content-type"].startswith("image/svg") and b"<svg" in icon.body()

    page = open_page(tab, f"{hub.address}thumbwise/")
    assert page.told("scene")["name"] == "field-round-a-wire"
    tab.keyboard.press("n")
    page.wait_for("() => window.bench.socket.told.scene.name === 'pushed-conductor'")
    page.set_up("pushed-conductor", {"current": 4.0, "field": "up"})
    read = page.told("readings")
    tab.keyboard.press("c")
    page.wait_for("() => window.bench.socket.told.settings.current === -4")
    page.wait_for("read => JSON.stringify(window.bench.socket.told.readings) !== read", tab.evaluate("read => JSON.stringify(read)", read))
    tab.keyboard.press("q")
    page.wait_for("() => window.bench.socket.told.question")
    tab.keyboard.press("1")
    page.wait_for("() => window.bench.socket.told.question.given !== null")
    assert tab.locator("#question .reason").is_visible()
    address = page.told("address")
    page.reload()
    assert tab.url == f"{hub.address}thumbwise/?{address}" and page.told("address") == address
    assert page.drawn("pushed-current")["visible"]
    assert page.errors == []


def asked_for_a_socket(hub: Hub, **headers: str) -> int:
    """The status that a request for the bench's socket gets from the hub."""
    line = http.client.HTTPConnection("127.0.0.1", hub.port, timeout=PATIENCE)
    line.request("GET", f"{hub.path}thumbwise/socket", headers={
        "Host": f"{hub.NAME}:{hub.port}", "Upgrade": "websocket", "Connection": "Upgrade",
        "Sec-WebSocket-Key": "dGhlIHNhbXBsZSBub25jZQ==", "Sec-WebSocket-Version": "13", **headers,
    })  # fmt: skip
    status = line.getresponse().status
    line.close()
    return status


def test_the_hub_lets_nobody_in_from_elsewhere(hub):
    with urllib.request.urlopen(
        urllib.request.Request(f"http://127.0.0.1:{hub.port}{hub.path}thumbwise/", headers={"Host": f"{hub.NAME}:{hub.port}"})
    ) as answer:
        assert "/login" in answer.url, "who has not said the password is asked for it"
    login = http.client.HTTPConnection("127.0.0.1", hub.port, timeout=PATIENCE)
    login.request("GET", f"{hub.path}login?token={hub.token}", headers={"Host": f"{hub.NAME}:{hub.port}"})
    cookie = "; ".join(value.split(";")[0] for value in login.getresponse().headers.get_all("Set-Cookie"))
    own = f"http://{hub.NAME}:{hub.port}"
    assert asked_for_a_socket(hub, Origin=own) == 403
    assert asked_for_a_socket(hub, Origin="http://elsewhere.example", Cookie=cookie) == 403
    assert asked_for_a_socket(hub, Origin=own, Cookie=cookie) == 101


def test_the_bench_is_the_users_alone_and_ends_with_the_hub(hub):
    """The last one: the hub is ended."""
    page = urllib.request.Request(f"http://127.0.0.1:{hub.port}{hub.path}thumbwise/", headers={"Authorization": f"token {hub.token}"})
    assert b"Thumbwise" in urllib.request.urlopen(page, timeout=PATIENCE).read()
    [way_in] = hub.sockets.glob("*/socket")
    assert way_in.stat().st_mode & 0o077 == 0 and way_in.parent.stat().st_mode & 0o077 == 0
    hub.stop()
    with socket.socket(socket.AF_UNIX) as line, pytest.raises(OSError):
        line.connect(str(way_in))
