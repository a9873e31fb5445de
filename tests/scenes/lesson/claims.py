"""What each caption of the lesson and of the tours claims, as a check of what is shown."""

from __future__ import annotations

import math
import re

import pytest

from scenes.scene.state import NoPage, as_data
from tests import oracle

INSTANTS = (0.0, 1.0, 3.0, 8.0)  # s of the page after the caption came up
FRAME = 0.1  # s, the longest from picture to picture
WITH_PEAKS = ("moved-conductor", "one-phase", "braking")  # scenes of which a claim is about the most that was read


class Shown:
    """What is read and drawn at the instants after a step or stop came up, `scene` being set up for it and moved on here."""

    def __init__(self, scene, held=False):
        self.data = []
        scene.ensure_built(NoPage())
        self.page, self.peaks = 0.0, {}
        for instant in INSTANTS[:1] if held else INSTANTS:
            while self.page < instant - 1e-9:
                scene.step(FRAME / scene.slowness)
                self.page += FRAME
                if scene.name in WITH_PEAKS:
                    self.note(scene)
            scene.draw()
            self.note(scene)
            self.data.append(as_data(scene, instant))

    def note(self, scene):
        for reading in scene.readings():
            figure = re.sub(r"[^\d.eE+-]", "", reading.value.replace("\N{MINUS SIGN}", "-"))
            try:
                unit = (
                    {"m": 1e-3, "k": 1e3, "µ": 1e-6}.get(reading.unit[:1], 1.0)
                    if len(reading.unit) > 1 and reading.unit[:1] in "mkµ"
                    else 1.0
                )
                self.peaks[reading.symbol] = max(self.peaks.get(reading.symbol, 0.0), abs(float(figure)) * unit)
            except ValueError:
                continue

    def of(self, symbol, instant=-1):
        """A reading by its symbol, without subscripts for currents of two kinds."""
        return next(r["value"] for r in self.data[instant]["readings"] if r["symbol"] == symbol)

    def vector(self, letter, instant=-1):
        return next(a["vector"] for a in self.data[instant]["arrows"] if a["letter"] == letter)

    def compasses(self, instant=-1):
        return [(n["at"], n["vector"]) for n in self.data[instant]["needles"] if "compass" in n["words"]]


# what the captions claim


def the_ohmmeter_does_not_answer(now, before):
    """Nothing is shown, though its probes lie on two studs that have the line voltage between them, and what comes first is said."""
    data = now.data[-1]
    leads = [(lead["from"], lead["to"]) for lead in data["leads"]]
    assert ("ohmmeter Ω", "motor U1") in leads and ("ohmmeter 0", "motor V1") in leads
    assert not any(each["unit"] == "Ω" for each in data["readings"])
    assert re.search("isolate, lock off and prove dead first", data["says"])


def every_needle_points_north(now, before):
    for instant in range(len(now.data)):
        assert now.compasses(instant) and all(vector[2] < -0.99 for _, vector in now.compasses(instant))


def needles_lie_round_the_wire(now, before):
    """Within 45 degrees of the circle, the sense by the grip rule, for all needles but one that the Earth's field holds."""
    current = now.of("I")
    off = 0
    for at, vector in now.compasses():
        round_it = oracle.cross((0, math.copysign(1, current), 0), (at[0], 0, at[2]))
        off += oracle.dot(oracle.unit(round_it), vector) < math.cos(math.radians(45))
    assert len(now.compasses()) >= 4 and off <= 1


def the_field_goes_round_the_other_way(now, before):
    assert now.of("I") * before.of("I") < 0
    needles_lie_round_the_wire(now, before)


def between_both_fields(now, before):
    for at, vector in now.compasses():
        round_it = oracle.cross((0, math.copysign(1, now.of("I")), 0), (at[0], 0, at[2]))
        assert oracle.dot(vector, oracle.unit(round_it)) > -0.2 or vector[2] < 0  # within the angle of the two


def no_force(now, before):
    for instant in range(len(now.data)):
        assert abs(now.of("F", instant)) < 0.05


def force_at_right_angles(now, before):
    for instant in range(len(now.data)):
        force, field, current = (now.vector(letter, instant) for letter in "FBI")
        assert (
            abs(oracle.dot(oracle.unit(force), oracle.unit(field))) < 0.03
            and abs(oracle.dot(oracle.unit(force), oracle.unit(current))) < 0.03
        )
        assert oracle.dot(oracle.unit(force), oracle.unit(oracle.cross(current, field))) > 0.99


def force_reversed(now, before):
    assert oracle.dot(oracle.unit(now.vector("F")), oracle.unit(before.vector("F"))) < -0.9


def force_as_two_steps_ago(now, before):
    assert oracle.dot(oracle.unit(now.vector("F")), oracle.unit(before.vector("F"))) < -0.9  # the step before had it reversed
    force_at_right_angles(now, before)


def less_force(now, before):
    assert 0 < abs(now.of("F", 0)) < 0.85 * abs(before.of("F", 0))


def wires_attract(now, before):
    for data in now.data:
        for arrow in data["arrows"]:
            if arrow["letter"] == "F":
                assert arrow["vector"][0] * arrow["at"][0] < 0


def wires_repel(now, before):
    for data in now.data:
        for arrow in data["arrows"]:
            if arrow["letter"] == "F":
                assert arrow["vector"][0] * arrow["at"][0] > 0


def it_generates_to_both_sides(now, before):
    assert now.peaks["E"] > 1e-4 and now.peaks["I"] < 1e-9


def emf_times(factor, tolerance=0.08):
    def claim(now, before):
        assert now.peaks["E"] / before.peaks["E"] == pytest.approx(factor, rel=tolerance)

    return claim


def more_emf(now, before):
    assert now.peaks["E"] > 1.2 * before.peaks["E"]


def current_opposes_the_motion(now, before):
    found = 0
    for data in now.data:
        arrows = {arrow["letter"]: arrow["vector"] for arrow in data["arrows"]}
        if "F" in arrows and "v" in arrows:
            found += 1
            assert oracle.dot(arrows["F"], arrows["v"]) < 0
    assert found


def loaded_commutator_motor(now, before):
    assert now.of("n") < before.of("n") and now.of("E") < before.of("E") and now.of("I") > before.of("I")


def cycles_per_revolution(now, before):
    assert now.of("f") / (now.of("n") / 60) == pytest.approx(2 * before.of("f") / (before.of("n") / 60))


def field_rotates(now, before):
    senses = {data["says"].replace("counter-clockwise", "CCW") for data in now.data}
    assert all("clockwise" in said or "CCW" in said for said in senses)


def field_rotates_the_other_way(now, before):
    assert all("counter-clockwise" in data["says"] for data in now.data)  # L1-L2-L3 in order is clockwise (IEC 60034-8)


def field_only_pulsates(now, before):
    assert all("does not turn" in data["says"] or "does not rotate" in data["says"] for data in now.data)


def half_the_field_speed(now, before):
    assert now.of("nₛ") == pytest.approx(120 * 50 / 4) and now.of("nₛ") / 3000 == pytest.approx(0.5)


def cage_held(now, before):
    for instant in range(4):
        assert now.of("n", instant) == 0 and abs(now.of("I", instant)) >= 0 and now.of("s", instant) == pytest.approx(100)


def field_stands_bars_turn(now, before):
    for instant in range(4):
        assert now.of("n", instant) < 0 and now.of("nₛ", instant) == 0


def it_runs_after_the_field(now, before):
    for instant in range(4):
        assert now.of("n", instant) < now.of("nₛ", instant)
    assert now.of("n", 3) > now.of("n", 0)


def it_slows_until_torque_meets_load(now, before):
    assert now.of("n", 3) < now.of("n", 1) < now.of("n", 0)
    assert abs(now.of("Tₗ", 3) - now.of("T", 3)) < 0.15 * now.of("Tₗ", 3) < abs(now.of("Tₗ", 0) - now.of("T", 0))


def exactly_as_fast_and_behind(now, before):
    """From the swing of the first moments it settles at the field's speed, behind it by less than 90 degrees."""
    assert now.of("n") == now.of("nₛ") == 3000 and 0 < now.of("δ") < 90
    assert all(abs(now.of("n", k) - 3000) < 90 for k in range(4))


def laps_count(now, before):
    assert now.of("s") == pytest.approx(100 * (now.of("nₛ") - now.of("n")) / now.of("nₛ"), abs=0.1) and now.of("s") > 1


def about_half_speed(now, before):
    assert now.of("nₛ") == pytest.approx(120 * 25 / 4) and 0.9 * 750 < now.of("n") < 750


def weaker_field_above_rated(now, before):
    assert now.of("U / f") < 0.7 * before.of("U / f") and now.of("Tₘ") < before.of("Tₘ")


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


def seen_from_the_drive_end(said: str) -> float:
    """+1 counter-clockwise; a sense told from the other end counts the other way about."""
    other = re.search(r"(from|at) the (commutator|non-drive) end", said) is not None
    return (1.0 if "counter-clockwise" in said else -1.0) * (-1.0 if other else 1.0)


def reversed_motor(now, before):
    assert seen_from_the_drive_end(now.data[-1]["says"]) == -seen_from_the_drive_end(before.data[-1]["says"])


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


def a_rotor_of_bars_and_rings(now, before):
    """Bars and rings go with the rotor's core wherever it is; nothing that leads a current on to it or off it is there."""
    for data in now.data:
        places = {mark["words"].removeprefix("part: "): mark["at"] for mark in data["marks"]}
        assert places["bars"] == places["end-rings"] == places["rotor-core"]
        assert not any("slip" in part or "brush" in part for part in places)
    assert now.of("I") > 100


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


LESSON = {
    "A wire through a table, the switch open: every needle points north.": every_needle_points_north,
    "Close the switch: the needles swing to lie round the wire.": needles_lie_round_the_wire,
    "Reverse the current, and the field goes round the other way.": the_field_goes_round_the_other_way,
    "Less current: each needle settles between the wire's field and the Earth's.": between_both_fields,
    "A rod hangs between two poles. No current, no force.": no_force,
    "Close the switch: the force is at right angles to field and current.": force_at_right_angles,
    "Reverse the current, and the force is reversed.": force_reversed,
    "Reverse the field as well, and it swings the first way again.": force_as_two_steps_ago,
    "Turn the rod toward the field: less force.": less_force,
    "No magnet at all: two currents in the same direction attract.": wires_attract,
    "Now the other way about: move the conductor, and it generates.": it_generates_to_both_sides,
    "Twice as fast, twice the voltage.": emf_times(2.0),
    "Half the field, half the voltage.": emf_times(0.5),
    "Longer poles: more of the rod lies in the strong field, more voltage.": more_emf,
    "Fifty turns in series, fifty times the voltage.": None,  # of one turn at 40 mm: below, as the step before has other poles
    "Close the circuit, and the current opposes the motion.": current_opposes_the_motion,
    "Load it: it slows, the back-EMF falls, the current rises.": loaded_commutator_motor,
    "More poles, more cycles per revolution.": cycles_per_revolution,
    "Let it run: a rotating field.": field_rotates,
    "Swap any two phases, and the field rotates in the other direction.": field_rotates_the_other_way,
    "Lose one phase: the field only pulsates.": field_only_pulsates,
    "Four poles: the field rotates at half the speed.": half_the_field_speed,
    "A cage held still: the field sweeps over its bars.": cage_held,
    "Stop the field and turn the bars backward: the same relative motion.": field_stands_bars_turn,
    "Let it go: it runs after the field, and never catches it.": it_runs_after_the_field,
    "Load it: it slows until its torque meets the load.": it_slows_until_torque_meets_load,
    "A cage motor taken apart: bars and end rings, and no wire to the rotor.": a_rotor_of_bars_and_rings,
    "Count the laps: that is the slip.": laps_count,
    "A rotor that is a magnet: exactly as fast as its field, it only leans back.": exactly_as_fast_and_behind,
    "Half the frequency: about half the speed. An inverter sets any speed.": about_half_speed,
    "Above rated frequency the field weakens, and the breakdown torque falls.": weaker_field_above_rated,
    "Single-phasing: a running motor that loses a phase goes on, and runs hotter.": it_goes_on_hotter,
    "A second winding behind a capacitor: its current leads, and the field rotates.": it_leads_and_starts,
    "Direct current: the field stands still, and the rotor generates into itself.": the_field_stands_still,
    "Driven past synchronous speed it generates, and holds the load that drives it.": it_generates_and_holds,
    "Star on 400 V: each winding gets 231 V, as its plate asks.": each_winding_has_the_plates_voltage,
    "Delta on the voltage for star: it runs, and it burns.": it_runs_and_burns,
    "A star-delta starter: in star a third of the current, then the peak of the change-over.": a_third_then_a_peak,
    "No ohmmeter on a live board: isolate, lock off, prove dead, then measure.": the_ohmmeter_does_not_answer,
    "Direct-on-line: several times rated current, until it is nearly up to speed.": direct_on_line,
    "A wound rotor with resistance starts it, on about half the current.": on_half_the_current,
    "An inverter starts it too, on less than rated current from the line.": on_less_than_rated_current,
    "High inertia? Then the heat decides, and here most of it leaves the rotor.": heat_leaves_the_rotor,
}


# these say what is done or asked, and nothing that could be false
HEADINGS = {
    "Bend the rod into a coil and turn it: the voltage alternates.",
    "Cut the ring into bars: the brushes keep one polarity.",
    "Feed it from a battery, and the same machine is a motor.",
    "Turn the magnet instead: one coil, one alternating voltage.",
    "Two more coils, 120 degrees on: three phases.",
    "Now feed three phases into twelve slots.",
    "Step by step: each step of 60 degrees turns the field by 60 degrees.",
    "How it gets its winding: phase U is laid, two coils of full pitch in twelve slots.",
    "Enter a nameplate, and it is that motor.",
    "Or change the poles: one tapped winding, two fixed speeds.",
    "So choose: ask the load, the supply and the speed.",
}
STOPS = {
    "Without current in the wire every needle": every_needle_points_north,
    "every needle swings to lie along a circle": needles_lie_round_the_wire,
    "every needle swings right round": the_field_goes_round_the_other_way,
    "Without current there is no force on it": no_force,
    "a force across field and current": force_at_right_angles,
    "the force is reversed": force_reversed,
    "the force has its first direction again": force_as_two_steps_ago,
    "the rod feels no force": no_force,
    "Without current there is no force on them": no_force,
    "the wires attract each other": wires_attract,
    "the wires repel each other": wires_repel,
    "there is no force between them": no_force,
    "it runs in the other direction": reversed_motor,
    "it runs in the first direction again": reversed_motor,
    "the field rotates in the other direction: this": field_rotates_the_other_way,
    "it only pulsates": field_only_pulsates,
    "the field rotates at half the speed.": half_the_field_speed,
    "It hums, and does not start": it_hums,
    "it goes on in that direction": runs(-1),
    "it does not mind which": runs(1),
    "it starts by itself": runs(-1),
    "it starts in the other direction": runs(1),
    "goes on, with far more current": it_goes_on_hotter,
    "until its overload relay trips": it_hums,
    "only coasts": it_coasts,
    "three times the energy as heat": three_times_the_energy,
    "it starts again in the opposite direction": it_runs_up_backwards,
    "the field stands still, and the rotor brakes": the_field_stands_still,
    "it gives power back": it_generates_and_holds,
    "while an inverter lowers": it_generates_as_it_slows,
    "Star-delta: in star a third": longer_than_direct,
    "The starter from near": three_contactors_six_leads,
    "does not even move": does_not_move,
    "raises the voltage slowly": voltage_rises,
    "raises frequency and voltage together": voltage_and_current_of_the_inverter,
}
