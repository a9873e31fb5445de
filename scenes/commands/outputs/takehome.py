"""`thumbwise takehome`: a lesson, or scenes, in one file that runs without the program."""

from __future__ import annotations

import argparse
import datetime
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from scenes import catalogue
from scenes.commands.command_line import Parser, UsageError, add_settings, number_within, reported, writing
from scenes.commands.lesson import read_lesson
from scenes.lesson.lesson import Lesson, Step

if TYPE_CHECKING:
    from scenes.takehome.film import Film

SUMMARY = "write a lesson or scenes to one file that runs in any browser, without the program or a network"
ENTRY = "shell/takehome.js"
SECONDS = 8.0


def add_options(parser: Parser) -> None:
    parser.add_argument(
        "what", metavar="LESSON | SCENE", nargs="*", help="your own lesson (TOML), or scenes; without it, the built-in lesson"
    )
    parser.add_argument("--out", metavar="FILE", type=Path, required=True, help="the HTML file to write")
    add_settings(parser)
    parser.add_argument(
        "--seconds",
        type=number_within(1, 60, "seconds"),
        default=SECONDS,
        metavar="S",
        help=f"how long each step runs (default {SECONDS:g})",
    )


def run(wanted: argparse.Namespace) -> None:
    taught = _lesson(wanted)
    from scenes.takehome.film import record
    from visual.host.one_file import one_file

    count = len(taught.steps)
    with writing(wanted.out) as file:
        film = record(taught, wanted.seconds, lambda done: _tell(done, count))
        text = one_file("follow.html", ENTRY, taught.title, _about(film), film.reels)
        file.write(text.encode())
    print(f"{count} step{'s' * (count != 1)} in {wanted.out}, {len(text) / 1e6:.1f} MB; open it in a browser.")


def _tell(done: int, count: int) -> None:
    """How far it has come, for whoever sits before it: a lesson takes a minute or two."""
    if sys.stderr.isatty():
        print(f"\rstep {done} of {count}", end="\n" if done == count else "", file=sys.stderr, flush=True)


def _about(film: Film) -> dict:
    """What the page is told of the whole."""
    from scenes.takehome.film import RATE

    today = datetime.date.today()
    return {
        "title": film.lesson.title,
        "rate": RATE,
        "steps": film.steps(),
        "made": "Everything here was computed from field, current and motion by Thumbwise when this file was made, on "
        f"{today.day} {today:%B %Y}. At the bench itself any setting can be changed.",
    }


def _lesson(wanted: argparse.Namespace) -> Lesson:
    scenes = [name for name in wanted.what if name in catalogue.NAMES]
    if len(scenes) < len(wanted.what):
        if len(wanted.what) > 1:
            other = next(name for name in wanted.what if name not in scenes)
            raise UsageError(f"takehome takes one lesson file or names of scenes, and {other!r} is no scene.")
        if wanted.set:
            raise UsageError("--set goes with one scene; a lesson has its settings in its steps.")
        return read_lesson(wanted.what[0])
    if not scenes:
        if wanted.set:
            raise UsageError("--set goes with one scene; name it before the options.")
        return read_lesson(None)
    if wanted.set and len(scenes) > 1:
        raise UsageError("--set goes with one scene, and more are named.")
    return _of_scenes(scenes, wanted.set)


def _of_scenes(names: list[str], settings: list[tuple[str, str]]) -> Lesson:
    """A step for each scene as it stands on the bench, and one for its question about that set-up."""
    steps = []
    for name in names:
        scene = catalogue.scene_class(name)()
        with reported(ValueError):
            scene.set_all(dict(settings))
        shown = dict(scene.settings)
        steps.append(Step(name, shown, caption=f"{scene.title}: what do you expect?", question=True))
        steps.append(Step(name, shown, caption=scene.title))
    titles = [catalogue.scene_class(name).title for name in names]
    return Lesson(titles[0] if len(titles) == 1 else "Motor principles", tuple(steps))
