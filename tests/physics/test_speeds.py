"""Speeds against the tables of standards and what stands on real nameplates."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from physics import speeds

# IEC 60034-1 and common nameplates: synchronous r/min for 2, 4, ... 12 poles
TABLE_50_HZ = [3000, 1500, 1000, 750, 600, 500]
TABLE_60_HZ = [3600, 1800, 1200, 900, 720, 600]

# NEMA MG 1, table of synchronous speeds at 60 Hz for 14 and 16 poles (memory; 7200 / poles redone by arithmetic)
NEMA_MORE_POLES_60_HZ = {14: 514, 16: 450}

# Full-load speeds as they stand on four-, six-, ... pole cage motors at 50 Hz and 60 Hz (common practice, no source)
NAMEPLATES = [
    (50, 2880, 2), (50, 1450, 4), (50, 960, 6), (50, 720, 8), (50, 580, 10), (50, 485, 12),
    (60, 3500, 2), (60, 1750, 4), (60, 1160, 6), (60, 870, 8),
    (50, 1350, 4), (50, 2980, 2), (50, 1485, 4),
]  # fmt: skip


@pytest.mark.parametrize(("frequency", "table"), [(50, TABLE_50_HZ), (60, TABLE_60_HZ)])
def test_synchronous_speeds_of_two_to_twelve_poles(frequency, table):
    speed = [speeds.synchronous_speed(frequency, poles) for poles in range(2, 13, 2)]
    np.testing.assert_allclose(speeds.revolutions_per_minute(speed), table, rtol=1e-14)


@pytest.mark.parametrize(("poles", "printed"), NEMA_MORE_POLES_60_HZ.items())
def test_synchronous_speeds_that_a_table_rounds(poles, printed):
    assert round(speeds.revolutions_per_minute(speeds.synchronous_speed(60, poles))) == printed


def test_four_pole_motor_at_1450():
    """Common practice: 1450 r/min on 50 Hz; the slip is 50/1500, that is 3.33 %."""
    synchronous = speeds.synchronous_speed(50, 4)
    actual = speeds.revolutions_per_second(1450)
    assert synchronous == 25
    assert speeds.slip(synchronous, actual) == pytest.approx(50 / 1500, rel=1e-13)
    assert speeds.rotor_frequency(50, speeds.slip(synchronous, actual)) == pytest.approx(5 / 3, rel=1e-13)


def test_chapman_slip_and_rotor_frequency():
    """Chapman, Electric Machinery Fundamentals, first induction motor example (memory, redone by arithmetic):
    208 V, four poles, 60 Hz, slip 5 %: 1800 r/min, 1710 r/min, rotor frequency 3 Hz."""
    synchronous = speeds.synchronous_speed(60, 4)
    assert speeds.revolutions_per_minute(synchronous) == pytest.approx(1800, rel=1e-14)
    assert speeds.revolutions_per_minute(speeds.speed_at_slip(synchronous, 0.05)) == pytest.approx(1710, rel=1e-14)
    assert speeds.rotor_frequency(60, 0.05) == pytest.approx(3, rel=1e-14)


@pytest.mark.parametrize(("frequency", "speed", "poles"), NAMEPLATES)
def test_poles_from_what_a_nameplate_says(frequency, speed, poles):
    assert speeds.poles_from_rated_speed(frequency, speeds.revolutions_per_second(speed)) == poles


@settings(max_examples=50, deadline=None)
@given(pole_pairs=st.integers(1, 60), frequency=st.floats(1, 500), rated_slip=st.floats(0, 0.9))
def test_poles_come_back_from_any_speed_that_tells_them(pole_pairs, frequency, rated_slip):
    # a slip that would bring the rotor below the synchronous speed of the next pole number cannot be told apart
    rated_slip = rated_slip * min(1 / (pole_pairs + 1), speeds.LARGEST_RATED_SLIP)
    speed = speeds.speed_at_slip(speeds.synchronous_speed(frequency, 2 * pole_pairs), rated_slip)
    assert speeds.poles_from_rated_speed(frequency, speed) == 2 * pole_pairs


@settings(max_examples=50, deadline=None)
@given(synchronous=st.floats(0.1, 100), slip=st.floats(-2, 2))
def test_slip_and_speed_undo_each_other(synchronous, slip):
    assert speeds.slip(synchronous, speeds.speed_at_slip(synchronous, slip)) == pytest.approx(slip, abs=1e-12)


def test_slip_over_the_whole_range_of_a_machine():
    """Braking, standstill, motor, synchronous, generator (definition of slip)."""
    np.testing.assert_allclose(speeds.slip(25, [-25, 0, 24, 25, 26]), [2, 1, 0.04, 0, -0.04], atol=1e-15)


def test_frequency_follows_poles_and_speed():
    """f = p n: a two-pole turbine at 3000 r/min and a 48-pole water wheel at 125 r/min both give 50 Hz."""
    assert speeds.frequency_of_speed(50, 2) == 50
    assert speeds.frequency_of_speed(125 / 60, 48) == pytest.approx(50, rel=1e-14)
    assert speeds.frequency_of_speed(-50, 2) == 50
    assert speeds.angular_speed(25) == pytest.approx(157.0796, abs=1e-4)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: speeds.synchronous_speed(50, 3), "poles must be an even whole number of at least 2"),
        (lambda: speeds.synchronous_speed(50, 0), "poles"),
        (lambda: speeds.synchronous_speed(50, 2.5), "poles"),
        (lambda: speeds.synchronous_speed(-50, 2), "frequency must be 0 or more"),
        (lambda: speeds.synchronous_speed(np.nan, 2), "frequency"),
        (lambda: speeds.synchronous_speed("fast", 2), "frequency"),
        (lambda: speeds.slip(0, 1), "synchronous must not be 0"),
        (lambda: speeds.slip(0.0, 1.0), "synchronous must not be 0"),
        (lambda: speeds.slip(25, np.inf), "actual"),
        (lambda: speeds.slip(25.0, math.inf), "actual"),
        (lambda: speeds.speed_at_slip(25, np.nan), "slip"),
        (lambda: speeds.rotor_frequency(50, np.nan), "slip"),
        (lambda: speeds.frequency_of_speed(25, 5), "poles"),
        (lambda: speeds.poles_from_rated_speed(50, 51), "speed must not be above 50 rev/s"),
        (lambda: speeds.poles_from_rated_speed(50, 30), "speed must be within 20% of a synchronous speed"),
        (lambda: speeds.poles_from_rated_speed(0, 30), "frequency must be greater than 0"),
        (lambda: speeds.poles_from_rated_speed(50, -25), "speed must be greater than 0"),
    ],
)
def test_bad_input_is_told_in_a_sentence(call, named):
    with pytest.raises(ValueError, match=named):
        call()
