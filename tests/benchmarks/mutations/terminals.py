"""The board of six studs and the synchronous machine."""

from tests.benchmarks.mutations.mutation import Mutation

BOARD = ("tests/physics/test_terminals.py",)
MACHINE = ("tests/physics/synchronous/test_machine.py",)

MUTATIONS = tuple(
    Mutation("physics/terminals.py", old, new, BOARD)
    for old, new in (
        ("(two, one) if phase in self.reversed_windings", "(one, two) if phase in self.reversed_windings"),
        ("_LAG = np.exp(-2j", "_LAG = np.exp(2j"),
        ('return "clockwise" if clockwise > counter', 'return "clockwise" if clockwise < counter'),
        ("held = {node: phase_voltage * _LAG[lines].mean()", "held = {node: line_voltage * _LAG[lines].mean()"),
        ("((node == first) - (node == second))", "((node == second) - (node == first))"),
        ("leaving if len(lines) == 1 else math.inf", "leaving"),
        ("np.where([phase in opened for phase in PHASES], 0, 1 / resistances)", "1 / resistances"),
        ("if finish not in _reached(ends, conductances, {start}):", "if False:"),
        ("== 4 and not lines_at[common]:", "== 3 and not lines_at[common]:"),
        ("abs(clockwise - counter) <= _ALIKE", "abs(clockwise - counter) < 0 * _ALIKE"),
    )
) + tuple(
    Mutation("physics/synchronous/machine.py", old, new, MACHINE)
    for old, new in (
        ("self.line_voltage - self.emf * lag", "self.line_voltage + self.emf * lag"),
        ("lag = np.exp(-1j *", "lag = np.exp(1j *"),
        ("return math.pi / 2, self.line_voltage", "return math.pi / 4, self.line_voltage"),
        ("math.sqrt(3) * 1j * self.reactance", "1j * self.reactance"),
    )
)
