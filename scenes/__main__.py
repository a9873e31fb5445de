"""The command line: the subcommands, and how their errors are reported.

A command is a module with a one-line `SUMMARY`, `add_options(parser)` and `run(wanted)`, which raises `UsageError` for a user's
mistake. To add one, add its file and one line here. Without a command's name the bench opens.
"""

from __future__ import annotations

import asyncio
import contextlib
import io
import os
import signal
import sys
import threading
from functools import cache

try:
    from scenes import catalogue
    from scenes.commands import ask, bench, exhibit, lesson, practice, scenes, state, workings
    from scenes.commands.command_line import Parser, UsageError
    from scenes.commands.outputs import handout, picture, takehome, test, votes, worksheet
    from scenes.names import no_such
except ImportError as wrong:
    if wrong.name != "vpython":
        raise
    sys.exit(f"thumbwise: {wrong}")  # a wrong version of VPython is for the user to mend

COMMANDS = {
    "bench": bench,
    "scenes": scenes,
    "ask": ask,
    "lesson": lesson,
    "exhibit": exhibit,
    "practice": practice,
    "worksheet": worksheet,
    "handout": handout,
    "takehome": takehome,
    "test": test,
    "votes": votes,
    "picture": picture,
    "state": state,
    "workings": workings,
}


def main(arguments: list[str] | None = None) -> int:
    """Run a command; 0 on success, 2 with one sentence on stderr for a user's mistake."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")  # a terminal without Ω shows a question mark
    try:
        with _ended_in_order():
            wanted = _parser().parse_args(_with_command(sys.argv[1:] if arguments is None else arguments))
            COMMANDS[wanted.command].run(wanted)
            sys.stdout.flush()
        return 0
    except UsageError as wrong:
        print(f"thumbwise: {wrong}", file=sys.stderr)
        return 2
    except BrokenPipeError:  # the reader has closed the pipe, as in `thumbwise scenes | head`
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1
    except KeyboardInterrupt:
        return 130


def _with_command(arguments: list[str]) -> list[str]:
    """`arguments` with the command's name before them: no name, a scene or an option means the bench."""
    first = arguments[0] if arguments else ""
    if first in ("-h", "--help", *COMMANDS):
        return arguments
    if first and first[0] != "-" and first not in catalogue.NAMES:
        raise UsageError(no_such("scene or command", first, (*catalogue.NAMES, *COMMANDS)))
    return ["bench", *arguments]


@cache
def _parser() -> Parser:
    scenes = "\n".join(f"  {scene.name:<22}{scene.title}" for scene in catalogue.LESSON)
    parser = Parser(
        "thumbwise",
        usage="thumbwise [COMMAND] ...",
        description="A 3-D demonstration bench for motor principles. Without a command the bench opens: thumbwise [SCENE] ...",
        epilog=f"scenes:\n{scenes}",
    )
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", prog="thumbwise", title="commands, each with its own --help")
    for name, module in COMMANDS.items():
        module.add_options(commands.add_parser(name, help=module.SUMMARY, description=f"{module.SUMMARY[:1].upper()}{module.SUMMARY[1:]}."))
    return parser


class _ToldToEnd(SystemExit):
    """SIGTERM arrived; as a `SystemExit` it unwinds everything, the event loop included."""


def _told_but_for_what_is_cancelled(loop: asyncio.AbstractEventLoop, context: dict) -> None:
    """At the end whatever is under way is cancelled, which is no error."""
    if not isinstance(context.get("exception"), asyncio.CancelledError):
        loop.default_exception_handler(context)


@contextlib.contextmanager
def _ended_in_order():
    """Let SIGTERM end the program as Ctrl+C does: things under way are finished first, such as a browser or an answer not yet
    written. Then the signal is raised again, so that the sender sees it was obeyed."""
    if threading.current_thread() is not threading.main_thread() or signal.getsignal(signal.SIGTERM) is not signal.SIG_DFL:
        yield  # an embedding program handles its own signals
        return

    def end(*_):
        signal.signal(signal.SIGTERM, signal.SIG_DFL)  # a second SIGTERM ends it at once
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            leave()
        loop.set_exception_handler(_told_but_for_what_is_cancelled)
        loop.call_soon_threadsafe(leave)  # here it could be lost, as in a weak reference's callback

    def leave():
        raise _ToldToEnd

    signal.signal(signal.SIGTERM, end)
    try:
        yield
    except _ToldToEnd:
        signal.raise_signal(signal.SIGTERM)
    finally:
        signal.signal(signal.SIGTERM, signal.SIG_DFL)


if __name__ == "__main__":
    sys.exit(main())
