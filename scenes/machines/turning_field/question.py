"""The rotating field's question: which way it rotates, with phases swapped, one lost, or a coil connected backwards."""

from __future__ import annotations

from physics.windings.coils_in_slots import PHASES
from scenes.machines.turning_field.snapshot import Snapshot
from scenes.machines.turning_field.windings import as_laid
from scenes.scene import phases
from scenes.scene.common_controls import line_order
from scenes.scene.scene import Question
from scenes.scene.story import Look


def sentence(now: Snapshot, look: Look) -> str:
    rotation = look.view.turning(now.rotation)
    unevenly = ", unevenly" if now.uneven else ""
    said = f"Looking at {look.view.end}, the field rotates {rotation}{unevenly}; it has {now.setup.poles} poles."
    if rotation == "none":
        said = "The field does not rotate: it pulsates along one axis."
    laid = now.setup.laid
    return said if laid is None else f"Your winding of {laid.slots} slots, {as_laid(laid)}: {said[0].lower()}{said[1:]}"


def question(now: Snapshot, look: Look) -> Question:
    setup = now.setup
    feeds = ", ".join(f"{line} feeds {phase}" for line, phase in zip(setup.lines, PHASES, strict=True))
    faults = [] if setup.laid is None else [f"Your winding of {setup.laid.slots} slots is on the bench, {as_laid(setup.laid)}."]
    if setup.lost is not None:
        faults.append(f"Phase {setup.lost} is lost.")
    if setup.backwards is not None:
        faults.append(f"One of the {len(setup.wound.coils) // 3} coils of {setup.backwards} is connected backwards.")
    return Question(
        " ".join([f"{feeds}.", *faults, f"Looking at {look.view.end}, which way does the field rotate?"]),
        (("clockwise", "clockwise"), ("counter-clockwise", "counter-clockwise"), ("none", "it does not rotate")),
        look.view.turning(now.rotation),
        _reason(now, look),
    )


def _reason(now: Snapshot, look: Look) -> str:
    clockwise, other = now.waves
    if not now.rotation:
        left = "Only one current is left, through two windings in series." if now.setup.lost else "No wave is the larger one."
        return f"{left} The field pulsates along one axis: two waves of {clockwise:.0f} A that rotate against each other."
    view = look.view
    if now.setup.laid is not None and not now.setup.laid.right:
        return (
            f"The coils as they lie make a wave of {clockwise:.0f} A that rotates {view.turning(-1.0)} and one of {other:.0f} A that "
            f"rotates {view.turning(1.0)}: the larger one decides."
        )
    why = (
        f"The currents peak in the order {'-'.join(now.order)}, and looking at {view.end} the axes of U, V and W follow each other "
        f"{view.turning(-1.0)}: the field rotates {view.turning(now.rotation)}."
    )
    if now.uneven:
        why += f" The coil that is backwards adds a wave of {min(clockwise, other):.0f} A against it: the field rotates unevenly."
    return why


def random_setup(random) -> dict:
    fault = random.choice(("none", "none", "none", "lost", "reversed"))
    return {
        "lines": random.choice([name for name, _ in line_order().choices]),
        "lost": random.choice(phases.LINES) if fault == "lost" else "none",
        "reversed": random.choice(PHASES) if fault == "reversed" else "none",
        "poles": random.choice(("2", "2", "4", "6", "8")),
    }
