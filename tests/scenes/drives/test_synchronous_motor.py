"""The synchronous motor's curves, its excitation at a start, and what is told of set-ups where theory leaves no doubt."""

from __future__ import annotations

import math

import pytest

from scenes.drives.synchronous_motor.scene import SynchronousMotor


@pytest.fixture(scope="module")
def scene():
    return SynchronousMotor()


def set_up(scene, seconds=0.0, **settings):
    scene.set_all({control.name: control.default for control in scene.controls} | settings)
    scene.restart()
    scene.step(seconds)
    return scene


def test_the_pull_out_is_marked_at_the_top_of_the_torque_curve(scene):
    set_up(scene, excitation=120.0)
    torque = next(line for line in scene.plot().lines if line.name == "torque").points
    pull_out = next(mark for mark in scene.marks() if mark.name == "pull-out")
    top = max(torque, key=lambda point: point[1])
    assert pull_out.x == pytest.approx(top[0], abs=3) and pull_out.y == pytest.approx(top[1], rel=0.002)
    # sqrt(3) V E / X over rated power without resistance, 1.2 / 0.9; the resistance takes a little of it
    assert 0.94 * 120 / 0.9 < pull_out.y < 120 / 0.9


def test_the_working_point_stands_where_curve_and_load_meet(scene):
    set_up(scene, 4.0, load=80.0)
    now = next(mark for mark in scene.marks() if mark.name == "now")
    torque = next(line for line in scene.plot().lines if line.name == "torque").points
    near = min(torque, key=lambda point: abs(point[0] - now.x))
    assert now.y == pytest.approx(80, abs=0.1) and near[1] == pytest.approx(80, abs=10)


def test_a_v_curve_is_lowest_where_the_power_factor_is_one(scene):
    set_up(scene, curves="v")
    curve = next(line for line in scene.plot().lines if line.name == "rated load").points
    emf, current = min(curve, key=lambda point: point[1])
    # by the phasors: E of V - (R + jX) I with I in phase, per unit 1 and a little more for the copper
    assert emf == pytest.approx(100 * abs(1 - complex(0.03, 0.9) * 1.03), abs=4)
    assert current == pytest.approx(1.03 * 15000 / (math.sqrt(3) * 400), rel=0.01)


def test_the_excitation_comes_on_at_95_percent_and_pulls_it_into_step(scene):
    set_up(scene, start="mains", load=20.0)
    before = after = 0.0
    while scene.state.moment.time < 4.0:
        scene.step(0.005)
        speed = abs(scene.state.moment.speed) / scene.setup.machine.speed
        if not scene.state.excited:
            before = max(before, speed)
        elif not after:
            after = speed
    assert 0.93 < before < 0.96 and 0.95 < after < 0.97  # looked at every 5 ms
    assert scene.now.in_step and scene.now.speed == pytest.approx(50, abs=0.01)


def test_two_lines_swapped_while_it_runs_throw_it_out_and_brake_it(scene):
    set_up(scene, 1.0, load=20.0)
    assert scene.now.in_step
    scene.reverse("field")
    scene.step(0.6)
    assert not scene.now.in_step and scene.now.speed < 45


@pytest.mark.parametrize("name", ["start", "damper", "poles", "excited"])
def test_what_is_not_turned_while_it_runs_begins_anew(scene, name):
    set_up(scene, 0.3, start="mains")
    other = {"start": "inverter", "damper": False, "poles": "4", "excited": "before"}[name]
    scene.set(name, other)
    assert scene.state.moment.time == 0.0


@pytest.mark.parametrize(
    ("settings", "answer", "says"),
    [
        ({"load": 170.0}, "slips", "the load takes 170 %: the field pulls past its poles"),
        ({"load": 60.0}, "leading", "more than this load takes at unity power factor"),
        ({"load": 60.0, "excitation": 80.0}, "lagging", "less than this load takes at unity power factor"),
        ({"load": 100.0}, "in-phase", "about what this load takes at unity power factor"),
        ({"load": 170.0, "damper": False}, "stays", "the load stops it"),
        ({"load": 0.0, "damper": False, "start": "mains"}, "stays", "no torque at all"),
        ({"load": 0.0, "damper": False, "start": "mains", "excited": "before"}, "stays", "50 times a second"),
        ({"load": 170.0, "start": "mains"}, "stays", "less torque than load"),
        ({"load": 20.0, "excitation": 0.0, "start": "mains"}, "slips", "as in a cage motor"),
        ({"load": 40.0, "start": "inverter"}, "leading", "exactly 3000 r/min"),
        ({"load": 0.0, "excitation": 80.0, "damper": False, "start": "inverter"}, "lagging", "exactly 3000 r/min"),
        ({"load": 170.0, "start": "inverter"}, "stays", "left behind"),
    ],
)
def test_the_reason_fits_the_result(scene, settings, answer, says):
    question = set_up(scene, **settings).question()
    assert question.answer == answer and says in question.reason


def test_swapped_lines_change_nothing_but_the_direction(scene):
    one = set_up(scene, 0.4, load=50.0).now
    other = set_up(scene, 0.4, load=50.0, lines="L2-L1-L3").now
    assert (other.speed, other.torque, other.load_angle, other.phase_angle) == pytest.approx(
        (one.speed, one.torque, one.load_angle, one.phase_angle), rel=1e-6
    )
    assert other.sense == -one.sense


def test_a_motor_that_slips_slowly_is_not_said_to_run_in_step(scene):
    """With 5 % excitation it holds 5 % of rated torque; the damper carries 45 % at a slip of which a pole takes long to slip."""
    set_up(scene, 3.0, start="in-step", damper=True, excitation=5.0, load=45.0)
    slipping = []
    for _ in range(40):
        scene.step(0.05)
        slipping.append(scene.now.frequency - scene.now.speed * int(scene["poles"]) / 2)
        assert "out of step" in scene.says() and "in step with it" not in scene.says()
    assert min(slipping) > 0.1
    assert scene.question().answer == "slips"
