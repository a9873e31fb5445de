"""The workings against published values and worked examples."""

from __future__ import annotations

import cmath
import math
import re

import numpy as np
import pytest
import scipy.constants

from scenes.workings import writing as workings
from scenes.workings.topics import TOPICS
from tests.scenes.workings.arithmetic import check_arithmetic
from tests.scenes.workings.examples import PLATE, result, worked


@pytest.mark.parametrize(("frequency", "table"), [
    (50, (3000, 1500, 1000, 750, 600, 500)), (60, (3600, 1800, 1200, 900, 720, 600)),
])  # fmt: skip
def test_synchronous_speeds_of_the_standard(frequency, table):
    """IEC 60034-1 and common nameplates: 2 to 12 poles."""
    shown = [worked("synchronous-speed", frequency=frequency, poles=poles) for poles in range(2, 13, 2)]
    assert [working.steps[0].results[0].text for working in shown] == [f"{speed} r/min" for speed in table]


def test_four_poles_at_1450():
    """Common practice, no source: 1450 r/min at 50 Hz is a slip of 50/1500."""
    text = workings.as_text(worked("slip"))
    assert "= 120 × 50 Hz / 4 = 1500 r/min" in text
    assert "(1500 − 1450) r/min / 1500 r/min = 0.03333 = 3.33 %" in text
    assert "= 0.0333333 × 50 Hz = 1.667 Hz" in text
    assert workings.as_text(worked("rotor-frequency", slip=None, poles=4, speed=1450)).count("1.667 Hz") == 1


def test_chapman_slip():
    """Chapman, Electric Machinery Fundamentals, first induction motor example (memory, redone by arithmetic): four
    poles, 60 Hz, slip 5 %: rotor frequency 3 Hz; at 1710 r/min the slip is that."""
    assert worked("rotor-frequency", frequency=60, slip=5).steps[0].results[0].text == "3 Hz"
    assert result(worked("slip", frequency=60, poles=4, speed=1710), "s", "%") == pytest.approx(5, rel=1e-12)


def test_chapman_circuit():
    """Chapman, wound-rotor example (memory, redone by arithmetic below): slip 2.2 %: 1760 r/min, 18.9 A, 0.833 lagging,
    12.5 kW in, 11.8 kW across the gap, 62.8 N m; pull-out 231 N m at 20.1 % exactly."""
    working = worked("equivalent-circuit")
    rotor = 0.332 / 0.022 + 0.464j
    whole = 0.641 + 1.106j + 26.3j * rotor / (26.3j + rotor)
    current = 460 / math.sqrt(3) / whole
    power = 3 * 460 / math.sqrt(3) * current.real
    across = power - 3 * abs(current) ** 2 * 0.641
    expected = {
        "n": 1800 * 0.978, "Z": whole, "I1": abs(current), "cos φ": math.cos(cmath.phase(current)), "P1": power,
        "Pg": across, "Pv2": 0.022 * across, "Pm": 0.978 * across, "T": across / (2 * math.pi * 30),
    }  # fmt: skip
    for symbol, value in expected.items():
        assert result(working, symbol) == pytest.approx(value, rel=1e-9), symbol
    book = {
        "n": (1760, 1), "I1": (18.9, 0.05), "cos φ": (0.833, 0.001), "P1": (12530, 40), "Pg": (11845, 50),
        "T": (62.8, 0.05),
    }  # fmt: skip
    for symbol, (value, off) in book.items():
        assert result(working, symbol) == pytest.approx(value, abs=off), symbol
    assert "231 N m at a slip of 20.1 %" in working.remark and "107 N m" in working.remark


def test_nothing_in_the_rotor_at_synchronous_speed():
    working = worked("equivalent-circuit", slip=0)
    assert [result(working, symbol) for symbol in ("Pg", "Pv2", "Pm", "T")] == [0, 0, 0, 0]
    assert result(working, "Zg") == pytest.approx(26.3j, rel=1e-12)
    assert "Z2" not in [step.symbol for step in working.steps]
    check_arithmetic(working)


def test_chapman_motor_as_a_nameplate():
    """The same example, with the book's 1100 W of friction, windage and core losses (memory): 10485 W at the shaft,
    56.9 N m and an efficiency of 83.7 %; both redone here from what stands on the plate."""
    plate = dict(power=10.485, voltage=460, frequency=60, speed=1760, current=18.88, power_factor=0.833)
    working = TOPICS["nameplate"].work(**plate, connection="star")
    check_arithmetic(working)
    assert result(working, "poles") == 4
    assert result(working, "s", "%") == pytest.approx(100 * 40 / 1800, rel=1e-12)
    assert result(working, "T") == pytest.approx(56.9, abs=0.05)
    assert result(working, "η", "%") == pytest.approx(83.7, abs=0.05)
    assert result(working, "T") == pytest.approx(10485 * 60 / (2 * math.pi * 1760), rel=1e-12)
    assert result(working, "Pv") == pytest.approx(math.sqrt(3) * 460 * 18.88 * 0.833 - 10485, rel=1e-9)
    assert result(working, "U_w") == pytest.approx(265.6, abs=0.05)


def test_the_circuit_of_a_nameplate_draws_what_stands_on_it():
    """Current and power factor of the five values in the table, worked out here, against the plate and against the
    column that says how well they tell it."""
    working = worked("nameplate", **dict.fromkeys(("starting_current", "starting_torque", "breakdown_torque")))
    circuit, comparison = working.tables
    slip = 50 / 1500
    r1, x1, r2, x2, xm, starting, running = (row[2] for row in circuit.rows)
    rotor = 1j * x2 + 1 / (1 / (r2 / slip + 1j * running) + slip / starting)
    current = 400 / math.sqrt(3) / (r1 + 1j * x1 + 1j * xm * rotor / (1j * xm + rotor))
    rows = {row[0]: row[1:] for row in comparison.rows}
    for name, value in (("current in A", abs(current)), ("power factor", math.cos(cmath.phase(current)))):
        plate, fitted, difference = rows[name]
        assert fitted == pytest.approx(value, rel=1e-9)
        assert plate == {"current in A": 15, "power factor": 0.85}[name]
        assert difference == pytest.approx(100 * (value / plate - 1), abs=0.006)
        assert value == pytest.approx(plate, rel=0.005)
    assert "partly assumed" in circuit.title
    at_rest = 1j * x2 + 1 / (1 / (r2 + 1j * running) + 1 / starting)
    locked = 400 / math.sqrt(3) / abs(r1 + 1j * x1 + 1j * xm * at_rest / (1j * xm + at_rest)) / abs(current)
    assert "Not on the plate and assumed: breakdown torque" in working.remark
    assert f"starting current {locked:.2g} times rated" in working.remark


def test_what_a_nameplate_has_as_multiples_is_worked_out():
    working = worked("nameplate", connection="delta")
    assert result(working, "I_st") == pytest.approx(6.5 * 15)
    assert result(working, "T_b") == pytest.approx(2.8 * 7500 * 60 / (2 * math.pi * 1450))
    assert result(working, "I_w") == pytest.approx(15 / math.sqrt(3))
    compared = {row[0]: row[1:] for row in working.tables[1].rows}
    assert compared.keys() >= {"starting current, × rated", "breakdown torque, × rated"}
    # two cages meet what one could not: all six within 8 %, as it is a small motor; assumed is what two cages leave open
    assert max(abs(fitted / plate - 1) for plate, fitted, _ in compared.values()) < 0.08
    assert "times rated" not in working.remark and "Not on the plate and assumed: stator and rotor resistance" in working.remark
    for plate, fitted, difference in compared.values():
        assert difference == pytest.approx(100 * (fitted / plate - 1), abs=0.006)


def test_starts_of_a_flywheel():
    """References: a third of current and torque in star; started without load, heat in the rotor equals the energy
    stored, whatever the voltage. Both against arithmetic done here from the circuit."""
    working = worked("run-up-of-circuit", load="flywheel", load_torque=0, load_inertia=1.5, rotor_inertia=0.5)
    standing = 0.641 + 1.106j + 26.3j * (0.332 + 0.464j) / (0.332 + 26.764j)
    current = 460 / math.sqrt(3) / abs(standing)
    across = 3 * current**2 * (standing.real - 0.641)
    assert result(working, "I_d") == pytest.approx(current, rel=1e-9)
    assert result(working, "I_s") == pytest.approx(current / 3, rel=1e-9)
    assert result(working, "T_d") == pytest.approx(across / (2 * math.pi * 30), rel=1e-9)
    assert result(working, "T_s") == pytest.approx(across / (2 * math.pi * 30) / 3, rel=1e-9)
    energy = 0.5 * 2.0 * (2 * math.pi * 30) ** 2
    assert result(working, "W", "J") == pytest.approx(energy, rel=1e-12)
    rows = {row[0]: dict(zip([words for words, _ in working.tables[0].columns], row, strict=True)) for row in working.tables[0].rows}
    for method in ("direct on line", "star-delta", "autotransformer", "soft starter"):
        assert rows[method]["rotor heat"] == pytest.approx(energy / 1000, rel=1e-3), method
    wound = rows["rotor resistance"]
    assert wound["rotor heat"] + wound["resistor heat"] == pytest.approx(energy / 1000, rel=1e-3)
    assert wound["largest current"] < 0.6 * current and wound["starting torque"] > result(working, "T_d")
    # without load it settles at synchronous speed
    assert all(row["speed"] == pytest.approx(1800, rel=1e-3) for row in rows.values())
    assert "Every method starts it." in working.remark


def test_a_load_that_holds_the_motor_is_told():
    """Star gives a third of the 106.6 N m of direct starting: less than the 60 N m that this conveyor takes."""
    working = worked("run-up-of-circuit", load="conveyor", load_torque=60)
    rows = {row[0]: row for row in working.tables[0].rows}
    assert "Star-delta stays at rest" in working.remark and "Direct on line" not in working.remark
    columns = [words for words, _ in working.tables[0].columns]
    assert rows["star-delta"][columns.index("speed")] == 0
    for words in ("time", "rotor heat", "resistor heat"):
        assert math.isnan(rows["star-delta"][columns.index(words)])
        assert math.isfinite(rows["direct on line"][columns.index(words)])
    told = workings.as_data(working)["tables"][0]
    assert told["rows"][1][columns.index("time")] is None
    assert re.search(r"^  star-delta .* – +0 +– +–$", workings.as_text(working), re.MULTILINE)


@pytest.mark.parametrize("load", ["fan", "pump", "conveyor", "flywheel"])
def test_run_up_from_a_nameplate_for_every_load(load):
    torque = {} if load == "flywheel" else {"load_torque": 15}
    working = TOPICS["run-up"].work(**PLATE, rotor_inertia=0.03, load=load, load_inertia=0.4, **torque)
    check_arithmetic(working)
    # five ways: a cage has no slip rings for resistors
    assert len(working.tables[0].rows) == 5 and "Every method starts it." in working.remark
    assert "slip rings" not in working.remark
    known = {"starting_current", "starting_torque", "breakdown_torque"} & PLATE.keys()
    assert ("Not on the plate and assumed" in working.remark) == (len(known) < 3)


def test_a_motor_of_much_starting_torque_is_not_said_to_stay_at_rest():
    """A plate of 7.5 kW with 2.4 times starting torque, on a conveyor of rated torque: it moves it, direct on line."""
    torque = 7500 * 60 / (2 * math.pi * 1465)
    plate = dict(power=7.5, voltage=400, frequency=50, speed=1465, current=14.1, power_factor=0.85)
    catalogue = dict(starting_current=7.5, starting_torque=2.4, breakdown_torque=3.0)
    load = dict(rotor_inertia=0.03, load="conveyor", load_inertia=0.3)
    working = TOPICS["run-up"].work(**plate, **catalogue, **load, load_torque=2.0 * torque)
    row = {row[0]: row for row in working.tables[0].rows}["direct on line"]
    assert "Direct on line" not in working.remark
    assert row[1] == pytest.approx(2.4 * torque, rel=0.08)
    assert "Star-delta stays at rest" in working.remark  # a third of 2.4 is less than 2


def test_two_cages_at_a_slip():
    """Circuit with two cages, worked by admittances here."""
    working = worked("equivalent-circuit", slip=40, starting_cage_resistance=0.9, running_cage_reactance=0.8)
    check_arithmetic(working)
    branch = 0.464j + 1 / (1 / (0.332 / 0.4 + 0.8j) + 0.4 / 0.9)
    assert result(working, "Z2") == pytest.approx(branch, rel=1e-9)
    whole = 0.641 + 1.106j + 1 / (1 / branch + 1 / 26.3j)
    assert result(working, "I1") == pytest.approx(460 / math.sqrt(3) / abs(whole), rel=1e-9)
    standing = 0.464j + 1 / (1 / (0.332 + 0.8j) + 1 / 0.9)
    locked = 460 / math.sqrt(3) / abs(0.641 + 1.106j + 1 / (1 / standing + 1 / 26.3j))
    assert f"At standstill it draws {locked:.3g} A" in working.remark
    with pytest.raises(ValueError, match="must be given together"):
        worked("equivalent-circuit", starting_cage_resistance=0.9)


def test_field_of_a_wire():
    """B = mu0 I / (2 pi r) with mu0 from scipy.constants (CODATA); and 1 A at 1 m is 0.2 µT, from which the pre-2019
    ampere was defined: 2e-7 N/m between two such wires (SI Brochure, 8th edition)."""
    expected = scipy.constants.mu_0 * 20 / (2 * math.pi * 0.060)
    assert result(worked("wire-field"), "B", "T") == pytest.approx(expected, rel=1e-9)
    assert result(worked("wire-field", current=1, distance=1000), "B", "µT") == pytest.approx(0.2, rel=1e-9)
    assert worked("wire-field", current=1, distance=1000).steps[0].results[0].text == "0.2 µT"
    assert result(worked("wire-field", current=-20), "B", "T") == pytest.approx(-expected, rel=1e-9)


def test_force_between_two_wires():
    """One ampere in each, a metre apart: 2e-7 N a metre, together (9th CGPM, 1948: the ampere until 2019)."""
    ampere = worked("wires-force", current=1, other_current=1, distance=1000, length=None)
    assert result(ampere, "F / l", "N/m") == pytest.approx(2e-7, rel=1e-9) and "attract" in ampere.remark
    assert ampere.steps[0].results[0].text == "0.2 µN/m" and len(ampere.steps) == 1
    finite = worked("wires-force", current=1, other_current=-1, distance=1000, length=1e9)
    assert result(finite, "F", "N") == pytest.approx(-2e-7 * 1e6, rel=1e-5) and "repel" in finite.remark
    assert result(worked("wires-force"), "F", "N") == pytest.approx(-2e-7 * 20 * 30 / 0.06 * (math.hypot(0.4, 0.06) - 0.06), rel=1e-9)
    assert "no force" in worked("wires-force", current=0).remark


def test_force_and_emf_of_a_conductor():
    """F = B I l and E = B l v where all are at right angles (any textbook of physics): 0.5 T, 10 A, 0.2 m; 2 m/s."""
    assert result(worked("conductor-force", angle=90), "F") == pytest.approx(1.0, rel=1e-12)
    assert result(worked("conductor-force", angle=30), "F") == pytest.approx(0.5, rel=1e-12)
    assert result(worked("conductor-emf", angle=90, turns=1), "E") == pytest.approx(0.2, rel=1e-12)
    assert result(worked("conductor-emf", angle=90, turns=50), "E") == pytest.approx(10, rel=1e-12)
    for angle in (0, 180):
        assert result(worked("conductor-force", angle=angle), "F") == 0
        assert result(worked("conductor-emf", angle=angle), "E") == 0
    # the same power: what is put in by pushing against the force comes out as E I
    force = result(worked("conductor-force", angle=90, current=3), "F")
    assert force * 2 == pytest.approx(3 * result(worked("conductor-emf", angle=90, turns=1), "E"), rel=1e-12)


def test_emf_of_a_coil():
    """E = 4.44 f N k_w Phi (references: any handbook); against the flux linked, N k_w Phi sin(2 pi f t), differentiated
    numerically over a period."""
    working = worked("coil-emf")
    assert result(working, "f") == pytest.approx(50, rel=1e-12)
    assert result(working, "E") == pytest.approx(4.44 * 50 * 100 * 0.966 * 0.010, rel=1e-3)
    time = np.linspace(0, 0.02, 20001)
    emf = -np.gradient(100 * 0.966 * 0.010 * np.sin(2 * np.pi * 50 * time), time)
    assert result(working, "E") == pytest.approx(math.sqrt(np.trapezoid(emf**2, time) / 0.02), rel=1e-5)
    assert result(working, "Ê") == pytest.approx(emf.max(), rel=1e-5)
    same = TOPICS["coil-emf"].work(turns=100, flux=10, frequency=50, winding_factor=0.966)
    assert result(same, "E") == pytest.approx(result(working, "E"), rel=1e-12)


@pytest.mark.parametrize(("slots", "poles", "pitch", "distribution", "shortened"), [
    (12, 2, 6, 0.966, 1.0), (36, 4, 9, 0.960, 1.0), (48, 4, 12, 0.958, 1.0), (12, 4, 3, 1.0, 1.0),
    (12, 2, 5, 0.966, 0.966), (36, 4, 8, 0.960, 0.985), (36, 4, 7, 0.960, 0.940), (18, 2, 6, 0.960, 0.866),
])  # fmt: skip
def test_winding_factors_of_the_handbooks(slots, poles, pitch, distribution, shortened):
    """Tables of winding factors, 60 degree phase belts: q = 1, 2, 3, 4 give 1, 0.966, 0.960, 0.958; pitches of 5/6, 8/9, 7/9 and 2/3
    give 0.966, 0.985, 0.940 and 0.866 (memory; redone below by adding up the phasors of a phase's coil sides)."""
    working = worked("winding-factors", slots=slots, poles=poles, coil_pitch=pitch)
    found = {symbol: result(working, symbol) for symbol in ("k_d", "k_p", "k_w")}
    assert found["k_d"] == pytest.approx(distribution, abs=5e-4) and found["k_p"] == pytest.approx(shortened, abs=5e-4)
    belt, step = slots // poles // 3, math.pi * poles / slots
    for order, *factors in working.tables[0].rows:
        n = int(order)
        coils = sum(cmath.exp(-1j * n * step * k) - cmath.exp(-1j * n * step * (k + pitch)) for k in range(belt))
        assert abs(factors[2]) == pytest.approx(abs(coils) / (2 * belt), abs=1e-9), order
        assert factors[2] == pytest.approx(factors[0] * factors[1], abs=1e-12)
    assert found["k_w"] == pytest.approx(float(working.tables[0].rows[0][3]), abs=1e-12)


def test_a_pitch_of_five_sixths_leaves_about_a_quarter_of_the_fifth_and_seventh():
    """The reason for that pitch in every handbook (memory): both pitch factors are sin 15 degrees, 0.259."""
    working = worked("winding-factors", slots=12, poles=2, coil_pitch=5)
    rows = {int(row[0]): row for row in working.tables[0].rows}
    assert [abs(rows[n][2]) for n in (5, 7)] == pytest.approx([math.sin(math.pi / 12)] * 2, abs=1e-9)
    assert "3.4 %" in working.remark and "26 % of the 5th harmonic and 26 % of the 7th" in working.remark
    assert "full pitch" in worked("winding-factors", coil_pitch=None).remark
    with pytest.raises(ValueError, match="slots must be a multiple of 12"):
        worked("winding-factors", slots=18)
    with pytest.raises(ValueError, match="coil_pitch must be from 1 to the full pitch of 9 slots, not 10"):
        worked("winding-factors", coil_pitch=10)
