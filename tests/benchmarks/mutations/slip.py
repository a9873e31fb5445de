"""Breaks of slip and speed: physics, drawing and words."""

from tests.benchmarks.mutations.mutation import Mutation

ORACLE = ("tests/scenes/oracle/test_slip_and_speed.py",)
WORDS, SCENE, MOTORS = (f"scenes/drives/{name}.py" for name in ("slip_words", "slip_and_speed", "bench_motors"))
DRAWN, MOTION = "visual/machines/slip_machine.py", "physics/induction/motion.py"

MUTATIONS = tuple(Mutation(*each, ORACLE) for each in (
    (WORDS, "return self.sense * self.moment.laps_of_slip", "return self.moment.laps_of_slip"),
    (WORDS, "view.turning(o.sense)", "view.turning(-o.sense)"),
    (WORDS, "turning = f\"the rotor {view.turning(o.moment.speed)}", "turning = f\"the rotor {view.turning(-o.moment.speed)}"),
    (WORDS, 'answer = "stalls" if slip >= 1 else "over"', 'answer = "stalls" if slip >= 0.2 else "over"'),
    (WORDS, "if motor.rests_on_assumption(slip) else", "if not motor.unknown else"),
    (SCENE, "start - 2 * np.pi * math.fmod(self._moment.laps_of_slip, 1.0)", "start + 2 * np.pi * math.fmod(self._moment.laps_of_slip, 1.0)"),
    (SCENE, 'machine.wiring.join(self["lines"].split("-"))', 'machine.wiring.join(("L1", "L2", "L3"))'),
    (SCENE, "machine.show_band(field, self.sense,", "machine.show_band(field, -self.sense,"),
    (MOTORS, "bool(self.unknown) and abs(slip) > 1.5", "abs(slip) > 1.5"),
    (DRAWN, "start = crest if sense < 0 else crest - span", "start = crest if sense > 0 else crest - span"),
    (DRAWN, "self._end = (start + span if sense < 0", "self._end = (start + span if sense > 0"),
    (MOTION, "return slipping * np.cos(angles + slipping * lag)", "return slipping * np.cos(angles - slipping * lag)"),
    (MOTION, "slipping = sense * math.copysign(1.0, slip)", "slipping = math.copysign(1.0, slip)"),
    ("visual/machines/bore_field.py", '(("S", palette.SOUTH), ("N", palette.NORTH))', '(("N", palette.NORTH), ("S", palette.SOUTH))'),
))
