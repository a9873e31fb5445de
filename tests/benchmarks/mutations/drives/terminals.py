"""The board of six studs, the terminal box that shows it, and the synchronous machine."""

from tests.benchmarks.mutation import noticed_by

BOARD = ("tests/physics/test_terminals.py",)
MACHINE = ("tests/physics/synchronous/test_machine.py",)

MOTOR = ("tests/physics/induction/test_joined_windings.py",)
PROTECTION = ("tests/physics/test_protection.py",)
ORACLE = ("tests/scenes/oracle/drives/test_terminal_box.py",)
HANDS = ("tests/scenes/drives/test_terminal_box.py",)
ON_THE_PAGE = ("tests/browser/scenes/test_terminal_box.py",)
SCENE = "scenes/drives/terminal_box/"

MUTATIONS = (
    *noticed_by(ON_THE_PAGE, ("visual/page/picture/picks.js", "!own.dragged || !event.detail", "!own.dragged")),
    *noticed_by(
        BOARD,
        ("physics/terminals.py", "(two, one) if phase in self.reversed_windings", "(one, two) if phase in self.reversed_windings"),
        ("physics/terminals.py", "_LAG = np.exp(-2j", "_LAG = np.exp(2j"),
        ("physics/terminals.py", 'return "clockwise" if clockwise > counter', 'return "clockwise" if clockwise < counter'),
        ("physics/terminals.py", 'line_voltage", line_voltage) / math.sqrt(3) * _LAG', 'line_voltage", line_voltage) * _LAG'),
        ("physics/terminals.py", "line_currents = network.into @ currents", "line_currents = -network.into @ currents"),
        ("physics/terminals.py", "line_currents[list(network.shorted)] = math.inf", "pass"),
        ("physics/terminals.py", "np.where([phase in opened for phase in PHASES], 0, 1 / resistances)", "1 / resistances"),
        ("physics/terminals.py", "if finish not in _reached(ends, conductances, {start}):", "if False:"),
        ("physics/terminals.py", "== 4 and common not in", "== 3 and common not in"),
        ("physics/terminals.py", "abs(clockwise - counter) <= _ALIKE", "abs(clockwise - counter) < 0 * _ALIKE"),
    ),
    *noticed_by(
        MACHINE,
        ("physics/synchronous/machine.py", "self.line_voltage - self.emf * lag", "self.line_voltage + self.emf * lag"),
        ("physics/synchronous/machine.py", "lag = np.exp(-1j *", "lag = np.exp(1j *"),
        ("physics/synchronous/machine.py", "return math.pi / 2, self.line_voltage", "return math.pi / 4, self.line_voltage"),
        ("physics/synchronous/machine.py", "math.sqrt(3) * 1j * self.reactance", "1j * self.reactance"),
    ),
    *noticed_by(
        MOTOR,
        ("physics/induction/joined_windings.py", "[1, _LAG, _LAG**2], [1, _LAG**2, _LAG]", "[1, _LAG**2, _LAG], [1, _LAG, _LAG**2]"),
        ("physics/induction/joined_windings.py", "both = np.stack([slip, 2.0 - slip], axis=-1)", "both = np.stack([slip, slip], axis=-1)"),
        ("physics/induction/joined_windings.py", "torque = (across[:, 0] - across[:, 1])", "torque = (across[:, 0] + across[:, 1])"),
        (
            "physics/induction/joined_windings.py",
            "np.abs(components[:, 1:] * gap).sum(axis=-1)",
            "np.abs(components[:, 1:] * gap).max(axis=-1)",
        ),
        ("physics/induction/joined_windings.py", "circuit.rotor_impedance(ratio * both)", "circuit.rotor_impedance(both)"),
        (
            "physics/induction/joined_windings.py",
            '"rotor_loss": slip * across[:, 0] + (2.0 - slip)',
            '"rotor_loss": slip * across[:, 0] + slip',
        ),
        (
            "physics/terminals.py",
            "fed[winding] += sign * supply[lines_at[node]].mean()",
            "fed[winding] -= sign * supply[lines_at[node]].mean()",
        ),
        ("physics/terminals.py", "into[lines_at[node], winding] += sign", "into[lines_at[node], winding] -= sign"),
    ),
    *noticed_by(
        PROTECTION,
        ("physics/protection.py", "THRESHOLD = 1.15", "THRESHOLD = 1.25"),
        ("physics/protection.py", "TIME_CONSTANT = 310.0", "TIME_CONSTANT = 100.0"),
        ("physics/protection.py", "COPPER_HEAT_CAPACITY * (COPPER_BETA + 20.0)", "COPPER_HEAT_CAPACITY * (COPPER_BETA + 70.0)"),
        ("physics/protection.py", "0.1 * (fast / size) ** power", "0.1 * (slow / size) ** power"),
    ),
    *noticed_by(
        ORACLE,
        (SCENE + "board.py", '("U1-W2", "V1-U2", "W1-V2")', '("U1-V2", "V1-U2", "W1-W2")'),
        (SCENE + "board.py", 'STAR, ("V1", "U1", "W1")', "STAR, STRAIGHT"),
        (SCENE + "snapshot.py", 'return Snapshot(setup, time, "on", -speed', 'return Snapshot(setup, time, "on", speed'),
        (SCENE + "case.py", 'return "clockwise" if speed > 0', 'return "clockwise" if speed < 0'),
        (SCENE + "motors.py", "times = (plate.star_voltage / MOTOR.line_voltage) ** 2", "times = plate.star_voltage / MOTOR.line_voltage"),
        (SCENE + "words.py", "if volts > rated * (1 + FIT):", "if volts > 2 * rated * (1 + FIT):"),
        (SCENE + "words.py", "if joining.reversed:", "if False:"),
        (
            SCENE + "readings.py",
            "volts = np.zeros(3) if running is None else np.abs(running.voltages)",
            "volts = np.ones(3) * now.setup.supply",
        ),
        (SCENE + "question.py", "{supply / np.sqrt(3):.0f} V.", "{supply / 3:.0f} V."),
        (SCENE + "question.py", "volts = rounded(float(np.abs(case.at_first.voltages)[0]))", "volts = rounded(case.supply)"),
        (SCENE + "picture.py", "leads = [None if stud == OFF else stud for stud in joining.leads]", 'leads = ["U1", "V1", "W1"]'),
        (SCENE + "picture.py", 'now.state != "isolated", now.state not in', "True, now.state not in"),
        (
            "visual/terminal_box/" + "drive_end.py",
            "[-float(np.sin(angle)), float(np.cos(angle)), 0.0]",
            "[float(np.sin(angle)), float(np.cos(angle)), 0.0]",
        ),
        ("visual/terminal_box/" + "box.py", "leads[LINES.index(line)] == stud", "leads[0] == stud"),
        ("visual/terminal_box/" + "circuit.py", 'found.leads.append((f"diagram {line}", f"diagram {end}", ""))', "pass"),
    ),
    *noticed_by(
        HANDS,
        (SCENE + "board.py", "links = [OFF if link == pair else link for link in links]", "pass"),
        (SCENE + "board.py", "(OFF if at == stud else stud) if name == line else at", "stud if name == line else at"),
        (SCENE + "case.py", "bearable = (1.1 *", "bearable = (11 *"),
        (SCENE + "case.py", "heat = float(relay.warmed(heat, here, STEP))", "heat = 0.0"),
        (SCENE + "snapshot.py", "slowed = math.copysign(abs(speed) - rate * passed, speed)", "slowed = speed"),
        (SCENE + "scene.py", "super().set_all(board.as_settings(before))", "pass"),
        (SCENE + "scene.py", "self.restart()", "pass"),
    ),
)
