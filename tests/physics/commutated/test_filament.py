"""A lamp's filament against what handbooks say of tungsten lamps, and against its own balance of energy."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from physics.commutated.filament import ROOM, Filament

LAMP = Filament(1.5, 0.3)


def settled(voltage: float) -> float:
    return LAMP.warmed(ROOM, voltage, 20.0)


def test_at_its_voltage_it_draws_its_current_and_shines_with_its_power():
    hot = settled(1.5)
    assert hot == pytest.approx(2500, rel=1e-3)
    assert 1.5 / LAMP.resistance(hot) == pytest.approx(0.3, rel=1e-3)
    assert LAMP.radiated(hot) == pytest.approx(LAMP.power, rel=1e-3) == pytest.approx(0.45)


def test_the_current_grows_as_the_voltage_to_the_power_of_a_little_more_than_one_half():
    """0.54 to 0.55: exponents of incandescent lamps (lighting handbooks, from memory)."""
    currents = [volts / LAMP.resistance(settled(volts)) for volts in (1.2, 1.8)]
    assert np.log(currents[1] / currents[0]) / np.log(1.8 / 1.2) == pytest.approx(0.54, abs=0.015)


def test_cold_it_has_about_a_thirteenth_of_its_resistance():
    """Inrush of 10 to 15 times (common practice, no source)."""
    assert 10 < LAMP.resistance(2500) / LAMP.resistance(ROOM) < 15


def test_it_warms_as_its_balance_of_energy_says():
    capacity = 4 * LAMP.power * 0.05 / 2500

    def rate(_, kelvin):
        return (1.0**2 / (5.0 * (kelvin / 2500) ** 1.2) - 0.45 * (kelvin**4 - 293**4) / (2500**4 - 293**4)) / capacity

    exact = solve_ivp(rate, (0, 0.04), [ROOM], rtol=1e-9).y[0, -1]
    assert LAMP.warmed(ROOM, 1.0, 0.04) == pytest.approx(exact, rel=0.03)
    assert LAMP.warmed(2500.0, 0.0, 0.05) == pytest.approx(2500 / (1 + 3 / 4) ** (1 / 3), rel=0.01)  # cooling by T^4 alone, in closed form
    assert LAMP.warmed(300.0, 0.0, 60.0) == pytest.approx(ROOM, abs=10)


@pytest.mark.parametrize("name", ["voltage", "current", "temperature", "time_constant"])
def test_what_is_out_of_range_is_named(name):
    with pytest.raises(ValueError, match=name):
        Filament(**({"voltage": 1.5, "current": 0.3} | {name: 0.0}))
