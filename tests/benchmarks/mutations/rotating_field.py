"""Breaks of the rotating field and of changing speed: physics, drawing, wiring and words."""

from tests.benchmarks.mutation import noticed_by

FIELD, SPEED = "scenes/machines/turning_field/", "scenes/drives/changing_speed/"
OF_FIELD, OF_SPEED = ("tests/scenes/oracle/machines/test_turning_field.py",), ("tests/scenes/oracle/drives/test_changing_speed.py",)
OF_WINDINGS = ("tests/physics/test_pole_changing.py",)
BORE, WIRING, LAYERS = "visual/machines/bore_field.py", "visual/switchgear/motor_wiring.py", "visual/machines/layered_stator.py"
POLES = "physics/pole_changing.py"

MUTATIONS = (
    *noticed_by(
        OF_WINDINGS,
        (POLES, 'END_OF_TAP = ("U", "W", "V")', 'END_OF_TAP = ("U", "V", "W")'),
        (POLES, 'by_tap.with_leads_exchanged("V", "W"), taps)', "by_tap, taps)"),
        (
            POLES,
            "return PoleConnection(taps, ends, self._coils(halves_alike=-1, paths=2))",
            'return PoleConnection(taps, ends, self._coils(halves_alike=-1, paths=2).with_leads_exchanged("U", "V"))',
        ),
    ),
    *noticed_by(
        OF_FIELD,
        (BORE, "OUTWARD, INWARD = palette.SOUTH, palette.NORTH", "OUTWARD, INWARD = palette.NORTH, palette.SOUTH"),
        (
            BORE,
            'for letter, colour in (("S", palette.SOUTH), ("N", palette.NORTH))',
            'for letter, colour in (("N", palette.SOUTH), ("S", palette.NORTH))',
        ),
        (BORE, "arrow.put(start + [0, 0, z], size * way)", "arrow.put(start + [0, 0, z], -size * way)"),
        (BORE, "self._turned = turned(peak_angle)\n        for place", "self._turned = turned(-peak_angle)\n        for place"),
        (BORE, "polar(sign * height * self.full, angle)", "polar(height * self.full, angle)"),
        ("visual/machines/stator.py", '"dot toward the drive end" if self._sign > 0', '"dot toward the drive end" if self._sign < 0'),
        ("physics/windings/bore_lines.py", "return VACUUM_PERMEABILITY * p * arguments", "return VACUUM_PERMEABILITY * arguments"),
        (FIELD + "snapshot.py", "float(np.sign(other - clockwise))", "float(np.sign(clockwise - other))"),
        (FIELD + "snapshot.py", "order = [PHASES[self.setup.lines.index(line)] for line in LINES]", "order = list(PHASES)"),
        (FIELD + "windings.py", "{'+' if side.sign > 0 else chr(0x2212)}", "{'+' if side.sign < 0 else chr(0x2212)}"),
        (FIELD + "picture.py", "if line != setup.lost),", "if line == setup.lost),"),
        (FIELD + "picture.py", "studs=tuple(setup.lines.index(line) for line in phases.LINES)", "studs=(0, 1, 2)"),
        (FIELD + "picture.py", "of_lines = [phases.LINES.index(line) for line in setup.lines]", "of_lines = [0, 1, 2]"),
        (
            FIELD + "question.py",
            'follow each other "\n        f"{view.turning(-1.0)}',
            'follow each other "\n        f"{view.turning(1.0)}',
        ),
        (FIELD + "question.py", "rotation = look.view.turning(now.rotation)", "rotation = look.view.turning(-now.rotation)"),
        (FIELD + "readings.py", "minus(np.degrees(-now.peak)", "minus(np.degrees(now.peak)"),
        ("scenes/scene/common_readings.py", 'if uneven else "",\n        tells=True', 'if uneven else ""'),
        (FIELD + "picture.py", "now.slot_currents * look.reveals_answer", "now.slot_currents"),
        (FIELD + "picture.py", 'picture=setup.picture if look.reveals_answer else "nothing"', "picture=setup.picture"),
    ),
    *noticed_by(
        OF_SPEED,
        (SPEED + "motors.py", "TURNS_OF_TAPPED = (66, 140)", "TURNS_OF_TAPPED = (30, 58)"),
        (SPEED + "motors.py", "/ (1j * circuit.magnetising_reactance)", "/ circuit.magnetising_reactance"),
        (SPEED + "motors.py", "BALANCED[order]", "BALANCED"),
        (SPEED + "picture.py", 'zip("UVW", "UWV", strict=True)', 'zip("UVW", "UVW", strict=True)'),
        (SPEED + "picture.py", "studs=(0, 2, 1) if setup.swapped_at_low_speed", "studs=(0, 1, 2) if setup.swapped_at_low_speed"),
        (SPEED + "picture.py", "n if low else n + 3", "n + 3 if low else n"),
        (SPEED + "picture.py", "bridged=() if low else (0, 1, 2)", "bridged=()"),
        (SPEED + "picture.py", "now.field if look.reveals_answer else 0.0", "now.field"),
        (SPEED + "snapshot.py", "return -1.0 if clockwise > other else 1.0", "return 1.0 if clockwise > other else -1.0"),
        (SPEED + "readings.py", "rotation = view.turning(now.speed)", "rotation = view.turning(-now.speed)"),
        (SPEED + "question.py", 'as_marked = order in "UVWUV"', 'as_marked = order == "UVW"'),
        (LAYERS, 'return ("+" if sign > 0 else', 'return ("+" if sign < 0 else'),
        (WIRING, "lead.visible = self.visible and now.lines[place] == line", "lead.visible = self.visible and place == line"),
        ("visual/machines/speed_machine.py", "polar(1.0, angle))", "polar(1.0, -angle))"),
    ),
)
