"""What protects a motor, against the limits of its standards; every figure from a standard is quoted from memory."""

from __future__ import annotations

import math

import numpy as np
import pytest

from physics.protection import GATES, Fuse, OverloadRelay, copper_constant


@pytest.mark.parametrize(("cold", "hot", "k"), [(30, 160, 143), (30, 250, 176), (70, 160, 115), (90, 250, 143)])
def test_copper_takes_what_the_tables_of_cables_say(cold, hot, k):
    """k of copper conductors in A sqrt(s)/mm2: IEC 60364-5-54, tables A.54.2 (separate) and A.54.4 (in a cable), PVC and XLPE."""
    assert copper_constant(cold, hot) / 1e6 == pytest.approx(k, abs=0.7)


def test_copper_heats_as_its_resistance_and_heat_say():
    """Followed in small steps: I^2 R of a rod against the heat of its copper, R rising by 1 / (234.5 + 20) for each degree."""
    density, temperature, time, step = 20e6, 40.0, 0.0, 1e-3
    while temperature < 155.0:
        resistivity = 17.241e-9 * (234.5 + temperature) / (234.5 + 20.0)
        temperature += density**2 * resistivity / 3.45e6 * step
        time += step
    assert (copper_constant(40.0, 155.0) / density) ** 2 == pytest.approx(time, rel=1e-3)


@pytest.mark.parametrize(
    ("times", "warm", "least", "most"), [(1.05, False, 7200, math.inf), (1.2, True, 0, 7200), (1.5, True, 0, 240), (7.2, False, 4, 10)]
)
def test_the_relay_is_of_class_10(times, warm, least, most):
    """IEC 60947-4-1, limits for thermal overload relays of class 10: all three poles, cold or after 1.0 times the setting."""
    relay = OverloadRelay(8.4)
    after = relay.trips_after(np.full(3, 8.4 * times), 1.0 if warm else 0.0)
    assert least < after <= most


def test_two_poles_alone_trip_at_1_15():
    """IEC 60947-4-1 for relays that feel the loss of a phase: two poles at 1.15, the third without current, within 2 h."""
    relay = OverloadRelay(10.0)
    assert relay.trips_after(np.array([11.5, 11.5, 0.0]), 1.0) < 7200
    assert relay.trips_after(np.array([10.0, 10.0, 9.0]), 1.0) == math.inf
    assert relay.trips_after(np.array([10.0, 10.0, 0.0]), 0.0) == math.inf


def test_the_relay_followed_in_steps_trips_when_it_says():
    relay, lines, heat, time = OverloadRelay(21.0), np.array([80.0, 70.0, 75.0]), 0.0, 0.0
    while heat < relay.threshold(lines) ** 2:
        heat, time = relay.warmed(heat, lines, 0.01), time + 0.01
    assert relay.trips_after(lines) == pytest.approx(time, abs=0.011)
    assert relay.trips_after(lines, heat) == 0.0


@pytest.mark.parametrize("rating", GATES)
def test_a_fuse_melts_between_its_gates(rating):
    """IEC 60269-1, gates: at the first current it bears 10 s, at the second it melts within 5 s, at the third it bears 0.1 s, at the
    fourth it melts within 0.1 s."""
    bears_10, melts_5, bears_01, melts_01 = GATES[rating]
    fuse = Fuse(rating)
    assert fuse.melts_after(bears_10) > 10 and fuse.melts_after(melts_5) < 5
    assert fuse.melts_after(bears_01) > 0.1 and fuse.melts_after(melts_01) < 0.1
    assert fuse.melts_after(1.25 * rating) == math.inf, "the conventional non-fusing current"
    assert np.all(np.diff(fuse.melts_after(np.linspace(2 * rating, 30 * rating, 50))) < 0)


def test_what_cannot_be_is_said():
    with pytest.raises(ValueError, match="rating must be one of 16, 20"):
        Fuse(17)
    with pytest.raises(ValueError, match="setting"):
        OverloadRelay(0.0)
    with pytest.raises(ValueError, match="hot must be above cold"):
        copper_constant(100.0, 90.0)
