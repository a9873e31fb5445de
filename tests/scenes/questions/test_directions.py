"""Directions asked for, forward and back, and reasons by hands, against the tests' own cross products and the settings alone."""

from __future__ import annotations

import itertools
import math
import re

import pytest

from scenes import catalogue
from scenes.questions.mistakes import mistake_in, told_against
from tests import oracle
from tests.scenes.questions.drawn import of_kind, scene

DIRECTIONS = [each for each in itertools.product((-1.0, 0.0, 1.0), repeat=3) if any(each)]
AXES = {"across": (1.0, 0.0, 0.0), "along-field": (0.0, 1.0, 0.0), "along-rod": (0.0, 0.0, 1.0)}
AT = {"right": (1.0, 0, 0), "front": (0, 0, 1.0), "left": (-1.0, 0, 0), "back": (0, 0, -1.0)}


def sign(value: float) -> float:
    return (value > 0) - (value < 0)


def times(factor: float, vector) -> tuple[float, ...]:
    return tuple(factor * part for part in vector)


def field_of(settings: dict) -> tuple[float, ...]:
    return (0.0, 1.0 if settings["field"] == "up" else -1.0, 0.0)


def pushed(settings: dict) -> tuple[float, ...]:
    """The force on the rod, whose marked end is raised by the tilt."""
    tilt = math.radians(settings["tilt"])
    current = times(sign(settings["current"]) * settings["switch"], (0.0, round(math.sin(tilt), 9), round(math.cos(tilt), 9)))
    return oracle.force_on(current, field_of(settings))


def driven(settings: dict) -> tuple[float, ...]:
    """The EMF along the rod: by hand it goes from the other side of the middle to where the hand is; else it sets out the positive way."""
    sense = sign(settings["place"]) if settings["motion"] == "hand" else 1.0
    emf = oracle.emf_in(times(sense, AXES[settings["way"]]), field_of(settings))
    return (0.0, 0.0, emf[2])


def round_the_wire(settings: dict) -> tuple[float, ...]:
    """B goes with I x r."""
    return oracle.cross((0.0, sign(settings["current"]) * settings["switch"], 0.0), AT[settings["compass"]])


def on_the_wire(settings: dict) -> tuple[float, ...]:
    side = {"left": -1.0, "right": 1.0}
    own, other = ("current", "other") if settings["wire"] == "left" else ("other", "current")
    field = oracle.cross((0.0, 0.0, sign(settings[other]) * settings["switch"]), (side[settings["wire"]], 0.0, 0.0))
    return oracle.force_on((0.0, 0.0, sign(settings[own])), field)


def words(put_scene: str, vector) -> str:
    """As seen in the scene's first view."""
    view = scene(put_scene).views[0]
    return oracle.seen(vector, view.forward, view.up) if any(vector) else "nowhere"


# of each scene on a conductor, from its settings alone: the vector whose direction is its answer
RESULT = {"pushed-conductor": pushed, "moved-conductor": driven, "field-round-a-wire": round_the_wire, "two-wires": on_the_wire}
BACK = [
    ("pushed-conductor", "current", "current"),
    ("pushed-conductor", "poles", "field"),
    ("moved-conductor", "motion", "place"),
    ("moved-conductor", "poles", "field"),
    ("field-round-a-wire", "current", "current"),
    ("field-round-a-wire", "place", "compass"),
]
# of each scene that has set-ups in which nothing happens: how the answer says so, and what overlooks whoever names a direction
NOTHING = {
    "pushed-conductor": ("it is not pushed", "along the field taken for across"),
    "moved-conductor": ("there is no voltage", "along the field taken for across"),
}
# by which of Fleming's rules a scene's reasons go: what is shown beside its first finger, "second" of the left hand, "thumb" of the right
FLEMING = {"pushed-conductor": "second", "moved-conductor": "thumb", "cage-rotor": "thumb", "coils-and-commutator": "thumb"}


def test_every_scene_on_a_conductor_has_its_answer_worked_out_here():
    on_conductors = [each for each in catalogue.LESSON if each.__module__.startswith("scenes.conductors.")]
    without = {each.name for each in on_conductors} - set(RESULT)
    assert not without, f"RESULT in test_directions.py wants {without}: the vector whose direction is its answer, from the settings alone"
    backward = {(each.name, kind.name) for each in on_conductors for kind in each.kinds if kind.hides} - {("two-wires", "current")}
    without = backward - {case[:2] for case in BACK}
    assert not without, f"BACK in test_directions.py wants {without}: with the control that is asked for"


@pytest.mark.parametrize("name", RESULT)
def test_forward_the_answer_is_that_of_the_cross_product(name):
    for put in of_kind(name, "forward"):
        right = words(name, RESULT[name](put.settings))
        said, mistake = right, ""
        if right == "nowhere":
            assert name in NOTHING, f"NOTHING in test_directions.py wants {name!r}: how its answer says so, and the mistake of any other"
            said, mistake = NOTHING[name]
        assert put.question.words_of(put.question.answer) == said, put.question.text
        if right == "nowhere":
            overlooked = 0 if "No current" in put.question.text else len(put.question.choices) - 1
            assert len(put.question.mistakes) == overlooked, put.question.text
        for value, mistakes in put.question.mistakes:
            given = put.question.words_of(value)
            backwards = words(name, times(-1.0, RESULT[name](put.settings)))
            if right == "nowhere":
                assert mistakes == (mistake,), put.question.text
                continue
            assert ("along instead of across" in mistakes) or given == backwards, (put.question.text, mistakes)
            # every hand, finger or flow that is mistaken turns it round, so none of them can be told by itself
            assert len(mistakes) == 1 or mistake_in(put.question, value) is None


@pytest.mark.parametrize(("name", "kind", "control"), BACK)
def test_backward_only_the_answer_gives_what_is_told(name, kind, control):
    for put in of_kind(name, kind):
        told = words(name, RESULT[name](put.settings))
        assert f" {told}" in put.question.text
        values = {value for value, _ in put.question.choices}
        kind_of_value = type(put.settings[control])
        gives = {value: words(name, RESULT[name](put.settings | {control: kind_of_value(value)})) for value in values}
        assert [value for value in values if gives[value] == told] == [put.question.answer], put.question.text


def test_two_wires_attract_when_their_currents_flow_the_same_way():
    for put in of_kind("two-wires", "current"):
        attract = "attract" in put.question.text
        for value, _ in put.question.choices:
            assert (sign(float(value)) == sign(put.settings["current"])) is (attract == (value == put.question.answer))
            if value != put.question.answer:
                assert mistake_in(put.question, value) == "wires taken for poles"


def next_phase(settings: dict) -> str:
    """The coils follow each other clockwise looking at the drive end, where a positive speed is clockwise too."""
    return "V" if settings["speed"] > 0 else "W"


def test_which_phase_peaks_next_and_which_way_the_magnet_turns():
    for put in of_kind("alternator", "forward"):
        assert put.question.answer == next_phase(put.settings)
        (wrong,) = [value for value, _ in put.question.choices if value != put.question.answer]
        assert "seen from the other end" in put.question.may_be(wrong)
        assert ("phase order left out" in put.question.may_be(wrong)) is (wrong == "V")
    for put in of_kind("alternator", "direction"):
        assert f"and {next_phase(put.settings)} peaks next" in put.question.text
        side = -1.0 if "non-drive end" in put.question.text else 1.0
        assert put.question.words_of(put.question.answer) == oracle.turning(-put.settings["speed"], side)


def test_the_field_rotates_by_the_order_of_the_lines():
    for put in of_kind("turning-field", "forward"):
        side = -1.0 if "non-drive end" in put.question.text else 1.0
        clockwise = put.settings["lines"] in ("L1-L2-L3", "L2-L3-L1", "L3-L1-L2")
        assert put.question.answer == oracle.turning(-1.0 if clockwise else 1.0, side)
    for put in of_kind("turning-field", "lines"):
        said = put.question.words_of(put.question.answer)
        assert said == ("in their order" if put.settings["lines"] == "L1-L2-L3" else "two of them exchanged")


POLES = [("alternator", 60.0), ("turning-field", 1 / 60), ("slip-and-speed", None), ("changing-speed", 1 / 60)]


@pytest.mark.parametrize(("name", "_"), POLES)
def test_the_number_of_poles_is_the_one_that_gives_the_speed(name, _):
    for put in of_kind(name, "poles"):
        numbers = put.numbers
        rpm, hertz = numbers[:2] if name == "alternator" else numbers[1::-1]
        fits = {}
        for _, said in put.question.choices:
            poles = int(said.split()[0])
            field = 120 * hertz / poles
            fits[said] = field if name != "slip-and-speed" else field if field >= rpm else float("inf")
        # of a motor that slips, the nearest speed above its own
        nearest = min(fits, key=lambda said: abs(fits[said] - rpm))
        assert put.question.words_of(put.question.answer) == nearest, put.question.text
        for value, mistakes in put.question.mistakes:
            assert mistakes == ("poles for pole pairs",)
            assert int(put.question.words_of(value).split()[0]) * 2 == int(nearest.split()[0])


HELD = re.compile(r"(left|right) hand, (first finger) (.+), (second finger|thumb) (.+)")
ASKED = re.compile(
    r"First finger along the field, (second finger|thumb) along (?:the|the part of the) (current|motion)( across it)?: "
    r"which hand, held how, shows with its (thumb|second finger) the way (.+)\?"
)


def given_in(text: str, vector: dict) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Field, and current or motion, as the question's words give them; `vector`: directions by their words, as they are seen."""
    if cranked := re.search(r"the N pole is (.+?)\. The machine is cranked (\S+)\.", text):
        north = vector[cranked[1].replace("on the", "to the")]  # from the shaft; the field goes from N across the shaft to S
        toward = vector["toward you"] if cranked[2] == "counter-clockwise" else vector["away from you"]
        return times(-1.0, north), oracle.cross(toward, north)
    field = re.search(r"field (?:points|stands still,) (.+?)(?: at bar \d+)?[,.]", text)[1]
    given = vector[re.search(r"(?:current flows|rod moves|bar moves) (.+?)[,.]", text)[1]]
    if raised := re.search(r"marked end (\d+)° (above|below) level", text):  # the marked end is toward whoever looks at the front
        angle = math.radians(float(raised[1])) * (1 if raised[2] == "above" else -1)
        along = (0.0, math.sin(angle), math.cos(angle))
        given = times(sign(oracle.dot(along, given)), along)
    return vector[field], given


def fingers_of(held: re.Match, vector: dict) -> dict[str, tuple[float, ...]]:
    """Along what the fingers of a hand lie, the third as such a hand has it: second finger = thumb x first in a right one."""
    side, _, first, finger, along = held.groups()
    found = {"first finger": vector[first], finger: vector[along]}
    turn = 1.0 if side == "right" else -1.0
    if finger == "thumb":
        found["second finger"] = times(turn, oracle.cross(found["thumb"], found["first finger"]))
    else:
        found["thumb"] = times(turn, oracle.cross(found["first finger"], found["second finger"]))
    return found


def alike(one, other) -> bool:
    return oracle.size(oracle.cross(one, other)) < 1e-9 and oracle.dot(one, other) > 0


@pytest.mark.parametrize("name", FLEMING)
def test_of_hands_just_one_is_as_the_question_wants_it_and_against_each_other_what_is_told_is_so(name):
    """Each choice's hand is built from its words, and held against the words of the question and against F = I x B or E = v x B."""
    for put in of_kind(name, "why"):
        views = scene(name).views
        view = next((each for each in views if each.name == "other-end"), views[0]) if "non-drive end" in put.question.text else views[0]
        vector = {oracle.seen(each, view.forward, view.up): each for each in DIRECTIONS}
        text = put.question.text
        field, given = given_in(text, vector)
        finger, what, part, answers, of = ASKED.search(text).groups()
        field = oracle.unit(field)
        along_it = oracle.dot(given, field)
        across = tuple(g - along_it * f for g, f in zip(given, field, strict=True))
        assert bool(part) is (oracle.seen(given, view.forward, view.up) != oracle.seen(across, view.forward, view.up)), text
        shows = oracle.force_on(given, field) if what == "current" else oracle.emf_in(given, field)
        assert ("pushed" in of) is (what == "current") and finger != answers
        fit = []
        for value, said in put.question.choices:
            fingers = fingers_of(HELD.fullmatch(said), vector)
            ok = alike(fingers["first finger"], field), alike(fingers[finger], across), alike(fingers[answers], shows)
            fit += [value] if all(ok) else []
            of_the_other_hand = HELD.fullmatch(said)[1] != {"second finger": "left", "thumb": "right"}[finger]
            mistake, against = mistake_in(put.question, value), told_against(put.question, value)
            if all(ok):
                assert not mistake and not against
                continue
            assert against, (text, said)
            if mistake != "other hand":
                assert {"current": "motion", "motion": "current"}[what] not in against, "that is of the other rule"
            if claims := re.search(r"Its (.+) does point that way, but its (.+) points against the (.+)\.", against):
                assert claims.groups() == (answers, finger, what) and ok[2] and alike(fingers[finger], times(-1.0, across)), (text, said)
            assert bool(claims) is ok[2], (text, said, "it shows the true way, and that must be said")
            exchanged = alike(fingers["first finger"], across) and alike(fingers[finger], field)
            if exchanged:
                assert f"first finger lies along the {what}, the {finger} along the field" in against
            assert mistake == (
                None if claims else "other hand" if of_the_other_hand else "fingers exchanged" if exchanged else "electron flow"
            )
        assert fit == [put.question.answer], (text, fit)
