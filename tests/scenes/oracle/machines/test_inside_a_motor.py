"""The parts of a cage motor and of a slip-ring motor as they are shown, told and asked, against the tests' own list: which motor has
what, what each is for, and in which order a workshop takes them off (common practice, no source).

The motor: 11 kW, 1465 r/min, 400 V delta, 50 Hz, 4 poles; its circuit as in the scenes that start it.
"""

from __future__ import annotations

import math
from collections import Counter

import numpy as np
import pytest

from scenes import catalogue
from scenes.bench.prediction import setup_of
from scenes.scene.state import as_data, reached
from tests.scenes.oracle.states import states
from visual.machines.opened.motor import meshes

# by the name as it is told: (key of the solid, a word of what it is for that no other part's use has, what it is made of)
BOTH = {
    "shaft": ("shaft", "take the torque out", "steel"),
    "key": ("key", "coupling or pulley turn", "steel"),
    "bearing, drive end": ("drive-bearing", "belt or coupling", "steel"),
    "bearing, non-drive end": ("other-bearing", "turn freely at the end away from the load", "steel"),
    "end shield, drive end": ("drive-shield", "bearing next to the load", "iron"),
    "end shield, non-drive end": ("other-shield", "bearing away from the load", "iron"),
    "frame": ("frame", "stand on the floor", "iron"),
    "stator core": ("stator-core", "round outside the bore", "sheets"),
    "stator winding": ("stator-winding", "make the rotating field", "copper"),
    "terminal box": ("terminal-box", "supply cable", "iron"),
    "terminal board": ("terminal-board", "star or delta", "brass"),
    "terminal box cover": ("box-cover", "off live studs", "iron"),
    "external fan": ("fan", "blow cooling air", "plastic"),
    "fan cowl": ("cowl", "guide the cooling air", "sheet steel"),
    "nameplate": ("nameplate", "tell voltage", "steel"),
    "eye bolt": ("eye-bolt", "lifted", "steel"),
    "rotor core": ("rotor-core", "through what turns", "sheets"),
}
CAGE = {
    "rotor bars": ("bars", "without any connection to the outside", "aluminium"),
    "end rings": ("end-rings", "join the rotor's conductors at both ends", "aluminium"),
}
SLIP_RING = {
    "rotor winding": ("rotor-winding", "three phases", "copper"),
    "slip rings": ("slip-rings", "off what turns", "bronze"),
    "brushes": ("brushes", "resistors outside", "carbon"),
    "brush-holders": ("brush-holders", "springs", "brass"),
    "brush gear cover": ("brush-cover", "inspection", "steel"),
}
MOTORS = {"cage": BOTH | CAGE, "slip-ring": BOTH | SLIP_RING}
SHAPES = {motor: meshes(motor, 0.001) for motor in MOTORS}
# who must be out of the way before whom; a part that stands for several moves with them
BEFORE = {
    "cage": ("box-cover", "terminal-board", "cowl", "fan", "key", "drive-shield", "other-shield", "rotor-core", "frame"),
    "slip-ring": (
        "box-cover", "terminal-board", "brush-cover", "brushes", "brush-holders", "cowl", "fan", "key", "drive-shield", "other-shield",
        "rotor-core", "frame",
    ),
}  # fmt: skip
# nothing comes off that its neighbour still holds: disconnected first; the fan under the cowl and before the shield, brushes under their
# lid and on rings that the shield is drawn over, the key before the shield drawn over the shaft, both shields before the rotor
HELD_BY = {
    "fan": {"cowl"}, "cowl": {"box-cover"}, "key": {"box-cover"}, "drive-shield": {"key"}, "other-shield": {"fan", "brush-holders"},
    "brush-cover": {"box-cover"}, "brushes": {"brush-cover"}, "brush-holders": {"brushes"}, "rotor": {"drive-shield", "other-shield"},
    "bearing": {"rotor"}, "box-cover": set(),
}  # fmt: skip
WITH_ROTOR = ("shaft", "bars", "end-rings", "rotor-winding", "slip-rings", "drive-bearing", "other-bearing")
QUESTION = ("which", "place", "name", "job", "order", "motor")


def step_of(key: str) -> str:
    return "bearing" if "bearing" in key else "rotor" if key in (*WITH_ROTOR, "rotor-core") else key


def all_before(motor: str, step: str) -> set[str]:
    """All that has to be off before; what the motor has not holds nothing."""
    own = {each for each in HELD_BY[step] if motor == "slip-ring" or "brush" not in each}
    return own.union(*(all_before(motor, each) for each in own))


def drawn_parts(data) -> dict[str, tuple]:
    """Place, and 1 if it is lit, of each part that is drawn."""
    return {mark["words"].removeprefix("part: "): (mark["at"], mark["sign"]) for mark in data["marks"]}


def told(data, words: str):
    return next(each["value"] for each in data["readings"] if each["words"] == words)


def is_on(place, motor: str, key: str, moved) -> bool:
    """Whether a place is on the part, which has been moved so far."""
    points = SHAPES[motor][key].points + np.array(moved)
    return bool(np.all(place >= points.min(axis=0) - 0.004) and np.all(place <= points.max(axis=0) + 0.004))


def check_order(motor, places, share) -> None:
    """What comes later has not moved unless all before it has gone as far as it goes in its own step."""
    moved = [any(abs(part) > 1e-9 for part in places[key]) for key in BEFORE[motor]]
    assert moved == sorted(moved, reverse=True), (share, dict(zip(BEFORE[motor], moved, strict=True)))
    assert sum(moved) == 0 if share == 0 else sum(moved) >= 1
    assert all(moved) or share < 1
    assert places["stator-core"] == places["stator-winding"] == (0.0, 0.0, 0.0)
    if not moved[-2]:  # the rotor is still in: all that goes with it too
        assert all(places[key] == (0.0, 0.0, 0.0) for key in WITH_ROTOR if key in places)
    else:
        assert places["shaft"] == places["rotor-core"] and places["shaft"][2] > 0, "withdrawn toward the drive end"
        for key in ("bars", "end-rings", "rotor-winding", "slip-rings"):
            assert places.get(key, places["shaft"]) == places["shaft"]
    for key, along in (("cowl", -1), ("fan", -1), ("other-shield", -1), ("drive-shield", 1)):
        assert along * places[key][2] >= 0
    for key in ("box-cover", "terminal-board", "brush-cover", "brushes", "brush-holders", "key"):
        assert places.get(key, (0, 0, 0))[1] >= 0


def figure_of(name: str) -> tuple[float, str] | None:
    """Some of what can be reckoned, from the plate and the sizes of IEC 60072-1: shaft end 42 mm."""
    turns = 1465 / 60
    torque = 11000 / (2 * math.pi * turns)
    return {
        "shaft": (torque, "N m"),
        "key": (torque / 0.021, "N"),
        "bearing, drive end": (math.pi * 0.0725 * turns, "m/s"),
        "nameplate": (1465, "r/min"),
        "terminal board": (400, "V"),
        "stator core": (3, ""),
        "rotor winding": (50 * 35 / 1500, "Hz"),
        "slip rings": (math.pi * 0.090 * turns, "m/s"),
    }.get(name)


# what nothing covers while the motor is together
OUTSIDE = {
    "shaft",
    "key",
    "drive-shield",
    "other-shield",
    "frame",
    "terminal-box",
    "box-cover",
    "cowl",
    "nameplate",
    "eye-bolt",
    "brush-cover",
}


def check_inside(motor, key, settings, share, says, words) -> None:
    """A part that is lit and covered is said to be inside; one outside, or of a motor that is all apart, never is."""
    inside = "inside, and not to be seen until the motor is apart" in says
    assert inside == ("out of sight" in words)
    if share <= 0 or key in OUTSIDE or share >= 1:
        assert inside == (share <= 0 and key not in OUTSIDE), (motor, key, settings, share)


def test_what_is_drawn_lit_and_said_of_the_parts_is_true():
    met: Counter = Counter()
    for scene, data in states("inside-a-motor", 60.0, fixed=("slow",)):
        settings = data["settings"]
        motor, own = settings["motor"], MOTORS[settings["motor"]]
        parts = drawn_parts(data)
        assert set(parts) == {key for key, _, _ in own.values()}
        share = settings["apart"] / 100 if settings["by"] == "hand" else told(data, "taken apart") / 100
        assert told(data, "taken apart") == pytest.approx(100 * share, abs=0.51)
        check_order(motor, {key: at for key, (at, _) in parts.items()}, share if settings["by"] == "hand" else scene.now.share)
        lit = [key for key, (_, sign) in parts.items() if sign]
        if not 1 <= settings["part"] <= len(own):
            assert not lit and told(data, "part lit") == "none" and not data["letters"] and " lit" not in data["says"]
            met["none"] += 1
            continue
        name = told(data, "part lit")
        key, use, material = own[name]
        assert lit == [key]
        (letter,) = data["letters"]
        words = letter["text"].replace("\n", " ")
        assert words.startswith(f"{name} to ") and use in words
        assert is_on(np.array(letter["at"]), motor, key, parts[key][0]), "it points at the part"
        check_inside(motor, key, settings, share, data["says"], words)
        formulas = {each["words"]: each["formula"] for each in data["readings"]}
        assert use in formulas["part lit"] and material in formulas["made of"] and told(data, "made of") in formulas["made of"]
        owner = "the cage motor" if name in CAGE else "the slip-ring motor" if name in SLIP_RING else "both"
        assert told(data, "which motor has it") == owner
        assert f"{name} is lit" in data["says"] or f"{name} are lit" in data["says"]
        assert ("slip-ring" if motor == "slip-ring" else "cage") in data["says"] and use in data["says"]
        figure = figure_of(name)
        if figure:
            value, unit = figure
            found = [each["value"] for each in data["readings"] if each["unit"] == unit and isinstance(each["value"], float)]
            assert any(each == pytest.approx(value, rel=0.01) for each in found), name
            met["figure"] += 1
        met[motor] += 1
        met[settings["by"]] += 1
        check_question(motor, settings, data["question"], name)
    assert all(met[each] for each in ("none", "figure", "cage", "slip-ring", "hand", "itself")), met


def check_question(motor, settings, question, name) -> None:
    """The answer by the tests' own lists; no name of the part in a question that asks for it."""
    own, text = MOTORS[motor], question["text"]
    key, use, _ = own[name]
    by_key = {each: words for words, (each, _, _) in own.items()}
    asked, answer = settings["asked"], question["answer"]
    words = {choice["value"]: choice["words"] for choice in question["choices"]}
    assert len(set(words.values())) == len(words) >= 3
    if asked in ("which", "place", "name", "job"):
        assert answer == key
    if asked == "which":
        assert use in text and name not in text and words == {each: by_key[each] for each in words}
    if asked == "place":
        assert f"the {name}?" in text and all(by_key[each] not in said for each, said in words.items())
    if asked == "name":
        assert name not in text and words == {each: by_key[each] for each in words}
    if asked == "job":
        assert name not in text and all(own[by_key[each]][1] in said for each, said in words.items())
    if asked == "order":
        assert len(words) == 4 and words == {each: by_key[each] for each in words}
        assert all(step_of(answer) in all_before(motor, step_of(each)) for each in words if each != answer), (answer, words)
    if asked == "motor":
        assert use in text and answer == ("cage" if name in CAGE else "slip-ring" if name in SLIP_RING else "both")


def test_every_part_of_both_is_asked_of_in_every_way_and_nothing_gives_it_away():
    """While the question waits: no letter with the name, nothing lit unless it is asked what is lit, no reading of the part."""
    scene = next(iter(states("inside-a-motor", 0.0, count=1)))[0]
    for motor, own in MOTORS.items():
        for name, (key, use, _) in own.items():
            number = next(n for n in range(1, len(own) + 1) if lit_name(scene, motor, n) == name)
            for asked in QUESTION:
                scene.set_all({"motor": motor, "by": "hand", "apart": 100.0, "part": float(number), "asked": asked})
                reached(scene, 0.0, "side", reveals_answer=False)
                data = as_data(scene, 0.0, reveals_answer=False)
                check_question(motor, data["settings"], data["question"], name)
                lit = [each for each, (_, sign) in drawn_parts(data).items() if sign]
                assert lit == ([key] if asked in ("name", "job") else [])
                letters = {letter["text"]: letter["at"] for letter in data["letters"]}
                if asked == "place":
                    check_letters(letters, data, key)
                else:
                    assert not letters
                open_readings = [each for each in scene.readings(False) if not each.tells]
                assert not any(name in each.value or use in each.value for each in open_readings)
                assert not any(figure.symbol for figure in scene.readings(False))
                names = {pick.words for pick in scene.picks_now(False)}
                assert names <= {"part", *(f"part {letter}" for letter in "ABCDE")}


def check_letters(letters, data, key) -> None:
    """Each of the five letters stands nearest to the part of its choice, and the right part has one."""
    assert sorted(letters) == list("ABCDE")
    by_letter = {choice["words"][0]: choice["value"] for choice in data["question"]["choices"]}
    assert by_letter.keys() == letters.keys() and key in by_letter.values()
    parts = drawn_parts(data)
    for letter, at in letters.items():
        assert is_on(at, data["settings"]["motor"], by_letter[letter], parts[by_letter[letter]][0])


def lit_name(scene, motor: str, number: int) -> str:
    scene.set_all({"motor": motor, "part": float(number)})
    return next(each.value for each in scene.readings() if each.words == "part lit")


def test_questions_drawn_at_random_ask_of_both_motors_in_every_way():
    scene = catalogue.scene_class("inside-a-motor")()
    met: Counter = Counter()
    for seed in range(1, 121):
        scene.set_all(setup_of(scene, seed))
        check_question(scene["motor"], scene.settings, described(scene.question()), lit_name(scene, scene["motor"], int(scene["part"])))
        met.update((scene["motor"], scene["asked"], scene.question().answer if scene["asked"] == "motor" else ""))
    assert all(met[each] >= 8 for each in (*MOTORS, *QUESTION)) and min(met["both"], met["slip-ring"], met["cage"]) > 0


def described(question) -> dict:
    choices = [{"value": value, "words": words} for value, words in question.choices]
    return {"text": question.text, "answer": question.answer, "choices": choices}
