"""The instruments: what they measure, the order of work, the picture and the fault's name."""

from tests.benchmarks.mutation import noticed_by

PHYSICS = ("tests/physics/measuring/test_measuring.py",)
HANDS = ("tests/scenes/drives/test_instruments.py",)
ORACLE = ("tests/scenes/oracle/drives/test_instruments.py",)
SCENE = "scenes/drives/instruments/"

MUTATIONS = (
    *noticed_by(
        PHYSICS,
        ("physics/measuring/board.py", "start, finish = finish, start", "pass"),
        ("physics/measuring/board.py", "share[:, np.newaxis] * share * gap", "share * gap"),
        ("physics/measuring/board.py", "(*pair, self.defects.loose.get(pair, 0.0))", "(*pair, 0.0)"),
        ("physics/measuring/board.py", "np.exp(-2j * np.pi / 3 * np.arange(3))", "np.exp(2j * np.pi / 3 * np.arange(3))"),
        ("physics/measuring/board.py", "1 / self.defects.earthed[phase]", "0.1 / self.defects.earthed[phase]"),
        ("physics/measuring/board.py", "self.leads and closed and line not in self.defects.lost", "self.leads and closed"),
        ("physics/measuring/board.py", "PHASES[(k + 1) % 3] + end, 0.5 / SOUND_BETWEEN", "PHASES[(k + 1) % 3] + end, 0.5 / SOUND_TO_EARTH"),
        (
            "physics/measuring/live.py",
            "windings[:, PHASES.index(phase)] += share * currents",
            "windings[:, PHASES.index(phase)] += currents",
        ),
        ("physics/measuring/live.py", "windings @ lag, windings @ lag.conj()", "windings @ lag.conj(), windings @ lag"),
        ("physics/measuring/live.py", "if abs(standing) <= friction:", "if abs(standing) <= 0 * friction:"),
        ("physics/measuring/live.py", "side = 1 if standing > 0 else -1", "side = 1"),
        ("physics/measuring/limits.py", 'return "clockwise" if forward > backward', 'return "clockwise" if forward < backward'),
        ("physics/measuring/limits.py", "np.abs(sizes - mean).max() / mean", "np.ptp(sizes) / mean"),
    ),
    *noticed_by(
        HANDS,
        (SCENE + "order.py", 'return f"Not proved dead: {proof.next}."', 'return ""'),
        (SCENE + "order.py", "if test.value >= DEAD_BELOW:", "if test.value >= 1000 * DEAD_BELOW:"),
        (SCENE + "order.py", "if not self.tester or points", "if points"),
        (SCENE + "order.py", "if set(laid.points) & set(LINES):", "if set(laid.points) <= set(LINES):"),
        (SCENE + "order.py", "INSULATION and laid.condition.leads:", "INSULATION and not laid.condition.leads:"),
        (SCENE + "scene.py", "self.state = replace(self.state, named=True)", "pass"),
        (SCENE + "scene.py", "self.state = replace(self.state, tests=())", "pass"),
        (SCENE + "scene.py", 'super().set_all({"links": True, "leads": True})', "pass"),
        (SCENE + "scene.py", "raise ValueError(self.now.mistake)", "pass"),
        (SCENE + "diagnosis.py", "if set(left).intersection(*shows.values()):", "if not left:"),
        (SCENE + "picture.py", "for name in (line, stud,", "for name in (line, stud[:1] + '2',"),
    ),
    *noticed_by(
        ORACLE,
        (SCENE + "measured.py", 'f"{value / 1e3:.2f}", "kΩ"', 'f"{value / 1e6:.2f}", "kΩ"'),
        (SCENE + "measured.py", '{1: "clockwise", -1: "counter-clockwise"', '{-1: "clockwise", 1: "counter-clockwise"'),
        (
            SCENE + "picture.py",
            "drawn.lock.put_on(setup.work in (order.LOCKED, order.PROVED))",
            "drawn.lock.put_on(setup.work == order.PROVED)",
        ),
        (SCENE + "picture.py", "stuck = setup.sticks and not condition.on", "stuck = False"),
        (SCENE + "picture.py", "else (None,) * 3, phases", "else STRAIGHT, phases"),
        (SCENE + "snapshot.py", "speed = 0.0 if live is None else -live.speed", "speed = 0.0 if live is None else live.speed"),
        (SCENE + "case.py", "OVERLOAD if case.fault.kind ==", "OVERLOAD if case.fault.kind !="),
        (SCENE + "faults.py", "reversed_windings=frozenset([phase] if self.kind", "reversed_windings=frozenset([] if self.kind"),
    ),
)
