"""Mutations of the board: the lines of the workings, the inputs that scenes give them, and which readings are in sight."""

from __future__ import annotations

from tests.benchmarks.mutation import Mutation

LINES, SHEET = ("tests/scenes/workings/test_board_lines.py",), ("tests/scenes/bench/test_workings.py",)
LESSON = ("tests/scenes/lesson/test_lesson.py",)

MUTATIONS = (
    Mutation("scenes/workings/board_lines.py", 'return BoardLine(self.words, result="?")', "return self", SHEET),
    Mutation(
        "scenes/workings/board_lines.py", "if not isinstance(cell, str) and math.isfinite(cell)", "if not isinstance(cell, str)", LINES
    ),
    Mutation("scenes/workings/starting.py", "Friction(torque, breakaway)", "Friction(torque)", LINES),
    Mutation("scenes/workings/inputs.py", 'running = supply | {"speed": speed}', 'running = supply | {"speed": -speed}', LINES),
    Mutation("scenes/conductors/pushed_conductor/readings.py", '"length": 2000 * HALF_ROD', '"length": 1000 * HALF_ROD', LINES),
    Mutation("scenes/conductors/two_wires/readings.py", "1000 * now.apart", "1000 * now.setup.spacing", LINES),
    Mutation(
        "scenes/drives/slip_and_speed/readings.py",
        'of_circuit(motor) | {"slip": 100 * now.slip}',
        'of_circuit(motor) | {"slip": 100 * now.motor.rated_slip}',
        LINES,
    ),
    Mutation(
        "scenes/bench/workings.py", 'self.entered.get(ask.name, _written(own.get(ask.name, "")))', '_written(own.get(ask.name, ""))', SHEET
    ),
    Mutation("scenes/bench/workings.py", "beside = topic.slow and not self.may_wait", "beside = False", SHEET),
    Mutation("scenes/bench/workings.py", "if not reveals_answer:", "if False:", SHEET),
    Mutation("scenes/lesson/lesson_bench.py", "self.first_readings = step.readings", "self.first_readings = ()", LESSON),
    Mutation("scenes/scene/described.py", "max(LEAST, sum(reading.name in places for reading in readings))", "LEAST", LESSON),
)
