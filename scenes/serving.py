"""What every command that opens the bench in a browser shares: the port, the browser, the loop until Ctrl+C."""

from __future__ import annotations

import argparse
import asyncio
import errno
import logging
import webbrowser
from collections.abc import Callable

from scenes.bench import Bench
from scenes.command_line import Parser, Said, whole_number

USUAL_PORT = 8642


def add_serving(parser: Parser) -> None:
    """The options that say how the page is served."""
    parser.add_argument(
        "--port",
        type=whole_number(0, 65535),
        help=f"the port to serve the page on (usually {USUAL_PORT}, or a free one)",
    )
    parser.add_argument("--no-browser", action="store_true", help="do not open a browser; print the address only")
    parser.set_defaults(share=False)


def add_sharing(parser: Parser) -> None:
    """The option that lets a class follow."""
    parser.add_argument(
        "--share",
        action="store_true",
        help="let others on your network follow: they see this bench and answer its question, but change nothing",
    )


def serve(wanted: argparse.Namespace, make_bench: Callable[..., Bench], said: str) -> None:
    """Serve the bench that `make_bench(host)` makes until Ctrl+C ends it; its address is put for {} in `said`."""
    logging.basicConfig(level=logging.WARNING, format="thumbwise: %(message)s")
    try:
        asyncio.run(_serve(wanted, make_bench, said))
    except OSError as wrong:
        raise Said(_why_no_port(wanted.port, wrong)) from None
    except KeyboardInterrupt:
        pass


def _why_no_port(port: int | None, wrong: OSError) -> str:
    if wrong.errno == errno.EADDRINUSE:
        return f"Port {port} is in use by another program; give another with --port, or none for a free one."
    if wrong.errno == errno.EACCES:
        return f"Port {port} may not be opened by this user; give one above 1023 with --port."
    return f"The page cannot be served on port {port}: {wrong.strerror}."


async def _serve(wanted: argparse.Namespace, make_bench: Callable[..., Bench], said: str) -> None:
    from scenes import sharing
    from visual.host.server import Host

    host = Host()
    port = _listen(host, wanted.port)
    bench = make_bench(host)
    address = f"http://localhost:{port}/"
    print(said.format(address), flush=True)
    if wanted.share:
        print(sharing.what_it_opens(sharing.share(host)), flush=True)
    if not wanted.no_browser and not webbrowser.open(address):
        print("No browser could be opened; open that address in one.", flush=True)
    await host.run(bench.frame)


def _listen(host, port: int | None) -> int:
    if port is not None:
        return host.listen(port)
    try:
        return host.listen(USUAL_PORT)
    except OSError:
        return host.listen(0)
