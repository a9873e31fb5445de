"""The instruments: what they measure, the order of work, the picture and the fault's name."""

from tests.benchmarks.mutation import Mutation

PHYSICS = ("tests/physics/measuring/test_measuring.py",)
HANDS = ("tests/scenes/drives/test_instruments.py",)
ORACLE = ("tests/scenes/oracle/drives/test_instruments.py",)
SCENE = "scenes/drives/instruments/"

MUTATIONS = (
    *(
        Mutation("physics/measuring/board.py", old, new, PHYSICS)
        for old, new in (
            ("start, finish = finish, start", "pass"),
            ("share[:, np.newaxis] * share * gap", "share * gap"),
            ("(*pair, self.defects.loose.get(pair, 0.0))", "(*pair, 0.0)"),
            ("np.exp(-2j * np.pi / 3 * np.arange(3))", "np.exp(2j * np.pi / 3 * np.arange(3))"),
            ("1 / self.defects.earthed[phase]", "0.1 / self.defects.earthed[phase]"),
            ("self.leads and closed and line not in self.defects.lost", "self.leads and closed"),
            ("PHASES[(k + 1) % 3] + end, 0.5 / SOUND_BETWEEN", "PHASES[(k + 1) % 3] + end, 0.5 / SOUND_TO_EARTH"),
        )
    ),
    *(
        Mutation("physics/measuring/live.py", old, new, PHYSICS)
        for old, new in (
            ("windings[:, PHASES.index(phase)] += share * currents", "windings[:, PHASES.index(phase)] += currents"),
            ("windings @ lag, windings @ lag.conj()", "windings @ lag.conj(), windings @ lag"),
            ("if abs(standing) <= friction:", "if abs(standing) <= 0 * friction:"),
            ("side = 1 if standing > 0 else -1", "side = 1"),
        )
    ),
    *(
        Mutation("physics/measuring/limits.py", old, new, PHYSICS)
        for old, new in (
            ('return "clockwise" if forward > backward', 'return "clockwise" if forward < backward'),
            ("np.abs(sizes - mean).max() / mean", "np.ptp(sizes) / mean"),
        )
    ),
    *(
        Mutation(SCENE + "order.py", old, new, HANDS)
        for old, new in (
            ('return f"Not proved dead: {proof.next}."', 'return ""'),
            ("if test.value >= DEAD_BELOW:", "if test.value >= 1000 * DEAD_BELOW:"),
            ("if not self.tester or points", "if points"),
            ("if set(laid.points) & set(LINES):", "if set(laid.points) <= set(LINES):"),
            ("INSULATION and laid.condition.leads:", "INSULATION and not laid.condition.leads:"),
        )
    ),
    *(
        Mutation(SCENE + "scene.py", old, new, HANDS)
        for old, new in (
            ("self.state = replace(self.state, named=True)", "pass"),
            ("self.state = replace(self.state, tests=())", "pass"),
            ('self._put({"links": True, "leads": True})', "pass"),
            ("raise ValueError(self.now.mistake)", "pass"),
        )
    ),
    Mutation(SCENE + "diagnosis.py", "if set(left).intersection(*shows.values()):", "if not left:", HANDS),
    Mutation(SCENE + "picture.py", "for name in (line, stud,", "for name in (line, stud[:1] + '2',", HANDS),
    *(
        Mutation(SCENE + name, old, new, ORACLE)
        for name, old, new in (
            ("measured.py", 'f"{value / 1e3:.2f}", "kΩ"', 'f"{value / 1e6:.2f}", "kΩ"'),
            ("measured.py", '{1: "clockwise", -1: "counter-clockwise"', '{-1: "clockwise", 1: "counter-clockwise"'),
            (
                "picture.py",
                "drawn.lock.put_on(setup.work in (order.LOCKED, order.PROVED))",
                "drawn.lock.put_on(setup.work == order.PROVED)",
            ),
            ("picture.py", "stuck = setup.sticks and not condition.on", "stuck = False"),
            ("picture.py", "else (None,) * 3, phases", "else STRAIGHT, phases"),
            ("snapshot.py", "speed = 0.0 if live is None else -live.speed", "speed = 0.0 if live is None else live.speed"),
            ("case.py", "OVERLOAD if case.fault.kind ==", "OVERLOAD if case.fault.kind !="),
            ("faults.py", "reversed_windings=frozenset([phase] if self.kind", "reversed_windings=frozenset([] if self.kind"),
        )
    ),
)
