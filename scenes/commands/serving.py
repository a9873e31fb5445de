"""What every command that opens the bench in a browser shares: the port, the browser, the loop until Ctrl+C."""

from __future__ import annotations

import argparse
import asyncio
import errno
import logging
import socket
import threading
import webbrowser
from collections.abc import Callable
from pathlib import Path
from typing import Protocol

from scenes import service_manager
from scenes.bench.votes import kept_in
from scenes.commands.command_line import Parser, UsageError, reported, whole_number
from scenes.kept.lines import NotKept

USUAL_PORT = 8642
BEHIND_A_PROXY = "A proxy finds the page at the Unix socket {} (Ctrl+C ends it)."


class Served(Protocol):
    """What is served: it advances by a picture, and lets others in."""

    def frame(self, seconds: float) -> None: ...

    def share(self) -> str: ...


def add_serving(parser: Parser) -> None:
    """Add the options that say how the page is served."""
    where = parser.add_mutually_exclusive_group()
    where.add_argument(
        "--port",
        type=whole_number(0, 65535),
        help=f"the port to serve the page on (default {USUAL_PORT}, or a free one if it is taken)",
    )
    where.add_argument("--socket", metavar="PATH", help="serve it on a Unix socket at this path, for a proxy in front")
    parser.add_argument("--no-browser", action="store_true", help="do not open a browser; print the address only")
    parser.set_defaults(share=False, votes=None)


def add_sharing(parser: Parser) -> None:
    """Add the options that let a class follow and keep its votes."""
    parser.add_argument(
        "--share",
        action="store_true",
        help="let others on your network follow: they see this bench and answer its question, but change nothing",
    )
    parser.add_argument("--votes", metavar="FILE", type=Path, help="with --share: keep in this file how many gave each answer; no names")


def serve(wanted: argparse.Namespace, make_bench: Callable[..., Served], said: str, endpoint=None, first: str = "") -> None:
    """Serve the bench that `make_bench(host)` makes until Ctrl+C ends it; `said` is printed with its address in place of {}.

    `endpoint` is an `Endpoint` to serve in place of the bench's usual page; `first`: the page of it that a browser is opened at.
    """
    if wanted.votes and not wanted.share:
        raise UsageError("--votes goes with --share: without it nobody votes.")
    log_in_few_lines()
    try:
        with reported(NotKept), kept_in(wanted.votes) as keep:
            asyncio.run(_serve(wanted, make_bench, said, endpoint, first, keep))
    except KeyboardInterrupt:
        pass


def log_in_few_lines() -> None:
    """Log to the terminal, a few lines a minute; logging that an embedding program or a test has set up stays as it is."""
    from visual.host.few_lines import FewLines

    handler = logging.StreamHandler()
    handler.addFilter(FewLines())
    logging.basicConfig(level=logging.WARNING, format="thumbwise: %(message)s", handlers=[handler])


def _why_no_port(port: int | None, wrong: OSError) -> str:
    if wrong.errno == errno.EADDRINUSE:
        return f"Port {port} is in use by another program; give another with --port, or none for a free one."
    if wrong.errno == errno.EACCES:
        return f"Port {port} needs administrator rights; give one above 1023 with --port."
    return f"The page cannot be served on port {port}: {wrong.strerror}."


async def _serve(wanted: argparse.Namespace, make_bench: Callable[..., Served], said: str, endpoint, first: str, keep: Callable) -> None:
    from scenes.bench.run_loop import RunLoop
    from visual.host.server import Host

    host = Host()
    address = _open(host, wanted, endpoint)
    bench = make_bench(host)
    if isinstance(bench, RunLoop):
        bench.tally.keep = keep
    print(said.format(address) if address else BEHIND_A_PROXY.format(wanted.socket), flush=True)
    service_manager.tell("READY=1")
    if wanted.share:
        print(bench.share(), flush=True)
    if address and not wanted.no_browser:
        threading.Thread(target=_open_in_a_browser, args=(address + first,), daemon=True).start()
    watched = asyncio.create_task(service_manager.report_pictures(host))
    try:
        await host.run(bench.frame)
    finally:
        watched.cancel()


def _open_in_a_browser(address: str) -> None:
    """Open the user's browser, in a thread: with some browsers the call returns only when they are closed."""
    if not webbrowser.open(address):
        print("No browser could be opened; open that address yourself.", flush=True)


def _open(host, wanted: argparse.Namespace, endpoint) -> str | None:
    """Open the port or the Unix socket; returns the page's address, None for a socket."""
    if wanted.socket is None:
        try:
            return f"http://localhost:{_listen(host, wanted.port, endpoint)}/"
        except OSError as wrong:
            raise UsageError(_why_no_port(wanted.port, wrong)) from None
    if not hasattr(socket, "AF_UNIX"):
        raise UsageError("This system has no Unix sockets; give --port instead of --socket.")
    try:
        host.listen_on_socket(wanted.socket, endpoint)
    except (OSError, ValueError) as wrong:
        why = wrong.strerror if isinstance(wrong, OSError) and wrong.strerror else wrong
        raise UsageError(f"No Unix socket can be opened at {wanted.socket}: {why}.") from None
    return None


def _listen(host, port: int | None, endpoint) -> int:
    if port is not None:
        return host.listen(port, endpoint=endpoint)
    try:
        return host.listen(USUAL_PORT, endpoint=endpoint)
    except OSError:
        return host.listen(0, endpoint=endpoint)
