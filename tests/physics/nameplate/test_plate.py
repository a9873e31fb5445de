"""What follows from a plate alone, against the trade's rules and IEC 60034."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings

from physics.nameplate import Nameplate
from tests.physics.nameplate.plates import TYPICAL, motors, plate_of

FIFTY = settings(max_examples=50, deadline=None)


class TestPlate:
    def test_what_follows_from_a_typical_plate(self):
        plate = Nameplate(**TYPICAL)
        assert plate.poles == 4 and plate.synchronous_speed == 25.0
        assert plate.slip == pytest.approx(35 / 1500)
        # the trade's rule for torque in N m: 9550 kW / (r/min) (common practice)
        assert plate.torque == pytest.approx(9550 * 7.5 / 1465, rel=1e-4)
        assert plate.input_power == pytest.approx(math.sqrt(3) * 400 * 14.1 * 0.85)
        assert plate.losses == pytest.approx(plate.input_power - 7500)

    @pytest.mark.parametrize(
        "kilowatts, rpm, current, power_factor, high, premium",
        [(1.1, 1440, 2.45, 0.77, 81.4, 84.1), (4.0, 1455, 7.9, 0.825, 86.6, 88.6), (7.5, 1465, 14.1, 0.85, 88.7, 90.4)],
    )
    def test_efficiency_of_premium_motors(self, kilowatts, rpm, current, power_factor, high, premium):
        """Typical plates of four-pole motors of class IE3 at 50 Hz (memory) come to the limit that IEC 60034-30, its
        table for four poles, sets for IE3, per cent, as near as a current of two or three figures allows, and well
        above that for IE2. Its formula for IE3, A lg^3 P + B lg^2 P + C lg P + D (coefficients from memory), is met by
        the table."""
        plate = Nameplate(1000 * kilowatts, 400, 50, rpm / 60, current, power_factor)
        assert 100 * plate.efficiency == pytest.approx(premium, abs=0.7)
        assert 100 * plate.efficiency > high + 1
        assert np.polyval([0.0773, -1.8951, 9.2984, 83.7025], math.log10(kilowatts)) == pytest.approx(premium, abs=0.06)

    def test_windings_in_star_and_in_delta(self):
        delta = Nameplate(**TYPICAL)
        star = replace(delta, line_voltage=690.0, current=14.1 * 400 / 690, connection="star")
        # one motor, 400 V delta and 690 V star: the same on each winding
        assert star.winding_voltage == pytest.approx(delta.winding_voltage, rel=0.005)
        assert star.winding_current == pytest.approx(delta.winding_current, rel=0.005)
        assert delta.winding_voltage == 400.0 and star.winding_current == star.current

    @FIFTY
    @given(motor=motors())
    def test_tells_of_a_circuit_what_the_circuit_says(self, motor):
        circuit, slip, lost = motor
        plate = plate_of(circuit, slip, lost)
        point = circuit.at(slip)
        assert plate.poles == circuit.poles
        assert plate.slip == pytest.approx(slip, rel=1e-9)
        assert plate.input_power == pytest.approx(point.input_power, rel=1e-9)
        assert plate.losses - lost * point.converted_power == pytest.approx(point.stator_loss + point.rotor_loss, rel=1e-6)

    @pytest.mark.parametrize(
        "changes, said",
        [
            (dict(power_factor=1.0), "power_factor must be below 1"),
            (dict(power_factor=1.2), "power_factor must be below 1"),
            (dict(power_factor=0.0), "power_factor must be greater than 0"),
            (dict(current=12.0), "power must be less than what is drawn, 7067 W"),
            (dict(current=13.0), "power must be less than 97.7% of what is drawn"),
            (dict(power=7.5), "power must be in W and at least 10% of what is drawn"),
            (dict(speed=25.0), "speed must be below the synchronous speed of 25 rev/s"),
            (dict(speed=3020 / 60), "speed must not be above 50 rev/s"),
            (dict(speed=1510 / 60), "speed must be within 20% of a synchronous speed"),
            (dict(speed=1465.0), "speed must not be above 50 rev/s"),
            (dict(frequency=0.0), "frequency must be greater than 0"),
            (dict(line_voltage=math.nan), "line_voltage must be finite"),
            (dict(connection="wye"), 'connection must be "star" or "delta"'),
            (dict(starting_current=0.9), "starting_current must be a multiple above 1"),
            (dict(breakdown_torque=0.9), "breakdown_torque must be a multiple above 1"),
            (dict(starting_torque=-1.0), "starting_torque must be greater than 0"),
            (dict(starting_torque=3.0, breakdown_torque=2.5), "starting_torque must not be above the breakdown_torque"),
            (dict(starting_torque=3.0, starting_current=2.0), "starting_torque must be less, or starting_current more"),
        ],
    )
    def test_refuses_plates_that_contradict_themselves(self, changes, said):
        with pytest.raises(ValueError, match=said) as refusal:
            Nameplate(**TYPICAL | changes)
        assert "\n" not in str(refusal.value)
