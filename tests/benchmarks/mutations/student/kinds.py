"""Kinds of question, the mistakes that they name, typed figures, and what practice brings back."""

from tests.benchmarks.mutation import Mutation

TESTS = "tests/scenes/questions/"
FIGURES, DIRECTIONS, COMPARE, GUESSING, MISTAKES, TYPED, KINDS, MACHINES, REASONS, CONNECTIONS = (
    (f"{TESTS}test_{name}.py",)
    for name in ("figures", "directions", "compare", "guessing", "mistakes", "typed", "kinds", "machines", "reasons", "connections")
)
DRAWN = ("tests/scenes/scene/test_drawn_arrow.py",)
PRACTICE = ("tests/scenes/practice/test_practice.py", "tests/scenes/practice/test_practice_bench.py")
ROUND, PROGRESS = ("tests/scenes/practice/test_round.py",), ("tests/scenes/practice/test_progress.py",)
BENCH = ("tests/scenes/bench/test_kinds_on_the_bench.py",)
SHARED = "scenes/questions/"

MUTATIONS = (
    Mutation("scenes/machines/alternator/kinds.py", "turns * now.setup.poles, MINUTES", "turns * now.setup.poles / 4, MINUTES", FIGURES),
    Mutation(
        "scenes/conductors/pushed_conductor/kinds.py",
        "FINGERS: direction_words(force_direction(current, field))",
        "FINGERS: direction_words(force_direction(field, current))",
        ("tests/scenes/questions/test_mistaken_hands.py",),
    ),
    Mutation("scenes/drives/instruments/kinds.py", '(case.joined == "star") != other', '(case.joined == "star") == other', FIGURES),
    Mutation("scenes/conductors/pushed_conductor/kinds.py", "{_tesla(now):.4f} T", "{_tesla(now):.3f} T", FIGURES),
    Mutation(SHARED + "kinds.py", "if kept or seed % 2:", "if True:", KINDS),
    Mutation(SHARED + "compare.py", "float(_rounded(after)) / float(_rounded(before))", "after / before", COMPARE),
    Mutation(SHARED + "speeds.py", "return 60 * frequency / (poles / 2)", "return 60 * frequency / poles", FIGURES),
    Mutation(SHARED + "backward.py", "if result(each).answer != own.answer]", "]", MACHINES),
    Mutation(SHARED + "backward.py", "if leads_to == own.answer]", "if leads_to != own.answer]", DIRECTIONS),
    Mutation(SHARED + "compare.py", "return MORE if after > CLEARLY * before", "return LESS if after > CLEARLY * before", COMPARE),
    Mutation(SHARED + "compare.py", "_said(of, change, abs(each))", "_said(of, change, each)", COMPARE),
    Mutation(SHARED + "compare.py", " or value in reverse(before)", " or value != before", COMPARE),
    Mutation("scenes/drives/terminal_box/kinds.py", 'ANY = ("load", "hertz")', 'ANY = ("hertz",)', KINDS),
    Mutation(SHARED + "compare.py", "MORE: {LESS: [INVERSE], SAME: [NO_EFFECT]},", "MORE: {LESS: [NO_EFFECT], SAME: [INVERSE]},", COMPARE),
    Mutation(SHARED + "kinds.py", "self.dice.shuffle(found)", "found.sort()", GUESSING),
    Mutation(SHARED + "why.py", "setup.dice.shuffle(offered)", "pass", GUESSING),
    Mutation(SHARED + "why.py", "(exchanged, FINGERS)", "(exchanged, ELECTRONS)", DIRECTIONS),
    Mutation(SHARED + "mistakes.py", "names[0] if len(names) == 1 else None", "names[0] if names else None", MISTAKES),
    Mutation(SHARED + "mistakes.py", "frozenset.intersection(*", "frozenset.union(*", MISTAKES),
    Mutation(SHARED + "mistakes.py", "always -= frozenset()", "always ^= frozenset()", MISTAKES),
    Mutation(SHARED + "mistakes.py", "if made or question.is_right(given) else frozenset())", ")", MISTAKES),
    Mutation("scenes/practice/practice.py", "return name if name in parted(answers[-1].mistake) else None", "return name", PRACTICE),
    Mutation("scenes/scene/drawn_arrow.py", "if np.linalg.norm(seen) >= END_ON:", "if np.any(seen):", DRAWN),
    Mutation("scenes/scene/drawn_arrow.py", "return direction - (direction @ sight) * sight", "return direction", DRAWN),
    Mutation("scenes/scene/drawn_arrow.py", "< min(off.values()) + BETWEEN]", "<= min(off.values())]", DRAWN),
    Mutation("scenes/scene/question.py", "if len(words) > 1:", "if False:", DRAWN),
    Mutation("scenes/bench/prediction.py", "if arrow and not answered and not self.covers else None", "if arrow else None", DRAWN),
    Mutation(
        "scenes/machines/turning_field/kinds.py", "(turned, -turned, halved, -halved)", "(-turned, turned, halved, -halved)", MACHINES
    ),
    Mutation("scenes/machines/turning_field/kinds.py", "(np.pi / 2 - angle) * setup.look.view.side", "(np.pi / 2 - angle)", MACHINES),
    Mutation("scenes/machines/cage_rotor/kinds.py", "key=lambda pole: -float(", "key=lambda pole: float(", MACHINES),
    Mutation("scenes/machines/cage_rotor/kinds.py", "{'faster' if of.share > 1", "{'faster' if of.share < 1", MACHINES),
    Mutation("scenes/machines/alternator/question.py", "if coil.phase == phase)", 'if coil.phase != "U")', MACHINES),
    Mutation("scenes/drives/terminal_box/kinds.py", "if line not in (stays, asked)]", "if line == stays]", MACHINES),
    Mutation("scenes/drives/braking/kinds.py", "return {MOTION_ALONE: ONCE}", "return {MOTION_ALONE: STOPS}", MACHINES),
    Mutation("scenes/drives/one_phase/kinds.py", '_starts(setup.other(main="marked")).answer', "_starts(setup).answer", MACHINES),
    Mutation("scenes/drives/terminal_box/kinds.py", "(winding, fits, gets[fits]),", "(winding, other, gets[fits]),", REASONS),
    Mutation("scenes/drives/slip_and_speed/kinds.py", "passing(field - rotor),", "passing(field + rotor),", REASONS),
    Mutation("scenes/machines/turning_field/kinds.py", "((order, against), OTHER_END),", "((order, against), AS_MARKED),", REASONS),
    Mutation("scenes/scene/typed.py", "return given[0] / wanted[0]", "return given[0]", TYPED),
    Mutation("scenes/scene/typed.py", "low - abs(low) * ALIKE <= size", "0.99 * low <= size", TYPED),
    Mutation("scenes/scene/question.py", "if self.is_right(given):\n            return ()", "if not given:\n            return ()", TYPED),
    Mutation("scenes/practice/practice.py", "elif key in found and found[key].due < place:", "elif key in found:", PRACTICE),
    Mutation("scenes/practice/practice.py", "if len(mistakes) > 1 and answer.kind", "if len(mistakes) > 9 and answer.kind", PRACTICE),
    Mutation("scenes/practice/practice.py", "new = [seed for seed in NUMBERS if seed not in asked]", "new = []", PRACTICE),
    Mutation(
        "scenes/bench/prediction.py",
        "scene.set_all(drawn.settings | _hiding(scene, drawn.kind.hides))",
        "scene.set_all(drawn.settings)",
        BENCH,
    ),
    Mutation("scenes/bench/prediction.py", "self.drawn.settings if self.drawn else {}", "{}", BENCH),
    Mutation("scenes/bench/prediction.py", "if self.waiting and self.drawn else found", "if False else found", BENCH),
    Mutation("scenes/bench/what_may_be_read.py", "(truth is None or _said(each) != _said(truth))", "False", BENCH),
    Mutation("scenes/machines/cage_rotor/kinds.py", "{ALWAYS_WITH: view.turning(now.field_speed)}", "{}", MACHINES),
    Mutation("scenes/drives/instruments/kinds.py", "if each not in tell]", "if each in tell[1:]]", CONNECTIONS),
    Mutation("scenes/drives/instruments/diagnosis.py", "key=lambda each: -_apart(", "key=lambda each: _apart(", CONNECTIONS),
    Mutation("scenes/drives/terminal_box/question.py", '("runs" if flows else "dead")', '("dead" if flows else "runs")', CONNECTIONS),
    Mutation("scenes/drives/terminal_box/case.py", '"fuse" if first == self.fuse_after', '"fuse" if first != self.fuse_after', CONNECTIONS),
    Mutation(
        "scenes/drives/terminal_box/case.py",
        "float(self.run_up[0][-1]) + relay.trips_after(self.settled.line_currents, heat)",
        "NEVER",
        CONNECTIONS,
    ),
    Mutation(
        "scenes/drives/terminal_box/starter/question.py",
        "own if first.current < second.current",
        "own if first.current > second.current",
        CONNECTIONS,
    ),
    Mutation(
        "scenes/drives/terminal_box/starter/question.py",
        "case.peak.current / case.direct.current",
        "case.direct.current / case.peak.current",
        CONNECTIONS,
    ),
    Mutation(
        "scenes/drives/terminal_box/starter/words.py",
        '"star" if setup.sticks else "delta"',
        '"delta" if setup.sticks else "star"',
        CONNECTIONS,
    ),
    Mutation("physics/starting/changeover.py", "time) - self.residual)", "time) + self.residual)", CONNECTIONS),
    Mutation(SHARED + "mistakes.py", "if len(names) < 2:", "if len(names) < 9:", MISTAKES),
    Mutation("scenes/practice/practice.py", "TELLS_APART if self.apart else SHOWN", "SHOWN", PRACTICE),
    Mutation("scenes/practice/practice.py", "mistakes, apart=True))", "mistakes))", PRACTICE),
    Mutation("scenes/practice/practice.py", "if before and not before.apart", "if before", PRACTICE),
    Mutation("scenes/practice/practice.py", "(FIRST_OF_ALL if name == FORWARD else 1)", "1", PRACTICE),
    Mutation("scenes/practice/practice.py", "if not any(len(figures & each) >= ALIKE", "if any(len(figures & each) >= ALIKE", PRACTICE),
    Mutation("scenes/practice/practice_text.py", "    if prediction.told:  #", "    if False:  #", ROUND),
    Mutation("scenes/practice/mock.py", "return self.questions - len(self.sat)", "return 0", ROUND),
    Mutation("scenes/practice/progress.py", ">= begun)", ">= last)", PROGRESS),
    Mutation("scenes/practice/progress.py", " and not wait.apart", "", PROGRESS),
)
