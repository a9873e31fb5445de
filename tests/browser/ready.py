"""Programs that are ready to run: a process that has imported the program and divides for each one that a test starts.

To import it takes a second each time, and the browser tests start it some fifty times. What divides off goes on as
`python -m scenes` does once it is imported: its arguments, its pipes, its signals and its end are its own. That it starts by itself too
is seen in tests/scenes/commands.
"""

from __future__ import annotations

import contextlib
import io
import json
import os
import signal
import socket
import subprocess
import sys
import threading

from tests import programs


class Program:
    """One that was started, with as much of `subprocess.Popen` as is needed."""

    def __init__(self, pid: int, stdout: int, stderr: int):
        self.pid = pid
        self.stdout, self.stderr = (open(pipe, encoding="utf-8") for pipe in (stdout, stderr))

    def terminate(self) -> None:
        self._send(signal.SIGTERM)

    def kill(self) -> None:
        self._send(signal.SIGKILL)

    def _send(self, by: int) -> None:
        with contextlib.suppress(ProcessLookupError):  # it has ended, and nobody has its number yet
            os.kill(self.pid, by)

    def communicate(self, timeout: float) -> tuple[str, str]:
        """What it still says until it has ended; it is killed where it goes on for longer than `timeout`, s."""
        end = threading.Timer(timeout, self.kill)
        end.start()
        try:
            with self.stdout, self.stderr:
                stderr = self.stderr.read()  # it says little on the other
                return self.stdout.read(), stderr
        finally:
            end.cancel()


class Ready:
    """The process that divides."""

    def __init__(self):
        self.line, other = socket.socketpair()
        with other:
            end = other.fileno()
            command = [sys.executable, "-u", "-m", "tests.browser.ready", str(end)]
            self.process = programs.start(command, pass_fds=[end], stdin=subprocess.DEVNULL)

    def start(self, arguments: list[str]) -> Program:
        ends = os.pipe(), os.pipe()
        socket.send_fds(self.line, [json.dumps(arguments).encode()], [written for _, written in ends])
        for _, written in ends:
            os.close(written)
        return Program(int(self.line.recv(64)), *(read for read, _ in ends))

    def stop(self) -> None:
        self.line.close()
        self.process.wait(60)


def serve(line: socket.socket) -> None:
    """Divide for each list of arguments that comes, until the line is closed."""
    from scenes import __main__ as program

    signal.signal(signal.SIGCHLD, signal.SIG_IGN)  # nobody asks how they ended
    here = os.getpid()
    while True:
        text, pipes, *_ = socket.recv_fds(line, 65536, 2)
        if not text:
            return
        pid = os.fork()
        if pid == 0:
            line.close()
            signal.signal(signal.SIGCHLD, signal.SIG_DFL)
            programs.ends_with(here)
            for number, pipe in enumerate(pipes, 1):
                os.dup2(pipe, number)
                os.close(pipe)
            # a stream remembers of what kind its file is
            sys.stdout, sys.stderr = (io.TextIOWrapper(open(number, "wb", 0), "utf-8", write_through=True) for number in (1, 2))
            sys.exit(program.main(json.loads(text)))
        for pipe in pipes:
            os.close(pipe)
        line.send(str(pid).encode())


if __name__ == "__main__":
    serve(socket.socket(fileno=int(sys.argv[1])))
