"""`thumbwise scenes`: the scenes, with controls, readings and question."""

from __future__ import annotations

import argparse

from scenes import catalogue
from scenes.commands.command_line import Parser, add_json, print_json
from scenes.scene.described import described
from scenes.scene.scene import Scene

SUMMARY = "list every scene with its controls, readings and question"


def add_options(parser: Parser) -> None:
    add_json(parser)


def run(wanted: argparse.Namespace) -> None:
    scenes = [_described(scene()) for scene in catalogue.LESSON]
    if wanted.json:
        print_json(scenes)
        return
    for number, scene in enumerate(scenes, 1):
        print(f"{number}. {scene['name']}: {scene['title']}\n   {scene['principle']}")
        for control in scene["controls"]:
            print(f"     {control['name']:<12} {_range(control)}  {control['words']}")
        print("     read: " + ", ".join(f"{r['symbol']} {r['words']}".strip() for r in scene["readings"]))
        print(f"     asked: {scene['question']['text']}")
        print("     kinds: " + ", ".join(f"{kind['name']} ({kind['words']})" for kind in scene["questions"]) + "\n")


def _described(scene: Scene) -> dict:
    question = scene.question()
    return described(scene) | {
        "readings": [{"symbol": r.symbol, "words": r.words, "unit": r.unit} for r in scene.readings()],
        "question": {"text": question.text, "choices": [value for value, _ in question.choices]},
        "questions": [{"name": kind.name, "words": kind.words, "answered": kind.answered} for kind in scene.kinds],
    }


def _range(control: dict) -> str:
    if control["kind"] == "number":
        return f"{control['low']:g} to {control['high']:g} {control['unit']}".strip()
    if control["kind"] == "choice":
        return " | ".join(choice["value"] for choice in control["choices"])
    return "on | off"
