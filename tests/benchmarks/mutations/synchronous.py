"""Breaks of the synchronous motor: physics, drawing and words."""

from tests.benchmarks.mutation import Mutation

ORACLE = ("tests/scenes/oracle/drives/test_synchronous_motor.py",)
PHYSICS = ("tests/physics/synchronous/test_motion.py", "tests/physics/synchronous/test_round_rotor.py")
SNAPSHOT, READINGS, QUESTION, PICTURE = (
    f"scenes/drives/synchronous_motor/{name}.py" for name in ("snapshot", "readings", "question", "picture")
)
DRAWN = "visual/machines/synchronous_machine.py"
MOTION, ROTOR = "physics/synchronous/motion.py", "physics/synchronous/round_rotor.py"

MUTATIONS = tuple(
    Mutation(*each, ORACLE)
    for each in (
        (SNAPSHOT, "load_angle=sense * ahead", "load_angle=ahead"),
        (SNAPSHOT, "torque=sense * now.torque", "torque=now.torque"),
        (SNAPSHOT, "phase_angle=sense * cmath.phase(power)", "phase_angle=cmath.phase(power)"),
        (SNAPSHOT, "field_angle=rotor_angle + ahead /", "field_angle=rotor_angle - ahead /"),
        (SNAPSHOT, "UPWARD * (machine.pole_pairs + sense)", "UPWARD * machine.pole_pairs"),
        (SNAPSHOT, "return (LAGGING if last.phase_angle > 0", "return (LAGGING if last.phase_angle < 0"),
        (SNAPSHOT, 'sequence == "positive" else 1.0', 'sequence != "positive" else 1.0'),
        (READINGS, 'return "lagging" if now.phase_angle > 0', 'return "lagging" if now.phase_angle < 0'),
        (QUESTION, "'behind' if back >= 0 else", "'behind' if back <= 0 else"),
        (QUESTION, "view.turning(now.sense)}", "view.turning(-now.sense)}"),
        (QUESTION, "view.turning(now.sense * now.speed)", "view.turning(now.speed)"),
        (PICTURE, "now.field_angle, -now.sense * degrees", "now.field_angle, now.sense * degrees"),
        (PICTURE, "through_inverter=setup.start == BY_INVERTER", "through_inverter=setup.start != BY_INVERTER"),
        (PICTURE, "torque = now.sense * now.torque", "torque = now.torque"),
        (DRAWN, '(("N", palette.NORTH), ("S", palette.SOUTH))', '(("S", palette.SOUTH), ("N", palette.NORTH))'),
    )
)
MUTATIONS += tuple(
    Mutation(*each, PHYSICS)
    for each in (
        (MOTION, "- 1j * pairs * speed * stator", "+ 1j * pairs * speed * stator"),
        (MOTION, "to_stator * of_stator - across * in_damper", "to_stator * of_stator + across * in_damper"),
        (MOTION, "if speed == 0.0 and abs(torque) < shaft.dry_friction:", "if speed == 1.0 and abs(torque) < shaft.dry_friction:"),
        (MOTION, "value.conjugate()  # a mirror", "value  # a mirror"),
        (ROTOR, "return 1.5 * self.pole_pairs *", "return 1.5 *"),
        (ROTOR, "math.atan2(machine.reactance, machine.resistance)", "math.pi / 2"),
        (ROTOR, "along = (-half + math.sqrt(", "along = (-half - math.sqrt("),
    )
)
