"""Breaks in the handout, and in the pictures that a browser draws for it."""

from __future__ import annotations

from tests.benchmarks.mutation import Mutation

QUICK, PRINTED = ("tests/scenes/handout",), ("tests/browser/ways_to_use/test_handout_print.py",)
WALK, PAGE, CURVES = "scenes/handout/handout.py", "scenes/handout/page.py", "visual/paper/curves.py"

MUTATIONS = (
    Mutation(WALK, "        view=scene.eye.words,", "        view=scene.views[0].words,", QUICK),
    Mutation(WALK, " if key.letter in shown)", ")", QUICK),
    Mutation(
        WALK,
        "described_readings(bench.scene.readings(bench.reveals_answer), bench.reveals_answer",
        "described_readings(bench.scene.readings(True), True",
        QUICK,
    ),
    Mutation(WALK, "                taken = None\n", "", QUICK),
    Mutation(PAGE, "{_readings(step.after)}", "", QUICK),
    Mutation(PAGE, "said = _notes(step.notes) if notes else", "said = _notes(step.notes) if True else", QUICK),
    Mutation(PAGE, "_answers(title, steps) if answers else", "_answers(title, steps) if True else", QUICK),
    Mutation(PAGE, "  break-inside: avoid; }\n.step.alone", " }\n.step.alone", PRINTED),
    Mutation(
        CURVES,
        "return least + min(1.0, max(0.0, share)) * (most - least)",
        "return least + min(1.0, max(0.0, share)) * (least - most)",
        QUICK,
    ),
    Mutation("visual/page/shell/still.js", 'socket.on("step", () => window.picture.redraw());', "", PRINTED),
    Mutation("visual/page/shell/still.js", "  taken = step();\n", "  taken = 1;\n", PRINTED),
)
