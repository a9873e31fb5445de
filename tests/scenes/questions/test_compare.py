"""More, less, the same: by the law of each quantity, written down here, and the change as it is told."""

from __future__ import annotations

import math
import re
from contextlib import suppress

import pytest

from scenes import catalogue
from scenes.questions.compare import compared
from scenes.questions.kinds import as_it_stands
from scenes.questions.mistakes import mistake_in
from tests.scenes.questions.drawn import Put, of_kind, scene


def of_the_tap(settings: dict) -> float:
    """What an autotransformer at standstill takes and gives, against the motor connected direct; other starters have no tap."""
    return (settings["tap"] / 100) ** 2 if settings["method"] == "autotransformer" else 1.0


# of each quantity, by how it is called: with which power of each control's size it goes, or where that is no power a function of the
# settings that gives its size (textbook knowledge, memory)
LAWS = {
    "the size of the force on it": {"current": 1, "field": 0},
    "the size of the current's own field at the compass": {"current": 1, "distance": -1, "compass": 0, "earth": 0},
    "the size of the Earth's field at the compass": {"current": 0, "distance": 0},
    "the torque that load and bearings take": {"load": 1, "joined": 0},
    "the torque that the load takes": {"load": 1},
    "the size of the force per metre between them": {"current": 1, "other": 1, "spacing": -1},
    "the size of the EMF in the middle of the poles": {"speed": 1, "turns": 1, "strength": 1, "field": 0, "closed": 0},
    "the EMF of a coil side at the pole": {"crank": 1, "field": 1, "coils": 0},
    "the frequency of the voltage": {"speed": 1, "poles": 1, "field": 0, "load": 0},
    "the EMF of a phase": {"speed": 1, "poles": 0, "field": 1, "load": 0},
    "the speed of the field, in r/min": {"frequency": 1, "poles": -1, "current": 0, "lines": 0, "speed": 0},
    "the field at its peak": {"frequency": 0, "current": 1, "lines": 0},
    "the speed of its field, in r/min": {"frequency": 1, "poles": -1, "load": 0, "lines": 0},
    "its breakdown torque": {"load": 0, "lines": 0},
    "its torque": {"load": 1, "lines": 0},
    "its speed, in r/min": {"poles": -1, "load": 0, "excitation": 0},
    "its load angle": {"load": 1, "excitation": -1},
    "the slip at which it settles": {"load": 1, "lines": 0},
    "the frequency in the rotor": {"frequency": 1, "lines": 0, "poles": 0},
    "the slip": {"frequency": 0, "lines": 0, "poles": 0},
    "the energy of motion at the beginning": {"inertia": 1, "direct": 0, "method": 0},
    "the current in a line at the first moment": {"inertia": 0},
    "the torque that the load takes to move": {"method": 0, "tap": 0},
    "the current from the line at standstill": {"load": 0, "drive": 0, "tap": of_the_tap},
    "the torque of the motor at standstill": {"load": 0, "drive": 0, "tap": of_the_tap},
    "the current in its auxiliary winding at standstill": {"load": 0},
    "its torque at standstill": {"load": 0, "ends": 0},
}
OUTSIDE = ("lost-L1", "lost-L3", "uneven-L1", "overload")  # faults that are not of the windings
# where words are changed instead of sizes: before, after, and what that does
BY_WORDS = {
    "the voltage of a winding": {("star", "delta"): "more", ("delta", "star"): "less"},
    "the current in a line, before the shaft moves": {("star", "delta"): "more", ("delta", "star"): "less"},
    "the torque, before the shaft moves": {("star", "delta"): "more", ("delta", "star"): "less"},
    "the resistance between U1 and V1, dead, links on": {
        ("sound", "shorted-U"): "less",
        ("sound", "open-U"): "more",
        **dict.fromkeys((("sound", each) for each in (*OUTSIDE, "earth-U")), "same"),
    },
    "the insulation resistance from U1 to earth": {
        ("sound", "earth-U"): "less",
        **dict.fromkeys((("sound", each) for each in (*OUTSIDE, "shorted-U")), "same"),
    },
    "the voltage between L1 and L2 of the supply": dict.fromkeys(
        (("sound", each) for each in ("open-U", "shorted-U", "earth-U", "overload")), "same"
    ),
    "the current in L3": {("sound", "lost-L3"): "less", ("sound", "lost-L1"): "more", ("sound", "overload"): "more"},
    # by the size of its capacitor, and none at all
    "the current in its auxiliary winding at standstill": {
        **dict.fromkeys((("run", "start"), ("main", "run"), ("main", "start")), "more"),
        **dict.fromkeys((("start", "run"), ("run", "main"), ("start", "main")), "less"),
    },
    "the current from the line at standstill": {("direct", "star-delta"): "less", ("star-delta", "direct"): "more"},
    "the torque of the motor at standstill": {("direct", "star-delta"): "less", ("star-delta", "direct"): "more"},
}


CALLED = {  # controls whose own words do not do in the sentence
    "the number of poles": "poles", "the number of turns": "turns", "the speed at which it is driven": "speed",
    "what each phase feeds": "load", "the speed of the crank, clockwise looking at the drive end": "crank",
    "the speed of the crank": "crank",
    "the current in the rod": "current", "the field at a pole": "field",
    "the field at a pole, positive toward the A2 side": "field", "the peak current": "current", "the resistor's switch": "closed",
    "the angle by which the marked end of the rod is raised": "tilt", "the Earth's field": "earth",
    "the connection of the windings": "joined", "what is in series with the auxiliary winding": "auxiliary", "the winding": "winding",
}  # fmt: skip
SAID = {
    "a run capacitor": "run", "a start capacitor": "start", "nothing, as it is open": "main", "none": "sound",
    "one layer of full pitch": "one-layer", "two layers of short pitch": "short",
}  # fmt: skip


def changed(put: Put) -> tuple[str, float | str, float | str, str]:
    """The control that is changed, its size or value before and after, and the quantity."""
    text = put.question.text
    # the words of a control may hold a comma and "from": the values are those behind the last of them
    words, before, after, quantity = re.search(
        r"\. Now one thing is changed: (.+), from (.+?) to (.+)\. What happens to (.+)\?$", text
    ).groups()
    named = CALLED.get(words) or words.removeprefix("the ").lower()
    fitting = [
        each
        for each in scene(put.scene).controls
        if (named == each.name if words in CALLED else named in (each.words.lower(), each.words.lower().split(",")[0]))
    ]
    assert len(fitting) == 1, f"CALLED wants {words!r}: the name of the control of {put.scene} that is called so"
    control = fitting[0]
    if control.kind == "choice":
        values = {said: value for value, said in control.choices} | SAID
        return control.name, values[before], values[after], quantity
    if control.kind == "switch":
        return control.name, before, after, quantity
    numbers = (float(re.match(r"\S[\d.]*", each)[0].replace("\N{MINUS SIGN}", "-")) for each in (before, after))
    return control.name, *(abs(number) for number in numbers), quantity


def by_law(put: Put) -> str | None:
    control, before, after, quantity = changed(put)
    if (before, after) in BY_WORDS.get(quantity, {}):
        return BY_WORDS[quantity][before, after]
    power = LAWS.get(quantity, {}).get(control)
    if power is None:
        return None
    if not power:
        return "same"
    if callable(power):
        ratio = power(put.settings | {control: after}) / power(put.settings | {control: before})
    else:
        ratio = (float(after) / float(before)) ** power
    return "same" if math.isclose(ratio, 1) else "more" if ratio > 1 else "less"


SIGN = re.compile(r"[-\N{MINUS SIGN}+]\d|\de[-+]?\d")


def test_what_may_be_negative_is_told_by_its_size_and_its_direction():
    """Which of two figures below zero is more, or by how much +2 is more than -2, is no question for a class."""
    kept = reversals = 0
    signed = [each.name for each in catalogue.LESSON if any(one.kind == "number" and one.low < 0 for one in each.controls)]
    for put in (put for name in signed if name in COMPARED for put in of_kind(name, "compare")):
        text = put.question.text
        control, size, *_ = changed(put)
        present = put.settings[control]
        same_way = isinstance(present, float) and present < 0 and "the other way" not in text
        assert ("in the same direction" in text) is same_way, text
        if "the other way" in text:
            assert size == abs(present) > 0
        kept += same_way
        reversals += "the other way" in text
    assert kept > 3 < reversals, "such set-ups have to come"


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_no_comparison_is_told_with_a_sign_or_a_power_of_ten(name):
    """Nor one about what stands on the bench, at the ends of each control that has a sign."""
    asked = list(of_kind(name, "compare"))
    texts = [put.question.text + put.question.reason for put in asked]
    bench = scene(name)
    (kind,) = [each for each in bench.kinds if each.name == "compare"] if asked else [None]
    for control in bench.controls if asked else ():
        if control.kind == "number" and control.low < 0:
            for value in (control.low, control.low / 2, 0.0, control.high / 2):
                with suppress(ValueError):
                    question = as_it_stands(bench, kind, asked[0].settings | {control.name: value}).known[1]
                    texts.append(question.text + question.reason)
    assert [text for text in texts if SIGN.search(text)] == []
    assert not any(re.search(r", from (\S+)( \S+)? to \1[ .]", text) for text in texts), "something changes"


def test_sizes_of_opposite_sign_are_not_compared():
    assert compared(2.0, -2.0) is compared(-1.0, 3.0) is None
    assert (compared(0.0, 3.0), compared(3.0, 0.0), compared(0.0, 0.0)) == ("more", "less", "same")


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_how_many_times_as_much_is_what_the_printed_figures_give(name):
    for put in of_kind(name, "compare"):
        told = re.search(r"From ([\d.e+-]+)\S* ?.* to ([\d.e+-]+).*, ([\d.e+-]+) times as much\.$", put.question.reason)
        if told:
            before, after, times = map(float, told.groups())
            assert times == float(f"{after / before:.3g}"), put.question.reason


# where the reason calls what was changed by another word than the question
SAYS = {
    "winding": "layers",
    "stator": "slots and poles",
    "closed": "switch",
    "tap": "tap",
    "joined": "connection",
    "fault": "fault",
    "inertia": "inertia",
}


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_what_stays_the_same_is_told_why_by_what_was_changed(name):
    for put in of_kind(name, "compare"):
        if put.question.answer == "same":
            control, before, after, _ = changed(put)
            (words,) = [each.words for each in scene(name).controls if each.name == control]
            named = [SAYS[control]] if control in SAYS else [control, *re.findall(r"[a-z]{4,}", words.partition(",")[0].lower())]
            reason = put.question.reason.lower()
            assert "direction" in reason if before == after else any(word in reason for word in named), (control, put.question.reason)


def test_half_of_five_turns_are_not_asked_about():
    found = [changed(put) for put in of_kind("moved-conductor", "compare")]
    assert all(float(after).is_integer() for control, _, after, _ in found if control == "turns")
    assert any(control == "turns" for control, *_ in found)


COMPARED = [name for name in catalogue.NAMES if name not in ("inside-a-motor", "laying-the-winding")]


@pytest.mark.parametrize("name", COMPARED)
def test_what_becomes_of_a_quantity_is_what_its_law_says(name):
    judged, without = 0, set()
    for put in of_kind(name, "compare"):
        expected = by_law(put)
        if expected is None:
            control, *_, quantity = changed(put)
            without.add((quantity, control))
            continue
        judged += 1
        assert put.question.answer == expected, put.question.text
        for value, _ in put.question.choices:
            if value != expected:
                name_of_it = {"same": "an effect where there is none"}.get(
                    expected, "an effect left out" if value == "same" else "more and less exchanged"
                )
                assert mistake_in(put.question, value) == name_of_it
    assert judged >= len(of_kind(name, "compare")) / 4, f"LAWS wants by which power a quantity goes with a control: {sorted(without)}"


def test_pitch_slots_and_angle_of_a_winding():
    """From the words of both stators alone."""
    for put in of_kind("laying-the-winding", "compare"):
        control, before, after, quantity = changed(put)
        if control != "stator":
            continue
        sizes = []
        for stator in (before, after):
            slots, poles = map(int, stator.split("-"))
            sizes.append(
                {"the electrical angle from slot to slot": 180 * poles / slots, "the slots per pole and phase": slots / poles / 3}.get(
                    quantity
                )
            )
        if None not in sizes:
            ratio = sizes[1] / sizes[0]
            assert put.question.answer == ("same" if math.isclose(ratio, 1) else "more" if ratio > 1 else "less")
