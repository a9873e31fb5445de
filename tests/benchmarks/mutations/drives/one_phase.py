"""Motors on one phase: their two fields, their circuit, their relay and what is said of them."""

from tests.benchmarks.mutation import Mutation, noticed_by

PHYSICS = ("tests/physics/induction/test_two_windings.py",)
ORACLE = ("tests/scenes/oracle/drives/test_one_phase.py",)
WINDINGS = "physics/induction/two_windings.py"
SCENE, DRAWN = "scenes/drives/one_phase/", "visual/one_phase/"

MUTATIONS = (
    *noticed_by(
        PHYSICS,
        (
            WINDINGS,
            "self.gap_impedance(1.0 - speed), self.gap_impedance(1.0 + speed)",
            "self.gap_impedance(1.0 - speed), self.gap_impedance(1.0 - speed)",
        ),
        (WINDINGS, "determinant = own * other + apart**2", "determinant = own * other - apart**2"),
        (WINDINGS, "for way in (-1j, 1j))", "for way in (1j, -1j))"),
        (WINDINGS, "voltage * other_current - other_voltage * current", "voltage * other_current + other_voltage * current"),
        (WINDINGS, "auxiliary.imag + auxiliary.real * main.real / main.imag", "auxiliary.imag + auxiliary.real * main.imag / main.real"),
        (WINDINGS, "(1.0 - speed) * across[0] + (1.0 + speed) * across[1]", "(1.0 - speed) * across[0] + (1.0 - speed) * across[1]"),
        (
            "physics/induction/joined_windings.py",
            'vectors["gap_voltages"] = components[:, 1:] * gap',
            'vectors["gap_voltages"] = components[:, :2] * gap',
        ),
    ),
    *noticed_by(
        ORACLE,
        (
            SCENE + "snapshot.py",
            "UPWARD - cmath.phase(forward), UPWARD + cmath.phase(backward)",
            "UPWARD + cmath.phase(forward), UPWARD - cmath.phase(backward)",
        ),
        (SCENE + "snapshot.py", 'settings["ends"] == "swapped")', 'settings["main"] == "swapped")'),
        (SCENE + "snapshot.py", "setup.feed.motor == START_CAPACITOR and state.starting", "setup.feed.motor == START_CAPACITOR"),
        (SCENE + "motors.py", 'tuple(pair for pair in pairs if "W2" not in pair)', 'tuple(pair for pair in pairs if "W1" not in pair)'),
        (SCENE + "motors.py", "if line != self.opened}", "}"),
        (SCENE + "shaft.py", "OPENS, CLOSES = 0.75, 0.45", "OPENS, CLOSES = 2.0, 0.45"),
        (SCENE + "shaft.py", "BY_HAND if start == CLOCKWISE else -BY_HAND", "-BY_HAND if start == CLOCKWISE else BY_HAND"),
        (SCENE + "question.py", "view.turning(-1.0 if forward > backward else 1.0)", "view.turning(1.0 if forward > backward else -1.0)"),
        (SCENE + "readings.py", "zip((3**0.5, 1), powers", "zip((1, 3**0.5), powers"),
        (SCENE + "question.py", 'answer = "never" if seconds == shaft.NEVER else "soon"', 'answer = "never" if seconds > 60 else "soon"'),
        (DRAWN + "circuit.py", 'U2" if reversed_main else "U1", "Z": "Z2" if', 'U2" if reversed_main else "U1", "Z": "Z1" if'),
        (DRAWN + "circuit.py", "(self.contact_made, not switched or closed)", "(self.contact_made, True)"),
        (DRAWN + "machine.py", "middle = axis + sign * np.pi / 2", "middle = axis - sign * np.pi / 2"),
        (DRAWN + "machine.py", "sizes[0] + sizes[1], abs(sizes[0] - sizes[1])", "sizes[0] + sizes[1], sizes[0]"),
        (DRAWN + "machine.py", "(angles[0] + angles[1]) / 2, side", "(angles[0] - angles[1]) / 2, side"),
    ),
    Mutation(SCENE + "question.py", "view.turning(-pulls)", "view.turning(pulls)", ("tests/scenes/drives/test_one_phase.py",)),
)
