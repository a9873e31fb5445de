"""The motors, loads and random circuits of the tests of starting."""

from hypothesis import settings
from hypothesis import strategies as st

from physics.induction import EquivalentCircuit
from physics.shaft.loads import Conveyor, Fan, Flywheel, Friction, Shaft

FIFTY = settings(max_examples=50, deadline=None)
TWENTY = settings(max_examples=20, deadline=None)


# S. J. Chapman, Electric Machinery Fundamentals, the wound-rotor example (memory)
CHAPMAN = EquivalentCircuit(0.641, 1.106, 0.332, 0.464, 26.3, 460, 60, 4)


# P. C. Krause, Analysis of Electric Machinery, the table of induction machines, 500 and 2250 hp (memory): the circuit,
# rated speed r/min, rated torque N m, inertia kg m2
KRAUSE = {
    "500 hp": (EquivalentCircuit(0.262, 1.206, 0.187, 1.206, 54.02, 2300, 60, 4), 1773, 1980, 11.06),
    "2250 hp": (EquivalentCircuit(0.029, 0.226, 0.022, 0.226, 13.04, 2300, 60, 4), 1786, 8900, 63.87),
}
FAN = Shaft(0.1, Fan(rated_speed=29.0, rated_torque=60.0, inertia=1.0, friction=Friction(1.0, 2.0)))
UNLOADED = Shaft(0.1, Flywheel(1.0))
BELT = Shaft(0.1, Conveyor(inertia=1.0, friction=Friction(running=50.0, breakaway=75.0)))
circuits = st.builds(
    EquivalentCircuit,
    stator_resistance=st.floats(0.1, 1.5),
    stator_reactance=st.floats(0.3, 3.0),
    rotor_resistance=st.floats(0.1, 1.5),
    rotor_reactance=st.floats(0.3, 3.0),
    magnetising_reactance=st.floats(15.0, 80.0),
    line_voltage=st.floats(200.0, 700.0),
    frequency=st.sampled_from([50.0, 60.0]),
    poles=st.sampled_from([2, 4, 6, 8]),
)


def row(rows, method):
    return next(each for each in rows if each.method == method)
