"""The board of six studs, the terminal box that shows it, and the synchronous machine."""

from tests.benchmarks.mutation import Mutation

BOARD = ("tests/physics/test_terminals.py",)
MACHINE = ("tests/physics/synchronous/test_machine.py",)

MOTOR = ("tests/physics/induction/test_joined_windings.py",)
PROTECTION = ("tests/physics/test_protection.py",)
ORACLE = ("tests/scenes/oracle/drives/test_terminal_box.py",)
HANDS = ("tests/scenes/drives/test_terminal_box.py",)
SCENE = "scenes/drives/terminal_box/"

MUTATIONS = (
    tuple(
        Mutation("physics/terminals.py", old, new, BOARD)
        for old, new in (
            ("(two, one) if phase in self.reversed_windings", "(one, two) if phase in self.reversed_windings"),
            ("_LAG = np.exp(-2j", "_LAG = np.exp(2j"),
            ('return "clockwise" if clockwise > counter', 'return "clockwise" if clockwise < counter'),
            ('line_voltage", line_voltage) / math.sqrt(3) * _LAG', 'line_voltage", line_voltage) * _LAG'),
            ("line_currents = network.into @ currents", "line_currents = -network.into @ currents"),
            ("line_currents[list(network.shorted)] = math.inf", "pass"),
            ("np.where([phase in opened for phase in PHASES], 0, 1 / resistances)", "1 / resistances"),
            ("if finish not in _reached(ends, conductances, {start}):", "if False:"),
            ("== 4 and common not in", "== 3 and common not in"),
            ("abs(clockwise - counter) <= _ALIKE", "abs(clockwise - counter) < 0 * _ALIKE"),
        )
    )
    + tuple(
        Mutation("physics/synchronous/machine.py", old, new, MACHINE)
        for old, new in (
            ("self.line_voltage - self.emf * lag", "self.line_voltage + self.emf * lag"),
            ("lag = np.exp(-1j *", "lag = np.exp(1j *"),
            ("return math.pi / 2, self.line_voltage", "return math.pi / 4, self.line_voltage"),
            ("math.sqrt(3) * 1j * self.reactance", "1j * self.reactance"),
        )
    )
    + (
        *(
            Mutation("physics/induction/joined_windings.py", old, new, MOTOR)
            for old, new in (
                ("[1, _LAG, _LAG**2], [1, _LAG**2, _LAG]", "[1, _LAG**2, _LAG], [1, _LAG, _LAG**2]"),
                ("both = np.stack([slip, 2.0 - slip], axis=-1)", "both = np.stack([slip, slip], axis=-1)"),
                ("torque = (across[:, 0] - across[:, 1])", "torque = (across[:, 0] + across[:, 1])"),
                ("np.abs(components[:, 1:] * gap).sum(axis=-1)", "np.abs(components[:, 1:] * gap).max(axis=-1)"),
                ("circuit.rotor_impedance(ratio * both)", "circuit.rotor_impedance(both)"),
                ('"rotor_loss": slip * across[:, 0] + (2.0 - slip)', '"rotor_loss": slip * across[:, 0] + slip'),
            )
        ),
        *(
            Mutation("physics/terminals.py", old, new, MOTOR)
            for old, new in (
                ("fed[winding] += sign * supply[lines_at[node]].mean()", "fed[winding] -= sign * supply[lines_at[node]].mean()"),
                ("into[lines_at[node], winding] += sign", "into[lines_at[node], winding] -= sign"),
            )
        ),
        *(
            Mutation("physics/protection.py", old, new, PROTECTION)
            for old, new in (
                ("THRESHOLD = 1.15", "THRESHOLD = 1.25"),
                ("TIME_CONSTANT = 310.0", "TIME_CONSTANT = 100.0"),
                ("COPPER_HEAT_CAPACITY * (COPPER_BETA + 20.0)", "COPPER_HEAT_CAPACITY * (COPPER_BETA + 70.0)"),
                ("0.1 * (fast / size) ** power", "0.1 * (slow / size) ** power"),
            )
        ),
        *(
            Mutation(SCENE + file, old, new, ORACLE)
            for file, old, new in (
                ("board.py", '("U1-W2", "V1-U2", "W1-V2")', '("U1-V2", "V1-U2", "W1-W2")'),
                ("board.py", 'STAR, ("V1", "U1", "W1")', "STAR, STRAIGHT"),
                ("snapshot.py", 'return Snapshot(setup, time, "on", -speed', 'return Snapshot(setup, time, "on", speed'),
                ("case.py", 'return "clockwise" if speed > 0', 'return "clockwise" if speed < 0'),
                ("motors.py", "times = (plate.star_voltage / MOTOR.line_voltage) ** 2", "times = plate.star_voltage / MOTOR.line_voltage"),
                ("words.py", "if volts > rated * (1 + FIT):", "if volts > 2 * rated * (1 + FIT):"),
                ("words.py", "if joining.reversed:", "if False:"),
                (
                    "readings.py",
                    "volts = np.zeros(3) if running is None else np.abs(running.voltages)",
                    "volts = np.ones(3) * now.setup.supply",
                ),
                ("question.py", "supply / np.sqrt(3):.0f} V, which", "supply / 3:.0f} V, which"),
                ("question.py", "volts = rounded(float(np.abs(case.at_first.voltages)[0]))", "volts = rounded(case.supply)"),
                ("picture.py", "leads = [None if stud == OFF else stud for stud in joining.leads]", 'leads = ["U1", "V1", "W1"]'),
                ("picture.py", 'now.state != "isolated", now.state not in', "True, now.state not in"),
            )
        ),
        *(
            Mutation("visual/terminal_box/" + file, old, new, ORACLE)
            for file, old, new in (
                ("drive_end.py", "[-float(np.sin(angle)), float(np.cos(angle)), 0.0]", "[float(np.sin(angle)), float(np.cos(angle)), 0.0]"),
                ("box.py", "leads[LINES.index(line)] == stud", "leads[0] == stud"),
                ("circuit.py", 'found.leads.append((f"diagram {line}", f"diagram {end}", ""))', "pass"),
            )
        ),
        *(
            Mutation(SCENE + file, old, new, HANDS)
            for file, old, new in (
                ("board.py", "links = [OFF if link == pair else link for link in links]", "pass"),
                ("board.py", "(OFF if at == stud else stud) if name == line else at", "stud if name == line else at"),
                ("case.py", "bearable = (1.1 *", "bearable = (11 *"),
                ("case.py", "heat = float(relay.warmed(heat, here, STEP))", "heat = 0.0"),
                ("snapshot.py", "slowed = math.copysign(abs(speed) - rate * passed, speed)", "slowed = speed"),
                ("scene.py", "super().set_all(board.as_settings(before))", "pass"),
                ("scene.py", "self.restart()", "pass"),
            )
        ),
    )
)
