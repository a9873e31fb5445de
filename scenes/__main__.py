"""The command line: the subcommands, and how their errors are reported.

A command is a module with a short `SUMMARY` and `run(arguments)`, which raises `Said` for a user's mistake. To add one,
add its file and one line here. Without a command's name the bench opens.
"""

from __future__ import annotations

import contextlib
import io
import os
import signal
import sys
import threading

try:
    from scenes import catalogue
    from scenes.commands import ask, bench, exhibit, lesson, picture, practice, scenes, state, workings, worksheet
    from scenes.commands.command_line import Said, no_such
except ImportError as wrong:
    if wrong.name != "vpython":
        raise
    sys.exit(f"thumbwise: {wrong}")  # a wrong version of VPython is for the user to mend

COMMANDS = {
    "scenes": scenes,
    "ask": ask,
    "lesson": lesson,
    "exhibit": exhibit,
    "practice": practice,
    "worksheet": worksheet,
    "picture": picture,
    "state": state,
    "workings": workings,
}


def main(arguments: list[str] | None = None) -> int:
    """Run a command; 0 on success, 2 with one sentence on stderr for a user's mistake."""
    arguments = sys.argv[1:] if arguments is None else arguments
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")  # a terminal without Ω shows a question mark
    try:
        with _ended_in_order():
            _run(arguments)
            sys.stdout.flush()
        return 0
    except Said as said:
        print(f"thumbwise: {said}", file=sys.stderr)
        return 2
    except BrokenPipeError:  # the reader has closed the pipe, as in `thumbwise scenes | head`
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1
    except KeyboardInterrupt:
        return 130


class _ToldToEnd(SystemExit):
    """SIGTERM arrived; as a `SystemExit` it unwinds everything, the event loop included."""


@contextlib.contextmanager
def _ended_in_order():
    """Let SIGTERM end the program as Ctrl+C does: things under way are finished first, such as a browser or an answer not yet
    written. Then the signal is raised again, so that the sender sees it was obeyed."""
    if threading.current_thread() is not threading.main_thread() or signal.getsignal(signal.SIGTERM) is not signal.SIG_DFL:
        yield  # an embedding program handles its own signals
        return

    def end(*_):
        signal.signal(signal.SIGTERM, signal.SIG_DFL)  # a second SIGTERM ends it at once
        raise _ToldToEnd

    signal.signal(signal.SIGTERM, end)
    try:
        yield
    except _ToldToEnd:
        signal.raise_signal(signal.SIGTERM)
    finally:
        signal.signal(signal.SIGTERM, signal.SIG_DFL)


def _run(arguments: list[str]) -> None:
    name = arguments[0] if arguments else ""
    if name in COMMANDS:
        COMMANDS[name].run(arguments[1:])
    elif not name or name.startswith("-") or name in catalogue.NAMES:
        lines = [f"  thumbwise {command:<10} {module.SUMMARY}" for command, module in COMMANDS.items()]
        bench.run(arguments, "\n".join(["other commands, each with its own --help:", *lines]))
    else:
        raise no_such("scene or command", name, (*catalogue.NAMES, *COMMANDS))


if __name__ == "__main__":
    sys.exit(main())
