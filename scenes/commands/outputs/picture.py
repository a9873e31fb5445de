"""`thumbwise picture SCENE --out FILE`: a PNG of a scene, drawn by an installed browser."""

from __future__ import annotations

import argparse
import asyncio
import re
import shutil
from pathlib import Path

from physics.arguments import quoted
from scenes.commands.command_line import Parser, UsageError, add_scene, number_within, reported, scene_set_up, writing
from scenes.picture import browsers

SUMMARY = "draw a scene to a PNG file, with an installed browser"
SMALLEST, LARGEST = 100, 4096  # pixels a side


def add_options(parser: Parser) -> None:
    add_scene(parser)
    parser.add_argument("--out", metavar="FILE", type=Path, required=True, help="the file to write")
    parser.add_argument("--size", type=_size, default=(1280, 720), metavar="WxH", help="pixels (default 1280x720)")
    parser.add_argument("--view", metavar="NAME", help="the view (thumbwise scenes lists them)")
    parser.add_argument(
        "--seconds", type=number_within(0, 600, "seconds"), default=0.0, metavar="S", help="run the scene for this long first (default 0)"
    )
    add_browser(parser)


def add_browser(parser: Parser) -> None:
    parser.add_argument("--browser", metavar="PATH", help="the browser to use, of the Chromium family")


def run(wanted: argparse.Namespace) -> None:
    scene = scene_set_up(wanted)
    with reported(ValueError):
        scene.look(wanted.view or scene.view)
    browser = installed_browser(wanted.browser)
    if browser is None:
        raise UsageError("No browser was found; install Chromium, Chrome or Edge, or give its path with --browser.")
    with writing(wanted.out) as unfinished:  # before the browser is asked
        unfinished.write(_drawn(wanted, browser))
    print(f"Wrote {wanted.out}, {wanted.size[0]} by {wanted.size[1]} pixels.")


def _drawn(wanted: argparse.Namespace, browser: str) -> bytes:
    from scenes.picture.picture import NoPicture, drawn

    try:
        with reported(NoPicture):
            return asyncio.run(drawn(wanted.scene, dict(wanted.set), wanted.size, browser, view=wanted.view, seconds=wanted.seconds))
    except OSError as wrong:
        raise UsageError(f"The picture cannot be drawn: {wrong.strerror}.") from None


def installed_browser(path: str | None) -> str | None:
    """The browser at that path or, without one, any that is installed, if there is one."""
    found = browsers.find() if path is None else shutil.which(path)
    if found is None and path is not None:
        raise UsageError(f"There is no browser at {path}; give the path of Chromium, Chrome or Edge with --browser.")
    return found


def _size(text: str) -> tuple[int, int]:
    found = re.fullmatch(r"(\d{1,5})[x×](\d{1,5})", text)
    width, height = map(int, found.groups()) if found else (0, 0)
    if not all(SMALLEST <= side <= LARGEST for side in (width, height)):
        raise argparse.ArgumentTypeError(f"must be width x height such as 1920x1080, each from {SMALLEST} to {LARGEST}, not {quoted(text)}")
    return width, height
