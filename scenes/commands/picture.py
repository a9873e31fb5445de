"""`thumbwise picture SCENE --out FILE`: a PNG of a scene, drawn by an installed browser."""

from __future__ import annotations

import argparse
import asyncio
import contextlib
import os
import re
import shutil
import tempfile
from pathlib import Path

from scenes.commands.command_line import Parser, Said, add_scene, scene_set_up, settings
from scenes.picture import browsers

SUMMARY = "a PNG of a scene, drawn by an installed browser"
SMALLEST, LARGEST = 100, 4096  # pixels a side


def run(arguments: list[str]) -> None:
    parser = Parser("thumbwise picture", description="Draw a scene to a PNG file. Needs an installed browser.")
    add_scene(parser)
    parser.add_argument("--out", metavar="FILE", required=True, help="the file to write")
    parser.add_argument("--size", type=_size, default=(1280, 720), metavar="WxH", help="pixels (default 1280x720)")
    parser.add_argument("--view", metavar="NAME", help="the view (thumbwise scenes lists them)")
    parser.add_argument("--seconds", type=_seconds, default=0.0, metavar="S", help="run the scene for this long first (default 0)")
    parser.add_argument("--browser", metavar="PATH", help="the browser to use, of the Chromium family")
    wanted = parser.parse_args(arguments)
    values = settings(wanted.set)
    scene = scene_set_up(wanted.scene, values)
    if wanted.view is not None:
        _look(scene, wanted.view)
    browser = _browser(wanted.browser)
    out = Path(wanted.out)
    with _replacing(out) as unfinished:
        unfinished.write_bytes(_drawn(wanted, values, browser))
    print(f"Wrote {out}, {wanted.size[0]} by {wanted.size[1]} pixels.")


def _drawn(wanted: argparse.Namespace, values: dict, browser: str) -> bytes:
    from scenes.picture.picture import NoPicture, drawn

    try:
        return asyncio.run(drawn(wanted.scene, values, wanted.size, browser, view=wanted.view, seconds=wanted.seconds))
    except NoPicture as wrong:
        raise Said(str(wrong)) from None
    except OSError as wrong:
        raise Said(f"The picture cannot be drawn: {wrong.strerror}.") from None


def _look(scene, view: str) -> None:
    try:
        scene.look(view)
    except ValueError as wrong:
        raise Said(str(wrong)) from None


def _browser(path: str | None) -> str:
    found = browsers.find() if path is None else shutil.which(path)
    if found is None and path is None:
        raise Said("No browser was found; install Chromium, Chrome or Edge, or give its path with --browser.")
    if found is None:
        raise Said(f"There is no browser at {path}; give the path of Chromium, Chrome or Edge with --browser.")
    return found


@contextlib.contextmanager
def _replacing(out: Path):
    """A new file beside `out` that replaces it on success; on failure the old file stays."""
    if out.is_dir():
        raise Said(f"{out} is a folder; give --out a file.")
    try:
        handle, name = tempfile.mkstemp(prefix=".thumbwise-", suffix=".png", dir=out.parent)
    except OSError as wrong:
        raise Said(f"{out} cannot be written: {wrong.strerror}.") from None
    os.close(handle)
    unfinished = Path(name)
    try:
        yield unfinished
        unfinished.chmod(out.stat().st_mode & 0o777 if out.exists() else 0o666 & ~_umask())
        os.replace(unfinished, out)
    except OSError as wrong:
        raise Said(f"{out} cannot be written: {wrong.strerror}.") from None
    finally:
        unfinished.unlink(missing_ok=True)


def _umask() -> int:
    """The user's umask, which can only be read by setting it."""
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _size(text: str) -> tuple[int, int]:
    found = re.fullmatch(r"(\d{1,5})[x×](\d{1,5})", text)
    width, height = map(int, found.groups()) if found else (0, 0)
    if not all(SMALLEST <= side <= LARGEST for side in (width, height)):
        raise argparse.ArgumentTypeError(f"takes width x height such as 1920x1080, each from {SMALLEST} to {LARGEST}, not {text!r}")
    return width, height


def _seconds(text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        value = float("nan")
    if not 0 <= value <= 600:
        raise argparse.ArgumentTypeError(f"takes from 0 to 600 seconds, not {text!r}")
    return value
