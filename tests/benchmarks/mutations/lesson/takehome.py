"""Breaks in a lesson as it is printed, and as it is taken home in one file."""

from __future__ import annotations

from tests.benchmarks.mutation import Mutation

FILM, PAGE = ("tests/scenes/takehome",), ("tests/browser/ways_to_use/test_takehome.py",)
SCENES = ("tests/browser/ways_to_use/test_takehome_scenes.py",)
RECORDER, PLAYER = "visual/host/recorded/recorder.py", "visual/page/common/film.js"
QUICK, PRINTED = ("tests/scenes/handout",), ("tests/browser/ways_to_use/test_handout_print.py",)
IN_A_LESSON = ("tests/scenes/lesson/test_kinds_in_a_lesson.py",)
WALK, PAPER, PLOT = "scenes/handout/handout.py", "scenes/handout/page.py", "visual/paper/plots.py"

MUTATIONS = (
    Mutation(RECORDER, "as_made | changed", "changed", FILM),
    Mutation(RECORDER, "if self._of(key[0], first)}", "}", FILM),
    Mutation("scenes/takehome/film.py", "            bench.reveal()\n", "", FILM),
    Mutation("scenes/takehome/film.py", "            pictures = max(pictures, number + AFTER * RATE)", "            pass", FILM),
    Mutation("scenes/machines/cage_rotor/scene.py", "return self.now.settled", "return True", FILM),
    Mutation("scenes/drives/braking/scene.py", "return self.state.time >= float(", "return self.state.time >= 0.3 * float(", FILM),
    Mutation(PLAYER, "attrs: [...away, ", "attrs: [", PAGE),
    Mutation(PLAYER, ": [reel.begin, ...reel.pictures.slice(0, last)]", ": reel.pictures.slice(0, last)", PAGE),
    Mutation(PLAYER, "    waits = steps[step].asks;\n", "", PAGE),
    Mutation(PLAYER, "judged.again && !tried", "false", PAGE),
    Mutation("visual/page/one_file/judge.js", "* prefixes[prefix]", "", PAGE),
    Mutation("scenes/takehome/film.py", "        question = with_own_mistakes(", "        with_own_mistakes(", IN_A_LESSON),
    Mutation(
        "scenes/questions/kinds.py",
        "if kind.own and not kind.not_put_with(scene, scene.settings, numbers=False):",
        "if kind.own:",
        IN_A_LESSON,
    ),
    Mutation("scenes/handout/handout.py", "        readings, after = (), ", "        after = ", IN_A_LESSON),
    Mutation("scenes/takehome/film.py", "_Recorded(host, lesson, may_wait=True)", "_Recorded(host, lesson)", FILM),
    Mutation(
        PLAYER,
        "messages = last >= place ? reel.pictures.slice(place, last)",
        "messages = last >= place ? reel.pictures.slice(place + 1, last)",
        SCENES,
    ),
    Mutation(PLOT, "<= width / 2 else 1", "<= width / 2 else 2", ("tests/visual/paper",)),
    Mutation(PLAYER, "tellWrong).then(changed)", "() => {}).then(changed)", PAGE),
    Mutation("visual/page/one_file/one-file.js", ".catch(window.tellDamaged)", "", PAGE),
    Mutation("visual/page/one_file/damaged.js", "if (!window.begun) window.tellDamaged();", "", PAGE),
    Mutation(WALK, "        view=scene.eye.words,", "        view=scene.views[0].words,", QUICK),
    Mutation(WALK, " if key.letter in shown)", ")", QUICK),
    Mutation(
        WALK,
        "readings, question = _in_sight(bench, bench.reveals_answer)",
        "readings, question = _in_sight(bench, True)",
        QUICK,
    ),
    Mutation(WALK, "                browser = None\n", "", QUICK),
    Mutation(PAPER, "{_readings(step.after)}", "", QUICK),
    Mutation(PAPER, "_notes(step.notes) if notes else", "_notes(step.notes) if True else", QUICK),
    Mutation(PAPER, "_answers(title, steps) if answers else", "_answers(title, steps) if True else", QUICK),
    Mutation(PAPER, "  break-inside: avoid; }\n.head + .step", " }\n.head + .step", PRINTED),
    Mutation(
        PLOT,
        "return least + min(1.0, max(0.0, share)) * (most - least)",
        "return least + min(1.0, max(0.0, share)) * (least - most)",
        QUICK,
    ),
    Mutation("visual/page/shell/still.js", 'socket.on("step", () => window.picture.redraw());', "", PRINTED),
    Mutation("visual/page/shell/still.js", "  taken = step();\n", "  taken = 1;\n", PRINTED),
)
