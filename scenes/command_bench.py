"""`thumbwise [SCENE]`: the bench in a browser."""

from __future__ import annotations

import argparse
import asyncio
import errno
import logging
import webbrowser

from scenes import catalogue
from scenes.bench import Bench
from scenes.command_line import Parser, Said, add_scene, scene_set_up, settings

USUAL_PORT = 8642


def run(arguments: list[str], other_commands: str) -> None:
    """Serve the bench until Ctrl+C ends it. `other_commands` stands below the help."""
    wanted = _parser(other_commands).parse_args(arguments)
    values = settings(wanted.set)
    scene_set_up(wanted.scene, values)
    logging.basicConfig(level=logging.WARNING, format="thumbwise: %(message)s")
    try:
        asyncio.run(_serve(wanted, values))
    except OSError as wrong:
        raise Said(_why_no_port(wanted.port, wrong)) from None
    except KeyboardInterrupt:
        pass


def _parser(other_commands: str) -> Parser:
    parser = Parser(
        "thumbwise",
        description="Open the bench in a browser.",
        epilog=other_commands,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    add_scene(parser, nargs="?", default=catalogue.NAMES[0])
    parser.add_argument(
        "--port", type=_port, help=f"the port to serve the page on (usually {USUAL_PORT}, or a free one)"
    )
    parser.add_argument("--no-browser", action="store_true", help="do not open a browser; print the address only")
    return parser


def _port(text: str) -> int:
    if not (text.isdecimal() and text.isascii() and int(text) <= 65535):
        raise argparse.ArgumentTypeError(f"takes a whole number from 0 to 65535, not {text!r}")
    return int(text)


def _why_no_port(port: int | None, wrong: OSError) -> str:
    if wrong.errno == errno.EADDRINUSE:
        return f"Port {port} is in use by another program; give another with --port, or none for a free one."
    if wrong.errno == errno.EACCES:
        return f"Port {port} may not be opened by this user; give one above 1023 with --port."
    return f"The page cannot be served on port {port}: {wrong.strerror}."


async def _serve(wanted, values: dict) -> None:
    from visual.host.server import Host

    host = Host()
    port = _listen(host, wanted.port)
    bench = Bench(host, wanted.scene, values)
    address = f"http://localhost:{port}/"
    print(f"The bench is at {address} (Ctrl+C ends it).", flush=True)
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
