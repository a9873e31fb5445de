"""Breaks in the lesson that is taken home as one file."""

from __future__ import annotations

from tests.benchmarks.mutation import Mutation

FILM, PAGE = ("tests/scenes/takehome",), ("tests/browser/ways_to_use/test_takehome.py",)
RECORDER, PLAYER = "visual/host/recorder.py", "visual/page/common/film.js"

MUTATIONS = (
    Mutation(RECORDER, "as_made | changed", "changed", FILM),
    Mutation(RECORDER, "if self._of(key[0], first)}", "}", FILM),
    Mutation("scenes/takehome/film.py", "            bench.reveal()\n", "", FILM),
    Mutation(PLAYER, "attrs: [...away, ", "attrs: [", PAGE),
    Mutation(PLAYER, ": [reel.begin, ...reel.pictures.slice(0, last)]", ": reel.pictures.slice(0, last)", PAGE),
    Mutation(PLAYER, "    waits = steps[step].asks;\n", "", PAGE),
)
