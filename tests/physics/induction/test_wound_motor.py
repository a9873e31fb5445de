"""Circuits from coils, gap and cage: against the field of the MMF itself, flux in the gap, and rules of the trade."""

from __future__ import annotations

import math

import numpy as np
import pytest

from physics.cage import Cage
from physics.constants import VACUUM_PERMEABILITY
from physics.induction.gap import Bore, gap_field
from physics.induction.wound_motor import MotorCore, circuit_of, magnetising_inductance, series_turns, winding_factor
from physics.pole_changing import FourSpeedWinding, TappedWinding
from physics.windings import Winding

CORE = MotorCore(0.05, 0.1, 0.35e-3, 0.012, 2.5e-6)
CAGE = Cage(28, 1e-4, 0.6e-6, 4e-6, 2e-8, 0.0496, 0.1)
COILS = [Winding(36, 4, 18, layers=2), Winding(24, 4, 20), Winding(36, 2, 10, 13, 2)]
COILS += [connection.coils for connection in FourSpeedWinding(36, (2, 6), (30, 58)).speeds]


@pytest.mark.parametrize("coils", COILS)
def test_the_field_of_the_mmf_across_the_gap_links_the_inductance_times_the_current(coils):
    peaks = np.array([3.0, -1.5, -1.5])  # the instant at which U has its crest: a space vector of 3 A
    crest = VACUUM_PERMEABILITY / CORE.gap * float(coils.fundamental_amplitude(peaks))
    bore = Bore(CORE.radius, CORE.length, series_turns(coils), winding_factor(coils))
    field = gap_field(3.0 * magnetising_inductance(coils, CORE), coils.pole_pairs, bore)
    assert field.amplitude == pytest.approx(crest, rel=1e-9)


def test_turns_in_series_and_winding_factors_of_a_tapped_winding():
    """Half a pitch at the lower number of poles: sin 45 degrees, times the belt's spread of 60 degrees; full pitch and a
    belt of 120 degrees at the higher one (standard handbook formulae)."""
    slow, fast = TappedWinding(36, 2, 30).slow.coils, TappedWinding(36, 2, 30).fast.coils
    assert (series_turns(slow), series_turns(fast)) == (12 * 30, 6 * 30)
    spread = [math.sin(6 * step / 2) / (6 * math.sin(step / 2)) for step in (math.radians(10), math.radians(20))]
    assert winding_factor(fast) == pytest.approx(spread[0] * math.sin(math.pi / 4), rel=1e-9)
    assert winding_factor(slow) == pytest.approx(spread[1], rel=1e-9)


def test_parallel_halves_have_a_quarter_of_the_resistance_and_leakage():
    winding = TappedWinding(36, 2, 30)
    slow, fast = (circuit_of(each.coils, CORE, CAGE, 400.0, 50.0) for each in (winding.slow, winding.fast))
    assert fast.stator_resistance == pytest.approx(slow.stator_resistance / 4)
    assert fast.stator_reactance == pytest.approx(slow.stator_reactance / 4)
    assert (slow.poles, fast.poles) == (4, 2)


def test_twice_the_turns_on_twice_the_voltage_are_the_same_motor_at_half_the_current():
    once, twice = (circuit_of(Winding(36, 4, turns, layers=2), CORE, CAGE, volts, 50.0) for turns, volts in ((10, 200.0), (20, 400.0)))
    # a coil of twice the turns has wire of half the section: not so here, where a turn keeps its resistance
    assert twice.stator_reactance == pytest.approx(4 * once.stator_reactance)
    assert twice.rotor_resistance == pytest.approx(4 * once.rotor_resistance)
    assert twice.magnetising_reactance == pytest.approx(4 * once.magnetising_reactance)
    assert twice.stator_resistance == pytest.approx(2 * once.stator_resistance)


def test_what_cannot_be_is_refused():
    with pytest.raises(ValueError, match="gap"):
        MotorCore(0.05, 0.1, 0.0, 0.012, 2.5e-6)
    with pytest.raises(ValueError, match="turn_resistance"):
        MotorCore(0.05, 0.1, 1e-3, -1.0, 2.5e-6)
