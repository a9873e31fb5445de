"""Breaks in where letters stand, in the framing of the subject, on the board and in which readings are in sight."""

from __future__ import annotations

from tests.benchmarks.mutation import Mutation, noticed_by

LETTERS, BOARD = ("tests/browser/page/test_every_scene.py",), ("tests/browser/page/test_board.py",)
PLACES, FRAMING = "visual/page/picture/places.js", "visual/page/picture/framing.js"
LINES, SHEET = ("tests/scenes/workings/test_board_lines.py",), ("tests/scenes/bench/test_workings.py",)
LESSON = ("tests/scenes/lesson/test_lesson.py",)

MUTATIONS = (
    *noticed_by(
        LETTERS,
        (PLACES, "if (filled.some((other) => meet(own, other, APART))) return Infinity;", ""),
        (PLACES, "if (tips.some((tip) => covers(own, tip))) return Infinity;", ""),
        (PLACES, "own.right > room.right - EDGE", "own.right > room.right + 40"),
        ("visual/page/picture/letters.js", "const MOST = 8;", "const MOST = 9;"),
        (FRAMING, "distance *= Math.max((rightmost - left)", "distance *= 1.7 * Math.max((rightmost - left)"),
        (FRAMING, "aside * right[axis] - down * above[axis]", "aside * right[axis]"),
        ("visual/page/picture/stream.js", "radius: radius * size.y }", "radius: 0 }"),
    ),
    *noticed_by(
        BOARD,
        ("visual/page/panels/board.js", "const LINES = 17;", "const LINES = 24;"),
        ("visual/page/panels/board.js", "rest.length > 1 ? rest.slice(0, -1) : rest;", "rest.slice(1);"),
    ),
    *noticed_by(
        LESSON,
        ("scenes/scene/described.py", "USUAL, LEAST = 4, 3", "USUAL, LEAST = 40, 3"),
        ("scenes/lesson/lesson_bench.py", "self.first_readings = step.readings", "self.first_readings = ()"),
        ("scenes/scene/described.py", "max(LEAST, sum(reading.name in places for reading in readings))", "LEAST"),
    ),
    Mutation(
        "visual/apparatus/circuit.py",
        "self.visible and current > 0",
        "self.visible and current < 0",
        ("tests/scenes/oracle/conductors/test_field_round_a_wire.py",),
    ),
    *noticed_by(
        SHEET,
        ("scenes/workings/board_lines.py", 'return BoardLine(self.words, result="?")', "return self"),
        (
            "scenes/bench/workings.py",
            'self.entered.get(ask.name, written_input(own.get(ask.name, "")))',
            'written_input(own.get(ask.name, ""))',
        ),
        ("scenes/bench/workings.py", "beside = topic.slow and not self.may_wait", "beside = False"),
        ("scenes/bench/workings.py", "if not reveals_answer:", "if False:"),
    ),
    *noticed_by(
        LINES,
        ("scenes/workings/board_lines.py", "if not isinstance(cell, str) and math.isfinite(cell)", "if not isinstance(cell, str)"),
        ("scenes/workings/starting.py", "Friction(torque, breakaway)", "Friction(torque)"),
        ("scenes/workings/inputs.py", 'running = supply | {"speed": speed}', 'running = supply | {"speed": -speed}'),
        ("scenes/conductors/pushed_conductor/readings.py", '"length": 2000 * HALF_ROD', '"length": 1000 * HALF_ROD'),
        ("scenes/conductors/two_wires/readings.py", "1000 * now.apart", "1000 * now.setup.spacing"),
        (
            "scenes/drives/slip_and_speed/readings.py",
            'of_circuit(motor) | {"slip": 100 * now.slip}',
            'of_circuit(motor) | {"slip": 100 * now.motor.rated_slip}',
        ),
    ),
)
