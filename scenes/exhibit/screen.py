"""What the stand's screen says: the caption, the buttons and the countdown, in the visitor's language."""

from __future__ import annotations

from typing import TYPE_CHECKING

from scenes.exhibit.tour import ENGLISH, said
from visual.host import messages

if TYPE_CHECKING:
    from scenes.exhibit.exhibit import ExhibitBench


def shown(bench: ExhibitBench) -> messages.Exhibit:
    tour, language = bench.tour, bench.language
    words, spoken = _caption(bench)
    return {
        "serial": bench.serial,
        "place": bench.here,
        "stops": len(tour.stops),
        "title": bench.scene.title,
        "caption": words,
        "spoken": spoken,
        "tries": [{"words": said(each.button, language), "does": each.does} for each in bench.stop.tries],
        "answers": _answers(bench) if bench.prediction.waiting else [],
        "slow": bench.scene.slowness != 1,
        "left": bench.use.left if bench.held else None,
        "asleep": bench.asleep,
        "words": {name: said(each, language) for name, each in tour.words.items()},
        "language": language,
        "languages": [{"value": code, "words": name} for code, name in tour.languages.items()],
    }


def _caption(bench: ExhibitBench) -> tuple[str, str]:
    """The caption, and the language it is in: the scene itself speaks English."""
    if bench.prediction.question is not None:
        return _of_the_question(bench)
    words = bench.stop.caption
    attempts = bench.attempts
    if attempts.said:
        tried = attempts.last
        words = "" if tried is None else tried.stopped if tried.stopped and attempts.stands else tried.after
    return (said(words, bench.language), bench.language) if words else (bench.scene.says(), ENGLISH)


def _of_the_question(bench: ExhibitBench) -> tuple[str, str]:
    """The question, or once it is answered what is right."""
    posed, tried, given = bench.prediction.posed, bench.attempts.last, bench.prediction.given
    own = tried if tried is not None and tried.answers else None
    spoken = bench.language if own else ENGLISH
    if given is None:
        return (said(own.question, spoken) if own else bench.prediction.note or posed.text), spoken
    right = next(each["words"] for each in _answers(bench) if each["value"] == posed.answer)
    verdict = said(bench.tour.words["right" if given == posed.answer else "wrong"], bench.language)
    return f"{verdict} {right[0].upper()}{right[1:]}. {'' if own else posed.reason_after(given)}".strip(), spoken


def _answers(bench: ExhibitBench) -> list[messages.ChoiceWords]:
    """The choices in the words of the tour, and the right one in any case; without words of its own, in the scene's."""
    posed = bench.prediction.posed
    tried = bench.attempts.last
    own = tried.answers if tried else {}
    return [
        {"value": value, "words": said(own[value], bench.language) if value in own else words}
        for value, words in posed.choices
        if not own or value in own or value == posed.answer
    ]
