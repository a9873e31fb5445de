"""Breaks of slip and speed: physics, drawing and words."""

from tests.benchmarks.mutation import noticed_by

ORACLE = ("tests/scenes/oracle/drives/test_slip_and_speed.py",)
PLATES = ("tests/scenes/drives/test_slip_and_speed.py",)
SNAPSHOT, READINGS, QUESTION, PICTURE, MOTORS = (
    f"scenes/drives/slip_and_speed/{name}.py" for name in ("snapshot", "readings", "question", "picture", "motors")
)
DRAWN, MOTION = "visual/machines/slip_machine.py", "physics/induction/motion.py"

MUTATIONS = (
    *noticed_by(
        ORACLE,
        (SNAPSHOT, 'sequence == "positive" else 1.0', 'sequence != "positive" else 1.0'),
        (SNAPSHOT, "turned = (0.0, -laps)", "turned = (0.0, laps)"),
        (SNAPSHOT, "bars=largest * bar_currents(circuit, slip, sense, angles)", "bars=largest * bar_currents(circuit, slip, 1.0, angles)"),
        (SNAPSHOT, "+ rotor_angle - field_angle", "+ field_angle - rotor_angle"),
        (QUESTION, "view.turning(now.sense)", "view.turning(-now.sense)"),
        (QUESTION, "view.turning(now.sense * now.speed)", "view.turning(now.speed)"),
        (QUESTION, 'answer = "stalls" if slip >= 1 else "over"', 'answer = "stalls" if slip >= 0.2 else "over"'),
        (READINGS, "if motor.rests_on_assumption(slip) else", "if not motor.unknown else"),
        (PICTURE, "machine.wiring.join(setup.lines)", 'machine.wiring.join(("L1", "L2", "L3"))'),
        (PICTURE, "machine.show_band(now.field_angle, now.sense,", "machine.show_band(now.field_angle, -now.sense,"),
        (MOTORS, "bool(self.unknown) and abs(slip) > 1.5", "abs(slip) > 1.5"),
        (MOTORS, "return self.no_load_field * float(", "return self.rated_field * float("),
        (DRAWN, "start = peak_angle if sense < 0 else peak_angle - span", "start = peak_angle if sense > 0 else peak_angle - span"),
        (DRAWN, "self._end = (start + span if sense < 0", "self._end = (start + span if sense > 0"),
        (DRAWN, "self.fields[poles].put(peak_angle, tesla, side", "self.fields[poles].put(peak_angle, tesla / full, side"),
        (MOTION, "return slipping * np.cos(angles + slipping * lag)", "return slipping * np.cos(angles - slipping * lag)"),
        (MOTION, "slipping = sense * math.copysign(1.0, slip)", "slipping = math.copysign(1.0, slip)"),
        ("visual/machines/bore_field.py", '(("S", palette.SOUTH), ("N", palette.NORTH))', '(("N", palette.NORTH), ("S", palette.SOUTH))'),
    ),
    *noticed_by(
        PLATES,
        (MOTION, "complex(point.rotor_current))", "complex(point.running_cage_current))"),
        (MOTORS, "torque - self.lost * (1 - slip)", "torque + self.lost * (1 - slip)"),
        (SNAPSHOT, "abs(point.rotor_current)", "abs(point.running_cage_current)"),
    ),
)
