"""`thumbwise state SCENE`: everything the scene shows at one instant, as data read from what is drawn, without a browser."""

from __future__ import annotations

import argparse

from scenes.commands.command_line import Parser, add_json, add_scene, number_within, print_json, reported, scene_set_up
from scenes.scene.state import as_data, reached

SUMMARY = "print what a scene shows at one instant, as data: settings, readings, words, arrows, hand, letters, leads"
LONGEST = 600.0  # s of the scene's own time


def add_options(parser: Parser) -> None:
    add_scene(parser)
    parser.add_argument(
        "--at",
        type=number_within(0, LONGEST, "seconds"),
        default=0.0,
        metavar="SECONDS",
        help="seconds of scene time after its start (default 0)",
    )
    parser.add_argument("--view", metavar="NAME", help="the ready view (thumbwise scenes lists them)")
    add_json(parser)


def run(wanted: argparse.Namespace) -> None:
    scene = scene_set_up(wanted)
    with reported(ValueError):
        reached(scene, wanted.at, wanted.view)
    data = as_data(scene, wanted.at)
    if wanted.json:
        print_json(data)
    else:
        _write(data)


def _write(data: dict) -> None:
    print(f"{data['scene']}, {data['time']:g} s after its start, view {data['view']}")
    print(f"{data['says']} {data['to_press']}".rstrip())
    for reading in data["readings"]:
        print(f"  {reading['symbol']:<8} {reading['value']} {reading['unit']}  {reading['words']}")
    for arrow in data["arrows"]:
        print(f"  arrow {arrow['letter']:<4} {_vector(arrow['vector'])} {arrow['unit']}, at {_vector(arrow['at'])} m")
    for needle in data["needles"]:
        print(f"  {needle['words']} {_vector(needle['vector'])}, at {_vector(needle['at'])} m")
    if data["hand"]:
        fingers = ", ".join(f"{name} {_vector(data['hand'][name])}" for name in ("thumb", "first", "second") if data["hand"][name])
        print(f"  {data['hand']['which']} hand: {fingers}")
    for mark in data["marks"]:
        print(f"  {mark['words']} at {_vector(mark['at'])} m")
    print("  letters: " + " ".join(letter["text"].replace("\n", " ") for letter in data["letters"]))
    for lead in data["leads"]:
        print(f"  {lead['from']} to {lead['to']}" + (f", through {lead['through']}" if lead["through"] else ""))


def _vector(parts) -> str:
    return "(" + ", ".join(f"{part:.4g}" for part in parts) + ")"
