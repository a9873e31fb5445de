"""Breaks in where letters stand, in the framing of the subject and on the board."""

from __future__ import annotations

from tests.benchmarks.mutation import Mutation

LETTERS, BOARD = ("tests/browser/page/test_letters.py",), ("tests/browser/page/test_board.py",)
PLACES, FRAMING = "visual/page/picture/places.js", "visual/page/picture/framing.js"

MUTATIONS = (
    Mutation(PLACES, "if (filled.some((other) => meet(own, other, APART))) return Infinity;", "", LETTERS),
    Mutation(PLACES, "if (tips.some((tip) => covers(own, tip))) return Infinity;", "", LETTERS),
    Mutation(PLACES, "own.right > room.right - EDGE", "own.right > room.right + 40", LETTERS),
    Mutation("visual/page/picture/letters.js", "const MOST = 8;", "const MOST = 9;", LETTERS),
    Mutation(FRAMING, "distance *= Math.max((rightmost - left)", "distance *= 1.7 * Math.max((rightmost - left)", LETTERS),
    Mutation(FRAMING, "aside * right[axis] - down * above[axis]", "aside * right[axis]", LETTERS),
    Mutation("visual/page/picture/stream.js", "radius: radius * size.y }", "radius: 0 }", LETTERS),
    Mutation("visual/page/panels/board.js", "const LINES = 17;", "const LINES = 24;", BOARD),
    Mutation("visual/page/panels/board.js", "rest.length > 1 ? rest.slice(0, -1) : rest;", "rest.slice(1);", BOARD),
    Mutation("visual/page/panels/panel.js", "const FIRST = 4;", "const FIRST = 40;", BOARD),
    Mutation(
        "visual/apparatus/circuit.py",
        "self.visible and current > 0",
        "self.visible and current < 0",
        ("tests/scenes/oracle/test_field_round_a_wire.py",),
    ),
)
