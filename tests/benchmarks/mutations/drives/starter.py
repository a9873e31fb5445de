"""The terminal box on a star-delta starter: the change-over, what is closed when, the six leads, the words."""

from tests.benchmarks.mutation import Mutation

CHANGEOVER = ("tests/physics/starting/test_changeover.py",)
ORACLE = ("tests/scenes/oracle/drives/test_starter.py",)
HANDS = ("tests/scenes/drives/test_starter.py",)
SCENE = "scenes/drives/terminal_box/starter/"
PANEL = "visual/switchgear/star_delta_starter.py"

MUTATIONS = tuple(
    Mutation(*each)
    for each in (
        (
            "physics/starting/changeover.py",
            "delta.supply(self.closing.time) - self.residual",
            "delta.supply(self.closing.time)",
            CHANGEOVER,
        ),
        ("physics/starting/changeover.py", "MotorState(self.timer + self.pause, off", "MotorState(self.timer, off", CHANGEOVER),
        ("physics/starting/changeover.py", "left = math.fmod(left, period)", "left = 0.0", CHANGEOVER),
        ("physics/starting/changeover.py", "winding_currents @ np.array(self.into).T", "winding_currents", CHANGEOVER),
        (SCENE + "settings.py", '("V2", "W2", "U2")', '("V2", "U2", "W2")', ORACLE),
        (SCENE + "settings.py", "(OFF if at == stud else stud) if name == pole else at", "stud if name == pole else at", HANDS),
        (SCENE + "settings.py", "s != at and s[0] != main[0]", "s == at and s[0] != main[0]", ORACLE),
        (SCENE + "case.py", "self.supply <= self.plate.delta_voltage * (1 + FIT)", "True", HANDS),
        (SCENE + "snapshot.py", "if setup.interlock or time < changed - 1e-9:", "if time < changed - 1e-9:", HANDS),
        (SCENE + "snapshot.py", '"open": frozenset((MAIN,))', '"open": frozenset((MAIN, STAR))', ORACLE),
        (SCENE + "snapshot.py", "speed=-motor.speed", "speed=motor.speed", ORACLE),
        (SCENE + "snapshot.py", "heat = float(relay.warmed(state.heat, even, seconds))", "heat = 0.0", HANDS),
        (SCENE + "words.py", "case.supply / 3**0.5", "case.supply / 3", ORACLE),
        (SCENE + "question.py", "way(own if first.current < second.current else other)", "way(other)", ORACLE),
        (SCENE + "readings.py", "{peak.current / direct.current:.2f}", "{peak.current / case.peak.current:.2f}", ORACLE),
        (PANEL, "zip(delta.bottom, star.bottom, strict=True)", "zip(delta.bottom, star.top, strict=True)", ORACLE),
        (PANEL, "np.array([math.sin(turned), math.cos(turned), 0.0])", "np.array([-math.sin(turned), math.cos(turned), 0.0])", ORACLE),
        (PANEL, "contactor.close(thing in closed)", "contactor.close(thing in closed or thing == MAIN)", ORACLE),
    )
)
