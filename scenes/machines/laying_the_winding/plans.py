"""The windings that may be laid, the usual mistakes, and coils laid by hand as text: "U1-7.U2-8" has the coils of U that start in
slots 1 and 2 and finish in slots 7 and 8."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import lru_cache

from physics.arguments import quoted
from physics.windings import LaidWinding, Winding
from physics.windings.coils_in_slots import PHASES, Coil
from scenes.scene.controls import Choice

TURNS_OF_A_POLE_PAIR = 48  # of one phase: 48 is divided evenly by every number of coils that these plans have there
STATORS = (
    (12, 2),
    (18, 2),
    (24, 2),
    (36, 2),
    (48, 2),
    (12, 4),
    (24, 4),
    (36, 4),
    (48, 4),
    (18, 6),
    (36, 6),
    (24, 8),
    (48, 8),
)  # slots, poles
KINDS = {
    "one-layer": "one layer, full pitch",
    "two-layers": "two layers, full pitch",
    "short": "two layers, short pitch",
}
# name: words. Each is made from the plan, so that it is the same mistake in every stator.
USUAL = {
    "none": "none yet",
    "first": "the first coil of U",
    "phase": "phase U",
    "two": "phases U and V",
    "all": "all three phases",
    "reversed": "all, the first coil of V the wrong way round",
    "ends": "all, the two ends of V swapped",
    "early": "all, the phases 60° apart instead of 120°",
    "exchanged": "all, V and W in each other's place",
}
WOUND = ("stator", "winding", "joined", "laid")  # the settings that make a winding
BY_HAND = "as laid by hand"
LONGEST = 400  # characters of coils as text, which a winding of 48 coils does not reach
ONE = re.compile(r"([UVW])([1-9]\d?)-([1-9]\d?)")


@dataclass(frozen=True)
class Plan:
    """What is meant to be laid: slots and poles of the stator, one of `KINDS`, and whether a phase's coils are joined in parallel."""

    slots: int
    poles: int
    kind: str
    parallel: bool

    @property
    def winding(self) -> Winding:
        return winding_of(self.slots, self.poles, self.kind)

    @property
    def paths(self) -> int:
        """Parallel paths of a phase: as few as share its groups evenly or, where it has one group, its coils."""
        if not self.parallel:
            return 1
        groups = self.poles // 2 * self.winding.layers
        return next(n for n in range(2, 49) if (groups if groups > 1 else self.winding.coils_per_phase) % n == 0)

    @property
    def empty(self) -> LaidWinding:
        return LaidWinding(self.winding, (), self.paths)


@lru_cache(maxsize=64)
def winding_of(slots: int, poles: int, kind: str) -> Winding:
    """The regular winding, always with the same turns a pole pair. A short pitch is five sixths of the full one, or next below."""
    full, layers = slots // poles, 1 if kind == "one-layer" else 2
    pitch = full * 5 // 6 if kind == "short" else full
    coils_of_a_pole_pair = slots * layers // (3 * poles)
    return Winding(slots, poles, TURNS_OF_A_POLE_PAIR // coils_of_a_pole_pair, pitch, layers)


class LaidCoils(Choice):
    """The control of the coils that are laid: one of `USUAL`, or any as text."""

    def checked(self, value) -> str:
        text = str(value)
        if text in USUAL or len(text) < LONGEST and all(ONE.fullmatch(coil) for coil in text.split(".")):
            return text
        raise ValueError(
            f"{self.name} takes one of {', '.join(USUAL)}, or coils by phase and slots, such as U1-7.U2-8, not {quoted(value)}."
        )


def plan_of(settings: dict) -> Plan:
    slots, poles = (int(part) for part in settings["stator"].split("-"))
    return Plan(slots, poles, settings["winding"], settings["joined"] == "parallel")


@lru_cache(maxsize=256)
def laid(plan: Plan, text: str) -> LaidWinding:
    """The coils of that name or text in that stator; `ValueError`, in a sentence, where one does not fit."""
    if text in USUAL:
        return LaidWinding(plan.winding, _usual(plan.winding, text), plan.paths)
    winding = plan.empty
    for coil in text.split("."):
        phase, start, finish = ONE.fullmatch(coil).groups()  # type: ignore[union-attr]  # checked by the control
        if max(int(start), int(finish)) > plan.slots:
            raise ValueError(f"This stator has slots 1 to {plan.slots}, so a coil {coil} does not fit.")
        winding = winding.with_coil(phase, int(start) - 1, int(finish) - 1)
    return winding


def text_of(winding: LaidWinding) -> str:
    """The coils as text; "none" without any, "all" where they are those of the plan."""
    return "all" if winding.whole and set(winding.coils) == set(winding.plan.coils) else one_by_one(winding)


def one_by_one(winding: LaidWinding) -> str:
    """The coils as text, even where that is one of `USUAL`, so that the setting does not say what is wrong."""
    return ".".join(f"{coil.phase}{start + 1}-{finish + 1}" for coil in winding.coils for start, finish in [ends(coil)]) or "none"


def ends(coil: Coil) -> tuple[int, int]:
    """The slots of its start and its finish: positive current goes toward the drive end in the first."""
    return (coil.go, coil.back) if coil.sign > 0 else (coil.back, coil.go)


def in_order(winding: Winding) -> list[Coil]:
    """The coils of a plan phase by phase, as they are laid here."""
    return sorted(winding.coils, key=lambda coil: (PHASES.index(coil.phase), coil.go))


def _usual(winding: Winding, name: str) -> tuple[Coil, ...]:
    coils, each = in_order(winding), winding.coils_per_phase
    count = {"none": 0, "first": 1, "phase": each, "two": 2 * each}.get(name, 3 * each)
    coils = coils[:count]
    if name == "reversed":
        coils[each] = _turned(coils[each])
    elif name == "ends":
        coils = [_turned(coil) if coil.phase == "V" else coil for coil in coils]
    elif name in ("early", "exchanged"):
        # 60 degrees after the one before, V lies where the returns of W belong, and W where V belongs
        sign = -1 if name == "early" else 1
        first, second = (
            [replace_phase(coil, "V", sign) for coil in coils[2 * each :]],
            [replace_phase(c, "W", 1) for c in coils[each : 2 * each]],
        )
        coils = [*coils[:each], *first, *second]
    return tuple(coils)


def _turned(coil: Coil) -> Coil:
    return coil._replace(sign=-coil.sign)


def replace_phase(coil: Coil, phase: str, sign: int) -> Coil:
    return coil._replace(phase=phase, sign=sign * coil.sign)


def with_pressed(plan: Plan, text: str, phase: str, first: int, second: int) -> LaidWinding:
    """Once two slots (from 1) have been pressed: with a coil of `phase` more or, where a coil fills those two, without it."""
    winding = laid(plan, text)
    try:
        return winding.with_coil(phase, first - 1, second - 1)
    except ValueError:
        there = [number for number, coil in enumerate(winding.coils) if set(ends(coil)) == {first - 1, second - 1}]
        if not there:
            raise
        return winding.without_coil(there[-1])


def with_next(plan: Plan, text: str, phase: str) -> LaidWinding:
    """The winding with one more coil where the plan has it; `ValueError` where no place is left."""
    winding = laid(plan, text)
    if winding.whole:
        raise ValueError(f"All {len(winding.coils)} coils are laid: take one out first.")
    coil = winding.next_right(phase)
    if coil is None:
        raise ValueError(f"No right place is left for a coil of {phase}: others lie there. Take the last coil out.")
    return replace(winding, coils=(*winding.coils, coil))


def wound_text(settings: dict) -> str:
    """Stator, coils and how they are joined as one text, with which another scene takes the winding."""
    return " ".join(settings[name] for name in WOUND)


def settings_of(text: str) -> dict[str, str]:
    """The settings from which `wound_text` made the text."""
    return dict(zip(WOUND, text.split(" "), strict=True))


@lru_cache(maxsize=16)
def laid_of(text: str) -> LaidWinding:
    """The winding of a text by `wound_text`; `ValueError`, in a sentence, if it is none."""
    stator, winding, joined, coils = (text.split(" ") + [""] * 4)[:4]
    stators = [f"{slots}-{poles}" for slots, poles in STATORS]
    if stator not in stators or winding not in KINDS or joined not in ("series", "parallel") or text.count(" ") != 3:
        raise ValueError(f"wound takes usual, or a winding as it comes from laying-the-winding, not {quoted(text)}.")
    plan = plan_of({"stator": stator, "winding": winding, "joined": joined})
    return laid(plan, LaidCoils("wound", "", "all", tuple(USUAL.items())).checked(coils))
