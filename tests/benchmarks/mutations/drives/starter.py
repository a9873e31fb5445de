"""The terminal box on a star-delta starter: the change-over, what is closed when, the six leads, the words."""

from tests.benchmarks.mutation import noticed_by

CHANGEOVER = ("tests/physics/starting/test_changeover.py",)
ORACLE = ("tests/scenes/oracle/drives/test_starter.py",)
HANDS = ("tests/scenes/drives/test_starter.py",)
SCENE = "scenes/drives/terminal_box/starter/"
PANEL = "visual/switchgear/star_delta_starter.py"

MUTATIONS = (
    *noticed_by(
        CHANGEOVER,
        ("physics/starting/changeover.py", "delta.supply(self.closing.time) - self.residual", "delta.supply(self.closing.time)"),
        ("physics/starting/changeover.py", "MotorState(self.timer + self.pause, off", "MotorState(self.timer, off"),
        ("physics/starting/changeover.py", "left = math.fmod(left, period)", "left = 0.0"),
        ("physics/starting/changeover.py", "winding_currents @ np.array(self.into).T", "winding_currents"),
    ),
    *noticed_by(
        ORACLE,
        (SCENE + "settings.py", '("V2", "W2", "U2")', '("V2", "U2", "W2")'),
        (SCENE + "settings.py", "s != at and s[0] != main[0]", "s == at and s[0] != main[0]"),
        (SCENE + "snapshot.py", '"open": frozenset((MAIN,))', '"open": frozenset((MAIN, STAR))'),
        (SCENE + "snapshot.py", "speed=-motor.speed", "speed=motor.speed"),
        (SCENE + "words.py", "case.supply / 3**0.5", "case.supply / 3"),
        (SCENE + "question.py", "way(own if first.current < second.current else other)", "way(other)"),
        (SCENE + "readings.py", "{peak.current / direct.current:.2f}", "{peak.current / case.peak.current:.2f}"),
        (PANEL, "zip(delta.bottom, star.bottom, strict=True)", "zip(delta.bottom, star.top, strict=True)"),
        (PANEL, "np.array([math.sin(turned), math.cos(turned), 0.0])", "np.array([-math.sin(turned), math.cos(turned), 0.0])"),
        (PANEL, "contactor.close(thing in closed)", "contactor.close(thing in closed or thing == MAIN)"),
    ),
    *noticed_by(
        HANDS,
        (SCENE + "settings.py", "(OFF if at == stud else stud) if name == pole else at", "stud if name == pole else at"),
        (SCENE + "case.py", "self.supply <= self.plate.delta_voltage * (1 + FIT)", "True"),
        (SCENE + "snapshot.py", "if setup.interlock or time < changed - 1e-9:", "if time < changed - 1e-9:"),
        (SCENE + "snapshot.py", "heat = float(relay.warmed(state.heat, even, seconds))", "heat = 0.0"),
    ),
)
