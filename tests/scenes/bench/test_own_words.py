"""Answers in people's own words: understood where they can mean one choice only, asked back where they may mean two."""

from __future__ import annotations

import pytest

from scenes.bench.own_words import choice_meant
from scenes.conductors.two_wires.scene import TwoWires
from scenes.scene.scene import Question


def asked(*choices: str) -> Question:
    return Question("Which?", tuple(each.split("=")[:2] if "=" in each else (each, each) for each in choices), "", "")


WAYS = asked("to the left", "to the right", "up", "down", "nowhere=it is not pushed")
DEEP = asked("toward you", "away from you", "nowhere=there is no voltage")
TURNS = asked("clockwise", "counter-clockwise", "none=it does not rotate")
FROM_BEHIND = asked("counter-clockwise=clockwise", "clockwise=counter-clockwise", "none=it does not keep turning")
SPEEDS = asked("375=375 r/min", "750=750 r/min", "1500=1500 r/min")
HERTZ = asked("12.5=12.5 Hz", "25=25 Hz", "50=50 Hz")
HUMS = asked("clockwise=it runs clockwise", "counter-clockwise=it runs counter-clockwise", "none=it hums at standstill, or comes to it")
FAULTS = asked("sound=nothing: it is sound", "earth=a winding has an earth fault", "open=a winding is open", "lost=a phase is lost")
POLES = asked("N=bar 4, at the N pole", "S=bar 11, at the S pole")
MAGNETS = asked("up=the lower one", "down=the upper one")
WIRES = asked("attract=attract each other", "repel=repel each other")
CLOCK = asked("12=toward 12 o'clock", "2=toward 2 o'clock", "10=toward 10 o'clock")
ENDS = asked("toward=toward the drive end", "away=away from the drive end")
SLOTS = asked("9=slot 9", "10=slot 10", "11=slot 11")
LOADED = asked(
    "rated=it runs on, with about its rated current or less", "over=it runs on, with more than its rated current", "stalls=it stalls"
)

UNDERSTOOD = [
    (WAYS, "Left.", "to the left"), (WAYS, "to the left side", "to the left"), (WAYS, "it moves right", "to the right"),
    (WAYS, "leftwards", "to the left"), (WAYS, "UP!", "up"), (WAYS, "upward", "up"), (WAYS, "downwards", "down"),
    (WAYS, "I think to the right", "to the right"), (WAYS, "no force", "nowhere"), (WAYS, "nothing", "nowhere"),
    (WAYS, "it doesn't move", "nowhere"), (WAYS, "it doesn\u2019t move", "nowhere"), (WAYS, "not at all", "nowhere"),
    (WAYS, "stays still", "nowhere"), (WAYS, "The rod is pushed down", "down"),
    (DEEP, "towards me", "toward you"), (DEEP, "toward me", "toward you"), (DEEP, "out of the page", "toward you"),
    (DEEP, "into the page", "away from you"), (DEEP, "away", "away from you"), (DEEP, "away from me", "away from you"),
    (DEEP, "into the screen", "away from you"), (DEEP, "no voltage", "nowhere"), (DEEP, "None.", "nowhere"),
    (TURNS, "anticlockwise", "counter-clockwise"), (TURNS, "Anti-clockwise", "counter-clockwise"), (TURNS, "CCW", "counter-clockwise"),
    (TURNS, "counterclockwise", "counter-clockwise"), (TURNS, "counter clockwise", "counter-clockwise"), (TURNS, "cw", "clockwise"),
    (TURNS, "it turns clockwise", "clockwise"), (TURNS, "does not turn", "none"), (TURNS, "acw", "counter-clockwise"),
    (FROM_BEHIND, "clockwise", "counter-clockwise"), (FROM_BEHIND, "anticlockwise", "clockwise"),
    (SPEEDS, "750 rpm", "750"), (SPEEDS, "750rpm", "750"), (SPEEDS, "1 500 rpm", "1500"), (SPEEDS, "1,500 rev/min", "1500"),
    (SPEEDS, "375 revolutions per minute", "375"), (SPEEDS, "1500", "1500"), (SPEEDS, "750 r.p.m.", "750"),
    (HERTZ, "25hz", "25"), (HERTZ, "12,5 Hz", "12.5"), (HERTZ, "50 hertz", "50"),
    (HUMS, "it just sits there and hums", "none"), (HUMS, "it runs backwards, anticlockwise", "counter-clockwise"),
    (FAULTS, "we lost a phase", "lost"), (FAULTS, "the earth", "earth"), (SLOTS, "slot eleven", "11"), (SLOTS, "eleven", "11"),
    (POLES, "N", "N"), (POLES, "at the north pole", "N"), (POLES, "South.", "S"), (POLES, "the S-pole", "S"), (POLES, "bar 11", "S"),
    (MAGNETS, "the bottom one", "up"), (MAGNETS, "the one above", "down"), (MAGNETS, "lower", "up"),
    (WIRES, "they attract", "attract"), (WIRES, "attraction", "attract"), (WIRES, "Repelled", "repel"), (WIRES, "pushed apart", "repel"),
    (CLOCK, "ten o'clock", "10"), (CLOCK, "12", "12"), (ENDS, "away", "away"), (ENDS, "towards the drive end", "toward"),
    (LOADED, "stalled", "stalls"), (LOADED, "more", "over"), (LOADED, "It stalls!", "stalls"),
]  # fmt: skip
NEITHER, EITHER = "none of the answers", "may mean"
ASKED_BACK = [
    (WAYS, "left or right", "to the left or to the right"), (WAYS, "up and down", "up or down"), (WAYS, "sideways", NEITHER),
    (WAYS, "not left", NEITHER), (WAYS, "toward you", NEITHER), (WAYS, "no, to the left", NEITHER), (LOADED, "it runs on", EITHER),
    (LOADED, "current", NEITHER), (TURNS, "clockwise or counter-clockwise", EITHER), (SPEEDS, "r/min", EITHER), (DEEP, "you", EITHER),
    (POLES, "north or south", EITHER), (POLES, "the pole", EITHER), (MAGNETS, "the left one", NEITHER), (WIRES, "nothing", NEITHER),
    (CLOCK, "o'clock", EITHER), (CLOCK, "6 o'clock", NEITHER), (ENDS, "the drive end", EITHER),
    (SPEEDS, "1000 rpm", NEITHER), (HERTZ, "5", NEITHER), (SPEEDS, "not 750", NEITHER), (DEEP, "?", NEITHER),
]  # fmt: skip


@pytest.mark.parametrize("question, text, meant", UNDERSTOOD)
def test_what_people_write_is_understood(question, text, meant):
    assert choice_meant(question, text) == meant


@pytest.mark.parametrize("question, text, told", ASKED_BACK)
def test_what_may_mean_two_things_or_none_is_asked_back(question, text, told):
    with pytest.raises(ValueError) as wrong:
        choice_meant(question, text)
    assert told in str(wrong.value) and str(wrong.value).endswith(".") and "\n" not in str(wrong.value)


@pytest.mark.parametrize("wire, attracts", [("left", "to the right"), ("right", "to the left")])
def test_attracted_is_toward_the_other_wire(wire, attracts):
    scene = TwoWires()
    scene.set("wire", wire)
    question = scene.question()
    repels = {"to the right": "to the left", "to the left": "to the right"}[attracts]
    assert choice_meant(question, "they attract each other") == choice_meant(question, "attraction") == attracts
    assert choice_meant(question, "Repelled") == choice_meant(question, "they repel") == repels
