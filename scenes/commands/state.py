"""`thumbwise state SCENE`: everything the scene shows at one instant, as data read from what is drawn, without a browser."""

from __future__ import annotations

from scenes.commands.command_line import Parser, Said, add_json, add_scene, number, print_json, scene_set_up, settings
from scenes.scene.state import as_data, reached

SUMMARY = "a scene at one instant, as data"
LONGEST = 600.0  # s of the scene's own time


def run(arguments: list[str]) -> None:
    parser = Parser(
        "thumbwise state", description="Everything a scene shows at one instant: settings, readings, words, arrows, hand, letters, leads."
    )
    add_scene(parser)
    parser.add_argument("--at", type=number, default=0.0, metavar="SECONDS", help="seconds of scene time after its start (default 0)")
    parser.add_argument("--view", metavar="NAME", help="the ready view (thumbwise scenes lists them)")
    add_json(parser)
    wanted = parser.parse_args(arguments)
    if not 0.0 <= wanted.at <= LONGEST:
        raise Said(f"--at takes a number of seconds from 0 to {LONGEST:g}, not {wanted.at:g}.")
    scene = scene_set_up(wanted.scene, settings(wanted.set))
    try:
        reached(scene, wanted.at, wanted.view)
    except ValueError as wrong:
        raise Said(str(wrong)) from None
    data = as_data(scene, wanted.at)
    if wanted.json:
        print_json(data)
    else:
        _write(data)


def _write(data: dict) -> None:
    print(f"{data['scene']}, {data['time']:g} s after its start, view {data['view']}")
    print(data["says"])
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
    print("  letters: " + " ".join(letter["text"] for letter in data["letters"]))
    for lead in data["leads"]:
        print(f"  {lead['from']} to {lead['to']}" + (f", through {lead['through']}" if lead["through"] else ""))


def _vector(parts) -> str:
    return "(" + ", ".join(f"{part:.4g}" for part in parts) + ")"
