"""A program that is told to end says nothing of what it leaves undone, but still tells a true error."""

from __future__ import annotations

import signal
import sys

import pytest

from tests import programs

# something is written while the signal comes; what waits for it asks the write for its error, which was cancelled, as a server does
PROGRAM = """
import asyncio, os, signal, sys
from scenes import __main__

async def serve():
    written = asyncio.get_running_loop().create_future()
    written.add_done_callback(lambda it: it.exception())
    if sys.argv[1] == "wrong":
        asyncio.get_running_loop().call_soon(lambda: 1 / 0)
    os.kill(os.getpid(), signal.SIGTERM)
    await written

with __main__._ended_in_order():
    asyncio.run(serve())
"""


@pytest.mark.parametrize(("what", "told"), [("nothing", False), ("wrong", True)])
def test_what_is_cancelled_at_the_end_is_no_error(what, told):
    ended = programs.run([sys.executable, "-c", PROGRAM, what], capture_output=True, text=True)
    assert ended.returncode == -signal.SIGTERM
    assert ("ZeroDivisionError" in ended.stderr) is told and "Cancelled" not in ended.stderr and (told or ended.stderr == "")
