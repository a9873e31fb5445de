"""`thumbwise exhibit`: the bench on a stand, going through its scenes by itself."""

from __future__ import annotations

import argparse

from scenes.commands.command_line import Parser, number_within
from scenes.commands.serving import add_serving, serve

SUMMARY = "run through the scenes unattended, on a stand: no panels, large captions, big buttons for visitors"


def add_options(parser: Parser) -> None:
    parser.add_argument(
        "--minutes-per-scene",
        type=number_within(0.05, 60, "minutes"),
        metavar="M",
        help="how long each scene stays (default: as long as its captions need, about a minute)",
    )
    parser.add_argument(
        "--quiet-seconds",
        type=number_within(2, 3600, "seconds"),
        default=60.0,
        metavar="S",
        help="how long without a touch before the loop starts again (default 60)",
    )
    add_serving(parser)


def run(wanted: argparse.Namespace) -> None:
    from scenes.exhibit.exhibit import ExhibitBench
    from visual.host.endpoints import Endpoint

    serve(
        wanted,
        lambda host: ExhibitBench(host, wanted.minutes_per_scene, wanted.quiet_seconds),
        "The exhibit is at {} (Ctrl+C ends it).",
        Endpoint({"": "stand.html", "exhibit": "exhibit.html"}, "visitor"),
    )
