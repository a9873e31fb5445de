"""Braking: direct current, swapped lines, past synchronous speed, the contactors and where the energy goes."""

from tests.benchmarks.mutation import noticed_by

PHYSICS = ("tests/physics/induction/test_braking.py",)
ORACLE = ("tests/scenes/oracle/drives/test_braking.py",)
DIRECT = "physics/induction/direct_current.py"
SCENE, DRAWN = "scenes/drives/braking/", "visual/braking/"

MUTATIONS = (
    *noticed_by(
        PHYSICS,
        (DIRECT, '"star, two terminals": math.sqrt(2 / 3)', '"star, two terminals": math.sqrt(3 / 2)'),
        (DIRECT, "torque = 3.0 * rotor.real * share * per_speed**2", "torque = 3.0 * rotor.real * per_speed**2"),
        (
            DIRECT,
            "np.where(given > tried, tried, low), np.where(given > tried, high, tried)",
            "np.where(given > tried, high, low), np.where(given > tried, high, tried)",
        ),
    ),
    *noticed_by(
        ORACLE,
        (SCENE + "shaft.py", "supplied, time + ahead, speed)", "supplied, time, speed)"),
        (
            SCENE + "motors.py",
            "(point.torque, point.rotor_loss, point.stator_loss, point.input_power)",
            "(point.torque, point.stator_loss, point.rotor_loss, point.input_power)",
        ),
        (SCENE + "motors.py", "way = -1.0 if swapped else 1.0", "way = 1.0"),
        (SCENE + "motors.py", "_LAG[[1, 0, 2]] if swapped", "_LAG[[0, 2, 1]] if swapped"),
        (SCENE + "motors.py", "np.array([amperes, -amperes, 0.0], complex)", "np.array([amperes, 0.0, -amperes], complex)"),
        (
            SCENE + "shaft.py",
            "if case.stops and supplied in (SWAPPED, DIRECT) and speed < OPENS:",
            "if supplied in (SWAPPED, DIRECT) and speed < OPENS:",
        ),
        (SCENE + "shaft.py", "power + rise * (after - speed) for power", "power - rise * (after - speed) for power"),
        (SCENE + "shaft.py", "math.copysign(1.0, middle) - case.driving) * middle", "math.copysign(1.0, middle) + case.driving) * middle"),
        (SCENE + "snapshot.py", "OF_DIRECT = 2 * math.pi / 3", "OF_DIRECT = math.pi / 3"),
        (SCENE + "snapshot.py", "UPWARD, V_AXIS = math.pi / 2, -math.pi / 6", "UPWARD, V_AXIS = math.pi / 2, math.pi / 6"),
        (SCENE + "question.py", "if last < -0.5:", "if last < -2.0:"),
        (SCENE + "question.py", "torque = float(now.running.torque) * now.speed", "torque = float(now.running.torque)"),
        (SCENE + "question.py", "if float(now.running.input_power) < -1", "if float(now.running.input_power) > 1"),
        (SCENE + "shaft.py", "self.history.supplied.index(OFF)", "0"),
        (SCENE + "picture.py", 'LINES: "K1", SWAPPED: "K2", DIRECT: "K3"', 'LINES: "K2", SWAPPED: "K1", DIRECT: "K3"'),
        (DRAWN + "contactors.py", 'SWAPPED = {"L1": "V", "L2": "U", "L3": "W"}', 'SWAPPED = {"L1": "W", "L2": "V", "L3": "U"}'),
        (DRAWN + "energies.py", "self.pos + [min(drawn, 0.0), -APART * k, 0]", "self.pos + [0.0, -APART * k, 0]"),
    ),
)
