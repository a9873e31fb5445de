"""What is said and asked of a winding: where a coil's other side goes, where a phase starts, which phase is wrong, which way it turns."""

from __future__ import annotations

import cmath
import math

from physics.windings.coils_in_slots import PHASES, Coil
from scenes.machines.laying_the_winding.mistakes import wrong_words
from scenes.machines.laying_the_winding.plans import KINDS, Plan, ends, in_order, laid, one_by_one, plan_of
from scenes.machines.laying_the_winding.snapshot import Snapshot
from scenes.scene.scene import Question
from scenes.scene.story import Look

ASKED = (
    ("slot", "where a coil goes"),
    ("start", "where a phase starts"),
    ("wrong", "which phase is wrong"),
    ("turns", "rotation of the field"),
)
QUESTIONED = ("12-2", "12-2", "12-2", "24-2", "24-4", "36-4", "18-6", "24-8")
SUBSETS = ("none", "U", "V", "W", "U and V", "V and W", "U and W", "U and V and W")


def sentence(now: Snapshot, look: Look) -> str:
    winding, plan = now.winding, now.setup.plan
    count, of = len(winding.coils), len(winding.plan.coils)
    many = f"all {of} coils are" if winding.whole else f"{count} of {of} coils {'is' if count == 1 else 'are'}"
    laid = f"In {plan.slots} slots for {plan.poles} poles {many if count else 'no coil is'} laid{'' if count else ' yet'}"
    if not look.reveals_answer:
        return f"{laid}."
    wrong = f", {wrong_words(winding)}" if now.wrong else ""
    if not any(now.waves):
        return f"{laid}{wrong}; there is no field."
    rotation = look.view.turning(now.rotation)
    if rotation == "none":
        return f"{laid}{wrong}; the field does not rotate, it pulsates."
    return f"{laid}{wrong}; looking at {look.view.end}, the field rotates {rotation}{', unevenly' if now.uneven else ''}."


def question(now: Snapshot, look: Look) -> Question:
    return {"slot": _slot, "start": _start, "wrong": _wrong, "turns": _turns}[now.setup.asked](now, look)


def given(plan: Plan) -> str:
    full, span = plan.slots // plan.poles, plan.winding.span
    pitch = f"short pitch, {full - span} {'slot' if full - span == 1 else 'slots'} less than full" if span < full else "full pitch"
    layers = "one layer" if plan.winding.layers == 1 else "two layers"
    return f"A stator of {plan.slots} slots is wound for {plan.poles} poles in {layers}, {pitch}. "


def coil_asked(now: Snapshot) -> tuple[Coil, int]:
    """The coil whose finish is asked for, and whether one counts on to it, 1, or back, -1: back where it starts at its second side."""
    coil = now.winding.next_right(now.setup.next_phase) or in_order(now.winding.plan)[0]
    return coil, 1 if ends(coil)[0] == coil.go else -1


def _slot(now: Snapshot, look: Look) -> Question:
    plan = now.setup.plan
    coil, sense = coil_asked(now)
    start, finish = ends(coil)
    full, span = plan.slots // plan.poles, now.winding.plan.span
    others = [start + sense * each for each in (span + 1, span - 1, full, 2 * full, full // 2 + 1, span + 2)]
    back = "" if sense > 0 else " Its start lies at the bottom of the slot, and its finish comes before it in the count."
    return Question(
        f"{given(plan)}A coil of {coil.phase} starts in slot {start + 1}.{back} In which slot does it finish?",
        _slots(finish, others, plan.slots),
        str(finish + 1),
        f"The full pitch is slots / poles = {plan.slots} / {plan.poles} = {full}, the coil pitch {span}: from slot "
        f"{start + 1} the coil goes "
        f"{span} slots {'on' if sense > 0 else 'back'}, to slot {finish + 1}.",
    )


def _start(now: Snapshot, look: Look) -> Question:
    plan = now.setup.plan
    winding = plan.winding
    phase = "V" if now.setup.in_hand != "W" else "W"
    belt, pair = winding.slots_per_pole_and_phase, 2 * plan.slots // plan.poles
    right = min(side.slot for side in winding.slot_table if (side.phase, side.sign) == (phase, 1) and side.layer == 1)
    others = [each for each in (belt, 2 * belt, 3 * belt, 4 * belt, 5 * belt, 1) if each % pair != right % pair]
    behind = "a third" if phase == "V" else "two thirds"
    return Question(
        f"{given(plan)}Phase U starts in slot 1. In which slot does {phase} start?",
        _slots(right, others, plan.slots),
        str(right + 1),
        f"{phase} lies {behind} of a pole pair behind U. A pole pair has {plan.slots} / {plan.poles // 2} = {pair} slots: "
        f"slot 1 + {right} = {right + 1}.",
    )


def _slots(right: int, others: list[int], slots: int) -> tuple[tuple[str, str], ...]:
    """Slots, from 0, to choose from: the right one and up to four others, as numbers from 1."""
    wrong = [each for each in dict.fromkeys(other % slots for other in others) if each not in (right, 0)][:4]
    return tuple((str(each + 1), f"slot {each + 1}") for each in sorted([right, *wrong]))


def _wrong(now: Snapshot, look: Look) -> Question:
    answer = " and ".join(now.wrong) or "none"
    offered = [each for each in SUBSETS if each in ("none", "U", "V", "W", "V and W", answer)]
    words = {"none": "none: all lie right"}
    plan = now.setup.plan
    if now.wrong:
        why = f"{_leads(now)} The coil sides that lie where the plan has another phase, or the other direction, are those of {answer}."
    else:
        why = "Every coil side lies where the plan has it: from U to V to W it is 120° each, a third of a pole pair."
    return Question(
        f"{given(plan)}The coils lie so, each from its start to its finish: {_listed(now)}. "
        "Phase U shall start in slot 1, V a third of a pole pair on, W two thirds. "
        "Which phase is laid wrong?",
        tuple((each, words.get(each, each)) for each in offered),
        answer,
        why,
    )


def _listed(now: Snapshot) -> str:
    """The coils of each phase as start and finish; of more than eight, as many."""
    found = []
    for phase in PHASES:
        pairs = [ends(coil) for coil in now.winding.coils if coil.phase == phase]
        shown = ", ".join(f"{start + 1}-{finish + 1}" for start, finish in pairs[:8])
        found.append(f"{phase} {shown or 'none'}{' and so on' if len(pairs) > 8 else ''}")
    return "; ".join(found)


def _leads(now: Snapshot) -> str:
    """How large the phases' EMFs are and by how much they lag U, as laid."""
    parts = []
    for phase, emf in zip(PHASES, now.emfs, strict=True):
        if abs(emf) < 1e-9:
            parts.append(f"{phase} has none")
        else:
            parts.append(f"{phase} has {100 * abs(emf):.0f} % of a right phase's EMF, at {_lag(emf):.0f}°")
    return f"As laid {'; '.join(parts)} behind the axis planned for U; right would be 0°, 120° and 240°."


def _lag(emf: complex) -> float:
    return float(round(-math.degrees(cmath.phase(emf))) % 360)


def _turns(now: Snapshot, look: Look) -> Question:
    view = look.view
    clockwise, other = now.waves
    words = {value: view.turning(speed) for value, speed in (("clockwise", -1.0), ("counter-clockwise", 1.0))}
    answer = {0.0: "none", -1.0: "clockwise", 1.0: "counter-clockwise"}[now.rotation]
    if answer == "none":
        why = f"Two equal waves of {clockwise:.0f} A rotate against each other: the field pulsates."
        if not clockwise and not other:
            why = "The coils that are laid make no working wave at all."
    else:
        why = (
            f"The coils make a wave of {clockwise:.0f} A that rotates {words['clockwise']} and one of {other:.0f} A that rotates "
            f"{words['counter-clockwise']}: the larger one decides."
        )
    return Question(
        f"{given(now.setup.plan)}The coils lie so, each from its start to its finish: {_listed(now)}. "
        "Currents of U, V and W peak in that order. "
        f"Looking at {view.end}, which way does the field rotate?",
        (*((value, said) for value, said in words.items()), ("none", "it does not rotate")),
        answer,
        why,
    )


def random_setup(random) -> dict:
    asked = random.choice([name for name, _ in ASKED])
    setup = {
        "asked": asked,
        "stator": random.choice(QUESTIONED),
        "winding": random.choice(list(KINDS)),
        "hand": random.choice(PHASES),
        "current": 20.0,
    }
    if asked == "slot":
        return setup | {"laid": "none"}
    if asked == "start":
        return setup | {"laid": random.choice(("none", "first"))}
    if setup["stator"] != "12-2":
        setup["winding"] = "one-layer"  # more coils are too many to be told one by one
    names = ("all", "all", "reversed", "ends", "early", "exchanged", *(("two", "phase") if asked == "turns" else ()))
    plan = plan_of(setup | {"joined": "series"})
    return setup | {"laid": one_by_one(laid(plan, random.choice(names)))}
