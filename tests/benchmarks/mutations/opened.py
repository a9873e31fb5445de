"""The motors that come apart: what each part is, the order of work, how the parts fit, and what pressing them does."""

from tests.benchmarks.mutation import noticed_by

ORACLE = ("tests/scenes/oracle/machines/test_inside_a_motor.py",)
GEOMETRY = ("tests/scenes/machines/test_inside_a_motor.py",)
SCENE = "scenes/machines/inside_a_motor/"
DRAWN = "visual/machines/opened/"

MUTATIONS = (
    *noticed_by(
        ORACLE,
        (SCENE + "parts.py", '"bring the rotor\'s currents off what turns"', '"slide on the rings and bring currents on"'),
        (SCENE + "parts.py", 'return having[0] if len(having) == 1 else "both"', "return having[0]"),
        (SCENE + "taking_apart.py", "step for step in STEPS if", "step for step in reversed(STEPS) if"),
        (
            SCENE + "taking_apart.py",
            'move("rotor", (0.0, 0.0, far.rotor), *_ON_ROTOR)',
            'move("rotor", (0.0, 0.0, -far.rotor), *_ON_ROTOR)',
        ),
        (SCENE + "taking_apart.py", '"other-shield": {"fan", "brush-holders"},', '"other-shield": {"key"},'),
        (SCENE + "question.py", "by_step[first].key,", "by_step[asked[0]].key,"),
        (SCENE + "question.py", "LETTERS[place]}: {each.where}", "LETTERS[place]}: {each.name}"),
        (
            SCENE + "question.py",
            "It is of {part.material}, and is {part.where}. What is its name?",
            "It is the {part.name}. What is its name?",
        ),
        (SCENE + "picture.py", "lit = part if shown or setup.asked in LIT_WHILE_ASKED else None", "lit = part"),
        (SCENE + "picture.py", "if part and shown else", "if part else"),
        (
            SCENE + "picture.py",
            "[] if shown else [each.key for each in lettered(setup)]",
            "[each.key for each in reversed(lettered(setup))]",
        ),
        (SCENE + "snapshot.py", "and self.part.key not in self.seen", "and not self.seen"),
        (SCENE + "readings.py", "figure(motor, part.key) if reveals_answer else None", "figure(motor, part.key)"),
        (SCENE + "figures.py", "force = now.torque / sizes.SHAFT_END_RADIUS", "force = now.torque / (2 * sizes.SHAFT_END_RADIUS)"),
        (SCENE + "scene.py", 'part.name if reveals_answer else letters.get(part.key, "part")', "part.name"),
        (DRAWN + "motor.py", "self._lit[id(solid)] if name == lit else DIMMED if lit else AS_BUILT", "DIMMED if lit else AS_BUILT"),
        (DRAWN + "motor.py", "sign.put(self.anchor(self.lit))", "sign.put(self.anchor('shaft'))"),
        (DRAWN + "motor.py", "balloon.put(self.anchor(parts[k]))", "balloon.put(self.anchor(parts[0]))"),
    ),
    *noticed_by(
        GEOMETRY,
        (SCENE + "taking_apart.py", 'move("key", (0.0, 0.165, 0.0), "key")', 'move("key", (0.0, 0.050, 0.0), "key")'),
        (SCENE + "taking_apart.py", "CAGE: Distances(0.505, 0.390,", "CAGE: Distances(0.405, 0.390,"),
        (
            SCENE + "taking_apart.py",
            "0.0, 1.0)) for place, step in enumerate(order)",
            "0.0, 1.0)) for place, step in enumerate(order[::-1])",
        ),
        (SCENE + "taking_apart.py", "come[part.under] > 0.3", "come[part.under] >= 0"),
        (SCENE + "figures.py", "return self.bar_current / (2 * math.sin(", "return self.bar_current / (4 * math.sin("),
        (SCENE + "figures.py", "turns**2 / (pairs**2 * inductance)", "turns**2 / (pairs * inductance)"),
        (SCENE + "snapshot.py", "divmod(time + (1.0 - way) * WORK", "divmod(time + way * WORK"),
        (SCENE + "scene.py", "0 if number == self.setup.number else number", "number"),
        (DRAWN + "rotors.py", "foot = sizes.RING_RADIUS - 0.0001", "foot = sizes.RING_RADIUS + 0.003"),
        (DRAWN + "sizes.py", "END_RING = 0.054, 0.0765, 0.0975", "END_RING = 0.054, 0.0865, 0.0975"),
        (DRAWN + "sizes.py", "COWL_RADIUS = 0.158", "COWL_RADIUS = 0.121"),
        (DRAWN + "sizes.py", "BEARING_AT = 0.1825", "BEARING_AT = 0.1885"),
        (DRAWN + "rotors.py", "low, high, half = 0.060, sizes.BORE - gap, sizes", "low, high, half = 0.060, sizes.BORE + gap, sizes"),
        ("scenes/bench/bench.py", "waiting and self.prediction.posed.pressed:", "waiting:"),
        ("scenes/bench/run_loop.py", "described_picks(self.scene, self.reveals_answer)", "described_picks(self.scene, True)"),
    ),
)
