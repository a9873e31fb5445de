"""Two motors that come apart: how their parts fit into each other, that none goes through another on its way, and what pressing does.

Sizes: shaft height 160 mm and shaft end 42 mm by IEC 60072-1, bearing 45 x 100 x 25 mm by ISO 15 (both memory).
"""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest

from scenes.bench.bench import Bench
from scenes.exhibit.tours import TOURS
from scenes.machines.inside_a_motor.figures import GAP, rated
from scenes.machines.inside_a_motor.parts import PARTS
from scenes.machines.inside_a_motor.scene import InsideAMotor
from scenes.machines.inside_a_motor.snapshot import REST, WORK, share_at
from scenes.machines.inside_a_motor.taking_apart import ORDER, offsets
from tests.scenes.machines.solid_parts import SolidPart, deepest
from visual.host.server import Host
from visual.machines.opened.motor import meshes

FIT = 0.0012  # m: fits touch, and what is round is drawn with flat sides
# one inside the other as drawn: bars in their slots, the key in its keyway
NESTED = {("rotor-core", "bars"), ("shaft", "key")}
MOTORS = tuple(PARTS)
SHAPES = {motor: meshes(motor, GAP) for motor in MOTORS}


def reach(motor: str, part: str):
    """Least and greatest distance from the shaft's middle and place along it, m, of the corners."""
    points = SHAPES[motor][part].points
    far = np.hypot(points[:, 0], points[:, 1])
    return far.min(), far.max(), points[:, 2].min(), points[:, 2].max()


@pytest.mark.parametrize("motor", MOTORS)
def test_no_part_goes_through_another_at_any_place_of_the_slider(motor):
    dice = np.random.default_rng(7)
    parts = {name: SolidPart(shape, FIT, dice) for name, shape in SHAPES[motor].items()}
    tried, wrong = set(), []
    for share in np.linspace(0, 1, 3 * len(ORDER[motor]) + 1):
        away = offsets(motor, float(share))
        for one, other in combinations(parts, 2):
            between = away[other] - away[one]
            case = (one, other, *between.round(5))
            if case in tried or (one, other) in NESTED and not np.any(between):
                continue
            tried.add(case)
            if deepest(parts[one], parts[other], between):
                wrong.append(f"{100 * share:.0f} %: {one} is in {other}")
    assert not wrong, "\n".join(wrong)


def test_the_geometry_of_this_test_sees_one_part_in_another():
    dice = np.random.default_rng(7)
    fan, cowl = (SolidPart(SHAPES["cage"][name], FIT, dice) for name in ("fan", "cowl"))
    assert deepest(fan, cowl, np.zeros(3)) == 0 and deepest(fan, cowl, np.array([0, 0, 0.03])) > 0


@pytest.mark.parametrize("motor", MOTORS)
def test_what_turns_is_on_one_axis_and_clear_of_what_stands(motor):
    turning = {"shaft", "fan", "rotor-core", "drive-bearing", "other-bearing", "bars", "end-rings", "rotor-winding", "slip-rings"}
    for name in turning & set(SHAPES[motor]):
        if name != "shaft":  # its keyway is to one side
            low, high = SHAPES[motor][name].points.min(axis=0), SHAPES[motor][name].points.max(axis=0)
            assert low[:2] == pytest.approx(-high[:2], abs=0.002), name
    bore = reach(motor, "stator-core")[0]
    conductors = "bars" if motor == "cage" else "rotor-winding"
    outermost = max(reach(motor, name)[1] for name in ("rotor-core", conductors))
    assert bore - outermost == pytest.approx(GAP, rel=0.3) and bore - outermost > 0
    assert reach(motor, "rotor-core")[2:] == pytest.approx(reach(motor, "stator-core")[2:])
    for name in ("end-rings", "rotor-winding"):
        if name in SHAPES[motor]:
            assert reach(motor, name)[1] < reach(motor, "stator-winding")[0], "the rotor comes out past the end winding"


@pytest.mark.parametrize("motor", MOTORS)
def test_bearings_sit_on_the_shaft_inside_the_end_shields_and_the_feet_on_the_floor(motor):
    for end, sign in (("drive", 1), ("other", -1)):
        low, high, start, stop = reach(motor, f"{end}-bearing")
        assert (2 * low, 2 * high, stop - start) == pytest.approx((0.045, 0.100, 0.025), abs=5e-4)
        shield = SHAPES[motor][f"{end}-shield"].points
        seat = shield[np.abs(np.hypot(shield[:, 0], shield[:, 1]) - high) < 3e-4]
        assert seat[:, 2].min() <= start + 1e-6 and seat[:, 2].max() >= stop - 1e-6, "its seat is as long as the bearing"
        shaft = SHAPES[motor]["shaft"].points
        under = shaft[np.abs(np.hypot(shaft[:, 0], shaft[:, 1]) - low) < 3e-4]
        assert under[:, 2].min() <= start + 1e-6 and under[:, 2].max() >= stop - 1e-6
        assert sign * (start + stop) > 0
    assert SHAPES[motor]["frame"].points[:, 1].min() == pytest.approx(-0.160, abs=1e-4)
    assert reach(motor, "shaft")[3] > reach(motor, "drive-shield")[3] + 0.1, "the shaft's end stands out at the drive end"
    keyed = SHAPES[motor]["key"].points[:, 1]
    assert keyed.max() == pytest.approx(0.045 - 0.021, abs=1e-4) and keyed.min() < 0.021, "45 mm over the key, less half the shaft"


def test_each_brush_stands_on_its_ring_in_its_holder():
    parts = SHAPES["slip-ring"]
    rings, brushes = parts["slip-rings"].points, parts["brushes"].points
    surface = np.hypot(rings[:, 0], rings[:, 1]).max()
    wide = rings[np.hypot(rings[:, 0], rings[:, 1]) > surface - 1e-6]
    starts = np.unique(wide[:, 2].round(4)).reshape(-1, 2)
    assert len(starts) == 3
    for low, high in starts:
        own = brushes[(brushes[:, 2] > low) & (brushes[:, 2] < high)]
        assert len(own) == 24 and own[:, 1].min() == pytest.approx(surface, abs=2e-4)
        assert own[:, 0].min() == pytest.approx(-own[:, 0].max())
        holder = parts["brush-holders"].points
        about = holder[(holder[:, 2] > low - 0.004) & (holder[:, 2] < high + 0.004) & (np.abs(holder[:, 0]) < 0.012)]
        assert about[:, 1].min() > own[:, 1].min() and about[:, 1].max() < own[:, 1].max(), "the brush stands out of it at both ends"


def test_apart_no_part_is_in_front_of_where_the_next_begins():
    """Along the shaft, from the non-drive end: cowl, fan, end shield, frame, core, and on the other side bearing, rotor, end shield."""
    for motor in MOTORS:
        away = offsets(motor, 1.0)
        row = ("cowl", "fan", "other-shield", "frame", "stator-winding", "other-bearing", "rotor-core", "drive-bearing", "drive-shield")
        reaches = [(SHAPES[motor][name].points + away[name])[:, 2] for name in row]
        for name, before, after in zip(row[1:], reaches, reaches[1:], strict=False):
            assert after.min() - before.max() > 0.005, name


def test_the_gap_and_the_currents_of_the_cage_are_those_of_the_circuit():
    """Same power in bars and rings as in three phases: I2 of the circuit, 6 N I2 / bars; ring between neighbours by their sum."""
    now = rated("cage")
    bars = now.bar_current * np.exp(2j * np.pi * 2 / 28 * np.arange(28))
    ring = np.cumsum(bars)  # of a ring that takes up bar after bar, but for what circulates
    assert abs(ring - ring.mean()) == pytest.approx(now.ring_current, rel=1e-9)
    # magnetising: three phases' MMF over a gap, by Ampere's law, gives the field that was assumed
    current = abs(complex(now.circuit.at(0.0).gap_voltage)) / now.circuit.magnetising_reactance
    mmf = 1.5 * 4 / np.pi * now.turns / 4 * np.sqrt(2) * current  # peak, of one pole
    assert 4e-7 * np.pi * mmf / now.gap == pytest.approx(0.8, rel=1e-6)
    assert np.sqrt(2) * np.pi * 50 * now.turns * 0.8 * 0.16 * 0.155 / 2 == pytest.approx(abs(complex(now.circuit.at(0.0).gap_voltage)))


def test_by_itself_it_goes_to_and_fro_without_a_jump():
    for start in (0.0, 0.3, 0.5, 1.0):
        times = np.arange(0, 3 * (REST + WORK) + REST, 0.05)
        shares = np.array([share_at(start, float(time))[0] for time in times])
        assert shares[0] == pytest.approx(start) and np.abs(np.diff(shares)).max() <= 0.051 / WORK
        assert shares.min() == 0.0 and shares.max() == 1.0
        closing = np.array([share_at(start, float(time))[1] for time in times])
        moving = np.abs(np.diff(shares)) > 1e-9
        assert np.all(closing[1:][moving & closing[:-1] & closing[1:]] == (np.diff(shares)[moving & closing[:-1] & closing[1:]] < 0))


# pressed in the picture


@pytest.fixture
def bench():
    bench = Bench(Host(), "inside-a-motor", {"by": "hand", "apart": 100, "part": 0})
    bench.running = False
    return bench


def picks(bench) -> dict[str, str]:
    return {pick["name"]: pick["words"] for pick in bench.host.published["picks"]}


def test_a_part_that_is_pressed_is_lit_and_pressed_again_put_out(bench):
    assert len(picks(bench)) == len(PARTS["cage"]) and picks(bench)["fan"] == "external fan"
    bench.receive({"do": "press", "name": "fan"})
    assert bench.host.published["readings"][0]["value"] == "external fan"
    bench.receive({"do": "press", "name": "fan"})
    assert bench.host.published["readings"][0]["value"] == "none"
    bench.receive({"do": "press", "name": "brushes"})
    assert "The cage motor has the parts shaft, key" in bench.host.published["notice"]["text"]
    bench.receive({"do": "set", "name": "motor", "value": "slip-ring"})
    bench.receive({"do": "press", "name": "brushes"})
    assert bench.host.published["readings"][0]["value"] == "brushes" and not bench.host.published["notice"]["text"]


def test_only_what_nothing_covers_can_be_pressed(bench):
    bench.receive({"do": "set", "name": "apart", "value": 0})
    together = set(picks(bench))
    assert {"frame", "cowl", "shaft", "box-cover"} <= together and not together & {"fan", "bars", "stator-core", "terminal-board"}
    bench.receive({"do": "set", "name": "apart", "value": 45})
    assert "fan" in picks(bench) and "bars" not in picks(bench)
    assert all(type(pick["on"]) is int and pick["alone"] for pick in bench.host.published["picks"])


def test_a_question_is_answered_by_pressing_the_part(bench):
    bench.receive({"do": "set", "name": "part", "value": 13})
    bench.receive({"do": "ask", "present": True})
    assert "blow cooling air" in bench.host.published["question"]["text"]
    assert set(picks(bench).values()) == {"part"}
    wrong = next(each["value"] for each in bench.host.published["question"]["choices"] if each["value"] != "fan")
    bench.receive({"do": "press", "name": wrong})
    assert bench.host.published["question"]["right"] is False and "The external fan" in bench.host.published["question"]["reason"]
    bench.receive({"do": "ask", "present": True})
    bench.receive({"do": "press", "name": "fan"})
    assert bench.host.published["question"]["right"] is True
    bench.receive({"do": "set", "name": "asked", "value": "name"})
    bench.receive({"do": "ask", "present": True})
    bench.receive({"do": "press", "name": next(each["value"] for each in bench.host.published["question"]["choices"])})
    assert bench.host.published["question"]["given"] is None, "to press is no answer to the question of a name"


def test_elsewhere_nothing_is_pressed():
    bench = Bench(Host(), "two-wires")
    bench.receive({"do": "press", "name": "fan"})
    assert "nothing to press" in bench.host.published["notice"]["text"] and bench.host.published["picks"] == []


def test_on_tour_it_is_as_far_apart_as_is_being_said():
    """At the end of each stop, the clock running on from stop to stop: shields off and rotor in, then the rotor out."""
    scene, seen = InsideAMotor(), {}
    for stop in TOURS["inside-a-motor"]:
        scene.set_all(stop.settings)
        if stop.anew:
            scene.restart()
        for _ in range(round(stop.seconds / 0.05)):
            scene.step(0.05)
        seen.setdefault(stop.caption.split()[0], {name: float(at[2]) for name, at in scene.now.places.items()})
    assert not any(seen["A"].values())
    assert seen["It"]["drive-shield"] > 0.3 and seen["It"]["other-shield"] < -0.15 and seen["It"]["rotor-core"] == 0
    assert seen["The"]["rotor-core"] > 0.4 and seen["The"]["stator-core"] == 0
