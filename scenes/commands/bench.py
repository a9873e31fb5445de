"""`thumbwise [SCENE]`: the bench in a browser."""

from __future__ import annotations

import argparse

from scenes import catalogue
from scenes.bench.bench import Bench
from scenes.commands.command_line import Parser, add_scene, scene_set_up
from scenes.commands.serving import add_serving, add_sharing, serve

SUMMARY = "open the bench in a browser, as without a command's name"


def add_options(parser: Parser) -> None:
    add_scene(parser, nargs="?", default=catalogue.NAMES[0])
    add_serving(parser)
    add_sharing(parser)


def run(wanted: argparse.Namespace) -> None:
    scene_set_up(wanted)  # a mistake is reported before anything opens
    serve(wanted, lambda host: Bench(host, wanted.scene, dict(wanted.set)), "The bench is at {} (Ctrl+C ends it).")
