"""`thumbwise exhibit [TOUR]`: the bench on a stand, going through its tour by itself."""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from scenes.commands.command_line import Parser, UsageError, number_within, read_text, reported, write_new
from scenes.commands.serving import add_serving, serve
from scenes.exhibit import tour_file, tours
from scenes.lesson.toml_reader import LONGEST
from scenes.practice.results import usual_place

if TYPE_CHECKING:
    from scenes.exhibit.tour import Tour

SUMMARY = "run unattended on a stand: a short tour in large words, with something to try at each stop"
WHERE = "The exhibit is at {0}, and how it goes at {0}status/ (Ctrl+C ends it)."


def add_options(parser: Parser) -> None:
    parser.add_argument("tour", metavar="TOUR", nargs="?", help="your own tour (TOML); without it, the built-in one")
    parser.add_argument("--write", metavar="FILE", type=Path, help="write the built-in tour to this file for editing, and open nothing")
    parser.add_argument("--full", action="store_true", help="go through all scenes instead, about half an hour")
    parser.add_argument(
        "--minutes-per-scene",
        type=number_within(0.05, 60, "minutes"),
        metavar="M",
        help="with --full, how long each scene stays (default: as long as its captions need, about a minute)",
    )
    parser.add_argument(
        "--quiet-seconds",
        type=number_within(*tour_file.QUIETS, "seconds"),
        metavar="S",
        help="how long without a touch before it goes back to the start (default: what the tour says, 45)",
    )
    add_serving(parser)


def run(wanted: argparse.Namespace) -> None:
    if wanted.write is not None:
        write_new(wanted.write, tour_file.built_in())
        print(f"The built-in tour is now in {wanted.write}; open it with: thumbwise exhibit {wanted.write}")
        return
    tour = _tour(wanted)
    from scenes.exhibit.counts import Counts
    from scenes.exhibit.exhibit import ExhibitBench
    from scenes.exhibit.status import ENDPOINT

    counts = Counts(_counts_file(tour), tour.counted)
    counts.keep()  # so that it is said at once if it cannot be
    if counts.trouble:
        print(counts.trouble, flush=True)
    try:
        serve(wanted, lambda host: ExhibitBench(host, tour, counts), WHERE, ENDPOINT)
    finally:
        counts.close()


def _tour(wanted: argparse.Namespace) -> Tour:
    if wanted.full and wanted.tour is not None:
        raise UsageError("Give a tour, or --full for all scenes, not both.")
    if wanted.minutes_per_scene is not None and not wanted.full:
        raise UsageError("Argument --minutes-per-scene: goes with --full; in a tour each stop says its seconds.")
    with reported(tour_file.TourError):
        if wanted.tour is None:
            tour = tour_file.read(tour_file.built_in(), "the built-in tour")
        else:
            tour = tour_file.read(read_text(wanted.tour, "a tour", LONGEST + 1), wanted.tour, Path(wanted.tour).parent)
    if wanted.full:
        tour = tours.full_loop(tour.attract, wanted.minutes_per_scene)
    return tour if wanted.quiet_seconds is None else replace(tour, quiet=wanted.quiet_seconds)


def _counts_file(tour: Tour) -> Path | None:
    """Where is counted: as the tour says, or in the user's data folder; None for a user without one."""
    if not tour.counted:
        return None
    usual = usual_place()
    return Path(tour.counts) if tour.counts else usual and usual.with_name("exhibit.json")
