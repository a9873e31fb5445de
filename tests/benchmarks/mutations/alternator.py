"""Breaks of the alternator: physics, drawing and words."""

from tests.benchmarks.mutation import noticed_by

ORACLE = ("tests/scenes/oracle/machines/test_alternator.py",)
SCENE = "scenes/machines/alternator/"
DRAWN = "visual/machines/alternator_drawn.py"

MUTATIONS = (
    *noticed_by(
        ORACLE,
        (SCENE + "snapshot.py", "motion = -2 * np.pi * setup.speed", "motion = 2 * np.pi * setup.speed"),
        (
            SCENE + "snapshot.py",
            "return AtU(SHAPE.bore * outward, field, motion, right_hand(field, motion))",
            "return AtU(SHAPE.bore * outward, field, motion, right_hand(field, -motion))",
        ),
        (SCENE + "snapshot.py", 'speed=-settings["speed"] / 60', 'speed=settings["speed"] / 60'),
        (
            SCENE + "snapshot.py",
            'return "U-W-V" if self.setup.speed > 0 else "U-V-W"',
            'return "U-V-W" if self.setup.speed > 0 else "U-W-V"',
        ),
        (SCENE + "snapshot.py", 'if coil.phase == "U")', 'if coil.phase == "V")'),
        (SCENE + "picture.py", "if setup.flux_density < 0 else 0.0), side", "if setup.flux_density > 0 else 0.0), side"),
        (SCENE + "picture.py", "@ now.emfs / now.peak if generated", "@ -now.emfs / now.peak if generated"),
        (SCENE + "picture.py", "drawn.connect([there and setup.lamps", "drawn.connect([there and not setup.lamps"),
        (SCENE + "scene.py", 'turns {look.view.turning(setup.speed)}"', 'turns {look.view.turning(-setup.speed)}"'),
        (SCENE + "question.py", 'now.order.split("-")[1]', 'now.order.split("-")[2]'),
        (SCENE + "question.py", "the magnet turns {view.turning(speed)}: after", "the magnet turns {view.turning(-speed)}: after"),
        (SCENE + "readings.py", "look.view.turns(setup.speed)", "look.view.turns(-setup.speed)"),
        (SCENE + "readings.py", "zip(setup.wound, now.emfs, strict=False)", "zip(setup.wound, now.emfs[::-1], strict=False)"),
        (
            DRAWN,
            "[self.terminals.end[0], *[_lamp_end(k, 1) for k in range(3)]]",
            "[self.terminals.end[0], *[_lamp_end(k, 0) for k in range(3)]]",
        ),
        (DRAWN, "self.hand.put(HAND_AT, hand, place)", "self.hand.put(HAND_AT, hand, place * [-1, 1, 1])"),
        (
            DRAWN,
            'for letter, colour in (("N", palette.NORTH), ("S", palette.SOUTH))',
            'for letter, colour in (("S", palette.NORTH), ("N", palette.SOUTH))',
        ),
        (
            DRAWN,
            'groups[go], groups[back] = f"+{PHASES[phase]}", f"\\N{MINUS SIGN}{PHASES[phase]}"',
            'groups[back], groups[go] = f"+{PHASES[phase]}", f"\\N{MINUS SIGN}{PHASES[phase]}"',
        ),
        ("scenes/scene/views.py", "return -1.0 if self.forward[2] > 0 else 1.0", "return 1.0"),
        ("scenes/scene/views.py", 'return "the drive end" if self.side > 0 else "the non-drive end"', 'return "the drive end"'),
        (
            "visual/machines/stator.py",
            "self._middle, self._sign = point(middle), 1 if share > 0 else -1",
            "self._middle, self._sign = point(middle), -1 if share > 0 else 1",
        ),
        (
            "physics/synchronous/alternator.py",
            "return 1j * self.magnet.orders[:, np.newaxis] * self._per_phase",
            "return -1j * self.magnet.orders[:, np.newaxis] * self._per_phase",
        ),
    ),
)
