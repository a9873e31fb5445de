"""Starting methods, against handbook relations, and what no method can be."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from physics.induction import EquivalentCircuit
from physics.shaft.loads import Flywheel, Shaft, kinetic_energy
from physics.starting.methods import (
    Autotransformer,
    DirectOnLine,
    InverterRamp,
    RotorResistance,
    SoftStarter,
    StarDelta,
)
from physics.starting.stages import Feed, Pause, Stage
from physics.starting.starts import start
from physics.starting.transients import record
from physics.supply.space_vectors import STAR
from tests.physics.starting.motors import CHAPMAN, FAN, FIFTY, KRAUSE, UNLOADED, circuits


class TestHandbook:
    @pytest.mark.parametrize(
        "method",
        [
            DirectOnLine(),
            StarDelta(),
            Autotransformer(0.5),
            SoftStarter(0.3, 2.0),
            RotorResistance.between_torques(CHAPMAN, 3, 200.0),
        ],
        ids=lambda method: method.name,
    )
    def test_rotor_circuit_heat_of_an_unloaded_start_is_the_kinetic_energy(self, method):
        """Standard result: at constant frequency, whatever the voltage and the resistance, as much heat arises in the
        rotor circuit as the inertia has taken up."""
        result = start(CHAPMAN, UNLOADED, method)
        energy = kinetic_energy(1.1, CHAPMAN.synchronous_speed)
        assert result.rotor_heat + result.resistor_heat == pytest.approx(energy, rel=1e-3)

    def test_stator_heat_is_rotor_heat_in_the_ratio_of_the_resistances(self):
        """With the magnetising current small, both carry the same current (handbook approximation)."""
        circuit = replace(CHAPMAN, magnetising_reactance=1e7)
        result = start(circuit, UNLOADED, DirectOnLine())
        assert result.stator_heat / result.rotor_heat == pytest.approx(0.641 / 0.332, rel=1e-4)

    def test_resistors_take_the_heat_of_a_wound_rotor_out_of_the_motor(self):
        """With one resistance in all the way, the heat splits as R2 to R (standard result)."""
        result = start(CHAPMAN, UNLOADED, RotorResistance((0.996,), (0.02,)))
        step = result.run_up.stage == 0
        assert result.run_up.resistor_heat[step][-1] / result.run_up.rotor_heat[step][-1] == pytest.approx(3.0)
        assert start(CHAPMAN, UNLOADED, DirectOnLine()).resistor_heat == 0.0

    def test_an_inverter_ramp_saves_nearly_all_rotor_heat(self):
        """A field that is never far ahead of the rotor: the heat goes about as starting time over ramp time (handbook
        result for a ramp long against the time that direct starting takes)."""
        energy = kinetic_energy(1.1, CHAPMAN.synchronous_speed)
        heats = [start(CHAPMAN, UNLOADED, InverterRamp(seconds, 10.0)).rotor_heat for seconds in (4.0, 8.0)]
        assert heats[0] < 0.05 * energy
        assert heats[0] > 1.5 * heats[1]

    def test_star_takes_a_third_of_current_and_torque(self):
        direct, star = start(CHAPMAN, FAN, DirectOnLine()), start(CHAPMAN, FAN, StarDelta())
        assert star.starting_line_current == pytest.approx(direct.starting_line_current / 3, rel=1e-13)
        assert star.starting_torque == pytest.approx(direct.starting_torque / 3, rel=1e-13)

    @pytest.mark.parametrize("tap, percent_of_direct", [(0.80, 64), (0.65, 42), (0.50, 25)])
    def test_autotransformer_takes_the_square_of_its_tap(self, tap, percent_of_direct):
        """The usual taps with torque and line current in per cent of direct starting as American handbooks table them
        (memory)."""
        direct, tapped = start(CHAPMAN, FAN, DirectOnLine()), start(CHAPMAN, FAN, Autotransformer(tap))
        assert 100 * tapped.starting_torque / direct.starting_torque == pytest.approx(percent_of_direct, abs=0.5)
        assert tapped.starting_torque == pytest.approx(tap**2 * direct.starting_torque, rel=1e-12)
        assert tapped.starting_line_current == pytest.approx(tap**2 * direct.starting_line_current, rel=1e-12)
        assert tapped.starting_motor_current == pytest.approx(tap * direct.starting_motor_current, rel=1e-12)

    def test_star_is_an_autotransformer_tapped_at_one_over_root_three(self):
        star = start(CHAPMAN, FAN, StarDelta()).run_up
        tapped = start(CHAPMAN, FAN, Autotransformer(1 / math.sqrt(3))).run_up
        first = star.stage == 0
        for name in ("time", "speed", "torque", "line_current", "rotor_heat", "stator_heat"):
            assert getattr(star, name)[first] == pytest.approx(getattr(tapped, name)[tapped.stage == 0], rel=1e-9)

    @pytest.mark.parametrize("size", KRAUSE)
    def test_a_typical_cage_motor_draws_five_to_eight_times_its_rated_current(self, size):
        """5 to 8 times: common practice, no source. The tabled rated torque is also the circuit's at rated speed."""
        circuit, speed, torque, inertia = KRAUSE[size]
        rated = circuit.at(1 - speed / 60 / circuit.synchronous_speed)
        assert rated.torque == pytest.approx(torque, rel=0.05)  # a slip of 14 r/min, rounded to 1
        result = start(circuit, Shaft(inertia), DirectOnLine())
        assert 5 < result.starting_line_current / abs(rated.stator_current) < 8
        # its momentary peak: at most 2 sqrt(2) of that, were there no damping, and above sqrt(2)
        assert 1.2 * math.sqrt(2) < result.peak_line_current / result.starting_line_current < 2 * math.sqrt(2)

    @pytest.mark.parametrize("breakdown_slip", [0.15, 0.407, 1.0])
    def test_time_to_speed_by_the_formula_for_a_motor_without_stator_resistance(self, breakdown_slip):
        """T / T_b = 2 / (s / s_b + s_b / s) (Kloss, 1897) integrated from standstill to a slip of 0.05:
        t = J w_s / T_b ((1 - 0.05^2) / (4 s_b) + s_b ln(20) / 2), in books 1 / (4 s_b) + 1.5 s_b
        (G. K. Dubey, Fundamentals of Electrical Drives, memory; integrated anew)."""
        circuit = EquivalentCircuit(0.0, 1.0, 2.0 * breakdown_slip, 1.0, 1e9, 400, 50, 4)
        assert circuit.breakdown()[0] == pytest.approx(breakdown_slip, rel=1e-6)
        inertia, omega = 2.0, 2 * math.pi * 25
        run_up = start(circuit, Shaft(inertia), DirectOnLine()).run_up
        seconds = np.interp(0.95 * 25, run_up.speed, run_up.time)
        scale = inertia * omega / circuit.breakdown()[1]
        exact = scale * ((1 - 0.05**2) / (4 * breakdown_slip) + breakdown_slip * math.log(20) / 2)
        assert seconds == pytest.approx(exact, rel=1e-5)
        assert seconds == pytest.approx(scale * (1 / (4 * breakdown_slip) + 1.5 * breakdown_slip), rel=0.01)

    def test_a_breakdown_slip_of_0_407_starts_quickest(self):
        """Least of that formula (the same book, memory)."""
        times = []
        for breakdown_slip in (0.3, 0.407, 0.55):
            circuit = EquivalentCircuit(0.0, 1.0, 2.0 * breakdown_slip, 1.0, 1e9, 400, 50, 4)
            run_up = start(circuit, Shaft(1.0), DirectOnLine()).run_up
            times.append(np.interp(0.95 * 25, run_up.speed, run_up.time))
        assert times[1] < times[0] and times[1] < times[2]

    def test_rotor_resistance_steps_all_begin_and_end_with_the_same_torque(self):
        highest = 0.9 * CHAPMAN.breakdown()[1]
        method = RotorResistance.between_torques(CHAPMAN, 4, highest)
        run_up = start(CHAPMAN, UNLOADED, method).run_up
        first = [run_up.torque[run_up.stage == step][0] for step in range(5)]
        last = [run_up.torque[run_up.stage == step][-1] for step in range(4)]
        assert first == pytest.approx([highest] * 5, rel=1e-9)
        assert last == pytest.approx([last[0]] * 4, rel=1e-9)
        whole = np.array([*method.resistances, 0.0]) + CHAPMAN.rotor_resistance
        assert whole[1:] / whole[:-1] == pytest.approx(np.full(4, whole[1] / whole[0]), rel=1e-9)

    def test_more_rotor_resistance_gives_breakdown_torque_at_standstill(self):
        """Twice the resistance, twice the breakdown slip, the same torque: Chapman's example carried to standstill."""
        slip, torque = CHAPMAN.breakdown()
        needed = CHAPMAN.rotor_resistance * (1 / slip - 1)
        assert start(CHAPMAN, FAN, RotorResistance((needed,), (0.2,))).starting_torque == pytest.approx(torque)


class TestFeedAndMethods:
    @FIFTY
    @given(circuit=circuits, slip=st.floats(-1, 2).filter(lambda slip: abs(slip) > 1e-4))
    def test_star_is_three_times_the_impedance(self, circuit, slip):
        star, delta = Feed(connection=STAR).circuit(circuit).at(slip), circuit.at(slip)
        assert star.torque == pytest.approx(delta.torque / 3, rel=1e-12)
        assert star.stator_current == pytest.approx(delta.stator_current / 3, rel=1e-12)
        assert star.stator_loss == pytest.approx(delta.stator_loss / 3, rel=1e-12)

    @FIFTY
    @given(circuit=circuits, share=st.floats(0.05, 1.0), hertz=st.floats(0.1, 5.0))
    def test_volts_per_hertz_keep_the_torque_at_a_slip_frequency_but_for_the_stator_drop(self, circuit, share, hertz):
        ideal = replace(circuit, stator_resistance=0.0)
        low = Feed(voltage=share, frequency=share).circuit(ideal)
        assert low.at(hertz / low.frequency).torque == pytest.approx(ideal.at(hertz / ideal.frequency).torque, rel=1e-9)

    def test_line_current_of_an_inverter_carries_the_power_only(self):
        result = start(CHAPMAN, FAN, InverterRamp(5.0, 20.0))
        point = CHAPMAN.at(1 - result.settled_speed / CHAPMAN.synchronous_speed)
        assert result.settled_line_current == pytest.approx(abs(point.stator_current) * point.power_factor, rel=1e-6)
        assert result.largest_line_current < 0.5 * start(CHAPMAN, FAN, StarDelta()).largest_line_current

    @pytest.mark.parametrize(
        "build, named",
        [
            (lambda: StarDelta(change_over_slip=0.0), "change_over_slip must be between 0 and 1"),
            (lambda: StarDelta(pause=-0.1), "pause must be greater than 0"),
            (lambda: Autotransformer(tap=1.2), "tap must be above 0 and at most 1"),
            (lambda: Autotransformer(change_over_slip=1.0), "change_over_slip must be between 0 and 1"),
            (lambda: SoftStarter(first_voltage=0.0), "first_voltage must be above 0"),
            (lambda: SoftStarter(seconds=0.0), "seconds must be greater than 0"),
            (lambda: RotorResistance((), ()), "resistances must fall"),
            (lambda: RotorResistance((1.0, 2.0), (0.5, 0.2)), "resistances must fall"),
            (lambda: RotorResistance((2.0, 1.0), (0.2, 0.5)), "change_over_slips must fall"),
            (lambda: RotorResistance((2.0, 1.0), (0.5,)), "change_over_slips must fall"),
            (lambda: RotorResistance((math.nan,), (0.5,)), "resistances must be finite"),
            (lambda: RotorResistance.between_torques(CHAPMAN, 0, 200.0), "steps must be a whole number"),
            (lambda: RotorResistance.between_torques(CHAPMAN, 2, 300.0), "highest_torque must be above 0 and at most"),
            (lambda: InverterRamp(seconds=-1.0), "seconds must be greater than 0"),
            (lambda: InverterRamp(boost=-1.0), "boost must be 0 or more"),
            (lambda: start(CHAPMAN, FAN, InverterRamp(boost=460.0)), "boost must be below"),
            (lambda: start(CHAPMAN, FAN, InverterRamp(first_frequency=60.0)), "first_frequency must be below"),
            (lambda: start(None, FAN, DirectOnLine()), "motor must be an EquivalentCircuit"),
            (lambda: start(CHAPMAN, None, DirectOnLine()), "shaft must have an inertia and a torque"),
            (lambda: start(CHAPMAN, FAN, "direct on line"), "method must be one of starting_methods"),
            (lambda: Stage("ramp", Feed(), Feed(0.5), seconds=0.0), "seconds must be greater than 0"),
            (lambda: Stage("ramp", Feed(), Feed(0.5)), "last must come with seconds"),
            (lambda: Stage("step", Feed(), until_slip=1.5), "until_slip must be between 0 and 1"),
            (lambda: Pause("off", -1.0), "seconds must be greater than 0"),
            (lambda: start(CHAPMAN, Flywheel(0.0), DirectOnLine()), "inertia of the shaft must be greater than 0"),
            (lambda: record(CHAPMAN, FAN, DirectOnLine(), -1.0, 1e-3), "duration must be greater than 0"),
            (lambda: record(CHAPMAN, FAN, DirectOnLine(), 1.0, 0.0), "interval must be greater than 0"),
            (lambda: Feed(voltage=0.0), "voltage must be greater than 0"),
            (lambda: Feed(frequency=math.inf), "frequency must be finite"),
            (lambda: Feed(rotor_resistance=-1.0), "rotor_resistance must be 0 or more"),
        ],
    )
    def test_refuses_what_cannot_be(self, build, named):
        with pytest.raises(ValueError, match=named):
            build()
