"""Breaks of the physics that every scene rests on, with the tests of that physics."""

from tests.benchmarks.mutation import Mutation, noticed_by

RULES, SPEEDS = ("tests/physics/test_directions.py",), ("tests/physics/test_speeds.py",)
WOUND, SUPPLIED = ("tests/physics/windings/test_windings.py",), ("tests/physics/supply/test_supplies.py",)
CIRCUIT, CAGE = ("tests/physics/induction/test_induction.py",), ("tests/physics/cage/test_cage.py",)
PLATE, TRANSIENT = ("tests/physics/nameplate",), ("tests/physics/induction/test_transient.py",)
DIRECTIONS, SPEED, WINDING = "physics/directions.py", "physics/speeds.py", "physics/windings/winding.py"
SLOTS, SUPPLY, STAR = "physics/windings/coils_in_slots.py", "physics/supply/supplies.py", "physics/supply/star_delta.py"
MOTOR, BARS = "physics/induction/circuit.py", "physics/cage/bars_and_rings.py"

MUTATIONS = (
    *noticed_by(
        RULES,
        (
            DIRECTIONS,
            'return _perpendicular(unit("current", current), unit("field", field))',
            'return _perpendicular(unit("field", field), unit("current", current))',
        ),
        (
            DIRECTIONS,
            'return _perpendicular(unit("motion", motion), unit("field", field))',
            'return _perpendicular(unit("field", field), unit("motion", motion))',
        ),
        (
            DIRECTIONS,
            'return _perpendicular(unit("current", current), unit("offset", offset))',
            'return _perpendicular(unit("offset", offset), unit("current", current))',
        ),
        (DIRECTIONS, '"counter-clockwise" if toward_the_eye > 0 else', '"counter-clockwise" if toward_the_eye < 0 else'),
        (DIRECTIONS, '(y, "up", "down")', '(y, "down", "up")'),
        (DIRECTIONS, 'given_finger, answer_finger = "second finger", "thumb"', 'given_finger, answer_finger = "thumb", "second finger"'),
        (
            DIRECTIONS,
            "given_words, answer_words = say(self.thumb), say(self.second_finger)",
            "given_words, answer_words = say(self.second_finger), say(self.thumb)",
        ),
        (DIRECTIONS, 'return Hand("right", along_field, emf, across,', 'return Hand("right", along_field, -emf, across,'),
        (DIRECTIONS, "cross(along_field, push) if", "cross(push, along_field) if"),
    ),
    *noticed_by(
        SPEEDS,
        (SPEED, "return (synchronous - actual) / synchronous", "return (actual - synchronous) / synchronous"),
        (SPEED, '(1 - arguments.numbers("slip", slip))', '(1 + arguments.numbers("slip", slip))'),
        (SPEED, "_frequency(frequency) * np.abs(arguments", "_frequency(frequency) * (1 - arguments"),
        (SPEED, "return 2 * pole_pairs", "return pole_pairs"),
        (SPEED, "return 2 * np.pi * arguments", "return np.pi * arguments"),
    ),
    *noticed_by(
        WOUND,
        (WINDING, '("U", +1), ("W", -1), ("V", +1)', '("U", +1), ("V", -1), ("W", +1)'),
        (WINDING, "slots_ahead = (self.span +", "slots_ahead = -(self.span +"),
        (WINDING, "(self.span * self.poles / self.slots) * np.pi / 2", "(self.span * self.poles / self.slots) * np.pi"),
        (WINDING, "np.sin(q * half_step) / denominator", "np.sin(half_step) / denominator"),
        (WINDING, "max(BELTS, key=lambda belt: belt[1] *", "min(BELTS, key=lambda belt: belt[1] *"),
        (SLOTS, "self.first_slot_angle - 2 * np.pi", "self.first_slot_angle + 2 * np.pi"),
        ("physics/windings/coil.py", "np.exp(-2j * np.pi / 3 * np.arange(3))", "np.exp(2j * np.pi / 3 * np.arange(3))"),
        (SLOTS, "coil.phase, -coil.sign, number", "coil.phase, coil.sign, number"),
    ),
    *noticed_by(
        SUPPLIED,
        (SUPPLY, '"L2": 2 * np.pi / 3, "L3": 4 * np.pi / 3', '"L2": 4 * np.pi / 3, "L3": 2 * np.pi / 3'),
        (SUPPLY, "np.exp([-1j * _LAG", "np.exp([1j * _LAG"),
        (SUPPLY, 'in "12312"', 'in "13213"'),
        (SUPPLY, "phases - np.roll(phases, -1)", "phases - np.roll(phases, 1)"),
        (SUPPLY, "return self.emf - self.internal_resistance", "return self.emf + self.internal_resistance"),
        (SUPPLY, "[[1, 1, 1], [1, _A, _A**2], [1, _A**2, _A]]", "[[1, 1, 1], [1, _A**2, _A], [1, _A, _A**2]]"),
        (STAR, "np.eye(3) - np.roll(np.eye(3), 1, axis=1)", "np.eye(3) - np.roll(np.eye(3), -1, axis=1)"),
        (STAR, "delta * np.roll(delta, 1)", "delta * np.roll(delta, -1)"),
        (STAR, "terminals[lost] = -nodes", "terminals[lost] = nodes"),
    ),
    *noticed_by(
        CIRCUIT,
        (MOTOR, "return 3.0 * rotor_times_slip.real * slip", "return -3.0 * rotor_times_slip.real * slip"),
        (MOTOR, "converted_power=(1.0 - slip)", "converted_power=(1.0 + slip)"),
        (MOTOR, "return self.line_voltage / math.sqrt(3.0)", "return self.line_voltage"),
        (MOTOR, "return self.rotor_resistance / root, self", "return self.rotor_resistance / root.real / 2, self"),
    ),
    *noticed_by(
        CAGE,
        (BARS, "return field * np.cos", "return -field * np.cos"),
        (BARS, "mmf = -1j * np.sum", "mmf = 1j * np.sum"),
        (BARS, "arriving - np.mean(arriving)", "np.mean(arriving) - arriving"),
    ),
    *noticed_by(
        TRANSIENT,
        (
            "physics/induction/run_up.py",
            "AT_REST, duration, step, supply, load_torque)",
            "AT_REST, duration, step, supply, lambda speed: 0.0 * speed)",
        ),
        ("physics/induction/run_up.py", "winding_current * connection.ratio.conjugate()", "winding_current * connection.ratio"),
    ),
    *noticed_by(
        PLATE,
        (
            "physics/nameplate/plate.py",
            "return math.sqrt(3.0) * self.line_voltage * self.current",
            "return 3.0 * self.line_voltage * self.current",
        ),
        ("physics/nameplate/plate.py", 'if self.connection == "delta" else self.current', 'if self.connection == "star" else self.current'),
        ("physics/nameplate/fit.py", "return point.torque - self.loss_torque", "return point.torque + self.loss_torque"),
        ("physics/nameplate/fit.py", "return self.fitted / self.plate - 1.0", "return 1.0 - self.fitted / self.plate"),
        ("physics/nameplate/fit.py", "0.02, 0.08", "0.2, 0.8"),
        ("physics/nameplate/fit.py", "if self.misses else told", "if not self.misses else told"),
        ("physics/nameplate/search.py", "times[..., 0] - lost)", "times[..., 0] + lost)"),
        ("physics/nameplate/search.py", "- lost * (1.0 - slip)", "+ lost * (1.0 - slip)"),
        ("physics/nameplate/search.py", "np.geomspace(plate.slip, 1.0, _POINTS)", "np.geomspace(plate.slip, 0.1, _POINTS)"),
        ("physics/nameplate/limits.py", "return plate.slip * (", "return 2.0 * plate.slip * ("),
        ("physics/nameplate/limits.py", "if beyond_least > beyond_most", "if beyond_least < beyond_most"),
        ("physics/nameplate/usual.py", "if circuit.saturates:", "if not circuit.saturates:"),
    ),
    Mutation(
        "scenes/workings/circuit.py",
        "float(motor.stator_leakage(current))",
        "float(motor.stator_leakage(0.0))",
        ("tests/scenes/workings/test_workings.py",),
    ),
)
