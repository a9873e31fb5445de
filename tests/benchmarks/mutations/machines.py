"""Breaks of the machines as they are drawn: coils and their leads, what flows along them, curved arrows."""

from tests.benchmarks.mutation import Mutation, noticed_by

COILS, LEADS, CURVED = "visual/machines/winding/coils.py", "visual/machines/winding/coil_leads.py", "visual/solid/curved.py"
OF_FIELD = ("tests/scenes/oracle/machines/test_turning_field.py",)

RINGS = "visual/switchgear/rotor_resistors.py"
OF_SPEED = ("tests/scenes/oracle/drives/test_changing_speed.py",)
OF_STARTING = ("tests/scenes/oracle/drives/test_starting.py",)


# the synchronous motor
SYNCHRONOUS_ORACLE = ("tests/scenes/oracle/drives/test_synchronous_motor.py",)
SYNCHRONOUS_PHYSICS = ("tests/physics/synchronous/test_motion.py", "tests/physics/synchronous/test_round_rotor.py")
SYNCHRONOUS_SNAPSHOT, SYNCHRONOUS_READINGS, SYNCHRONOUS_QUESTION, SYNCHRONOUS_PICTURE = (
    f"scenes/drives/synchronous_motor/{name}.py" for name in ("snapshot", "readings", "question", "picture")
)
SYNCHRONOUS_DRAWN = "visual/machines/synchronous_machine.py"
SYNCHRONOUS_MOTION, SYNCHRONOUS_ROTOR = "physics/synchronous/motion.py", "physics/synchronous/round_rotor.py"

MUTATIONS = (
    Mutation("visual/machines/speed_machine.py", "rotation, rotation, side * 0.036)", "rotation, -rotation, side * 0.036)", OF_SPEED),
    *noticed_by(
        OF_STARTING,
        (RINGS, 'brush = Terminal("brush", ring.marking, at)', 'brush = Terminal("brush", RINGS[0], at)'),
        (RINGS, "lead.visible = self.visible and not self.near", "lead.visible = self.visible and self.near"),
        (
            RINGS,
            'f"slip ring {ring.marking}", "rotor star point", lambda: not self.near)',
            'ring, "rotor star point", lambda: not self.near)',
        ),
        ("visual/switchgear/starter_panel.py", "letters.visible = not behind", "letters.visible = True"),
        ("scenes/drives/starting/picture.py", 'and wound and look.view.name == "other-end"', "and wound"),
    ),
    *noticed_by(
        OF_FIELD,
        (COILS, "1.0 if share > 0 else -1.0", "1.0 if share < 0 else -1.0"),
        (COILS, "return (self.go - self.back) % (2 * np.pi)", "return (self.back - self.go + 0.3) % (2 * np.pi)"),
        (COILS, "rear = front[::-1] * [1, 1, -1]", "rear = front * [1, 1, -1]"),
        (COILS, "self._shown = ours[:1] if one else ours", "self._shown = ours"),
        (LEADS, "(coil.back, coil.go) if swapped and k == 0 else (coil.go, coil.back)", "(coil.go, coil.back)"),
        (CURVED, "angle + sense * (span - head), angle + sense * span", "angle + sense * (span - head), angle - sense * span"),
        ("visual/machines/field_machine.py", "rotation, rotation, 0.008 * side)", "rotation, -rotation, 0.008 * side)"),
        ("scenes/machines/turning_field/snapshot.py", "coil.sign * of_phases", "of_phases"),
    ),
    *noticed_by(
        SYNCHRONOUS_ORACLE,
        (SYNCHRONOUS_SNAPSHOT, "load_angle=sense * ahead", "load_angle=ahead"),
        (SYNCHRONOUS_SNAPSHOT, "torque=sense * now.torque", "torque=now.torque"),
        (SYNCHRONOUS_SNAPSHOT, "phase_angle=sense * cmath.phase(power)", "phase_angle=cmath.phase(power)"),
        (SYNCHRONOUS_SNAPSHOT, "field_angle=rotor_angle + ahead /", "field_angle=rotor_angle - ahead /"),
        (SYNCHRONOUS_SNAPSHOT, "UPWARD * (machine.pole_pairs + sense)", "UPWARD * machine.pole_pairs"),
        (SYNCHRONOUS_SNAPSHOT, "else LAGGING if last.phase_angle > 0", "else LAGGING if last.phase_angle < 0"),
        (SYNCHRONOUS_SNAPSHOT, 'sequence == "positive" else 1.0', 'sequence != "positive" else 1.0'),
        (SYNCHRONOUS_READINGS, 'return "lagging" if now.phase_angle > 0', 'return "lagging" if now.phase_angle < 0'),
        (SYNCHRONOUS_QUESTION, "'behind' if back >= 0 else", "'behind' if back <= 0 else"),
        (SYNCHRONOUS_QUESTION, "view.turning(now.sense)}", "view.turning(-now.sense)}"),
        (SYNCHRONOUS_QUESTION, "view.turning(now.sense * now.speed)", "view.turning(now.speed)"),
        (SYNCHRONOUS_PICTURE, "now.field_angle, -now.sense * degrees", "now.field_angle, now.sense * degrees"),
        (SYNCHRONOUS_PICTURE, "through_inverter=setup.start == BY_INVERTER", "through_inverter=setup.start != BY_INVERTER"),
        (SYNCHRONOUS_PICTURE, "torque = now.sense * now.torque", "torque = now.torque"),
        (SYNCHRONOUS_DRAWN, '(("N", palette.NORTH), ("S", palette.SOUTH))', '(("S", palette.SOUTH), ("N", palette.NORTH))'),
    ),
    *noticed_by(
        SYNCHRONOUS_PHYSICS,
        (SYNCHRONOUS_MOTION, "- onward * speed * stator", "+ onward * speed * stator"),
        (SYNCHRONOUS_MOTION, "to_stator * of_stator - across * in_damper", "to_stator * of_stator + across * in_damper"),
        (
            SYNCHRONOUS_MOTION,
            "if speed == 0.0 and abs(torque) < shaft.dry_friction:",
            "if speed == 1.0 and abs(torque) < shaft.dry_friction:",
        ),
        (SYNCHRONOUS_MOTION, "value.conjugate()  # a mirror", "value  # a mirror"),
        (SYNCHRONOUS_ROTOR, "return 1.5 * self.pole_pairs *", "return 1.5 *"),
        (SYNCHRONOUS_ROTOR, "math.atan2(machine.reactance, machine.resistance)", "math.pi / 2"),
        (SYNCHRONOUS_ROTOR, "along = (-half + math.sqrt(", "along = (-half - math.sqrt("),
    ),
    Mutation(
        SYNCHRONOUS_SNAPSHOT,
        "holds = state.slipped == NEVER or motors.carrying(setup.poles, setup.emf, setup.load) is not None",
        "holds = True",
        ("tests/scenes/drives/test_synchronous_motor.py",),
    ),
)
