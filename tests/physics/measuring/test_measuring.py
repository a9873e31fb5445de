"""What instruments show on a board with a fault: against a nodal solution of the test's own, against closed forms and published limits."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest

from physics.induction.joined_windings import JoinedMotor
from physics.measuring import Board, Defects, limits, settled
from physics.measuring.live import SPEEDS
from physics.terminals import Wiring
from tests.physics.induction.test_joined_windings import CIRCUIT, RATED_SLIP
from tests.physics.measuring.by_nodes import LINES, LINKS, SCALE, STUDS, Bench, benches

TORQUE, LOAD = 74.97, 0.71 * 74.97  # N m, rated and with the bearings
POINTS = (*STUDS, *LINES, "PE")
CASES = [(joined, *case) for joined in ("star", "delta") for case in benches(joined)]
ON, OFF = (True,) * 3, (False,) * 3


def motor(joined: str) -> JoinedMotor:
    """The motor for 230/400 V, or, all its ohms with the square of the turns, for 400/690 V."""
    names = (
        "stator_resistance", "stator_reactance", "rotor_resistance", "rotor_reactance", "magnetising_reactance",
        "starting_cage_resistance", "running_cage_reactance",
    )  # fmt: skip
    volts = {"star": 400.0, "delta": 690.0}[joined]
    return JoinedMotor(replace(CIRCUIT, line_voltage=volts, **{name: SCALE[joined] * getattr(CIRCUIT, name) for name in names}), RATED_SLIP)


def defects(wrong: dict) -> Defects:
    """The same fault in the program's terms."""
    return Defects(
        opened=frozenset(wrong.get("opened", "")),
        shorted=dict([wrong["shorted"]] if "shorted" in wrong else []),
        reversed_windings=frozenset(wrong.get("turned", "")),
        earthed=dict([wrong["earthed"]] if "earthed" in wrong else []),
        loose=dict([wrong["loose"]] if "loose" in wrong else []),
        lost=frozenset([wrong["lost"]] if "lost" in wrong else []),
        supply=tuple(wrong["low"][1] if "low" in wrong and wrong["low"][0] == line else 1.0 for line in LINES),
    )


def boards(joined: str, wrong: dict, links=True, leads=True, closed=ON) -> tuple[Board, Bench]:
    board = Board(LINKS[joined] if links else (), ("U1", "V1", "W1") if leads else (), closed, 400.0, defects(wrong))
    return board, Bench(joined, **wrong, links=links, leads=leads, closed=closed)


@pytest.mark.parametrize(("joined", "name", "wrong"), CASES)
def test_live_every_voltage_current_and_torque_is_as_the_nodes_have_it(joined, name, wrong):
    board, bench = boards(joined, wrong)
    load = 1.51 * TORQUE if name == "overload" else LOAD
    live = settled(board, motor(joined), 50.0, load, name.startswith("lost-running"))
    slip = 1 - live.speed
    volts, lines, torque = bench.live(slip)
    np.testing.assert_allclose(live.line_currents, lines, atol=2e-5)
    assert live.torque == pytest.approx(torque, abs=1e-4)
    for first, second in itertools.combinations(POINTS, 2):
        assert live.voltage(first, second) == pytest.approx(bench.shown(slip, first, second), abs=1e-3), (first, second)
    np.testing.assert_allclose(live.phasors(("U1", "V1", "W1", "L2")), [volts[point] for point in ("U1", "V1", "W1", "L2")], atol=1e-4)
    # where it has settled: torque and load are equal on the interpolated curve, or it stands and cannot overcome the load
    if abs(live.speed) < 1e-9:
        assert abs(torque) <= load
    else:
        assert torque == pytest.approx(math.copysign(load, live.speed), rel=0.02)
        slower, faster = (bench.live(1 - live.speed * part)[2] for part in (0.998, 1.002 if abs(live.speed) < 0.998 else 1.0))
        assert abs(slower) >= abs(torque) - 0.01 and abs(faster) <= abs(torque) + 0.01
    # energy: what the supply gives is heat, and torque times speed and rotor heat over the gap
    supplied = sum((v * i.conjugate()).real for v, i in zip(bench.volts().values(), live.line_currents, strict=True))
    assert supplied > live.torque * live.speed * 2 * math.pi * 25 - 1e-6


@pytest.mark.parametrize(("joined", "name", "wrong"), CASES)
@pytest.mark.parametrize(("links", "leads"), [(True, True), (True, False), (False, False)])
def test_dead_every_resistance_is_as_the_nodes_have_it(joined, name, wrong, links, leads):
    board, bench = boards(joined, wrong, links, leads, OFF)
    ohm = SCALE[joined] * 0.415
    for first, second in itertools.combinations((*STUDS, "PE"), 2):
        expected = bench.ohms(first, second)
        assert board.resistance(first, second, ohm) == pytest.approx(expected, rel=1e-4, abs=2e-6), (first, second)
    assert board.insulation("V1", "PE", ohm) == pytest.approx(bench.ohms("V1", "PE"), rel=1e-4)
    assert board.dead_voltage("U1", "W1") < 1e-9 and board.dead_voltage("V1", "PE") < 1e-9 and board.resistance("U1", "U1", ohm) == 0


@pytest.mark.parametrize("joined", ["star", "delta"])
def test_between_studs_closed_forms(joined):
    """2 R in star and 2/3 R in delta (arithmetic); R, links off; halves of a delta with a winding open; as `Wiring.resistance` has them."""
    ohm = SCALE[joined] * 0.415
    sound, _ = boards(joined, {}, leads=False, closed=OFF)
    apart, _ = boards(joined, {}, links=False, leads=False, closed=OFF)
    share = {"star": 2.0, "delta": 2 / 3}[joined]
    wiring = Wiring({}, LINKS[joined])
    for first, second in itertools.combinations(("U1", "V1", "W1"), 2):
        assert sound.resistance(first, second, ohm) == pytest.approx(share * ohm, rel=1e-6)
        assert sound.resistance(first, second, ohm) == pytest.approx(wiring.resistance(first, second, ohm), rel=1e-6)
    for phase in "UVW":
        assert apart.resistance(phase + "1", phase + "2", ohm) == pytest.approx(ohm, rel=1e-6)
    opened, _ = boards(joined, {"opened": "U"}, leads=False, closed=OFF)
    if joined == "delta":
        assert opened.resistance("U1", "V1", ohm) == pytest.approx(2 * ohm, rel=1e-6)
        assert opened.resistance("V1", "W1", ohm) == pytest.approx(ohm, rel=1e-6)
    else:
        assert opened.resistance("U1", "V1", ohm) > 1e8


def test_an_isolator_with_a_stuck_pole_leaves_every_stud_live_to_earth_and_none_to_another():
    board, _ = boards("star", {}, closed=(True, False, False))
    for first, second in itertools.combinations(("U1", "V1", "W1"), 2):
        assert board.dead_voltage(first, second) < 0.1
    for stud in STUDS:
        assert board.dead_voltage(stud, "PE") == pytest.approx(400 / math.sqrt(3), rel=1e-4)
    assert board.dead_voltage("L2", "L3") == pytest.approx(400, rel=1e-9)


def test_a_sound_board_at_its_rated_slip_is_the_plain_circuit():
    board, _ = boards("star", {})
    live = settled(board, motor("star"), 50.0, float(CIRCUIT.at(RATED_SLIP).torque))
    assert 1 - live.speed == pytest.approx(RATED_SLIP, rel=0.01)
    np.testing.assert_allclose(np.abs(live.line_currents), abs(complex(CIRCUIT.at(RATED_SLIP).stator_current)), rtol=0.01)


def test_a_line_lost_while_it_runs_takes_about_root_three_times_the_current():
    """At the same power and power factor root three times (common practice); here the load's torque is the same and it slips more."""
    whole, lost = (settled(boards("star", wrong)[0], motor("star"), 50.0, LOAD, True) for wrong in ({}, {"lost": "L3"}))
    ratio = abs(lost.line_currents[0]) / abs(whole.line_currents[0])
    assert 1.6 < ratio < 2.0 and lost.speed < whole.speed
    standing = settled(boards("star", {"lost": "L3"})[0], motor("star"), 50.0, LOAD)
    assert standing.speed == 0 and abs(standing.torque) < 1e-6


def test_shorted_turns_are_the_secondary_of_a_transformer():
    """A ring of x N turns has x E in it and x (R + j X) of ohms: E / |R + j X| flows, which is x times that seen from all N turns
    (handbook, memory). So at no load the faulty winding draws about x E / |R + j X| more."""
    sound, faulty = (settled(boards("star", wrong)[0], motor("star"), 50.0, 1.0) for wrong in ({}, {"shorted": ("U", 0.15)}))
    more = abs(faulty.line_currents[0] - sound.line_currents[0])
    assert more == pytest.approx(230.9 * 0.15 / abs(0.415 + 0.721j), rel=0.3)


def test_unbalance_as_nema_has_it():
    """NEMA MG 1's example (memory): 396, 399 and 405 V: mean 400, largest deviation 5, 1.25 %."""
    assert limits.unbalance([396.0, 399.0, 405.0]) == pytest.approx(0.0125)
    assert limits.unbalance([0.0, 0.0, 0.0]) == 0


def test_current_unbalance_is_several_times_that_of_the_voltage():
    """NEMA MG 1 (memory): 6 to 10 times as much at load."""
    board, _ = boards("star", {"low": ("L2", 0.92)})
    live = settled(board, motor("star"), 50.0, LOAD)
    volts = [live.voltage(*pair) for pair in (("L1", "L2"), ("L2", "L3"), ("L3", "L1"))]
    assert 4 < limits.unbalance(np.abs(live.line_currents)) / limits.unbalance(volts) < 11


def test_the_order_of_phases():
    volts = [230 * np.exp(-2j * np.pi / 3 * k) for k in range(3)]
    assert limits.phase_order(volts) == "clockwise" and limits.phase_order([volts[1], volts[0], volts[2]]) == "counter-clockwise"
    assert limits.phase_order([volts[1], volts[2], volts[0]]) == "clockwise"
    assert limits.phase_order([volts[0], volts[1], 0]) == "none" and limits.phase_order([0, 0, 0]) == "none"
    assert limits.phase_order([volts[0], volts[1], (volts[0] + volts[1]) / 2]) == "none"


def test_limits_are_those_of_the_standards():
    """IEC 60364-6: 500 V d.c., 1 megohm; IEEE 43: 5 megohm (memory)."""
    from physics.measuring.board import TEST_VOLTAGE

    assert (TEST_VOLTAGE, limits.LEAST_INSULATION, limits.GOOD_INSULATION) == (500.0, 1e6, 5e6)


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"opened": frozenset("X")}, "opened must be of U, V, W"),
        ({"shorted": {"U": 1.0}}, "shorted must be shares between 0 and 1"),
        ({"earthed": {"U": 0.0}}, "greater than 0"),
        ({"earthed": {"U": 9e3}, "shorted": {"U": 0.2}}, "not be of the same winding"),
        ({"lost": frozenset(["L4"])}, "lost must be of L1, L2, L3"),
        ({"supply": (1.0, -0.1, 1.0)}, "none below 0"),
    ],
)
def test_what_cannot_be_is_said(wrong, says):
    with pytest.raises(ValueError, match=says):
        Defects(**wrong)


def test_the_curve_is_followed_finely_near_both_synchronous_speeds():
    assert np.all(np.diff(SPEEDS) > 0) and SPEEDS[0] < -0.999 and SPEEDS[-1] > 0.999
