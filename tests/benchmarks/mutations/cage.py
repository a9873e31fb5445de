"""Breaks of the cage rotor: physics, drawing and words."""

from tests.benchmarks.mutations.mutation import Mutation

ORACLE = ("tests/scenes/oracle/test_cage_rotor.py",)
OBSERVED, WORDS, SCENE = (f"scenes/machines/{name}.py" for name in ("cage_observed", "cage_words", "cage_rotor"))
DRAWN, MACHINE = "visual/machines/cage_drawn.py", "visual/machines/cage_machine.py"

MUTATIONS = tuple(Mutation(*each, ORACLE) for each in (
    (OBSERVED, "motion=(moment.rotor_speed - field.speed)", "motion=(field.speed - moment.rotor_speed)"),
    (OBSERVED, 'if pole == "N" else 0.0)', 'if pole == "S" else 0.0)'),
    (OBSERVED, "current=state.current[number] * AXIS", "current=-state.current[number] * AXIS"),
    (OBSERVED, "abs(self.state.torque) <= self.load", "abs(self.state.torque) >= self.load"),
    (WORDS, "minus(o.sense * state.force[k], 2)", "minus(state.force[k], 2)"),
    (WORDS, "sense = view.turning(state.torque)", "sense = view.turning(-state.torque)"),
    (WORDS, 'return o.hand(side).words(view.directions.words)', 'return o.hand(side).words()'),
    (WORDS, "np.degrees(o.sense * state.lag)", "np.degrees(state.lag)"),
    (SCENE, 'machine.wiring.join(self["lines"].split("-"))', 'machine.wiring.join(("L1", "L2", "L3"))'),
    (SCENE, 'return -1.0 if supply.sequence == "positive" else 1.0', 'return 1.0 if supply.sequence == "positive" else -1.0'),
    (DRAWN, "sign, size = (1.0 if share > 0 else -1.0)", "sign, size = (-1.0 if share > 0 else 1.0)"),
    (DRAWN, "self._newtons = size * full_force", "self._newtons = full_force"),
    (DRAWN, "self.chosen.text = str(chosen + 1)", "self.chosen.text = str(chosen)"),
    (MACHINE, "angle = crest - lag / pole_pairs", "angle = crest + lag / pole_pairs"),
    (MACHINE, "[0, -side * torque, 0])", "[0, side * torque, 0])"),
    (MACHINE, "bar = polar(self.shape.circle, bar_angle", "bar = polar(self.shape.circle, -bar_angle"),
    ("physics/induction/fed_cage.py", "return slip * mean * self.cage.bars / (12.0", "return slip * mean * self.cage.bars / (3.0"),
    ("physics/cage/motion.py", "angle - moment.rotor_angle", "angle + moment.rotor_angle"),
    ("visual/apparatus/three_phase.py", "lines[TERMINALS.index(end)] == line", "lines[2 - TERMINALS.index(end)] == line"),
))
MUTATIONS += (
    Mutation("physics/induction/fed_cage.py", "cmath.exp(1j * self.sense * cmath.phase(induced))", "cmath.exp(1j * cmath.phase(induced))",
             ("tests/physics/induction/test_fed_cage.py",)),
)
