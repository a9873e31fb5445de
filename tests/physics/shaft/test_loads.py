import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from physics.shaft.loads import (
    NOTHING,
    REST_SPEED,
    Conveyor,
    Fan,
    Flywheel,
    Friction,
    Hoist,
    OtherWay,
    Pump,
    Shaft,
    kinetic_energy,
)

FIFTY = settings(max_examples=50, deadline=None)

STICKY = Friction(running=3.0, breakaway=8.0, viscous=0.05)
FAN = Fan(rated_speed=24.5, rated_torque=40.0, inertia=2.0, friction=Friction(1.0, 2.0))
PUMP = Pump(rated_speed=24.5, rated_torque=40.0, inertia=0.1, static_head=0.5)
HOIST = Hoist(mass=500.0, drum_radius=0.2, drum_inertia=3.0, friction=Friction(20.0, 30.0))
CONVEYOR = Conveyor(inertia=1.5, friction=STICKY)
LOADS = [FAN, PUMP, HOIST, CONVEYOR, Flywheel(5.0), Shaft(0.05, HOIST, 20.0, STICKY), OtherWay(HOIST)]

speeds = st.floats(-60, 60)


class TestFriction:
    def test_is_breakaway_at_the_edge_of_rest_and_nowhere_more(self):
        grid = np.linspace(-5, 5, 100001)
        dry = Friction(running=3.0, breakaway=8.0).torque(grid)
        assert dry.max() == pytest.approx(8.0, rel=1e-6)
        assert grid[np.argmax(dry)] == pytest.approx(REST_SPEED, abs=2e-4)
        assert Friction(3.0, 8.0).torque(REST_SPEED) == pytest.approx(8.0, rel=1e-12)

    def test_comes_down_to_running_and_viscous(self):
        assert STICKY.torque(25.0) == pytest.approx(3.0 + 0.05 * 25.0, rel=1e-4)
        assert Friction(3.0, 8.0).torque(REST_SPEED + 0.5) == pytest.approx(3.0 + 5.0 / 4, rel=1e-12)

    def test_breakaway_is_the_running_value_unless_told(self):
        assert Friction(3.0).breakaway == 3.0
        assert np.ptp(Friction(3.0).torque(np.linspace(REST_SPEED, 50, 100))) < 1e-12

    @FIFTY
    @given(speed=st.floats(0, 60), running=st.floats(0, 50), more=st.floats(0, 50), viscous=st.floats(0, 2))
    def test_is_against_the_motion_and_alike_both_ways(self, speed, running, more, viscous):
        friction = Friction(running, running + more, viscous)
        assert friction.torque(speed) >= 0
        assert friction.torque(-speed) == -friction.torque(speed)

    def test_has_no_corner(self):
        """Its steepness is continuous, through 0 and where rest ends."""
        for speed in (0.0, REST_SPEED, -REST_SPEED):
            before = (STICKY.torque(speed) - STICKY.torque(speed - 1e-7)) / 1e-7
            after = (STICKY.torque(speed + 1e-7) - STICKY.torque(speed)) / 1e-7
            assert after == pytest.approx(before, abs=2e-3)


class TestLoads:
    @pytest.mark.parametrize("load", LOADS, ids=lambda load: type(load).__name__)
    def test_arrays_and_numbers_agree(self, load):
        grid = np.linspace(-30, 30, 60).reshape(3, 20)
        torques = load.torque(grid)
        assert torques.shape == grid.shape
        for index in np.ndindex(grid.shape):
            assert load.torque(float(grid[index])) == pytest.approx(torques[index], rel=1e-13, abs=1e-13)
        assert load.torque(7) == load.torque(7.0)

    @pytest.mark.parametrize("load", LOADS, ids=lambda load: type(load).__name__)
    @pytest.mark.parametrize("wrong", [math.nan, math.inf, [1.0, math.nan], "fast", None])
    def test_refuses_speeds_that_are_none(self, load, wrong):
        with pytest.raises(ValueError, match="speed must be"):
            load.torque(wrong)

    @pytest.mark.parametrize("load", LOADS, ids=lambda load: type(load).__name__)
    def test_goes_through_rest_without_a_jump(self, load):
        """No step larger than steepness allows: so an integration with steps of finite length stays calm."""
        torques = load.torque(np.linspace(-0.2, 0.2, 4001))
        assert np.abs(np.diff(torques)).max() < 1e-4 * 1.6 / REST_SPEED * 60

    @FIFTY
    @given(speed=speeds)
    def test_fan_takes_the_square_whichever_way_it_turns(self, speed):
        """Fan laws: torque as the square, power as the cube of the speed (common practice, any handbook on fans)."""
        fan = Fan(rated_speed=20.0, rated_torque=10.0, inertia=1.0)
        assert fan.torque(speed) == pytest.approx(math.copysign(10.0 * (speed / 20.0) ** 2, speed), rel=1e-12)
        assert fan.torque(2 * speed) * 2 * speed == pytest.approx(8 * fan.torque(speed) * speed, rel=1e-12)

    def test_pump_without_static_head_is_a_fan_forward(self):
        grid = np.linspace(0, 30, 50)
        pump = Pump(rated_speed=24.5, rated_torque=40.0, inertia=0.1)
        assert pump.torque(grid) == pytest.approx(Fan(24.5, 40.0, 0.1).torque(grid), rel=1e-12)

    @FIFTY
    @given(share=st.floats(0.0, 1.3), head=st.floats(0.0, 0.95), shut=st.floats(0.0, 1.0))
    def test_pump_by_solving_its_head_against_the_pipe(self, share, head, shut):
        """The flow from the two head curves, pump n^2 - b Q^2 and pipe h + c Q^2, by a root finder; the torque from the
        straight power curve and the affinity laws."""
        b = 0.3 * (1 - head)
        c = 1 - head - b
        flow = 0.0
        if share**2 > head:
            flow = brentq(lambda q: share**2 - b * q**2 - head - c * q**2, 0.0, 10.0, xtol=1e-14)
        expected = share**3 * (shut + (1 - shut) * flow / share) / share if share else 0.0
        pump = Pump(20.0, 1.0, 0.0, static_head=head, shut_torque=shut)
        assert pump.torque(20.0 * share) == pytest.approx(expected, rel=1e-9, abs=1e-9)

    def test_pump_opens_its_valve_where_its_head_reaches_the_static_one(self):
        opening = 24.5 * math.sqrt(0.5)
        assert PUMP.torque(opening) == pytest.approx(0.4 * 0.5 * 40.0)
        assert PUMP.torque(24.5) == pytest.approx(40.0)
        assert PUMP.torque(-24.5) == pytest.approx(-0.4 * 40.0)

    def test_hoist_holds_back_lifting_and_drives_lowering(self):
        weight = 500.0 * 9.80665 * 0.2
        assert HOIST.torque(10.0) == pytest.approx(weight + 20.0, rel=1e-4)
        assert HOIST.torque(0.0) == pytest.approx(weight)
        assert HOIST.torque(-10.0) == pytest.approx(weight - 20.0, rel=1e-4)
        assert OtherWay(HOIST).torque(10.0) == pytest.approx(-weight + 20.0, rel=1e-4)
        assert OtherWay(HOIST).inertia == HOIST.inertia == pytest.approx(23.0)

    def test_flywheel_holds_nothing_back(self):
        assert Flywheel(5.0).torque(25.0) == 0.0
        assert (Flywheel(5.0).torque(np.ones(4)) == np.zeros(4)).all()


class TestShaft:
    @FIFTY
    @given(speed=speeds, ratio=st.floats(0.1, 100))
    def test_gear_keeps_power_and_energy(self, speed, ratio):
        shaft = Shaft(0.05, HOIST, ratio)
        assert shaft.torque(speed) * speed == pytest.approx(HOIST.torque(speed / ratio) * speed / ratio, rel=1e-12)
        at_motor, at_load = kinetic_energy(shaft.inertia - 0.05, speed), kinetic_energy(HOIST.inertia, speed / ratio)
        assert at_motor == pytest.approx(at_load, rel=1e-9, abs=1e-9)

    def test_bare_shaft(self):
        shaft = Shaft(0.05)
        assert shaft.load is NOTHING and shaft.inertia == 0.05 and shaft.torque(25.0) == 0.0

    def test_kinetic_energy(self):
        assert kinetic_energy(2.0, 25.0) == pytest.approx(0.5 * 2.0 * (2 * math.pi * 25.0) ** 2)
        assert kinetic_energy(2.0, np.array([1.0, -1.0])).shape == (2,)


@pytest.mark.parametrize(
    "build, named",
    [
        (lambda: Friction(running=-1.0), "running must be 0 or more"),
        (lambda: Friction(running=3.0, breakaway=2.0), "breakaway must be at least the running 3 N m"),
        (lambda: Friction(viscous=math.nan), "viscous must be finite"),
        (lambda: Fan(0.0, 1.0, 1.0), "rated_speed must be greater than 0"),
        (lambda: Fan(1.0, -1.0, 1.0), "rated_torque must be 0 or more"),
        (lambda: Fan(1.0, 1.0, -1.0), "inertia must be 0 or more"),
        (lambda: Pump(1.0, 1.0, 1.0, static_head=1.0), "static_head must be from 0 to below 1"),
        (lambda: Pump(1.0, 1.0, 1.0, shut_torque=1.1), "shut_torque must be from 0 to 1"),
        (lambda: Pump(-1.0, 1.0, 1.0), "rated_speed must be greater than 0"),
        (lambda: Hoist(-1.0, 1.0), "mass must be 0 or more"),
        (lambda: Hoist(1.0, 0.0), "drum_radius must be greater than 0"),
        (lambda: Conveyor(-1.0, STICKY), "inertia must be 0 or more"),
        (lambda: Flywheel("heavy"), "inertia must be a number"),
        (lambda: Shaft(0.0), "rotor_inertia must be greater than 0"),
        (lambda: Shaft(1.0, None), "load must have an inertia and a torque"),
        (lambda: OtherWay(3.0), "shaft must have an inertia and a torque"),
        (lambda: Fan(1.0, 1.0, 1.0, friction=2.0), "friction must be a Friction"),
        (lambda: Pump(1.0, 1.0, 1.0, friction=2.0), "friction must be a Friction"),
        (lambda: Hoist(1.0, 1.0, friction=None), "friction must be a Friction"),
        (lambda: Conveyor(1.0, 5.0), "friction must be a Friction"),
        (lambda: Shaft(1.0, friction=0.1), "friction must be a Friction"),
        (lambda: Shaft(1.0, FAN, gear_ratio=0.0), "gear_ratio must be greater than 0"),
        (lambda: kinetic_energy(-1.0, 2.0), "inertia must be 0 or more"),
    ],
)
def test_refuses_what_no_load_can_be(build, named):
    with pytest.raises(ValueError, match=named):
        build()
