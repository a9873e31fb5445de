"""The worksheets: answers, drawings and hands; and the second try at naming a fault."""

from tests.benchmarks.mutation import Mutation

SHEETS = tuple(f"tests/scenes/worksheet/test_{name}.py" for name in ("worksheet", "marking", "likeness"))
ROOM, PAPER = "scenes/worksheet/", "visual/paper/"

MUTATIONS = (
    *(
        Mutation(ROOM + file, old, new, SHEETS)
        for file, old, new in (
            ("windings.py", "first = -into_first * TOWARD_YOU", "first = into_first * TOWARD_YOU"),
            ("windings.py", "np.cos(turned) > 0", "np.cos(turned) < 0"),
            ("windings.py", '"U-W-V": np.conj(BALANCED)', '"U-W-V": BALANCED'),
            ("windings.py", "winding.slots // winding.poles, start + winding.span", "winding.slots // winding.poles, start + full"),
            ("connections.py", "1 / 3 if tap is None", "1 / math.sqrt(3) if tap is None"),
            ("connections.py", "other if swapped == 1 else turns,", "other,"),
            ("connections.py", "wiring.resistance(first, second, ohm, broken)", "wiring.resistance(first, second, ohm)"),
            ("drives.py", "rotor = field - sense *", "rotor = field + sense *"),
            ("drives.py", '"leading" if current.imag > 0', '"leading" if current.imag < 0'),
            ("drives.py", "times = first**2 - last**2", "times = first - last"),
            ("drives.py", "settled > UP_TO_SPEED", "settled > AT_REST"),
            ("exercise.py", "for sign in (-1, 1)", "for sign in (1, -1)"),
            ("worksheet.py", "found[min(found)]", "found[max(found)]"),
            ("worksheet.py", "(next(turns[name]),) if name in turns", "kinds[name][1] if name in turns"),
            ("worksheet.py", "if case in (None, exercise.case)", "if exercise"),
            ("likeness.py", "NEAR = 0.1", "NEAR = 1e-9"),
            ("likeness.py", ' + min(_alike(*pair) for pair in zip_longest(*answers, fillvalue=""))', ""),
            ("worksheet.py", "if kind.level in levels", "if kind.level"),
            ("page.py", "drawn_hand(exercise.hand)]", '""]'),
        )
    ),
    Mutation(PAPER + "circuits.py", '("W2", "U2", "V2")', '("U2", "V2", "W2")', ("tests/visual/paper/test_circuits.py",)),
    *(
        Mutation(PAPER + file, old, new, SHEETS)
        for file, old, new in (
            ("circuits.py", "corners[(place + 1) % 3]", "corners[(place + 2) % 3]"),
            ("curves.py", "(TOP - BOTTOM) * (y - low)", "(TOP - BOTTOM) * (high - y)"),
            (
                "machines.py",
                "(side, angle + np.pi / 2), (-side, angle - np.pi / 2)",
                "(side, angle - np.pi / 2), (-side, angle + np.pi / 2)",
            ),
            ("hands.py", "oblique(turn @ tip)", "oblique(tip)"),
        )
    ),
    *(
        Mutation("scenes/bench/prediction.py", old, new, ("tests/scenes/drives/test_instruments.py",))
        for old, new in (
            ("            if not right and (self.posed.again or", "        if not right and (self.posed.again or"),
            ("if self.posed.answer != before.answer:", "if self.posed is not before:"),
            ("        if self.tried is None:\n            self.asked", "        if True:\n            self.asked"),
        )
    ),
    Mutation("scenes/worksheet/marking.py", "marks - len(parts)", "1", ("tests/scenes/worksheet",)),
    Mutation("scenes/worksheet/marking.py", "or TOGETHER.search(part)", "", ("tests/scenes/worksheet",)),
    Mutation(
        "scenes/machines/turning_field/picture.py",
        "= look.reveals_answer * now.coil_currents / FULL, now.coil_charges",
        "= -look.reveals_answer * now.coil_currents / FULL, now.coil_charges",
        ("tests/scenes/oracle/machines/test_laying_the_winding_by_hand.py",),
    ),
    Mutation(
        "scenes/workings/windings.py",
        "angle = winding.slots_per_pole_and_phase, 180 * winding.poles / winding.slots",
        "angle = winding.slots_per_pole_and_phase, 360 * winding.poles / winding.slots",
        ("tests/scenes/workings/test_workings.py",),
    ),
)
