"""What a test starts is gone when the test run is, even one that was killed or runs in the background of a shell."""

from __future__ import annotations

import ast
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests import programs

ROOT = Path(__file__).parent.parent
PATIENCE = 60  # s
A_RUN = """
import sys, time
from tests import programs
served = programs.start([sys.executable, "-u", "-m", "scenes", "--no-browser", "--port", "0"], stdout=-1)
print(served.pid, served.stdout.readline().decode(), flush=True)
time.sleep(600)
"""

linux = pytest.mark.skipif(sys.platform != "linux", reason="only Linux tells a program that its parent has ended")


@pytest.fixture
def interrupted():
    """A run in the background, where Ctrl+C is ignored, that has started a bench; the run and the bench's number."""
    run = subprocess.Popen(
        [sys.executable, "-c", A_RUN], cwd=ROOT, stdout=subprocess.PIPE, text=True,
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_IGN),
    )  # fmt: skip
    bench = int(run.stdout.readline().split()[0])
    yield run, bench
    run.kill()
    run.communicate()
    if programs.lives(bench):
        os.kill(bench, signal.SIGKILL)


def gone(pid: int) -> bool:
    give_up = time.monotonic() + PATIENCE
    while programs.lives(pid) and time.monotonic() < give_up:
        time.sleep(0.05)
    return not programs.lives(pid)


@linux
@pytest.mark.parametrize("by", [signal.SIGTERM, signal.SIGKILL])
def test_a_bench_ends_with_the_run_that_started_it(interrupted, by):
    run, bench = interrupted
    assert programs.lives(bench)
    run.send_signal(by)
    run.wait(PATIENCE)
    assert gone(bench)


@linux
def test_a_bench_takes_control_c_though_the_run_ignores_it(interrupted):
    run, bench = interrupted
    os.kill(bench, signal.SIGINT)
    assert gone(bench) and run.poll() is None


def test_a_run_that_is_told_to_end_reaches_its_fixtures(tmp_path):
    (tmp_path / "test_long.py").write_text(
        "import pytest, time\n"
        "@pytest.fixture\n"
        "def kept():\n"
        "    yield\n"
        f"    open({str(tmp_path / 'ended')!r}, 'w').close()\n"
        "def test_long(kept):\n"
        f"    open({str(tmp_path / 'begun')!r}, 'w').close()\n"
        "    time.sleep(600)\n"
    )
    run = programs.start(
        [sys.executable, "-m", "pytest", "-p", "tests.conftest", "--rootdir", str(tmp_path), "-p", "no:cacheprovider", str(tmp_path)],
        cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    give_up = time.monotonic() + PATIENCE
    while not (tmp_path / "begun").exists() and time.monotonic() < give_up:
        time.sleep(0.05)
    run.terminate()
    run.wait(PATIENCE)
    assert (tmp_path / "ended").exists()


def test_no_test_starts_a_program_in_another_way():
    own = {ROOT / "tests" / "programs.py", Path(__file__)}
    started = {("subprocess", name) for name in ("Popen", "run", "call", "check_call", "check_output")}
    for file in set((ROOT / "tests").rglob("*.py")) - own:
        text = file.read_text("utf-8")
        for node in ast.walk(ast.parse(text)) if "subprocess" in text else ():
            if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
                assert (node.value.id, node.attr) not in started, f"{file}:{node.lineno}: start it by tests/programs.py"
