"""Breaks of the pushed and of the moved conductor: physics, drawing and words."""

from tests.benchmarks.mutation import Mutation, noticed_by

PUSHED, MOVED = ("tests/scenes/oracle/conductors/test_pushed_conductor.py",), ("tests/scenes/oracle/conductors/test_moved_conductor.py",)
HAND = ("tests/visual/hand/test_hand_on_bench.py",)
WAITING = ("tests/scenes/bench/test_while_a_question_waits.py",)
PUSHED_SCENE, MOVED_SCENE = "scenes/conductors/pushed_conductor/", "scenes/conductors/moved_conductor/"
HUNG, CARRIED = "visual/apparatus/hung_rod_bench.py", "visual/apparatus/moved_rod.py"

MUTATIONS = (
    *noticed_by(
        PUSHED,
        (PUSHED_SCENE + "snapshot.py", "hand=left_hand(mean, current", "hand=left_hand(-mean, current"),
        (PUSHED_SCENE + "snapshot.py", "ROD_RADIUS = 0.023, 0.007", "ROD_RADIUS = 0.023, 0.006"),
        (PUSHED_SCENE + "readings.py", "{flowing(now.setup, now.current, seen)}, the", "{flowing(now.setup, -now.current, seen)}, the"),
        (HUNG, "self.battery.connect(-current)", "self.battery.connect(current)"),
        (HUNG, "side * sense * (self.gap / 2 + 0.006)", "-side * sense * (self.gap / 2 + 0.006)"),
        ("physics/conductors/hung_rod.py", "[self.leads[0][:-1], self.ends, self.leads[1][1:]]", "[self.ends]"),
    ),
    Mutation(PUSHED_SCENE + "readings.py", '{round(now.sine, 5):g}", tells=True)', '{round(now.sine, 5):g}")', WAITING),
    *noticed_by(
        MOVED,
        (MOVED_SCENE + "readings.py", "drives = np.cross(setup.direction, now.field)", "drives = np.cross(now.field, setup.direction)"),
        (MOVED_SCENE + "snapshot.py", '"across": 0.060', '"across": 0.080'),
        (MOVED_SCENE + "snapshot.py", "voltage=made.emf - current * own", "voltage=made.emf"),
        (MOVED_SCENE + "snapshot.py", "return self.turns**2 *", "return self.turns *"),
        (MOVED_SCENE + "question.py", "now.coming * setup.direction", "-now.coming * setup.direction"),
        (CARRIED, 'MovingLead("rod marked end", plus,', 'MovingLead("rod plain end", plus,'),
        (
            "visual/apparatus/meter.py",
            "[[np.cos(angle), np.sin(angle), 0], [-np.sin(angle)",
            "[[np.cos(angle), -np.sin(angle), 0], [np.sin(angle)",
        ),
    ),
    Mutation(
        "visual/hand/hand_on_bench.py",
        "self.end = None if end is None else point(end)",
        "self.end = None if end is None else point(start)",
        HAND,
    ),
)
