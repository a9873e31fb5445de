"""Breaks of directions and turnings in words, of ready views and of what is told as data."""

from tests.benchmarks.mutation import Mutation, noticed_by

SEEN = ("tests/scenes/scene/test_seen.py",)
COLOURS = ("tests/scenes/scene/test_colours_of_letters.py",)
MAGNETS = ("tests/visual/apparatus/test_colours_of_magnets.py",)
SYMBOLS, WAITING = ("tests/scenes/scene/test_symbols.py",), ("tests/scenes/bench/test_while_a_question_waits.py",)
WORDS, VIEWS, DESCRIBED, STATE = (f"scenes/scene/{name}.py" for name in ("seen", "views", "described", "state"))
MAGNET = "visual/apparatus/magnets.py"

MUTATIONS = (
    *noticed_by(
        SEEN,
        (WORDS, '("to the right", "to the left"),', '("to the left", "to the right"),'),
        (WORDS, '("up", "down") if upright else', '("up", "down") if not upright else'),
        (
            WORDS,
            '("toward the top of the picture", "toward the bottom of the picture")',
            '("toward the bottom of the picture", "toward the top of the picture")',
        ),
        (WORDS, "np.cross(right, forward), -forward", "np.cross(right, forward), forward"),
        (WORDS, "1 if of_picture[role, axis] >= 0 else -1", "1"),
        (WORDS, "tuple(float(sign * part) for part in np.eye(3)[axis])", "tuple(float(part) for part in np.eye(3)[axis])"),
        (WORDS, "{1: 0, 0: 1, 2: 2}", "{1: 1, 0: 0, 2: 2}"),
        (VIEWS, "(0.0, 0.0, self.side)) if abs(speed)", "(0.0, 0.0, 1.0)) if abs(speed)"),
        (VIEWS, "if abs(speed) > AT_REST else", "if speed else"),
        (DESCRIBED, '{"words": words, "axis": axis}', '{"words": words, "axis": axis[::-1]}'),
        (DESCRIBED, '"unit": key.unit}', '"unit": ""}'),
        (DESCRIBED, '"low": control.low, "high": control.high', '"low": control.high, "high": control.low'),
        (DESCRIBED, '"leaves_out": list(scene.leaves_out)', '"leaves_out": []'),
    ),
    *noticed_by(
        ("tests/scenes/oracle/conductors/test_pushed_conductor.py",),
        (STATE, '"vector": vector, "unit": unit}', '"vector": at, "unit": unit}'),
        (STATE, '"thumb": told_of.thumb,', '"thumb": told_of.first,'),
        (STATE, '.replace("\\N{MINUS SIGN}", "-")', '.replace("\\N{MINUS SIGN}", "")'),
    ),
    Mutation(
        STATE,
        '{"from": first, "to": second, "through": through}',
        '{"from": second, "to": first, "through": through}',
        ("tests/scenes/oracle/machines/test_turning_field.py",),
    ),
    *noticed_by(
        COLOURS,
        ("visual/palette.py", 'NORTH = rgb("#b4443c")', 'NORTH = rgb("#4e6f80")'),
        ("scenes/scene/phases.py", '("#8a4b1f", "#1d1d1d", "#9a9fa3")', '("#8a4b1f", "#9a9fa3", "#1d1d1d")'),
        (
            "visual/machines/commutator/machine.py",
            'for letter, colour in (("N", palette.NORTH), ("S", palette.SOUTH))',
            'for letter, colour in (("N", palette.SOUTH), ("S", palette.NORTH))',
        ),
        (
            "visual/machines/alternator_drawn.py",
            "letters.paint(inks[phase], colours[phase])",
            "letters.paint(inks[phase], colours[phase - 1])",
        ),
    ),
    *noticed_by(
        SYMBOLS,
        ("scenes/machines/turning_field/readings.py", "µ₀ p Θ / r =", "µ₀ p Θ / R ="),
        ("scenes/conductors/two_wires/readings.py", '"d",\n            "distance', '"s",\n            "distance'),
        ("scenes/conductors/moved_conductor/scene.py", 'Key("E", "EMF', 'Key("F", "EMF'),
    ),
    *noticed_by(
        WAITING,
        ("scenes/machines/turning_field/readings.py", 'minus(now.waves[1], 0), "A", tells=True)', 'minus(now.waves[1], 0), "A")'),
        ("scenes/machines/alternator/readings.py", 'now.order, "", tells=True)', 'now.order, "")'),
        ("scenes/machines/alternator/scene.py", '"fills the slot at the peak of the EMF"', 'f"fills the slot at {now.peak:.1f} V"'),
    ),
    *noticed_by(
        MAGNETS,
        (MAGNET, "np.sign(north[axis]) * half", "-np.sign(north[axis]) * half"),
        (MAGNET, "half[axis] /= 2", "half[axis] /= 3"),
        (MAGNET, "block_magnet(end * far * along, size, along)", "block_magnet(end * far * along, size, end * along)"),
        ("visual/machines/alternator_drawn.py", "palette.SOUTH if k % 2 else palette.NORTH", "palette.NORTH if k % 2 else palette.SOUTH"),
        ("visual/machines/commutator/machine.py", "facing_magnets(gap, POLE, (1.0, 0, 0))", "facing_magnets(gap, POLE, (-1.0, 0, 0))"),
        ("visual/apparatus/moved_rod.py", "(*pole, 1.0), (0, 1.0, 0))", "(*pole, 1.0), (0, -1.0, 0))"),
        ("visual/apparatus/hung_rod_bench.py", "facing_magnets(gap, pole, (0, 1.0, 0))", "facing_magnets(gap, pole, (0, -1.0, 0))"),
    ),
    Mutation(
        "visual/apparatus/compass.py",
        "half(np.array([0.82, 0, 0]), palette.NORTH)",
        "half(np.array([-0.82, 0, 0]), palette.NORTH)",
        ("tests/visual/apparatus/test_which_end_points.py",),
    ),
)
