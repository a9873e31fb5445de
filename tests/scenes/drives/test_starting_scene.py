"""The starting scene: its figures are those of the comparison, its picture follows the run-up."""

from __future__ import annotations

import concurrent.futures
import math
import threading
import time

import numpy as np
import pytest

from physics.shaft.loads import Conveyor, Friction, Shaft
from physics.starting import starts
from scenes.bench.bench import Bench
from scenes.bench.prediction import setup_of
from scenes.drives.starting import worked_out
from scenes.drives.starting.motors import MOTOR, RATED_CURRENT, RATED_TORQUE, ROTOR_INERTIA, SYNCHRONOUS, WOUND
from scenes.drives.starting.scene import Starting
from scenes.drives.starting.starters import IN_THE_PICTURE, WORDS, closed_contactors
from visual.host.server import Host
from visual.switchgear.contactor import Contactor


@pytest.fixture
def scene():
    return Starting()


def start_by(scene, method: str) -> starts.Start:
    """What comes of that method with what is set."""
    return scene.starts.at_once(scene.setup.case_by(method)).start


def at(scene, seconds: float):
    """The scene's snapshot so long after switching on."""
    scene.restart()
    scene.step(seconds)
    return scene.now


def direct_current(voltage_share: float = 1.0) -> float:
    """A phase's current at standstill by nodal analysis of the circuit, redone here."""
    magnetising = 1j * MOTOR.magnetising_reactance
    running = MOTOR.rotor_resistance + 1j * MOTOR.running_cage_reactance
    rotor = 1j * MOTOR.rotor_reactance + 1 / (1 / running + 1 / MOTOR.starting_cage_resistance)
    whole = MOTOR.stator_resistance + 1j * MOTOR.stator_reactance + magnetising * rotor / (magnetising + rotor)
    return abs(voltage_share * MOTOR.line_voltage / math.sqrt(3) / whole)


def test_the_demonstration_motor_is_an_ordinary_one():
    # Common practice, no source: five to eight times rated current direct on line.
    assert 5 < direct_current() / RATED_CURRENT < 8
    # and of the torques of a deep-bar cage: 2 to 2.6 times rated at standstill, 2.5 to 3.1 at most
    assert 2 < float(MOTOR.at(1.0).torque) / RATED_TORQUE < 2.6
    assert 2.5 < float(MOTOR.at(np.linspace(0.01, 1, 2000)).torque.max()) / RATED_TORQUE < 3.1
    # the other, with slip rings, has the same stator and runs at the same slip
    rated = WOUND.at(35 / 1500)
    assert float(rated.torque) == pytest.approx(RATED_TORQUE, rel=0.03)
    assert abs(rated.stator_current) == pytest.approx(RATED_CURRENT, rel=0.03)


def test_currents_at_standstill_are_those_of_the_circuit(scene):
    assert start_by(scene, "direct").starting_line_current == pytest.approx(direct_current(), rel=1e-9)
    # star: a third in the line (standard handbook result); a tap: its square
    assert start_by(scene, "star-delta").starting_line_current == pytest.approx(direct_current() / 3, rel=1e-9)
    scene.set("tap", 50)
    assert start_by(scene, "autotransformer").starting_line_current == pytest.approx(direct_current() / 4, rel=1e-9)


def test_an_unloaded_flywheel_heats_the_rotor_by_its_kinetic_energy(scene):
    scene.set_all({"drive": "flywheel", "inertia": 30})
    kinetic = 0.5 * ROTOR_INERTIA * 31 * (2 * math.pi * SYNCHRONOUS) ** 2
    assert start_by(scene, "direct").rotor_heat == pytest.approx(kinetic, rel=5e-3)


def test_a_conveyor_that_needs_more_than_the_motor_has_stays_at_rest_but_not_with_a_wound_rotor(scene):
    scene.set_all({"drive": "conveyor", "load": 80, "method": "star-delta"})
    at_rest = float(MOTOR.at(1.0).torque) / 3
    assert 1.3 * 0.8 * RATED_TORQUE > at_rest, "the case this test is about"
    assert scene.question().answer == "stays at rest"
    scene.set("method", "direct")
    assert scene.question().answer == "runs", "a deep-bar cage has twice its rated torque to start with"
    scene.set("method", "wound-rotor")
    assert scene.question().answer == "runs"
    same = Shaft(ROTOR_INERTIA, Conveyor(ROTOR_INERTIA * 10, Friction(0.8 * RATED_TORQUE, 1.04 * RATED_TORQUE)))
    shaft = scene.setup.case.shaft
    assert shaft.torque(0.1) == pytest.approx(same.torque(0.1)) and shaft.inertia == pytest.approx(same.inertia)


def test_the_moment_shown_lies_on_the_run_up_and_the_shaft_turns_clockwise(scene):
    scene.set_all({"drive": "fan", "method": "direct"})
    scene.restart()
    turned = 0.0
    for _ in range(40):
        before, speed = scene.now.angle, scene.now.moment.speed
        scene.step(0.01)
        assert scene.now.angle - before == pytest.approx(-2 * math.pi * speed * 0.01)
        turned += speed * 0.01
    run = scene.now.start.run_up
    assert 0.4 < run.time[-1], "still running up"
    assert scene.now.moment.speed == pytest.approx(np.interp(0.4, run.time, run.speed))
    assert turned == pytest.approx(np.trapezoid(np.interp(np.linspace(0, 0.4, 400), run.time, run.speed), dx=0.4 / 399), rel=0.06)


def test_questions_come_out_as_the_torques_say(scene):
    answers = set()
    for seed in range(1, 40):
        scene.set_all(setup_of(scene, seed))
        scene.restart()
        answers.add(scene.question().answer)
        if scene["method"] == "direct":
            short = scene.setup.case.shaft.torque(0.1) > float(MOTOR.at(1.0).torque)  # of the cage, 2.1 times rated
            assert (scene.question().answer == "stays at rest") == short
    assert {"runs", "stays at rest"} <= answers


def rows_of(scene) -> list[str]:
    return [reading.value for reading in scene.readings() if reading.words in WORDS.values()]


def draw_until(scene, condition) -> None:
    """Draw pictures until that is so."""
    give_up = time.monotonic() + 60
    while not condition():
        assert time.monotonic() < give_up
        scene.draw()
        time.sleep(0.002)


def held_back(monkeypatch) -> threading.Semaphore:
    """So many starts are worked out as are released, and none by whoever draws: a picture would wait for it."""
    released, work_out = threading.Semaphore(0), worked_out.work_out

    def later(case):
        assert threading.current_thread() is not threading.main_thread(), "it waited"
        assert released.acquire(timeout=60)
        return work_out(case)

    monkeypatch.setattr(worked_out, "work_out", later)
    return released


def test_no_picture_waits_while_a_row_of_the_table_is_worked_out(monkeypatch):
    scene = Starting(may_wait=False)
    scene.ensure_built(Host())
    start_by(scene, "direct")
    first = held_back(monkeypatch)
    for _ in range(5):
        scene.draw()
    assert rows_of(scene).count("…") == 5
    first.release(2)
    draw_until(scene, lambda: rows_of(scene).count("…") == 3)
    monkeypatch.undo()
    scene.set("inertia", 20)  # what is still being worked out belongs to the old settings
    start_by(scene, "direct")
    second = held_back(monkeypatch)
    scene.draw()
    first.release()
    second.release()
    draw_until(scene, lambda: rows_of(scene).count("…") == 4)
    second.release(9)
    monkeypatch.undo()
    for row in filter(None, scene.now.others.values()):
        case = scene.setup.case_by(next(name for name, start in scene.now.others.items() if start is row))
        fresh = starts.start(case.motor, case.shaft, case.starter)
        assert (row.largest_line_current, row.time) == (fresh.largest_line_current, fresh.time)


@pytest.mark.parametrize("method", WORDS)
def test_nothing_waits_for_a_method_that_was_just_chosen_and_nothing_wrong_is_shown_meanwhile(monkeypatch, method):
    scene = Starting(may_wait=False)
    scene.set_all({"drive": "pump", "inertia": 7})
    scene.ensure_built(Host())
    released = held_back(monkeypatch)
    scene.set("method", method)
    scene.set("load", 77)
    for _ in range(10):
        scene.step(0.04)
        scene.draw()
    figures, asked = {reading.words: reading.value for reading in scene.readings()}, scene.question()
    assert scene.plot().lines == () and scene.marks() == [] and not asked.worked_out
    assert "off while its start is worked out" in scene.says() and "run" not in scene.says()
    assert {reading.formula for reading in scene.readings() if reading.symbol in ("n", "U")} == {"off while the start is worked out"}
    off = ("line current", "speed", "voltage across each winding", "motor torque")
    assert [figures[words] for words in off] == ["0.0", "0", "0", "0.0"]
    assert {figures["result"], figures["largest line current, r.m.s."], figures["heat in the rotor"], *rows_of(scene)} == {"…"}
    contactors = [part for part in scene.drawn.panel.starters[method].parts if isinstance(part, Contactor)]
    assert contactors and not any(part.closed or part.made.visible for part in contactors)
    assert scene.drawn.turning.angle == 0.0
    released.release(9)
    draw_until(scene, lambda: scene.now.start is not None)
    assert scene.now.moment.time == 0.0 and any(part.closed for part in contactors), "it begins now"
    assert asked.worked_out and asked.answer == scene.now.start.outcome and len(scene.plot().lines) >= 2


def test_an_answer_that_comes_before_the_start_is_worked_out_is_judged_by_it():
    scene = Starting(may_wait=False)
    scene.set_all({"drive": "conveyor", "load": 80, "method": "star-delta"})
    assert scene.question().answer == "stays at rest" and "stays at rest" in scene.question().reason


def test_curves_that_come_later_are_told_to_the_page(monkeypatch):
    released = held_back(monkeypatch)
    bench = Bench(Host(), "starting")
    bench.frame(0.04)
    bench.receive({"do": "set", "name": "method", "value": "star-delta"})
    assert bench.host.published["plot"]["lines"] == []
    released.release(9)
    give_up = time.monotonic() + 30
    while not bench.host.published["plot"]["lines"]:
        assert time.monotonic() < give_up
        bench.frame(0.04)
        time.sleep(0.01)
    assert not bench.broken and bench.scene.now.moment.time < 1.0


def test_the_table_is_filled_as_soon_while_the_scene_is_held_and_then_it_rests(monkeypatch):
    drawn, needs = [], []
    for running in (True, False):
        bench = Bench(Host(), "starting")
        bench.running = running
        frames = 0
        while "…" in rows_of(bench.scene):
            bench.frame(0.01)
            frames += 1
            concurrent.futures.wait(bench.scene.starts._coming.values(), timeout=60)  # however slow the machine is
        needs.append(frames)
    assert needs[0] == needs[1] > 20
    monkeypatch.setattr(bench.scene, "draw", lambda *_: drawn.append(True))
    for _ in range(90):
        bench.frame(0.01)
    assert len(drawn) <= 10, "a held picture of which all is known is drawn now and then"


def test_an_error_of_ours_in_a_row_is_met_in_the_next_picture(scene, monkeypatch):
    scene.ensure_built(Host())
    start_by(scene, "direct")
    monkeypatch.setattr(worked_out, "work_out", lambda *_: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        draw_until(scene, lambda: False)


def test_before_the_answer_no_reading_is_named_by_the_result(scene):
    """Whether heat is counted or goes on, and whether a row has a unit, would tell whether it runs."""
    names = set()
    for method, drive in (("star-delta", "conveyor"), ("direct", "fan")):  # of which one runs and one does not
        scene.set_all({"drive": drive, "load": 80, "method": method})
        for each in WORDS:
            start_by(scene, each)
        names.add(tuple((reading.symbol, reading.words, reading.unit) for reading in scene.readings(reveals_answer=False)))
        assert ("q" in [reading.symbol for reading in scene.readings()]) == (method == "star-delta")
    assert len(names) == 1


def test_the_table_is_filled_and_hidden_with_the_answer(scene):
    scene.ensure_built(Host())
    rows = [reading for reading in scene.readings() if reading.words in WORDS.values()]
    assert [row.value for row in rows].count("…") >= 4
    draw_until(scene, lambda: "…" not in rows_of(scene))
    rows = [reading for reading in scene.readings() if reading.words in WORDS.values()]
    assert "…" not in [row.value for row in rows] and all(row.tells for row in rows)
    assert len(scene.plot().lines) == 4
    assert scene.plot(reveals_answer=False).lines == () and scene.marks(reveals_answer=False) == []


@pytest.mark.parametrize("method", WORDS)
def test_each_bar_and_each_row_of_the_table_carries_the_name_of_its_method(scene, method):
    scene.ensure_built(Host())
    scene.set("method", method)
    scene.draw()
    assert [letters.text for letters in scene.drawn.currents.names] == list(IN_THE_PICTURE.values())
    chosen = list(IN_THE_PICTURE).index(method)
    assert scene.drawn.currents.bar.place[0][1] == pytest.approx(scene.drawn.currents.names[chosen].drawn.pos.y, abs=1e-4)
    rows = scene.readings()[-len(WORDS) :]
    assert [row.words for row in rows] == list(WORDS.values()) and not any(row.symbol for row in rows)


def test_star_and_delta_are_never_closed_together(scene):
    scene.ensure_built(Host())
    with pytest.raises(ValueError, match="interlocked"):
        scene.drawn.panel.show("star-delta", "star", {"main contactor", "star contactor", "delta contactor"}, 0.65, False)
    beside_main = [closed_contactors("star-delta", stage) - {"main contactor"} for stage in range(3)]
    assert beside_main == [{"star contactor"}, set(), {"delta contactor"}]


def test_the_contactors_follow_the_stage(scene):
    scene.ensure_built(Host())
    scene.set_all({"method": "star-delta", "drive": "fan"})
    run = scene.now.start.run_up
    drawn = scene.drawn.panel.starters["star-delta"].parts
    contactors = {part.thing: part for part in drawn if hasattr(part, "made")}
    for stage, closed in enumerate(("star contactor", "", "delta contactor")):
        inside = run.time[run.stage == stage]
        at(scene, float(0.5 * (inside[0] + inside[-1])))
        scene.draw()
        for thing, contactor in contactors.items():
            assert contactor.made.visible == (thing in ("main contactor", closed)), (stage, thing)
            assert contactor.broken.visible != contactor.made.visible


@pytest.mark.parametrize("curves", ["time", "speed"])
def test_a_start_that_stalls_shows_the_load_that_is_too_much(scene, curves):
    scene.set_all({"drive": "conveyor", "load": 60, "method": "star-delta", "curves": curves})
    assert scene.question().answer == "stays at rest"
    lines = {line.name: line.points for line in scene.plot().lines}
    load = next(points for name, points in lines.items() if "load" in name)
    motor = next(points for name, points in lines.items() if name.startswith("motor"))
    assert motor[0][1] == pytest.approx(float(MOTOR.at(1.0).torque) / 3 / RATED_TORQUE, rel=1e-6), "a third of it in star"
    assert load[0][1] == pytest.approx(0.6 * 1.3, rel=1e-6) and load[0][1] > 1.1 * motor[0][1]


def test_in_the_end_the_motor_gives_what_the_load_takes(scene):
    scene.set_all({"drive": "fan", "method": "direct", "load": 80})
    now, start = at(scene, 60.0).moment, scene.now.start
    assert now.torque == pytest.approx(now.load_torque, rel=0.01)
    assert now.line_current == pytest.approx(start.settled_line_current, rel=0.01)
    assert now.speed == pytest.approx(start.settled_speed, rel=1e-4)


def test_the_torque_curves_are_those_of_the_circuit(scene):
    scene.set_all({"curves": "speed", "method": "star-delta", "drive": "fan"})
    lines = {line.name: line.points for line in scene.plot().lines}
    assert list(lines) == ["motor, star", "motor, delta", "load"]
    for share, torque in lines["motor, delta"][10:-5:9]:
        assert torque == pytest.approx(float(MOTOR.at(1 - share).torque) / RATED_TORQUE, rel=1e-9)
    for (_, third), (_, whole) in zip(lines["motor, star"], lines["motor, delta"], strict=True):
        assert third == pytest.approx(whole / 3, rel=1e-9, abs=1e-12)
