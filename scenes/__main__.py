"""The command line: open the bench, list the scenes, or ask a question without a browser."""

from __future__ import annotations

import argparse
import asyncio
import errno
import json
import logging
import sys
import webbrowser

from scenes import catalogue
from scenes.bench import Bench, described
from scenes.scene import Scene

USUAL_PORT = 8642
COMMANDS = ("scenes", "ask")


class Said(Exception):
    """Something a user got wrong, in one sentence."""


class Parser(argparse.ArgumentParser):
    """Says what is wrong in one sentence, without the usage before it."""

    def error(self, message):
        raise Said(f"{message[0].upper()}{message[1:]}; see {self.prog} --help.")


def main(arguments: list[str] | None = None) -> int:
    """Run a command; 0 when it went well, 2 with one sentence on stderr when the user asked for what cannot be."""
    arguments = sys.argv[1:] if arguments is None else arguments
    try:
        if arguments and arguments[0] in COMMANDS:
            return {"scenes": list_scenes, "ask": ask}[arguments[0]](arguments[1:])
        return open_bench(arguments)
    except Said as said:
        print(f"thumbwise: {said}", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        return 0


def open_bench(arguments: list[str]) -> int:
    parser = Parser(
        "thumbwise", description="Open the bench in a browser.",
        epilog="Other commands: thumbwise scenes [--json], thumbwise ask SCENE [--set name=value ...] [--json].",
    )
    parser.add_argument("scene", nargs="?", default=catalogue.NAMES[0], metavar="SCENE", help=", ".join(catalogue.NAMES))
    _add_settings(parser)
    parser.add_argument("--port", type=int, help=f"the port to serve the page on (usually {USUAL_PORT}, or a free one)")
    parser.add_argument("--no-browser", action="store_true", help="do not open a browser; print the address only")
    wanted = parser.parse_args(arguments)
    settings = _settings(wanted.set)
    _scene(wanted.scene, settings)
    if wanted.port is not None and not 0 <= wanted.port <= 65535:
        raise Said(f"--port takes a number from 0 to 65535, not {wanted.port}.")
    logging.basicConfig(level=logging.WARNING, format="thumbwise: %(message)s")
    try:
        asyncio.run(_serve(wanted, settings))
    except OSError as wrong:
        raise Said(_why_no_port(wanted.port, wrong)) from None
    return 0


def _why_no_port(port, wrong: OSError) -> str:
    if wrong.errno == errno.EADDRINUSE:
        return f"Port {port} is in use by another program; give another with --port, or none for a free one."
    if wrong.errno == errno.EACCES:
        return f"Port {port} may not be opened by this user; give one above 1023 with --port."
    return f"The page cannot be served on port {port}: {wrong.strerror}."


async def _serve(wanted, settings: dict) -> None:
    from visual.host.server import Host

    host = Host()
    port = _listen(host, wanted.port)
    bench = Bench(host, wanted.scene, settings)
    address = f"http://localhost:{port}/"
    print(f"The bench is at {address} (Ctrl+C ends it).", flush=True)
    if not wanted.no_browser and not webbrowser.open(address):
        print("No browser could be opened; open that address in one.", flush=True)
    await host.run(bench.frame)


def _listen(host, port: int | None) -> int:
    if port is not None:
        return host.listen(port)
    try:
        return host.listen(USUAL_PORT)
    except OSError:
        return host.listen(0)


def list_scenes(arguments: list[str]) -> int:
    parser = Parser("thumbwise scenes", description="List every scene with its controls, readings and question.")
    parser.add_argument("--json", action="store_true", help="as JSON")
    wanted = parser.parse_args(arguments)
    scenes = [_described(scene()) for scene in catalogue.LESSON]
    if wanted.json:
        print(json.dumps(scenes, indent=2, ensure_ascii=False))
        return 0
    for number, scene in enumerate(scenes, 1):
        print(f"{number}. {scene['name']}: {scene['title']}\n   {scene['principle']}")
        for control in scene["controls"]:
            print(f"     {control['name']:<12} {_range(control)}  {control['words']}")
        print("     read: " + ", ".join(f"{r['symbol']} {r['words']}".strip() for r in scene["readings"]))
        print(f"     asked: {scene['question']['text']}\n")
    return 0


def _described(scene: Scene) -> dict:
    question = scene.question()
    return described(scene) | {
        "readings": [{"symbol": r.symbol, "words": r.words, "unit": r.unit} for r in scene.readings()],
        "question": {"text": question.text, "choices": [value for value, _ in question.choices]},
    }


def _range(control: dict) -> str:
    if control["kind"] == "number":
        return f"{control['low']:g} to {control['high']:g} {control['unit']}".strip()
    if control["kind"] == "choice":
        return " | ".join(choice["value"] for choice in control["choices"])
    return "on | off"


def ask(arguments: list[str]) -> int:
    parser = Parser("thumbwise ask", description="Ask a scene's question of a set-up and answer it, without a browser.")
    parser.add_argument("scene", metavar="SCENE", help=", ".join(catalogue.NAMES))
    _add_settings(parser)
    parser.add_argument("--json", action="store_true", help="as JSON")
    wanted = parser.parse_args(arguments)
    question = _scene(wanted.scene, _settings(wanted.set)).question()
    if wanted.json:
        choices = [{"value": value, "words": words} for value, words in question.choices]
        said = {"question": question.text, "choices": choices, "answer": question.answer, "reason": question.reason}
        print(json.dumps(said, indent=2, ensure_ascii=False))
        return 0
    print(question.text)
    print("  " + " | ".join(words for _, words in question.choices))
    print(f"{dict(question.choices)[question.answer].capitalize()}. {question.reason}")
    return 0


def _add_settings(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--set", action="append", default=[], metavar="name=value", help="set a control; may be given more than once"
    )


def _settings(pairs: list[str]) -> dict[str, str]:
    """The controls given with --set."""
    settings = {}
    for pair in pairs:
        name, equals, value = pair.partition("=")
        if not equals or not name:
            raise Said(f"--set takes name=value, not {pair!r}.")
        settings[name] = value
    return settings


def _scene(name: str, settings: dict) -> Scene:
    """The scene, set up and at its start."""
    try:
        scene = catalogue.scene_class(name)()
        scene.set_all(settings)
    except ValueError as wrong:
        raise Said(str(wrong)) from None
    scene.restart()
    return scene


if __name__ == "__main__":
    sys.exit(main())
