"""Breaks of the cage rotor: physics, drawing and words."""

from tests.benchmarks.mutation import Mutation, noticed_by

ORACLE = ("tests/scenes/oracle/machines/test_cage_rotor.py",)
SNAPSHOT, READINGS, QUESTION, PICTURE = (
    f"scenes/machines/cage_rotor/{name}.py" for name in ("snapshot", "readings", "question", "picture")
)
DRAWN, MACHINE, LINES = "visual/machines/cage_drawn.py", "visual/machines/cage_machine.py", "visual/switchgear/three_phase.py"

HANDS = ("tests/scenes/scene/test_hands_can_be_read.py", "tests/scenes/scene/test_fingers_in_sight.py")

MUTATIONS = (
    Mutation(SNAPSHOT, "(this_well := seen(bar.hand(side))) > how_well", "(this_well := 0) > how_well", HANDS),
    *noticed_by(
        ORACLE,
        (SNAPSHOT, "motion=(moment.rotor_speed - field.speed)", "motion=(field.speed - moment.rotor_speed)"),
        (SNAPSHOT, '(0.0 if pole == "S" else np.pi', '(0.0 if pole != "S" else np.pi'),
        (SNAPSHOT, "current=state.current[number] * AXIS", "current=-state.current[number] * AXIS"),
        (SNAPSHOT, 'return "N" if float(', 'return "S" if float('),
        (SNAPSHOT, "abs(self.state.torque) <= load", "abs(self.state.torque) >= load"),
        (SNAPSHOT, 'sequence == "positive" else 1.0', 'sequence != "positive" else 1.0'),
        (SNAPSHOT, '"proof": -PROOF_SPEED}', '"proof": PROOF_SPEED}'),
        (READINGS, "1000 * state.emf[k], now.sense * state.force[k]", "1000 * state.emf[k], state.force[k]"),
        (
            READINGS,
            "sense = rated_torque(setup.poles), float(np.sum(state.force)), view.turning(state.torque)",
            "sense = rated_torque(setup.poles), float(np.sum(state.force)), view.turning(-state.torque)",
        ),
        (READINGS, "np.degrees(now.sense * state.lag)", "np.degrees(state.lag)"),
        (QUESTION, "return now.bar.hand(side).words(words_of(look.view))", "return now.bar.hand(side).words()"),
        (QUESTION, "sense = view.turning(torque) if abs(torque) > 1e-6", "sense = view.turning(-torque) if abs(torque) > 1e-6"),
        (PICTURE, "machine.wiring.join(setup.lines,", 'machine.wiring.join(("L1", "L2", "L3"),'),
        (PICTURE, "through_inverter=setup.stands", "through_inverter=False"),
        (DRAWN, "sign, size = (1.0 if share > 0 else -1.0)", "sign, size = (-1.0 if share > 0 else 1.0)"),
        (DRAWN, "self._newtons = size * full_force", "self._newtons = full_force"),
        (DRAWN, "self.chosen.text = str(chosen + 1)", "self.chosen.text = str(chosen)"),
        (MACHINE, "angle = peak_angle - lag / pole_pairs", "angle = peak_angle + lag / pole_pairs"),
        (MACHINE, "self.torque.put(start, torque,", "self.torque.put(start, -torque,"),
        (MACHINE, "self.rotor.how = how", 'self.rotor.how = "shown"'),
        (DRAWN, "self.visible and self.how == SHOWN, self.visible and", "self.visible and self.how != SHOWN, self.visible and"),
        (MACHINE, "bar = polar(self.shape.circle, bar_angle", "bar = polar(self.shape.circle, -bar_angle"),
        ("physics/induction/fed_cage.py", "return slip * mean * self.cage.bars / (12.0", "return slip * mean * self.cage.bars / (3.0"),
        ("physics/cage/motion.py", "angle - moment.rotor_angle", "angle + moment.rotor_angle"),
        (LINES, "lines[TERMINALS.index(end)] == line", "lines[2 - TERMINALS.index(end)] == line"),
        (LINES, "terminal.thing = INVERTER if through_inverter else SUPPLY", "terminal.thing = SUPPLY"),
        (LINES, "Inside(self, MAINS, posts[k], posts[(k + 1) % 3])", "pass"),
    ),
    Mutation(
        "physics/induction/fed_cage.py",
        "cmath.exp(1j * self.sense * cmath.phase(induced))",
        "cmath.exp(1j * cmath.phase(induced))",
        ("tests/physics/induction/test_fed_cage.py",),
    ),
    *(
        Mutation(READINGS, f"{end},\n            tells=True", f"{end}", ("tests/scenes/bench/test_while_a_question_waits.py",))
        for end in (' / {synchronous_rpm:.0f}"', '{abs(now.slip):.5g} × {frequency:g} Hz"')
    ),
)
