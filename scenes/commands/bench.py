"""`thumbwise [SCENE]`: the bench in a browser."""

from __future__ import annotations

import argparse

from scenes import catalogue
from scenes.bench.bench import Bench
from scenes.bench.serving import add_serving, add_sharing, serve
from scenes.commands.command_line import Parser, add_scene, scene_set_up, settings


def run(arguments: list[str], other_commands: str) -> None:
    """Serve the bench until Ctrl+C ends it. `other_commands` is printed below the help."""
    wanted = _parser(other_commands).parse_args(arguments)
    values = settings(wanted.set)
    scene_set_up(wanted.scene, values)
    serve(wanted, lambda host: Bench(host, wanted.scene, values), "The bench is at {} (Ctrl+C ends it).")


def _parser(other_commands: str) -> Parser:
    scenes = [f"  {scene.name:<22} {scene.title}" for scene in catalogue.LESSON]
    parser = Parser(
        "thumbwise",
        description="Open the bench in a browser.",
        epilog="\n\n".join(["\n".join(["scenes:", *scenes]), other_commands]),
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    add_scene(parser, nargs="?", default=catalogue.NAMES[0])
    add_serving(parser)
    add_sharing(parser)
    return parser
