"""The tours that come with the program: plain words, and what they claim is what the scene computes at that stop."""

from __future__ import annotations

import math
import re

import pytest

from scenes.exhibit import tour_file
from scenes.exhibit.exhibit import ExhibitBench
from scenes.exhibit.tour import said
from tests.scenes.exhibit.awake import OPEN_DAY, SHORT
from visual.host.server import Host
from visual.terminal_box.markings import Marking, Stamped

EVERYDAY = ("fan", "drill", "train", "lift", "bicycle", "power station", "saw", "wind turbine", "motor")
NOT_FOR_A_CHILD = re.compile(
    r"\b(EMF|torque|commutator|phase|slip|rotor|stator|flux|inverter|synchronous|armature|induc\w+|frequency|voltage|excit\w+|winding)\b",
    re.I,
)


def texts(tour, language: str) -> list[str]:
    found = []
    for stop in tour.stops:
        found.append(said(stop.caption, language))
        for each in stop.tries:
            found += [said(words, language) for words in (each.after, each.stopped, each.question, each.why) if words]
    return [*found, said(tour.attract.caption, language)]


@pytest.mark.parametrize("tour", [SHORT, OPEN_DAY], ids=lambda tour: tour.name)
def test_it_says_one_thing_at_each_stop_in_plain_words(tour):
    for text in texts(tour, "en"):
        assert not NOT_FOR_A_CHILD.search(text), text
        assert len(text.split()) <= 20 and all(len(word) <= 12 for word in re.findall(r"[\w']+", text)), text
    for stop in tour.stops:
        assert any(thing in said(stop.caption, "en") for thing in EVERYDAY), stop.caption


def test_the_short_tour_has_five_or_six_stops_and_takes_three_minutes():
    assert 5 <= len(SHORT.stops) <= 6 and 150 <= sum(stop.seconds for stop in SHORT.stops) <= 200
    named = " ".join(texts(SHORT, "en")).lower()
    assert all(thing in named for thing in ("fan", "drill", "train", "lift", "bicycle dynamo", "power station"))
    done = {each.does for stop in SHORT.stops for each in stop.tries}
    assert done == {"reverse", "change", "turn", "ask"} and all(stop.tries for stop in SHORT.stops)


# what is claimed


def test_the_fan_is_dragged_along_and_goes_the_other_way_once_two_wires_are_swapped(visit):
    fan = visit(SHORT, "fan")
    fan.watch(20)
    assert 0 < fan.figure("n") < fan.figure("n\N{LATIN SUBSCRIPT SMALL LETTER S}")
    assert turned(fan) < 0, "clockwise from the drive end, as L1-L2-L3 turns it"
    fan.press("Swap two of its wires")
    assert fan.screen["caption"].startswith("We swapped two")
    fan.bench.receive({"do": "answer", "choice": "counter-clockwise"})
    assert fan.screen["caption"].startswith("Right!") and "Anticlockwise. With two wires swapped" in fan.screen["caption"]
    fan.watch(5)
    assert turned(fan) > 0
    fan.press("Swap two of its wires")
    fan.bench.receive({"do": "answer", "choice": "counter-clockwise"})
    assert fan.screen["caption"].startswith("Not quite. Look: \N{CLOCKWISE OPEN CIRCLE ARROW} Clockwise. With two wires swapped")


def turned(fan) -> float:
    """The angle by which the cage turns in a twentieth of a second, rad, less than half a revolution."""
    before = fan.scene.now.moment.rotor_angle
    fan.watch(0.05)
    return math.remainder(fan.scene.now.moment.rotor_angle - before, 2 * math.pi)


def test_the_drill_turns_the_other_way_slows_down_and_stands_when_pressed_too_hard(visit):
    drill = visit(SHORT, "drill")
    drill.watch(8)
    first = drill.scene.state.speed
    drill.press("Reverse it")
    drill.watch(12)
    assert drill.scene.state.speed * first < 0 and "the drill" in drill.screen["caption"]
    speeds = [abs(drill.scene.state.speed)]
    while speeds[-1] > 0.05:
        drill.press("Press harder")
        assert drill.screen["caption"].startswith("You press harder")
        drill.watch(12)
        speeds.append(abs(drill.scene.state.speed))
        assert speeds[-1] < speeds[-2] and len(speeds) < 7
    drill.watch(1)
    assert drill.screen["caption"].startswith("Too hard!")
    stuck = True
    while drill.scene["brake"] > 0.05:
        drill.press("Press less")
        drill.watch(12)
        turns = abs(drill.scene.state.speed) > 0.05
        assert drill.screen["caption"] == ("You press less, and it turns faster." if turns else "It is still stuck. Press less.")
        assert turns or stuck, "once it turns it goes on"
        stuck = not turns
    assert abs(drill.scene.state.speed) == pytest.approx(abs(first), rel=0.2) and not drill.screen["tries"][1]["more"]
    drill.press("Reverse it")
    while drill.scene.state.speed * first < 0:
        drill.watch(0.05)
    drill.press("Press harder")
    assert drill.screen["caption"].startswith("You press harder"), "a drill that passes through standstill has not stopped"


def stalled_and_reversed(visit, tour):
    drill = visit(tour, "drill")
    drill.watch(2)
    first = drill.scene.state.speed
    drill.scene.set("brake", drill.scene.by_name["brake"].high - 0.08)
    drill.press("Press harder")
    drill.watch(8)
    assert drill.screen["caption"].startswith("Too hard!")
    drill.press("Reverse it")
    drill.watch(8)
    return drill, first


def test_a_drill_that_was_stopped_stays_pressed_when_it_is_reversed_and_that_is_said(visit):
    drill, first = stalled_and_reversed(visit, SHORT)
    assert drill.scene["brake"] == drill.scene.by_name["brake"].high and abs(drill.scene.state.speed) < 0.05
    assert drill.screen["caption"].startswith("It is stuck this way round, too.")
    while drill.screen["tries"][1]["more"]:
        drill.press("Press less")
        drill.watch(12)
    assert drill.scene.state.speed * first < 0 and abs(drill.scene.state.speed) > 0.9 * abs(first)


def test_without_words_for_that_it_begins_again_when_it_is_reversed(visit):
    text = re.sub('stopped = "It is stuck this way.*', "", tour_file.built_in())
    drill, first = stalled_and_reversed(visit, tour_file.read(text, "x"))
    assert drill.scene.state.speed * first < 0 and abs(drill.scene.state.speed) > abs(first) / 2


def test_a_motor_is_stopped_with_one_finger_where_the_sample_leads_first(visit):
    assert "stop a motor with one finger" in said(OPEN_DAY.attract.caption, "en")
    drill = visit(OPEN_DAY, said(OPEN_DAY.stops[0].caption, "en"))
    assert (drill.bench.stop.drives, drill.bench.stop.scene) == (OPEN_DAY.attract.drives, OPEN_DAY.attract.scene)
    drill.watch(12)
    turning, presses = abs(drill.scene.state.speed), 0
    while abs(drill.scene.state.speed) > 0.05:
        drill.press("Press harder")
        drill.watch(12)
        presses += 1
    assert turning > 1 and presses <= 3 and "stopped a motor with one finger" in drill.screen["caption"]


@pytest.mark.parametrize("tour", [SHORT, OPEN_DAY], ids=lambda tour: tour.name)
def test_no_letters_are_stamped_on_what_is_shown(tour):
    """At most three letters, and those over the picture: a motor's own U, V and W would be six more."""

    def stamps(part):
        inner = [each for one in getattr(part, "parts", ()) for each in stamps(one)]
        return [part, *inner] if isinstance(part, Stamped | Marking) else inner

    bench = ExhibitBench(Host(), tour)
    for place in range(len(tour.stops)):
        bench.go_to(place)
        bench.frame(0.1)
        assert [each for each in stamps(bench.scene.drawn) if each.drawn.visible] == []
    assert sum(len(stamps(scene.drawn)) for scene in bench.scenes.values()) > 0 or tour is OPEN_DAY


def test_the_train_goes_faster_with_faster_currents(visit):
    train = visit(SHORT, "train")
    train.watch(5)
    speeds = [train.figure("n")]
    for _ in range(4):
        train.press("Faster")
        train.watch(20)
        assert train.screen["caption"].startswith("Faster currents")
        speeds.append(train.figure("n"))
    assert speeds == sorted(speeds) and speeds[-1] > 3 * speeds[0] > 0
    assert train.scene["frequency"] == 100 and [each["more"] for each in train.screen["tries"]] == [True, False]
    train.press("Faster")
    assert train.scene["frequency"] == 100, "at its end a button does nothing more"
    train.press("Slower")
    train.watch(20)
    assert train.figure("n") == pytest.approx(speeds[-2], rel=0.01) and train.screen["caption"].startswith("Slower currents")


def test_a_button_with_words_for_it_begins_again_at_its_end_and_once_the_machine_stands(visit):
    text = tour_file.built_in().replace('button = "Faster"', 'button = "Faster"\nagain = "Start again"')
    train = visit(tour_file.read(text, "x"), "train")
    for _ in range(4):
        train.press("Faster")
    assert train.scene["frequency"] == 100
    train.press("Start again")
    assert train.scene["frequency"] == 20 and train.screen["caption"] == said(train.bench.stop.caption, "en")
    text = tour_file.built_in().replace('button = "Press harder"', 'button = "Press harder"\nagain = "Start again"')
    drill = visit(tour_file.read(text, "x"), "drill")
    begun = drill.scene["brake"]
    drill.scene.set_all({"brake": 0.2, "battery": 3.0})
    drill.press("Press harder")
    drill.watch(12)
    assert abs(drill.scene.state.speed) < 0.05 and drill.scene["brake"] + 0.08 < drill.scene.by_name["brake"].high
    drill.press("Start again")
    assert drill.scene["brake"] == begun


def test_the_lift_gives_power_back_and_goes_on_steadily(visit):
    lift = visit(SHORT, "lift")
    lift.watch(20)
    assert lift.figure("P") < 0 and lift.figure("n") > lift.figure("n\N{LATIN SUBSCRIPT SMALL LETTER S}") > 0
    lift.press("What will happen?")
    lift.bench.receive({"do": "answer", "choice": "on"})
    assert lift.screen["caption"].startswith("Right! It keeps its speed. The faster it pulls")
    lift.press("What will happen?")
    lift.bench.receive({"do": "answer", "choice": "away"})
    assert lift.screen["caption"].startswith("Not quite. Look: It keeps its speed. The faster it pulls")


def test_the_faster_the_lift_pulls_its_motor_the_harder_that_holds_back(visit):
    speeds, torques, powers = [], [], []
    for weight in (60, 120, 180):
        lift = visit(SHORT, "lift")
        lift.scene.set("weight", weight)
        lift.watch(30)
        speeds.append(lift.figure("n"))
        torques.append(-lift.figure("T"))
        powers.append(-lift.figure("P"))
    assert speeds == sorted(speeds) and torques == sorted(torques) and powers == sorted(powers) and min(torques + powers) > 0


def test_the_dynamo_lights_its_lamp_the_brighter_the_faster_it_is_turned(visit):
    dynamo = visit(SHORT, "dynamo")
    powers = [dynamo.figure("P")]
    assert powers[0] > 0.85 * 25, "the lamp, of 25 W, is bright when it is said that it lights up"
    assert dynamo.screen["speed"] == "24 km/h"
    for speed in (0.0, 0.15, 0.3, 0.45):
        dynamo.bench.receive({"do": "turn", "speed": speed})
        dynamo.bench.frame(0.02)
        powers.append(dynamo.figure("P"))
        expected = min(3000, 60 * speed * dynamo.scene.slowness)
        assert dynamo.scene["speed"] == pytest.approx(expected), "in the picture it turns as the finger does"
    assert powers[1] == 0 and powers[1:] == sorted(powers[1:]) and powers[-1] > 4 * powers[2] > 0
    dynamo.bench.receive({"do": "turn", "speed": -0.5})
    dynamo.bench.frame(0.02)
    assert dynamo.scene["speed"] < 0 and dynamo.figure("P") > 0
    for _ in range(60):
        dynamo.bench.frame(0.1)
    assert dynamo.scene["speed"] == 0, "let go, it runs down"


def test_the_lamps_of_the_power_station_are_dimmer_the_less_steam_it_has(visit):
    station = visit(SHORT, "power station")
    assert station.figure("n") == 50 * 60 and station.scene["coils"] == "3" and not station.screen["tries"][1]["more"]
    steps = [(station.figure("n"), station.figure("P"))]
    while station.screen["tries"][0]["more"] and steps[-1][0]:
        station.press("Less steam")
        station.watch(1)
        steps.append((station.figure("n"), station.figure("P")))
        says = "Less steam:" if steps[-1][0] else "No steam at all:"
        assert station.screen["caption"].startswith(says) and steps[-1] < steps[-2] and steps[-1][1] < 0.7 * steps[-2][1]
    assert steps[-1] == (0, 0)
    station.press("More steam")
    assert station.figure("P") > 0 and station.screen["caption"].startswith("More steam:")
