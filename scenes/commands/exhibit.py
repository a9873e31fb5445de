"""`thumbwise exhibit`: the bench on a stand, going through its scenes by itself."""

from __future__ import annotations

import argparse

from scenes.bench.serving import add_serving, serve
from scenes.commands.command_line import Parser

SUMMARY = "an unattended loop for a stand: no panels, large captions, big buttons"


def run(arguments: list[str]) -> None:
    parser = Parser("thumbwise exhibit", description="Run through the scenes unattended; a visitor may take over for a while.")
    parser.add_argument(
        "--minutes-per-scene",
        type=_minutes,
        metavar="M",
        help="how long each scene stays (default: as long as its captions need, about a minute)",
    )
    parser.add_argument(
        "--quiet-seconds",
        type=_seconds,
        default=60.0,
        metavar="S",
        help="how long without a touch before the loop starts again (default 60)",
    )
    add_serving(parser)
    wanted = parser.parse_args(arguments)
    from scenes.exhibit.exhibit import ExhibitBench
    from visual.host.endpoints import Endpoint

    serve(
        wanted,
        lambda host: ExhibitBench(host, wanted.minutes_per_scene, wanted.quiet_seconds),
        "The exhibit is at {} (Ctrl+C ends it).",
        Endpoint({"": "stand.html", "exhibit": "exhibit.html"}, "visitor"),
    )


def _minutes(text: str) -> float:
    return _between(text, 0.05, 60, "minutes")


def _seconds(text: str) -> float:
    return _between(text, 2, 3600, "seconds")


def _between(text: str, least: float, most: float, unit: str) -> float:
    try:
        value = float(text)
    except ValueError:
        value = float("nan")
    if not least <= value <= most:
        raise argparse.ArgumentTypeError(f"takes from {least:g} to {most:g} {unit}, not {text!r}")
    return value
