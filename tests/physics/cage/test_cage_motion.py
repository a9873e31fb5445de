"""A cage rotor running up, against scipy's integrator and against where torque and load must balance."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from physics.cage import Cage
from physics.cage.motion import RotorMoment, TurningGapField, advance, bars
from physics.shaft.shafts import DrivenShaft, FreeShaft

CAGE = Cage(17, 80e-6, 0.3e-6, 2e-6, 1e-8, 0.05, 0.06)


def torque(field, speed):
    return CAGE.steady(field.peak, field.pole_pairs, field.speed, speed, 0.0).torque


@pytest.mark.parametrize("pole_pairs, sense", [(1, -1), (2, 1), (4, -1)])
def test_it_runs_up_as_scipy_integrates_it(pole_pairs, sense):
    field = TurningGapField(0.5, pole_pairs, sense * 100 * math.pi / pole_pairs)
    inertia, duration = 2e-3, 0.03
    exact = solve_ivp(lambda t, y: [torque(field, y[0]) / inertia, y[0]], (0, duration), [0.0, 0.0], rtol=1e-9, atol=1e-9)
    moment = RotorMoment()
    for _ in range(30):
        moment = advance(CAGE, field, moment, FreeShaft(inertia), duration / 30)
    assert moment.rotor_speed == pytest.approx(exact.y[0, -1], rel=0.005)
    assert abs(math.remainder(moment.rotor_angle - exact.y[1, -1], 2 * math.pi)) < 0.02
    assert abs(math.remainder(moment.supply_angle - field.speed * duration, 2 * math.pi)) < 1e-9


def test_it_settles_where_torque_and_load_balance():
    field = TurningGapField(0.5, 1, -100 * math.pi)
    load = 2.0
    moment = advance(CAGE, field, RotorMoment(), FreeShaft(1e-3, dry_friction=load), 0.4)
    balance = brentq(lambda speed: torque(field, speed) + load, -100 * math.pi, -80 * math.pi)
    assert moment.rotor_speed == pytest.approx(balance, rel=1e-4)


def test_a_load_above_the_standstill_torque_holds_it():
    field = TurningGapField(0.5, 1, 100 * math.pi)
    shaft = FreeShaft(1e-3, dry_friction=1.01 * torque(field, 0.0))
    assert advance(CAGE, field, RotorMoment(), shaft, 0.1).rotor_speed == 0.0


def test_driven_it_keeps_its_speed_and_the_bars_answer_to_the_difference():
    field = TurningGapField(0.5, 1, -100 * math.pi)
    moment = advance(CAGE, field, RotorMoment(), DrivenShaft(field.speed), 0.0123)
    assert moment.rotor_speed == field.speed
    assert math.remainder(moment.rotor_angle - moment.supply_angle, 2 * math.pi) == pytest.approx(0, abs=1e-9)
    assert not np.any(bars(CAGE, field, moment).current)
    past = advance(CAGE, field, RotorMoment(), DrivenShaft(1.2 * field.speed), 0.01)
    assert bars(CAGE, field, past).torque > 0  # holds back a rotor that runs clockwise


@pytest.mark.parametrize(
    "make",
    [
        lambda: TurningGapField(math.nan, 1, 1.0),
        lambda: TurningGapField(0.5, 0, 1.0),
        lambda: TurningGapField(0.5, 1, math.inf),
        lambda: advance(CAGE, TurningGapField(0.5, 1, 1.0), RotorMoment(), FreeShaft(1.0), -1.0),
    ],
)
def test_what_cannot_be_is_refused(make):
    with pytest.raises(ValueError, match="peak|pole_pairs|speed|seconds"):
        make()
