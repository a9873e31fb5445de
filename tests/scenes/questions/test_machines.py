"""What is asked of machines and drives and does not come from the scene's own question alone: asked back, pointed at, or drawn.

Each is worked out again here, from the question's words and the settings, by rules written down in this file or by the oracle of its scene.
"""

from __future__ import annotations

import math
import re

import pytest

from scenes.questions.mistakes import mistake_in
from tests import oracle
from tests.scenes.oracle.drives import test_braking as braking_oracle
from tests.scenes.oracle.drives import test_one_phase as one_phase_oracle
from tests.scenes.oracle.drives import test_synchronous_motor as synchronous_oracle
from tests.scenes.oracle.machines import test_inside_a_motor as parts_oracle
from tests.scenes.oracle.machines import winder
from tests.scenes.questions.drawn import Put, of_kind, scene

HANDS = {"other hand", "fingers exchanged"}


def side_of(text: str) -> float:
    """+1 looking at the drive end."""
    return -1.0 if "non-drive end" in text else 1.0


def sense(word: str, side: float) -> float:
    """A rotation as it is seen, counter-clockwise positive looking at the drive end."""
    return (1.0 if word == "counter-clockwise" else -1.0) * side


def the_other(question) -> str:
    (other,) = [value for value, _ in question.choices if value != question.answer]
    return other


def test_the_bars_are_pushed_with_the_field_unless_they_go_with_it_or_faster():
    for put in of_kind("cage-rotor", "forward"):
        text, question, side = put.question.text, put.question, side_of(put.question.text)
        field = sense(re.search(r"the field turns (counter-clockwise|clockwise)", text)[1], side)
        driven = re.search(r"is driven (counter-clockwise|clockwise) at (\d+) % of the field's speed", text)
        rotor = field * sense(driven[1], side) * float(driven[2]) / 100 if driven else 0.0  # in the field's direction
        pushed = (1 - rotor > 0) - (1 - rotor < 0)
        right = oracle.turning(field * pushed, side) if pushed else "not at all"
        assert question.words_of(question.answer) == right, text
        names = {words: mistake_in(question, value) for value, words in question.choices}
        with_it, against = oracle.turning(field, side), oracle.turning(-field, side)
        assert len(names) == 3 and names["not at all"] is None
        always, other_end = "always with the field", "seen from the other end"
        assert (names[with_it], names[against]) == {1: (None, other_end), 0: (always, None), -1: (None, None)}[pushed]
        assert pushed >= 0 or set(question.may_be(with_it)) == {always, other_end}


def test_the_field_drives_what_is_slower_and_holds_back_what_is_faster():
    for put in of_kind("cage-rotor", "field"):
        text, question = put.question.text, put.question
        pushed = re.search(r"push it (counter-clockwise|clockwise)", text)[1]
        faster = "faster than the field" in text
        turns = -sense(pushed, side_of(text)) if faster else sense(pushed, side_of(text))
        assert question.words_of(question.answer) == oracle.turning(turns, side_of(text)), text
        named = mistake_in(question, the_other(question))
        assert named == (None if faster else "seen from the other end")
        assert ("always with the field" in question.may_be(the_other(question))) is faster


def test_the_bar_in_which_current_comes_toward_the_drive_end():
    """E = v x B at the middle of a pole, relative to a field that stands: flux leaves an N pole of the stator inward."""
    for put in of_kind("cage-rotor", "bar"):
        text, question, side = put.question.text, put.question, side_of(put.question.text)
        turns = sense(re.search(r"bars are turned (counter-clockwise|clockwise)", text)[1], side)
        assert {words.split("at the ")[1] for _, words in question.choices} == {"N pole", "S pole"}
        toward = {}
        for value, words in question.choices:
            outward = (1.0, 0.0, 0.0)
            motion = oracle.cross((0.0, 0.0, turns), outward)
            field = tuple((-1.0 if "N pole" in words else 1.0) * part for part in outward)
            toward[value] = oracle.emf_in(motion, field)[2] > 0
        assert [value for value, is_so in toward.items() if is_so] == [question.answer]
        assert set(question.may_be(the_other(question))) == HANDS | {"electron flow"}
        places = dict(question.spots)
        assert places.keys() == toward.keys() and all(place[2] * side > 0 for place in places.values())
        # poles stand a pole pitch apart, bars at most half a bar pitch beside their middles
        apart = math.degrees(math.acos(oracle.dot(*(oracle.unit((x, y, 0)) for x, y, _ in places.values()))))
        assert apart == pytest.approx(360 / int(put.settings["poles"]), abs=24.1)


def brush_positive(text: str, turns: float) -> str:
    """With + on A1 and its field to the right the machine turns clockwise looking at the drive end (IEC 60034-8, memory), and a machine
    that is cranked as it would run has its EMF the same way round."""
    north_left = "N pole is on the left" in text
    to_the_right = north_left is (side_of(text) > 0)
    return "A1" if (turns < 0) is to_the_right else "A2"


def test_brushes_cranks_and_poles_of_the_commutator_machine():
    for put in of_kind("coils-and-commutator", "brush"):
        text, question = put.question.text, put.question
        turns = sense(re.search(r"cranked (counter-clockwise|clockwise)", text)[1], side_of(text))
        assert question.answer == brush_positive(text, turns) and set(question.may_be(the_other(question))) == HANDS
        assert [place[0] > 0 for _, place in sorted(question.spots)] == [False, True], "A1 stands on the left, seen from the drive end"
    for put in of_kind("coils-and-commutator", "crank"):
        text, question = put.question.text, put.question
        told = re.search(r"brush (A1|A2) is positive", text)[1]
        gives = {
            value: brush_positive(text, sense(question.words_of(value), side_of(text))) for value, _ in question.choices
        }  # fmt: skip
        assert [value for value, brush in gives.items() if brush == told] == [question.answer]
        assert set(question.may_be(the_other(question))) == HANDS
    for put in of_kind("coils-and-commutator", "poles"):
        text, question = put.question.text, put.question
        told = re.search(r"brush (A1|A2) is positive", text)[1]
        turns = sense(re.search(r"cranked (counter-clockwise|clockwise)", text)[1], side_of(text))
        gives = {value: brush_positive(f"{text} N pole is {words}", turns) for value, words in question.choices}
        assert [value for value, brush in gives.items() if brush == told] == [question.answer]


def test_the_coil_that_is_pressed_lies_where_its_phase_is():
    """V starts a third of a pole pair clockwise of U, W two thirds (IEC 60034-8: clockwise looking at the drive end)."""
    of = scene("alternator")
    for put in of_kind("alternator", "forward"):
        pairs = int(put.settings["poles"]) // 2
        at = {phase: math.atan2(y, x) for phase, (x, y, z) in put.question.spots}
        one_on = math.remainder(at["V"] - at["W"], 2 * math.pi / pairs)
        assert math.degrees(one_on) == pytest.approx(120 / pairs, abs=0.1)
        view = next(each for each in of.views if (each.forward[2] < 0) is (side_of(put.question.text) > 0))
        assert all(z * -view.forward[2] > 0 for _, (_, _, z) in put.question.spots)


def test_the_axis_that_is_drawn_turns_with_the_order_of_the_lines():
    """Of 2 poles, through as many degrees as of the cycle have passed; where it begins by the winding whose line is at its peak: V lies
    a third of a revolution clockwise of U, looking at the drive end."""
    begins = {}
    for put in of_kind("turning-field", "axis"):
        text, question, side = put.question.text, put.question, side_of(put.question.text)
        hour, degrees = (int(each) for each in re.search(r"toward (\d+) o'clock\. Where does it point (\d+)° ", text).groups())
        lines = put.settings["lines"].split("-")
        clockwise = "-".join(lines) in ("L1-L2-L3", "L2-L3-L1", "L3-L1-L2")
        turned = degrees // 30 * (1 if clockwise else -1) * int(side)
        said = {(hour + by) % 12 or 12: name for by, name in (
            (turned, ""), (-turned, "seen from the other end"), (turned // 2, "poles for pole pairs"), (-turned // 2, None))}  # fmt: skip
        assert {int(value) for value, _ in question.choices} == set(said)
        for value, words in question.choices:
            assert words == f"toward {value} o'clock" and (said[int(value)] == "") is (value == question.answer)
            if said[int(value)]:
                assert said[int(value)] in question.may_be(value)
                assert mistake_in(question, value) in (said[int(value)], None)
            at = math.degrees(math.atan2(*dict(question.arrow.vectors)[value][1::-1]))  # counter-clockwise from the right
            assert math.remainder((90 - at) * side / 30 - int(value), 12) == pytest.approx(0, abs=0.05)
        begins.setdefault("UVW"[lines.index("L1")], set()).add((hour * int(side)) % 12)
    assert all(len(hours) == 1 for hours in begins.values())
    at = {phase: hours.pop() for phase, hours in begins.items()}
    assert (at["V"] - at["U"]) % 12 == (at["W"] - at["V"]) % 12 == 4


def test_the_third_stud_is_where_the_lead_goes():
    for put in of_kind("terminal-box", "stud"):
        on = dict(re.findall(r"(L\d) is on (\w\d)", put.question.text))
        stays, asked = re.search(r"(L\d) stays where it is. On which stud does (L\d) go", put.question.text).groups()
        assert sorted(on) == ["L1", "L2", "L3"] and sorted(on.values()) == ["U1", "V1", "W1"]
        (third,) = {"L1", "L2", "L3"} - {stays, asked}
        assert put.question.answer == on[third] and set(dict(put.question.choices)) == set(on.values())
        assert mistake_in(put.question, on[asked]) == "an effect left out" and mistake_in(put.question, on[stays]) is None


def test_star_and_delta_by_what_the_ohmmeter_shows():
    for put in of_kind("instruments", "joined"):
        times = float(re.search(r"shows ([\d.]+) times", put.question.text)[1])
        assert put.question.answer == min({"star": 2.0, "delta": 2 / 3}.items(), key=lambda each: abs(each[1] - times))[0]
        assert mistake_in(put.question, the_other(put.question)) == "star and delta exchanged"


def test_which_ends_are_swapped_by_the_way_it_starts():
    for put in of_kind("one-phase", "ends"):
        text, question, side = put.question.text, put.question, side_of(put.question.text)

        def turns(main: str, ends: str, settings=put.settings) -> float:
            of = one_phase_oracle.plain(settings | {"main": main, "ends": ends})
            return -one_phase_oracle.torque_of(of, 0.0, True)  # there clockwise is positive

        usual, told = re.findall(r"starts (counter-clockwise|clockwise)", text)
        main = "marked" if "main winding as marked" in text else "swapped"
        assert usual == oracle.turning(turns("marked", "marked"), side)
        gives = {value: oracle.turning(turns(main, value), side) for value, _ in question.choices}
        assert [value for value, way in gives.items() if way == told] == [question.answer]
        named = mistake_in(question, the_other(question))
        assert named == ("an effect left out" if main == "swapped" else None)


@pytest.mark.parametrize(("kind", "not_asked"), [("figure", "torque"), ("torque", "current"), ("why", "current"), ("tap", "torque")])
def test_the_reason_of_a_start_speaks_of_what_was_asked_alone(kind, not_asked):
    for put in of_kind("starting", kind):
        assert not_asked not in put.question.reason.lower(), (put.question.text, put.question.reason)


def test_the_tap_whose_square_is_the_share_of_the_line():
    for put in of_kind("starting", "tap"):
        share = float(re.search(r"draws (\d+) % of", put.question.text)[1]) / 100
        taps = {value: float(value) / 100 for value, _ in put.question.choices}
        assert put.question.answer == min(taps, key=lambda value: abs(taps[value] ** 2 - share))
        for value in taps:
            linear = abs(taps[value] - share) < 0.01
            assert (mistake_in(put.question, value) == "in proportion for the square") is (linear and value != put.question.answer)


def test_the_method_by_the_heat_that_it_leaves_in_the_rotor():
    for put in of_kind("braking", "method"):
        told = re.search(r"at first: (.+?)\. By which", put.question.text)[1]

        def heat(method: str, settings=put.settings) -> str:
            if method not in ("plug", "dc"):
                return "less than a quarter of that"  # nothing flows, or the slip stays small
            share = braking_oracle.heat_share(settings | {"method": method})
            return "less than a quarter of that" if share < 0.25 else "about as much as that" if share < 1.5 else "about three times that"

        fits = [value for value, _ in put.question.choices if heat(value) == told]
        assert fits == [put.question.answer], put.question.text
        for value, _ in put.question.choices:
            if value != put.question.answer:
                assert mistake_in(put.question, value) == ("energy of motion alone" if told == "about as much as that" else None)
    for put in of_kind("braking", "heat"):
        for value, words in put.question.choices:
            if value != put.question.answer:
                named = mistake_in(put.question, value)
                assert named == ("energy of motion alone" if words == "about as much as that" else None)


def test_the_excitation_by_the_current_that_leads_or_lags():
    for put in of_kind("synchronous-motor", "excitation"):
        load, stands = re.search(r"its load (\S+) % of rated torque, and its current (leads|lags)", put.question.text).groups()
        leads = {}
        for value, _ in put.question.choices:
            current = synchronous_oracle.carrying(float(value) / 100 * 400, float(load) / 100 * 15000)
            leads[value] = current and ("leads" if current.imag > 0 else "lags")  # or out of step
        assert [value for value, each in leads.items() if each == stands] == [put.question.answer], put.question.text


def test_slots_and_wrong_phases_by_the_winders_table():
    for put in of_kind("laying-the-winding", "slot"):
        slots, poles, _, pitch, _ = winder.stator(put.settings)
        start = int(re.search(r"starts in slot (\d+)\.", put.question.text)[1])
        back = -1 if "comes before it" in put.question.text else 1

        def named(number: int, of=slots) -> str:
            return f"slot {(number - 1) % of + 1}"

        assert put.question.answer == named(start + back * pitch)
        slips = {"one slot out": named(start + back * pitch - back), "counted the wrong way": named(start - back * pitch)}
        slips |= {"full pitch for the coil pitch": named(start + back * slots // poles)} if pitch != slots // poles else {}
        for mistake, slot in slips.items():
            assert slot == put.question.answer or mistake in put.question.may_be(slot), put.question.text
        assert {value for value, _ in put.question.mistakes} == set(slips.values()) - {put.question.answer}
    for put in of_kind("laying-the-winding", "wrong"):
        assert put.question.answer == (" and ".join(winder.wrong_of(put.settings)) or "none")


@pytest.mark.parametrize("kind", ["forward", "place", "name", "why", "order", "compare"])
def test_parts_by_the_tests_own_list(kind):
    of = scene("inside-a-motor")
    for put in of_kind("inside-a-motor", kind):
        name = parts_oracle.lit_name(of, put.settings["motor"], int(put.settings["part"]))
        if name == "none":
            assert kind not in ("name", "why"), "none is lit"
            name = "shaft"  # the first in the list
        parts_oracle.check_question(put.settings["motor"], put.settings, parts_oracle.described(put.question), name)


def told(put: Put) -> set[str]:
    return {mistake for _, mistakes in put.question.mistakes for mistake in mistakes}


def test_of_a_motor_on_its_lines_what_is_seen_from_the_other_end_is_named():
    for name, kind in (("turning-field", "forward"), ("terminal-box", "forward"), ("changing-speed", "forward"), ("one-phase", "forward")):
        for put in of_kind(name, kind):
            ways = {value: words for value, words in put.question.choices if "clockwise" in words}
            right = put.question.words_of(put.question.answer)
            if "clockwise" not in right:
                assert not told(put)
                continue
            swapped = right.replace("counter-clockwise", "*").replace("clockwise", "counter-clockwise").replace("*", "clockwise")
            for value, words in ways.items():
                if words == swapped:
                    assert "seen from the other end" in put.question.may_be(value), (put.question.text, value)
                elif value != put.question.answer:
                    assert "seen from the other end" not in put.question.may_be(value)
