"""The commutator machine as it is shown and said, against the tests' own cross products, hand and commutator.

The oracle's commutator: A1 stands at the left, A2 at the right (seen from the drive end); a segment under a brush has its
potential. Its rule for the marking: a permanent-magnet machine with + on A1 and its field as marked turns clockwise,
looking at the drive end (IEC 60034-8, from memory).
"""

from __future__ import annotations

import math
import random
import re

import pytest

from scenes.scene.state import as_data, reached
from tests.oracle import cross, dot, emf_in, fits_hand, force_on, in_a_loop, loose_ends, seen, size, turning, unit
from tests.scenes.oracle.states import COUNT, reading, states, view_of

RADIUS, LENGTH, TURNS, NEAR, MARK = 0.040, 0.080, 60, 0.030, 0.0115
FIRST = math.radians(12)
APART = {"1": 0.0, "2": math.pi / 2, "3": 2 * math.pi / 3}  # rad between coils: two stand at right angles
DOTS = ("dot toward the drive end", "cross toward the drive end")


def side_angles(angle: float, coils: str) -> dict[str, float]:
    """Where the coil sides are, the second side of each coil opposite the first."""
    names = [f"{coil + 1}{side}" for coil in range(int(coils)) for side in "ab"]
    return {name: angle + APART[coils] * (int(name[0]) - 1) + (math.pi if name[1] == "b" else 0.0) for name in names}


def side_shown(data: dict, angles: dict[str, float]) -> str:
    """The one set, or, where that is none of this machine's, the one nearest to the N pole."""
    settings = data["settings"]
    if settings["side"] in angles:
        return settings["side"]
    north = (-1 if settings["field"] >= 0 else 1, 0, 0)
    return max(angles, key=lambda each: dot(place_of(angles[each]), north))


def check_name(data: dict, angle: float) -> None:
    """Only the side that is shown has its name, and it stands there."""
    angles = side_angles(angle, data["settings"]["coils"])
    ((name, at),) = [(each["text"], each["at"]) for each in data["letters"] if re.fullmatch("[123][ab]", each["text"])]
    assert name == side_shown(data, angles)
    assert abs(math.remainder(math.atan2(at[1], at[0]) - angles[name], 2 * math.pi)) < 1e-3


def place_of(angle: float):
    return RADIUS * math.cos(angle), RADIUS * math.sin(angle), 0.0


def vectors(data: dict, letter: str) -> list[tuple]:
    return [(arrow["at"], arrow["vector"], arrow["unit"]) for arrow in data["arrows"] if arrow["letter"] == letter]


def the(data: dict, words: str) -> dict:
    return next(each for each in data["readings"] if words in each["words"])


def polarity(data: dict) -> int:
    """+1 where A1 is marked +, -1 where it is marked -, 0 where neither is."""
    texts = [each["text"] for each in data["letters"]]
    first = next(text for text in texts if text.startswith("A1"))
    second = next(text for text in texts if text.startswith("A2"))
    signs = {"A1 +": 1, "A1 \N{MINUS SIGN}": -1, "A1": 0}[first], {"A2 +": 1, "A2 \N{MINUS SIGN}": -1, "A2": 0}[second]
    assert signs[0] == -signs[1]
    return signs[0]


def check_magnets(data: dict) -> None:
    """N where the field comes from; flux lines from N to S."""
    field = data["settings"]["field"]
    poles = {each["text"]: each["at"] for each in data["letters"] if each["text"] in ("N", "S")}
    lines = [needle["vector"] for needle in data["needles"] if needle["words"].startswith("flux")]
    assert bool(field) == bool(poles) == bool(lines)
    if field:
        assert poles["N"][0] * field < 0 < poles["S"][0] * field
        assert lines[0][0] * field > 0


def check_sides(data: dict, angle: float, speed: float) -> tuple[float, dict, dict]:
    """Dots and crosses, forces and EMFs at each side; the torque of the drawn forces, currents' signs, EMFs."""
    settings, angles = data["settings"], side_angles(angle, data["settings"]["coils"])
    signs, forces, emfs = {}, {}, {}
    for mark in data["marks"]:
        if mark["words"] in DOTS:
            name = min(angles, key=lambda each: math.dist(mark["at"], place_of(angles[each])))
            assert math.dist(mark["at"], place_of(angles[name])) < 1e-3 and name not in signs
            assert mark["sign"] == (1 if mark["words"] == DOTS[0] else -1)
            signs[name] = mark["sign"]
    for at, vector, unit_of in vectors(data, "F"):
        assert unit_of == "N" and abs(vector[2]) < 1e-12
        foot = tuple(a - MARK * u for a, u in zip(at, unit(vector), strict=True))  # it starts at the rim of the mark
        name = min(angles, key=lambda each: math.dist(foot[:2], place_of(angles[each])[:2]))
        assert math.dist(foot[:2], place_of(angles[name])[:2]) < 1e-3
        forces[name] = vector
    for at, vector, unit_of in vectors(data, "e"):
        assert unit_of == "V"
        name = min(angles, key=lambda each: math.dist(at[:2], place_of(angles[each])[:2]))
        emfs[name] = vector[2]
    for name, sign in signs.items():
        place = place_of(angles[name])
        if name in forces:
            # F = N i l x B: the field there has its part to the right or left, as the magnets stand, wherever one is near them
            pushed = force_on((0, 0, sign), (settings["field"], 0, 0))
            assert dot(pushed, forces[name]) > 0, (settings, name)
        other = name[0] + ("b" if name[1] == "a" else "a")
        assert signs.get(other) == -sign, "what flows along one side comes back along the other"
        assert size(place) > 0
    for name, emf in emfs.items():
        motion = cross((0, 0, speed), place_of(angles[name]))
        generated = emf_in(motion, (settings["field"], 0, 0))[2]
        assert generated * emf >= 0, (settings, name, emf)
    for needle in data["needles"]:
        if needle["words"].startswith("flow in coil"):
            name = f"{needle['words'][-1]}a"
            assert math.dist(needle["at"], place_of(angles[name])) < 1e-3
            assert needle["vector"][2] * signs[name] > 0.999, "what rides on the coil goes as its dots and crosses say"
    flowing = {needle["words"][-1] for needle in data["needles"] if needle["words"].startswith("flow in coil")}
    assert {name[0] for name in signs} <= flowing, "a current that has a dot has its marks on the coil"
    torque = sum(cross(place_of(angles[name]), force)[2] for name, force in forces.items())
    return torque, signs, emfs


def check_words(data: dict, forward, speed: float, torque: float) -> None:
    side = -1 if forward[2] > 0 else 1
    end = "the drive end" if side > 0 else "the non-drive end"
    direction = turning(speed, side)
    words = the(data, "speed")["words"]
    if speed:
        assert words == f"speed: {direction}, looking at {end}"
        assert f"turns {direction}, looking at {end}, at {abs(speed) * 60 / 2 / math.pi:.0f} r/min" in data["says"]
    else:
        assert "at standstill" in words and "at standstill" in data["says"]
    assert reading(data, "T") == pytest.approx(-torque * 1000, abs=1.0 + 0.005 * abs(torque) * 1000)
    volts, emf, current = reading(data, "U"), reading(data, "E"), reading(data, "I")
    if data["settings"]["mode"] == "battery":
        battery = data["settings"]["battery"]
        assert volts == pytest.approx(battery - 0.1 * current, abs=0.02)  # 0.1 ohm in the battery
        assert current * (battery - emf) >= -0.02 * abs(battery - emf)
        assert f"back-EMF {abs(emf):.1f} V" in data["says"] or abs(abs(emf) * 10 % 1 - 0.5) < 0.06
        if battery:
            assert f"Fed with {abs(battery):.1f} V, + on brush {'A1' if battery > 0 else 'A2'}," in data["says"]
        return
    if data["settings"]["load"] == "lamp":
        assert current * volts >= 0, "what is lit gets its current out of the positive brush"
        assert reading(data, "P₂") == pytest.approx(volts * current, abs=0.01 + 0.01 * abs(volts + current))
    else:
        assert current == 0
    assert reading(data, "P") == pytest.approx(-torque * speed, abs=0.01 + 0.01 * abs(speed) * 0.2)
    if abs(volts) > 0.06:
        assert f"is {abs(volts):.1f} V {'above' if volts > 0 else 'below'} A2" in data["says"] or abs(abs(volts) * 10 % 1 - 0.5) < 0.06
        assert emf * volts > 0


def check_hand(data: dict, angle: float, forward, speed: float, signs: dict, emfs: dict) -> int:
    """The hand is the right one, held as its own cross product says, and tied to the side that is pointed out."""
    settings, hand = data["settings"], data["hand"]
    if not hand:
        return 0
    by_hand, angles = settings["mode"] == "hand", side_angles(angle, settings["coils"])
    assert hand["which"] == ("right" if by_hand else "left")
    assert fits_hand(hand["which"], hand["thumb"], hand["first"], hand["second"])
    name = side_shown(data, angles)
    place = place_of(angles[name])
    assert math.dist(hand["on"][:2], place[:2]) < 1e-3 and abs(hand["on"][2]) < LENGTH / 2 + NEAR + 1e-3
    ((at, field, unit_of),) = vectors(data, "B")
    assert unit_of == "T" and math.dist(at[:2], place[:2]) < 1e-3
    assert field[0] * settings["field"] > 0 and size(field) * 1000 < abs(settings["field"]) * 1.01
    assert dot(hand["first"], unit(field)) > 0.999
    assert f"side {name}" in the(data, "force on")["words"] and f"side {name}" in the(data, "EMF in")["words"]
    if by_hand:
        ((_, motion, unit_of),) = vectors(data, "v")
        assert unit_of == "m/s" and motion == pytest.approx(cross((0, 0, speed), place), abs=1e-3)
        assert dot(hand["thumb"], motion) > 0
        assert hand["second"][2] * emf_in(motion, field)[2] > 0
        assert hand["second"][2] * reading(data, "e") > 0 and hand["second"][2] * emfs[name] > 0
    else:
        assert hand["second"][2] * signs[name] > 0.999
        assert dot(hand["thumb"], force_on((0, 0, signs[name]), field)) > 0
    if settings["side"] == "n-pole" and not by_hand and settings["collector"] == "commutator":
        # the current at the N pole keeps its direction: the reason's words are those of the hand at any instant
        up = (0.0, 1.0, 0.0)
        pushed = force_on((0, 0, signs[name]), (settings["field"], 0, 0))
        assert f"thumb then points {seen(pushed, forward, up)} (force)" in data["question"]["reason"]
        assert f"second finger {seen((0, 0, signs[name]), forward, up)} (current)" in data["question"]["reason"]
    return 1


def check_wiring(data: dict) -> None:
    settings, leads = data["settings"], data["leads"]
    assert not loose_ends(leads)
    things = {lead["through"] for lead in leads}
    assert in_a_loop(leads, "armature")
    if settings["mode"] == "battery":
        assert things == {"", "armature", "battery", "ammeter"}
        without = [lead for lead in leads if lead["through"] != "ammeter"]
        assert in_a_loop(leads, "battery") and not in_a_loop(without, "battery"), "the ammeter is in series"
        joined = {frozenset((lead["from"], lead["to"])) for lead in leads if not lead["through"]}
        plus = "battery +" if settings["battery"] > 0 else "battery \N{MINUS SIGN}"
        assert frozenset((plus, "brush A1")) in joined or not settings["battery"]
        assert frozenset(("ammeter +", "brush A2")) in joined, "what comes out of the machine goes in at the ammeter's plus"
    else:
        assert things == {"", "armature", "voltmeter"} | ({"lamp"} if settings["load"] == "lamp" else set())
        joined = {frozenset((lead["from"], lead["to"])) for lead in leads if not lead["through"]}
        assert {frozenset(("voltmeter +", "brush A1")), frozenset(("voltmeter \N{MINUS SIGN}", "brush A2"))} <= joined
        if settings["load"] == "lamp":
            without = [lead for lead in leads if lead["through"] != "voltmeter"]
            assert in_a_loop(without, "lamp"), "the lamp does not need the voltmeter"


def check_brushes(data: dict, angle: float, forward) -> None:
    """Signs at the brushes, needle, and the colours of the segments under them."""
    settings, volts = data["settings"], reading(data, "U")
    if abs(volts) > 0.01:
        assert polarity(data) == (1 if volts > 0 else -1)
    shown = volts if settings["mode"] == "hand" else reading(data, "I")
    (needle,) = [each["vector"] for each in data["needles"] if each["words"].startswith("meter")]  # one face is toward the eye
    if abs(shown) > 0.05:
        assert needle[0] * shown * (-1 if forward[2] > 0 else 1) > 0, "a positive value lies to the right of the middle"
    for mark in data["marks"]:
        told = re.fullmatch(r"segment (\d): (\w+) potential", mark["words"])
        if told and abs(volts) > 0.2:
            from_a1 = math.degrees(abs(math.remainder(math.atan2(mark["at"][1], mark["at"][0]) - math.pi, 2 * math.pi)))
            if from_a1 < 25 or from_a1 > 155:  # wholly under one brush
                assert told[2] == ("high" if (from_a1 < 25) == (volts > 0) else "low"), (settings, mark)
    commutating = the(data, "commutating")["value"]
    tinted = {mark["words"][5] for mark in data["marks"] if mark["words"].endswith("commutating")}
    assert tinted == set(re.findall(r"coil (\d)", commutating))
    if settings["collector"] == "slip-rings":
        assert commutating == "nothing: slip rings" and not tinted
    else:
        # a brush of 24 degrees lies on both sides of an insulation of 5 while this is within 9.5 degrees of the brush's middle,
        # and then the coil's sides are as near to the neutral axis
        from_neutral = {
            name[0]: math.degrees(math.asin(abs(math.cos(at)))) for name, at in side_angles(angle, settings["coils"]).items() if "a" in name
        }
        if settings["coils"] == "3":
            for coil, off in from_neutral.items():
                assert abs(off - 9.5) < 0.1 or (coil in tinted) == (off < 9.5), (coil, off)
        elif settings["coils"] == "2":
            # the brush lies on two segments within as much of the place half way between the two coils' own
            off = abs(from_neutral["1"] - 45)
            assert abs(off - 9.5) < 0.1 or commutating.startswith("both coils") == (off < 9.5)
        else:
            # the gap of 28 degrees is wider than the brush of 24 by 2 on each side
            assert abs(from_neutral["1"] - 2) < 0.1 or ("gaps" in commutating) == (from_neutral["1"] < 2)


def check_question(data: dict, forward) -> None:
    settings, question = data["settings"], data["question"]
    side = -1 if forward[2] > 0 else 1
    end = "the drive end" if side > 0 else "the non-drive end"
    field, words = settings["field"], dict((each["value"], each["words"]) for each in question["choices"])
    if field:
        points = seen((field, 0, 0), forward)
        north = {"to the right": "on the left", "to the left": "on the right"}[points]
        assert f"Looking at {end}, the N pole is {north} and the field goes {points}" in question["text"]
    if settings["mode"] == "battery":
        assert words["clockwise"] == turning(-1, side) and words["counter-clockwise"] == turning(1, side)
        drive = settings["battery"] * field
        if not drive or settings["collector"] == "slip-rings":
            assert question["answer"] == "none"
        elif question["answer"] != "none":
            assert question["answer"] == ("clockwise" if drive > 0 else "counter-clockwise")
            assert f"Looking at {end} the machine is driven {turning(-drive, side)}." in question["reason"]
        else:
            # brake and bearings hold it; without a brake only where field and battery are next to nothing
            assert settings["brake"] > 0 or abs(drive) < 300
            assert f"{settings['brake'] * 1000 + 3:.0f} mN m" in question["reason"]
        if settings["battery"]:
            assert f"+ of the battery is on brush {'A1' if settings['battery'] > 0 else 'A2'}" in question["text"]
    else:
        drive = settings["crank"] * field  # clockwise, field as marked: A1 is where the current leaves the machine
        # own reasoning: driven clockwise, the machine's EMF is what opposes a motor's current into A1: A1 is positive
        right = "neither" if not drive else "changes" if settings["collector"] == "slip-rings" else "A1" if drive > 0 else "A2"
        assert question["answer"] == right
        if settings["crank"]:
            assert f"cranked {turning(-settings['crank'], side)}, looking at {end}" in question["text"]


def test_what_is_drawn_and_said_of_the_machine_is_true():
    hands = 0
    for scene, data in states("coils-and-commutator", 0.4):
        forward, up = view_of(scene)
        speed, angle = scene.state.speed, scene.state.angle
        if scene.view != "commutator":
            check_name(data, angle)
        settings = data["settings"]
        if settings["mode"] == "hand":
            assert speed == pytest.approx(-settings["crank"] * 2 * math.pi / 60)
            assert angle == pytest.approx(FIRST + speed * data["time"], abs=1e-6)
        check_magnets(data)
        torque, signs, emfs = check_sides(data, angle, speed)
        check_words(data, forward, speed, torque)
        hands += check_hand(data, angle, forward, speed, signs, emfs)
        check_brushes(data, angle, forward)
        check_wiring(data)
        check_question(data, forward)
    assert hands > COUNT / 8


def test_while_a_question_waits_nothing_gives_its_answer_away():
    """What is drawn and read of two set-ups that differ only in what decides the answer is the same but for what is given."""
    scene = next(iter(states("coils-and-commutator", 0.0, count=1)))[0]
    dice = random.Random(4)
    for _ in range(12):
        scene.set_all(
            {
                "mode": dice.choice(("battery", "hand")),
                "battery": 3.0,
                "crank": 120.0,
                "load": "lamp",
                "field": 200.0,
                "brake": 0.0,
                "collector": dice.choice(("commutator", "slip-rings")),
                "coils": dice.choice("123"),
                "side": dice.choice(("n-pole", "1a", "2b")),
            }
        )
        reached(scene, 0.0, dice.choice(scene.views).name, reveals_answer=False)
        data, readings = as_data(scene, 0.0, reveals_answer=False), scene.readings(reveals_answer=False)
        by_hand = scene["mode"] == "hand"
        assert data["hand"] is None and not vectors(data, "F") and not vectors(data, "e")
        assert not any("potential" in mark["words"] or "glows" in mark["words"] for mark in data["marks"])
        needle = next(each["vector"] for each in data["needles"] if each["words"].startswith("meter"))
        assert abs(needle[0]) < 1e-9
        assert polarity(data) == (0 if by_hand else 1)
        if by_hand:
            assert not any(mark["words"] in DOTS for mark in data["marks"])
            assert not any(each["words"].startswith("flow") for each in data["needles"])
        open_to_see = [each for each in readings if not each.tells]
        assert not any("clockwise" in each.words for each in open_to_see if not by_hand)
        # with the other polarity what may be seen reads the same
        scene.set_all({"field": -200.0})
        turned = [each for each in reached(scene, 0.0).readings(reveals_answer=False) if not each.tells]
        assert [(each.words, each.value, each.formula) for each in turned] == [
            (each.words, each.value, each.formula) for each in open_to_see
        ]
        assert scene.chart_point()[1:] != [] and len(scene.chart_point()) == 6


def test_fixed_texts_name_things_and_no_direction_of_one_view():
    scene = next(iter(states("coils-and-commutator", 0.0, count=1)))[0]
    said = (
        [control.words for control in scene.controls]
        + [key.words for key in scene.arrows]
        + [scene.title, scene.principle, scene.narration]
    )
    said += [each.words for each in scene.readings()] + list(scene.leaves_out)
    for words in said:
        assert not re.search(r"toward you|away from you|to the (left|right)|seen from here", words), words
        assert "clockwise" not in words or "looking at" in words, words
    assert len(scene.leaves_out) >= 4
