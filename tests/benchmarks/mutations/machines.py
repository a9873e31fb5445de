"""Breaks of the machines as they are drawn: coils and their leads, what flows along them, curved arrows."""

from tests.benchmarks.mutation import Mutation

COILS, LEADS, CURVED = "visual/machines/winding/coils.py", "visual/machines/winding/coil_leads.py", "visual/solid/curved.py"
OF_FIELD = ("tests/scenes/oracle/test_turning_field.py",)

RINGS = "visual/switchgear/rotor_resistors.py"
OF_SPEED = ("tests/scenes/oracle/test_changing_speed.py",)
OF_STARTING = ("tests/scenes/oracle/test_starting.py",)

MUTATIONS: tuple[Mutation, ...] = (
    Mutation("visual/machines/speed_machine.py", "rotation, rotation, side * 0.036)", "rotation, -rotation, side * 0.036)", OF_SPEED),
)
MUTATIONS += tuple(
    Mutation(*each, OF_STARTING)
    for each in (
        (RINGS, 'brush = Terminal("brush", ring.marking, at)', 'brush = Terminal("brush", RINGS[0], at)'),
        (RINGS, "lead.visible = self.visible and not self.near", "lead.visible = self.visible and self.near"),
        (
            RINGS,
            'f"slip ring {ring.marking}", "rotor star point", lambda: not self.near)',
            'ring, "rotor star point", lambda: not self.near)',
        ),
        ("visual/switchgear/starter_panel.py", "letters.visible = not behind", "letters.visible = True"),
        ("scenes/drives/starting/picture.py", 'and wound and look.view.name == "other-end"', "and wound"),
    )
) + tuple(
    Mutation(*each, OF_FIELD)
    for each in (
        (COILS, "1.0 if share > 0 else -1.0", "1.0 if share < 0 else -1.0"),
        (COILS, "return (self.go - self.back) % (2 * np.pi)", "return (self.back - self.go + 0.3) % (2 * np.pi)"),
        (COILS, "rear = front[::-1] * [1, 1, -1]", "rear = front * [1, 1, -1]"),
        (COILS, "self._shown = ours[:1] if one else ours", "self._shown = ours"),
        (LEADS, "(coil.back, coil.go) if swapped and k == 0 else (coil.go, coil.back)", "(coil.go, coil.back)"),
        (CURVED, "angle + sense * (span - head), angle + sense * span", "angle + sense * (span - head), angle - sense * span"),
        ("visual/machines/field_machine.py", "rotation, rotation, 0.008 * side)", "rotation, -rotation, 0.008 * side)"),
        ("scenes/machines/turning_field/snapshot.py", "coil.sign * of_phases", "of_phases"),
    )
)
