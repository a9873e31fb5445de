"""`thumbwise takehome`: a lesson, or scenes, in one file that runs without the program."""

from __future__ import annotations

import argparse
import datetime
import re
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import urlencode

from physics.arguments import quoted
from scenes import catalogue
from scenes.bench.prediction import checked_seed, setup_of
from scenes.bench.workings import from_address
from scenes.commands.command_line import Parser, UsageError, add_settings, number_within, reported, writing
from scenes.commands.lesson import read_lesson
from scenes.commands.outputs.progress import progress
from scenes.lesson.lesson import Lesson
from scenes.lesson.steps import OfKind, Step
from scenes.questions.kinds import draw, kind_of
from scenes.scene import address

if TYPE_CHECKING:
    from scenes.takehome.film import Film

SUMMARY = "write a lesson or scenes to one file that runs in any browser, without the program or a network"
ENTRY = "one_file/takehome.js"
SECONDS = 8.0


def add_options(parser: Parser) -> None:
    parser.add_argument(
        "what",
        metavar="LESSON | SCENE",
        nargs="*",
        help="your own lesson (TOML), or scenes, each by its name or by what the bench's address bar shows of it; without it, the built-in "
        "lesson",
    )
    parser.add_argument("--out", metavar="FILE", type=Path, required=True, help="the HTML file to write")
    add_settings(parser)
    parser.add_argument(
        "--seconds",
        type=number_within(1, 60, "seconds"),
        default=SECONDS,
        metavar="S",
        help=f"how long each step runs at least (default {SECONDS:g}); one that has not come to its speed by then goes on until it has",
    )


def run(wanted: argparse.Namespace) -> None:
    taught = chosen(wanted.what, wanted.set)
    from scenes.takehome.film import record
    from visual.host.recorded.one_file import one_file

    count = len(taught.steps)
    with writing(wanted.out) as file:
        film = record(taught, wanted.seconds, progress("step", count))
        text = one_file("follow.html", ENTRY, taught.title, _about(film), film.reels)
        file.write(text.encode())
    print(f"{count} step{'s' * (count != 1)} in {wanted.out}, {len(text) / 1e6:.1f} MB; open it in a browser.")
    print("It can be turned, held, run and answered; nothing can be set or joined in it, so let no caption ask for that.")


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


def chosen(given: list[str], settings: list[tuple[str, str]]) -> Lesson:
    """The lesson that is meant by what was given: none, a file, or scenes with, for one alone, its settings."""
    scenes = [what for what in given if what in catalogue.NAMES or _is_address(what)]
    if len(scenes) < len(given):
        if len(given) > 1:
            other = next(name for name in given if name not in scenes)
            raise UsageError(
                f"takehome takes one lesson file, or names of scenes and addresses of the bench, and {quoted(other)} is neither."
            )
        if settings:
            raise UsageError("--set goes with one scene; a lesson has its settings in its steps.")
        return read_lesson(given[0])
    if not scenes:
        if settings:
            raise UsageError("--set goes with one scene; name it before the options.")
        return read_lesson(None)
    if settings and len(scenes) > 1:
        raise UsageError("--set goes with one scene, and more are named.")
    with reported(ValueError):
        steps = [step for what in scenes for step in _steps(what, dict(settings))]
    titles = list(dict.fromkeys(catalogue.scene_class(step.scene).title for step in steps))
    return Lesson(titles[0] if len(titles) == 1 else "Motor principles", tuple(steps))


def _is_address(what: str) -> bool:
    """Whether it is what the address bar shows of the bench, whole or only what follows the question mark."""
    return re.search(r"(^|[?&])scene=", what) is not None


def _steps(what: str, settings: dict[str, str]) -> tuple[Step, Step]:
    """A step for a scene as it stands on the bench, by its name or an address, after one with its question about that set-up."""
    query = what.partition("#")[0].rpartition("?")[2] if _is_address(what) else urlencode({"scene": what})
    name, values, seed = address.read(query)
    from_address(values)  # a calculation beside it
    assert name is not None
    view, kind = values.pop("view", None), values.pop("kind", None)
    scene = catalogue.scene_class(name)()
    asked: dict = {"question": True}
    if seed is None:
        scene.set_all(values | settings)
    elif kind is None:
        scene.set_all(setup_of(scene, checked_seed(seed)))
    else:
        asked = {"question": OfKind(kind, checked_seed(seed)), "settings": {}}
        scene.set_all(draw(scene, kind_of(scene, kind), asked["question"].number).settings)
    if view is not None:
        scene.look(view)
    step = Step(scene.name, dict(scene.settings), view, caption=scene.title)
    return replace(step, caption=f"{scene.title}: what do you expect?", **asked), step
