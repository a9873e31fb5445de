"""The alternator's question: which phase peaks next, or, with fewer than three coils, at what frequency."""

from __future__ import annotations

from scenes.machines.alternator.snapshot import SHAPE, Snapshot
from scenes.scene.drawn_arrow import Place, place_of
from scenes.scene.scene import Question
from scenes.scene.story import Look
from visual.machines.stator import polar

NOTHING = "Without motion, or without a field, nothing is generated."


def question(now: Snapshot, look: Look) -> Question:
    return _which_next(now, look) if now.setup.coils == 3 else _which_frequency(now)


def _which_next(now: Snapshot, look: Look) -> Question:
    view, speed = look.view, now.setup.speed
    answer = "none" if not now.peak else now.order.split("-")[1]
    turning = f"Looking at {view.end}, the magnet turns {view.turning(speed)}." if speed else "The magnet is at standstill."
    field = "" if now.setup.flux_density else " It has lost its field."
    return Question(
        f"{turning}{field} The coils U, V, W follow each other {view.turning(-1.0)}. U has just peaked. Which phase peaks next?",
        (("V", "V"), ("W", "W"), ("none", "none: nothing is generated")),
        answer,
        f"The coils U, V, W follow each other {view.turning(-1.0)} and the magnet turns {view.turning(speed)}: after coil U the same pole "
        f"passes coil {answer}."
        if now.peak
        else NOTHING,
        pressed=True,
        spots=tuple((phase, _coil_side(now, phase, view.side)) for phase in "VW"),
    )


def _coil_side(now: Snapshot, phase: str, side: float) -> Place:
    """Where the first coil of a phase begins, at the end in view."""
    winding = now.machine.winding
    angle = winding.slot_angles[next(coil.go for coil in winding.coils if coil.phase == phase)]
    return place_of(polar(SHAPE.slot_middle, angle, side * SHAPE.half_length))


def _which_frequency(now: Snapshot) -> Question:
    poles, revolutions, right = now.setup.poles, abs(now.setup.speed) * 60, now.frequency
    wrong = [revolutions / 60 * poles, revolutions / 60, revolutions / 30, right / 2, right * 3, 50.0, 60.0, 25.0, 100.0]
    values = sorted([f"{right:.4g}", *_three_others(right, wrong)], key=float)
    if not now.peak:
        lost = "" if now.setup.flux_density else " and has lost its field"
        return Question(
            f"A magnet of {poles} poles {f'turns at {revolutions:.0f} r/min' if revolutions else 'is at standstill'}{lost}. "
            "What is the frequency of the voltage in coil U?",
            (*((value, f"{value} Hz") for value in values if float(value)), ("none", "there is no voltage")),
            "none",
            NOTHING,
        )
    pairs = poles // 2
    passed = f"{pairs} pole pair{'s pass' if pairs > 1 else ' passes'}"
    return Question(
        f"A magnet of {poles} poles turns at {revolutions:.0f} r/min. What is the frequency of the voltage in coil U?",
        tuple((value, f"{value} Hz") for value in values),
        f"{right:.4g}",
        f"In each revolution {passed} the coil, and each pair makes one cycle: {revolutions:.0f} r/min / 60 = "
        f"{revolutions / 60:.4g} rev/s, "
        f"times {pairs}: {right:.4g} Hz.",
    )


def _three_others(right: float, wrong) -> list[str]:
    """The first three of the values, as text, that differ from the right one and from each other."""
    return [text for text in dict.fromkeys(f"{value:.4g}" for value in wrong) if text != f"{right:.4g}"][:3]


def random_setup(random) -> dict:
    return {
        "coils": random.choice(("1", "3", "3")),
        "speed": float(random.choice((-1, 1)) * random.choice((500, 600, 1000, 1500, 1800, 3000, 3000)) * random.choice((1,) * 8 + (0,)))
        + 0.0,
        "poles": random.choice(("2", "4", "6", "8")),
        "field": float(random.choice((-1, 1)) * random.choice((300, 400, 500))),
        "load": random.choice(("open", "lamp")),
    }
