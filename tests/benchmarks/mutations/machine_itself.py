"""Breaks of what makes the machines and rods look like the real thing: coils, marks that flow, wires, lines, hands."""

from __future__ import annotations

from tests.benchmarks.mutation import Mutation, noticed_by

COMMUTATOR = ("tests/physics/commutated/test_commutator.py", "tests/physics/commutated/test_generator_and_motor.py")
ORACLE = ("tests/scenes/oracle/machines/test_coils_and_commutator.py",)
MACHINE = ("tests/scenes/machines/test_coils_and_commutator.py",)
SHAPES = ("tests/visual/solid/test_shapes.py",)
LINES = ("tests/physics/fields/test_flux_lines.py",)
HANDS = ("tests/scenes/scene/test_hands_can_be_read.py",)
MOVED = ("tests/scenes/oracle/conductors/test_moved_conductor.py",)

MUTATIONS = (
    *noticed_by(
        COMMUTATOR,
        ("physics/commutated/commutator.py", "first = -np.pi / 2 if is_open", "first = np.pi / 2 if is_open"),
        ("physics/commutated/network.py", "(coils if is_open(coils) else 1)", "1"),
        ("physics/commutated/commutator.py", "coils if is_open(coils) else 1]] = 1.0", "1]] = 1.0"),
    ),
    *noticed_by(
        LINES,
        ("physics/fields/flux_lines.py", "before + share * (after - before)", "before"),
        ("physics/fields/flux_lines.py", "np.vstack([before[:0:-1], after])", "np.vstack([before, after])"),
    ),
    *noticed_by(
        HANDS,
        ("scenes/scene/seen.py", "between.min() >= NEAREST", "between.min() >= 0"),
        ("scenes/scene/seen.py", "if shown.min() < SHORTEST:", "if shown.min() < 0:"),
    ),
    Mutation(
        "scenes/machines/commutator/snapshot.py",
        "machine.coil_currents * setup.slowness * seconds",
        "-machine.coil_currents * setup.slowness * seconds",
        MACHINE,
    ),
    *noticed_by(
        ORACLE,
        ("scenes/machines/commutator/picture.py", " * (shown or not setup.by_hand)", ""),
        ("visual/machines/commutator/machine.py", "1 if current > 0 else -1]", "-1 if current > 0 else 1]"),
        ("visual/apparatus/meter.py", "np.diag([facing, 1.0, facing])", "np.diag([1.0, 1.0, 1.0])"),
    ),
    *noticed_by(
        SHAPES,
        ("visual/machines/commutator/shapes.py", "(after, before) if sense > 0", "(after, before) if sense < 0"),
        ("visual/apparatus/moved_rod.py", "for place in places], sleeve", "for place in places[1:]], sleeve"),
    ),
    Mutation("visual/apparatus/moved_rod.py", "min(max(turns, 2), MOST_TURNS)", "min(max(turns, 3), MOST_TURNS)", MOVED),
)
