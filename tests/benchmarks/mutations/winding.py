"""Breaks of the winding that is laid coil by coil: physics, text, drawing, words, and what the rotating field takes of it."""

from tests.benchmarks.mutation import noticed_by

PHYSICS = ("tests/physics/windings/test_laid.py",)
ORACLE = tuple(f"tests/scenes/oracle/machines/test_laying_the_winding{which}.py" for which in ("", "_by_hand"))
LAID, SCENE = "physics/windings/laid.py", "scenes/machines/laying_the_winding/"
DRAWN = "visual/machines/winding/"

MUTATIONS = (
    *noticed_by(
        PHYSICS,
        (LAID, "ways += [Coil(phase, finish, start, -1)]", "ways += [Coil(phase, finish, start, 1)]"),
        (LAID, "coil.sign * (slots[coil.go] - slots[coil.back])", "coil.sign * (slots[coil.back] - slots[coil.go])"),
        (LAID, "(coil.go, coil.back) if coil.sign > 0 else (coil.back, coil.go)", "(coil.go, coil.back)"),
        (LAID, "return (volts - volts.mean()) / impedance", "return volts / impedance"),
        (LAID, "float(np.abs(emfs[:, None] - emfs).max())", "float(np.abs(emfs).max())"),
        (LAID, "taken = {side for each in laid for side in _sides(each, self.layers)}", "taken = {(each.go, 1) for each in laid}"),
    ),
    *noticed_by(
        ORACLE,
        (SCENE + "plans.py", 'sign = -1 if name == "early" else 1', "sign = 1"),
        (SCENE + "plans.py", 'pitch = full * 5 // 6 if kind == "short" else full', 'pitch = full - 1 if kind == "short" else full'),
        (SCENE + "snapshot.py", "float(np.sign(other - clockwise))", "float(np.sign(clockwise - other))"),
        (SCENE + "snapshot.py", "_followed(setup, state.peak, currents),", "state.peak + 0.5,"),
        (SCENE + "picture.py", "shares = now.slot_currents * look.reveals_answer", "shares = -now.slot_currents * look.reveals_answer"),
        (SCENE + "picture.py", "(winding.first_slot_angle - now.peak -", "(winding.first_slot_angle + now.peak -"),
        (SCENE + "picture.py", "(first, other) if start == winding.coils[number].go else (other, first)", "(first,)"),
        (
            SCENE + "readings.py",
            "minus(np.degrees(np.angle(ahead / behind)) % 360, 0)",
            "minus(np.degrees(np.angle(behind / ahead)) % 360, 0)",
        ),
        (SCENE + "question.py", "return coil, 1 if ends(coil)[0] == coil.go else -1", "return coil, 1"),
        (SCENE + "question.py", "(phase, 1) and side.layer == 1)", "(phase, -1) and side.layer == 1)"),
        (SCENE + "scene.py", 'values["laid"] = "none"', 'values["laid"] = "all"'),
        (SCENE + "mistakes.py", "turned == winding.plan.coils_per_phase", "turned != winding.plan.coils_per_phase"),
        (SCENE + "mistakes.py", "if left == winding.without_coil(number):", "if left:"),
        (SCENE + "curves.py", "(len(laid) - 1) / 2", "1"),
        (DRAWN + "unrolled.py", "way = 1.0 if share > 0 else -1.0", "way = -1.0 if share > 0 else 1.0"),
        (
            DRAWN + "unrolled.py",
            "self._told.append(((x, self.sheet.mmf_at, 0.004), (0.0, value, 0.0)))",
            "self._told.append(((x, self.sheet.mmf_at, 0.004), (0.0, -value, 0.0)))",
        ),
        (DRAWN + "joined_coils.py", 'Leg(f"coil {path[-1][0]} finish", path[-1][2])', 'Leg(f"coil {path[0][0]} finish", path[0][2])'),
        (DRAWN + "laid_stator.py", "solid.put((0, 0, 0), turned(float(angle)))", "solid.put((0, 0, 0), turned(-float(angle)))"),
        ("scenes/machines/turning_field/snapshot.py", '"none" or laid else', '"none" else'),
        ("scenes/machines/turning_field/snapshot.py", "return self.laid or winding_of(self.poles)", "return winding_of(self.poles)"),
    ),
)
