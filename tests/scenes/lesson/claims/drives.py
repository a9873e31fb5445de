"""What a caption claims of starting, braking, wiring and one phase: each a check of what is shown `now`, and what was `before`."""

from __future__ import annotations

import math
import re

import pytest

from tests import oracle


def the_ohmmeter_does_not_answer(now, before):
    """Nothing is shown, though its probes lie on two studs that have the line voltage between them, and what comes first is said."""
    data = now.data[-1]
    leads = [(lead["from"], lead["to"]) for lead in data["leads"]]
    assert ("ohmmeter Ω", "motor U1") in leads and ("ohmmeter 0", "motor V1") in leads
    assert not any(each["unit"] == "Ω" for each in data["readings"])
    assert re.search("isolate, lock off and prove dead first", data["says"])


def direct_on_line(now, before):
    rated = rated_current(now)
    for instant in range(3):
        assert now.of("I", instant) > 3 * rated or now.of("n", instant) > 1350
    assert now.of("I", 0) > 4 * rated


def rated_current(shown) -> float:
    formula = next(r["formula"] for r in shown.data[0]["readings"] if r["symbol"] == "I")
    return float(re.search(r"/ ([\d.]+) A =", formula)[1])


def a_third(now, before):
    assert now.of("I", 0) == pytest.approx(before.of("I", 0) / 3, rel=0.01) and now.of("T", 0) == pytest.approx(
        before.of("T", 0) / 3, rel=0.01
    )


def longer_than_direct(now, before):
    a_third(now, before)
    seconds = [float(re.search(r"in ([\d.]+) s", shown.data[0]["says"])[1]) for shown in (now, before)]
    assert seconds[0] > 1.5 * seconds[1]


def does_not_move(now, before):
    assert all(now.of("n", instant) == 0 for instant in range(4)) and now.of("T") > 0


def on_half_the_current(now, before):
    assert now.of("n") > 1400 and 0.4 < now.of("Iₘₐₓ") / (5.5 * rated_current(now)) < 0.6  # direct: 5.5 times rated


def on_less_than_rated_current(now, before):
    assert now.of("n") > 1400 and now.of("Iₘₐₓ") < rated_current(now)


def heat_leaves_the_rotor(now, before):
    reading = next(r for r in now.data[0]["readings"] if r["symbol"] == "W")
    assert float(re.search(r"([\d.]+) kJ in the resistors", reading["formula"])[1]) > 2 * reading["value"]


def three_contactors_six_leads(now, before):
    for data in now.data:
        leads = [lead for lead in data["leads"] if not lead["through"] and "motor" in lead["from"] + lead["to"]]
        assert len(leads) == 6 and len({end for lead in leads for end in lead.values() if end.startswith("motor")}) == 6
        closed = {mark["words"] for mark in data["marks"] if mark["words"].endswith("closed")}
        assert not {"star contactor closed", "delta contactor closed"} <= closed


def voltage_rises(now, before):
    volts = [now.of("U", instant) for instant in range(4)]
    assert volts[0] < volts[1] < volts[2] < volts[3]


def voltage_and_current_of_the_inverter(now, before):
    voltage_rises(now, before)
    assert all(now.of("I", instant) < 1.2 * rated_current(now) for instant in range(4))


def each_winding_has_the_plates_voltage(now, before):
    """400 V over the root of three, and at most the rated current with half the load."""
    for instant in (1, 2, 3):
        assert [now.of(f"U {phase}", instant) for phase in "UVW"] == pytest.approx(3 * [400 / math.sqrt(3)], abs=1)
    assert "nothing trips" in [reading["value"] for reading in now.data[0]["readings"]] and now.of("n") > 1400


def it_runs_and_burns(now, before):
    assert [now.of(f"U {phase}", 1) for phase in "UVW"] == pytest.approx(3 * [400], abs=1)
    assert now.of("I U", 3) > 3 * before.of("I U", 3) and now.peaks["n"] > 1400
    assert any("155 °C" in reading["words"] and re.match(r"after \d", str(reading["value"])) for reading in now.data[0]["readings"])


def a_third_then_a_peak(now, before):
    """In star a third of what delta draws at that slip, by the motor's circuit; later in delta, with a peak of many times the rated."""
    assert [step["value"] for step in (now.data[k]["readings"][0] for k in (0, 1, 3))] == ["isolator open", "in star", "in delta"]
    slip, scale = 1 - now.of("n", 1) / 1500, (690 / 400) ** 2
    running, starting = 0.5926 / slip + 2.836j, 0.5011 / slip
    rotor = 0.721j + running * starting / (running + starting)
    in_delta = math.sqrt(3) * 400 / scale / abs(0.415 + 0.721j + 24.54j * rotor / (24.54j + rotor))
    assert now.of("I", 1) == pytest.approx(in_delta / 3, rel=0.05)
    peak = next(each["value"] for each in now.data[3]["readings"] if each["words"].endswith("delta U1-V2"))
    assert peak > 5 * math.sqrt(2) * 21.2


def it_goes_on_hotter(now, before):
    """60 % of the load on two of three lines: root three times 0.6 of the current and more (common practice), against the load."""
    for instant in range(len(now.data)):
        assert now.of("n", instant) > 2700
    assert now.of("I") > 0.6 * math.sqrt(3) * 21.2
    assert now.of("T") == pytest.approx(now.of("Tₗ"), rel=0.06)
    # with all three lines the rotor's heat is the slip times the power across the gap: 0.6 of 11 kW at about 1.3 % slip
    assert now.of("q") > 2 * 0.013 * 0.6 * 11000


def it_leads_and_starts(now, before):
    assert 20 < now.of("φ", 0) < 180 and now.of("n", 0) == 0 and now.of("T", 0) > now.of("Tₗ", 0)
    assert now.of("n") > 2800 and now.of("U C") > 230


def it_hums(now, before):
    assert now.peaks["n"] < 0.5 and abs(now.of("T", 0)) < 0.01 and now.of("I", 0) > 2 * 3.7


def it_coasts(now, before):
    assert now.peaks["I"] < 20 and now.of("I") == 0 and now.of("n", 0) > now.of("n", 2) > now.of("n")


def three_times_the_energy(now, before):
    """J w^2 (s1^2 - s2^2) / 2 from a slip of 2 to 1: three times J w^2 / 2, with 0.3 kg m2 at 3000 r/min; less what the bearings take."""
    assert now.peaks["W"] > 0.9 * 3 * 0.5 * 0.3 * (100 * math.pi) ** 2
    assert now.vector("T", 1)[2] > 0 > now.vector("n", 1)[2]


def it_runs_up_backwards(now, before):
    assert now.vector("n", 0)[2] < 0 and (now.of("s") > 90 or now.vector("n")[2] > 0)


def the_field_stands_still(now, before):
    """Past the first instant, when it still runs: the field arrow where it was, and current through U and V alone, from the rectifier."""
    first, later = now.vector("B", 2), now.vector("B")
    assert oracle.dot(oracle.unit(first), oracle.unit(later)) > 0.1 and now.of("nₛ") == 0
    assert now.of("n") < now.of("n", 0) and now.peaks["P"] < 1.5e5 and now.of("W") > 0


def it_generates_and_holds(now, before):
    assert (
        now.of("n") > 3000
        and now.of("P") < 0
        and abs(now.of("T")) == pytest.approx(now.of("T\N{LATIN SUBSCRIPT SMALL LETTER L}"), rel=0.05)
    )


def it_generates_as_it_slows(now, before):
    assert now.of("n", 2) < now.of("n", 0) and now.of("P", 2) < 0 and now.of("n", 2) > now.of("nₛ", 2)


def runs(sense):
    def claim(now, before):
        assert now.of("n") > 2500 and now.vector("n")[2] * sense > 0

    return claim
