"""A scene at one instant as plain data, read from what is drawn: for scripts, tests and anyone checking the bench."""

from __future__ import annotations

from scenes.scene.controls import Choice
from scenes.scene.scene import ONE_STEP, Scene
from visual.solid.told import HandTold, told


class NoPage:
    """Stands in for a host when there is no page: accepts names of drawn objects and keeps nothing."""

    def name(self, name: str, drawn) -> None:
        pass


def reached(scene: Scene, seconds: float, view: str | None = None, reveals_answer: bool = True, mistake: str = "") -> Scene:
    """The scene built, seen from `view`, advanced by `seconds` of its own time in steps as long as those from picture to picture at its
    fastest, and drawn, with the hand that a `mistake` holds."""
    scene.ensure_built(NoPage())
    if view is not None:
        scene.look(view)
    scene.restart()
    left = seconds
    paces = scene.by_name["slow"]
    assert isinstance(paces, Choice)
    step = ONE_STEP / min(float(slowness) for slowness, _ in paces.choices)
    while left > 0:
        scene.step(min(step, left))
        left -= step
    scene.draw(reveals_answer, mistake)
    return scene


def as_data(scene: Scene, seconds: float, reveals_answer: bool = True) -> dict:
    """Settings, readings, sentence, question and what is drawn; vectors in the unit beside them, places in metres."""
    seen = told(scene.drawn)
    keys = {key.letter: (key.words, key.unit) for key in scene.arrows}
    question = scene.question()
    return {
        "scene": scene.name,
        "settings": dict(scene.settings),
        "time": seconds,
        "view": scene.view,
        "readings": [
            {"symbol": each.symbol, "words": each.words, "value": number(each.value), "unit": each.unit, "formula": each.formula}
            for each in scene.readings(reveals_answer)
        ],
        "says": scene.says(reveals_answer),
        "to_press": scene.to_press(reveals_answer),
        "question": {
            "text": question.text,
            "choices": [{"value": value, "words": words} for value, words in question.choices],
            "answer": question.answer,
            "reason": question.reason,
        },
        "arrows": [
            {"letter": letter, "words": words, "at": at, "vector": vector, "unit": unit}
            for letter, at, vector in seen.arrows
            for words, unit in [keys.get(letter, ("", ""))]
        ],
        "needles": [{"words": words, "at": at, "vector": vector} for words, at, vector in seen.needles],
        "hand": hand(seen.hands[0]) if seen.hands else None,
        "marks": [{"words": words, "at": at, "sign": sign} for words, at, sign in seen.marks],
        "letters": [{"text": text, "at": at, "colour": colour} for text, at, colour in seen.letters],
        "leads": [{"from": first, "to": second, "through": through} for first, second, through in seen.leads],
    }


def hand(told_of: HandTold) -> dict:
    """A hand as plain data; `second` is None for a gripping hand, `mistake` "" for one that is held rightly."""
    return {
        "which": told_of.which,
        "at": told_of.at,
        "thumb": told_of.thumb,
        "first": told_of.first,
        "second": told_of.second,
        "on": told_of.on,
        "mistake": told_of.mistake,
    }


def number(text: str) -> float | str:
    """A reading's value as a number if it is one; printed minus signs are understood."""
    try:
        return float(text.replace("\N{MINUS SIGN}", "-").replace("\N{NARROW NO-BREAK SPACE}", "").replace(",", ""))
    except ValueError:
        return text
