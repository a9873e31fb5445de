"""What a broken program sends, or somebody who means ill: messages, addresses, texts. The same for the same dice."""

from __future__ import annotations

import json
import random
from urllib.parse import quote, urlencode

DEEP = 900  # levels: just less than Python's own reader takes, so that what comes after has to bear it
NASTY = (
    None, True, False, 0, -1, 1, 7, 9999, 10000, 0.5, -0.0, 1e308, -1e308, 5e-324, 10**30, 10**400, -(10**4000),
    float("nan"), float("inf"), float("-inf"),
    "", " ", "0", "-0", "nan", "inf", "-inf", "1e400", "1_0", "\u0663", "\u00b2", "\uff17", "9" * 5000, "x" * 30000,
    "\x00", "\ud800", "\u202e", "\n\r\t", "\U0001f4a1" * 50, "<script>alert(1)</script>", "../../../etc/passwd", "%s%n{0}{x!r}",
    "__class__", "__init__", "step", "build", "on", "off", "true", "current", "field", "slow", "view", "ask",
    [], {}, [1], ["on"], {"name": "current"}, [[[[[]]]]], {"do": {"do": "next"}}, [None] * 500,
)  # fmt: skip
FIELDS = {
    "open": ("address", "run"), "scene": ("name",), "next": (), "previous": (), "set": ("name", "value"), "reverse": ("what",),
    "run": ("on",), "step": (), "restart": (), "answers": ("shown",), "ask": ("seed", "present"), "answer": ("choice", "place"),
    "reveal": (), "enough": (), "view": ("name",), "tally": ("large",), "again": (), "begin": ("name",), "readmit": ("name",),
    "end": ("name",), "clock": (), "touch": ("again",), "ready": (), "alive": (),
    "prepare": ("on",), "add": ("page",), "arrange": ("number", "how"), "change": ("number", "name", "value"), "title": ("title",),
    "own": ("number", "text", "choices", "right", "reason"), "undo": ("again",),
    "try": ("number",), "mock": ("questions", "minutes"), "turn": ("speed",), "speak": ("language",), "press": ("name",),
}  # fmt: skip


def nested(dice: random.Random) -> str:
    """A value so deep in brackets that it can just be read."""
    deep = dice.randint(DEEP // 3, DEEP + 100)
    return dice.choice(["[" * deep + "]" * deep, '{"a":' * deep + "1" + "}" * deep])


def nasty(dice: random.Random):
    """A value that nobody has asked for."""
    return dice.choice(NASTY) if dice.random() < 0.8 else "".join(chr(dice.randrange(1, 0x2FF)) for _ in range(dice.randrange(40)))


class Sender:
    """Sends to a bench what fits it, almost fits it, or does not at all."""

    def __init__(self, dice: random.Random, scenes: tuple[str, ...]):
        self.dice = dice
        self.scenes = scenes

    def text(self, bench) -> str | bytes:
        """One message as it comes over the socket."""
        dice = self.dice
        text = json.dumps(self.message(bench))
        chance = dice.random()
        if chance < 0.04:
            return (
                json.dumps({"do": dice.choice(list(FIELDS))})[:-1]
                + f', "{dice.choice(["name", "value", "seed", "choice"])}": {nested(dice)}}}'
            )
        if chance < 0.2:
            return mutated(dice, text)
        if chance < 0.23:
            return mutated(dice, text).encode("utf-8", "surrogatepass")
        return text

    def message(self, bench):
        dice = self.dice
        if dice.random() < 0.03:
            return nasty(dice)
        do = dice.choice(list(FIELDS)) if dice.random() < 0.95 else nasty(dice)
        message = {"do": do}
        for name in FIELDS.get(do, ()) if isinstance(do, str) else ():
            if dice.random() < 0.9:
                message[name] = self.fitting(do, name, message, bench) if dice.random() < 0.6 else nasty(dice)
        if dice.random() < 0.1:
            message[str(nasty(dice))[:50]] = nasty(dice)
        return message

    def fitting(self, do: str, name: str, message: dict, bench):
        """A value such as a page sends."""
        dice, scene = self.dice, bench.scene
        if do in ("arrange", "change", "own") and name != "value":
            return self.of_a_step(name)
        if do == "set" and name == "name":
            return dice.choice(list(scene.by_name))
        if name == "value":
            wanted = message.get("name")
            return value_of(dice, scene.by_name[wanted]) if isinstance(wanted, str) and wanted in scene.by_name else nasty(dice)
        if name == "address":
            return self.address(scene)
        if name == "choice" and bench.prediction.question is not None:
            return dice.choice(bench.prediction.question.choices)[0]
        fits = {
            "name": [each.name for each in {"view": scene.views, "press": scene.picks}.get(do, ())] or list(self.scenes),
            "what": ["current", "field"],
            "seed": [dice.randint(1, 9999), None],
            "run": [bench.run_word, None],
            "number": [0, 1, 2],
            "speed": [-1.5, 0, 0.7],
            "language": ["en", "de"],
        }
        return dice.choice(fits.get(name, [True, False]))

    def of_a_step(self, name: str):
        """A value such as the page sends that prepares a lesson."""
        dice = self.dice
        fits = {
            "number": [dice.randint(1, 12), 1.5, -1],
            "how": ["up", "down", "copy", "remove", "set-up", "show"],
            "name": ["caption", "notes", "minutes", "hold", "question", "title", "text", "picture", "shows", "scene"],
            "text": ["Which way?"], "choices": ["a\nb", "a"], "right": [1, 2, 7], "reason": ["", "So."],
        }  # fmt: skip
        return dice.choice(fits[name])

    def address(self, scene) -> str:
        """The query of an address: one that fits, with keys twice, too long, or with what no number is."""
        dice = self.dice
        pairs = [("scene", scene.name if dice.random() < 0.5 else dice.choice(self.scenes))] if dice.random() < 0.8 else []
        for control in dice.choices(scene.controls, k=dice.randrange(4)):
            pairs.append((control.name, value_of(dice, control) if dice.random() < 0.6 else nasty(dice)))
        for name in dice.choices(["ask", "view", "scene", "step", "nothing", ""], k=dice.randrange(3)):
            pairs.append((name, nasty(dice) if dice.random() < 0.7 else dice.randint(1, 9999)))
        dice.shuffle(pairs)
        if dice.random() < 0.3:
            return "&".join(f"{name}={quote(mutated(dice, str(value)[:3000]), errors='replace')}" for name, value in pairs)
        text = urlencode([(name, str(value)[:3000]) for name, value in pairs], errors="replace")
        return mutated(dice, text) if dice.random() < 0.3 else text


def value_of(dice: random.Random, control):
    """A value that the control takes, its ends more often than chance would have it, or one just beyond."""
    if control.kind == "number":
        within = dice.uniform(control.low, control.high)
        return dice.choice([control.low, control.high, 0, within, within, control.low - 1, control.high * 1.01, f"{within:.6g}"])
    if control.kind == "choice":
        return dice.choice(control.choices)[0]
    return dice.choice([True, False, "on", "off"])


def mutated(dice: random.Random, text: str) -> str:
    """The text with a few places changed, cut out, doubled or put elsewhere."""
    for _ in range(dice.randint(1, 4)):
        here, there = sorted((dice.randint(0, len(text)), dice.randint(0, len(text))))
        sign = chr(dice.choice([0, 10, 34, 37, 38, 39, 44, 58, 61, 91, 92, 93, 123, 125, 0xD800, 0x1F4A1]))
        word = dice.choice(["null", "-1", "1e999", "NaN", "[[]]", "{}", '"', "\\u0000", "\\ud800", "%ff"])
        text = dice.choice(
            [
                text[:here] + sign + text[here:],
                text[:here] + chr(dice.randrange(0x250)) + text[here + 1 :],
                text[:here] + text[min(there, here + 12) :],
                text[:there] + text[here:],
                text[there:] + text[:here],
                text[:here] + word + text[there:],
            ]
        )
    return text
