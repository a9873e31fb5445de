"""A winding as it lies so far: coils laid one by one into the slots of a stator, rightly or wrongly, and joined.

It is compared with the regular winding that is meant to come of it, the `plan`. Conventions are those of
`physics.windings.coils_in_slots`: slots are numbered clockwise looking at the drive end (from 0 here, from 1 in every message), a coil
lies from its go slot a coil pitch clockwise to its return slot, in two layers with the go side at the bore; with sign -1 its start is
at the return slot.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from physics import arguments
from physics.windings.coils_in_slots import PHASES, Coil, CoilsInSlots
from physics.windings.winding import Winding


class InPath(NamedTuple):
    """A coil as the current of its path passes it: its number, and the slots in which it enters at the start and leaves at the finish."""

    coil: int
    start: int
    finish: int


# Long, a third of it docstrings: what may be laid, what lies there and how it is joined are answered from the same coils.
@dataclass(frozen=True)
class LaidWinding(CoilsInSlots):
    """Coils in the slots meant for `plan`, in the order in which they were laid.

    paths: parallel paths of each phase, which share its coils evenly in their order round the bore. `ValueError`, in a sentence, where
    a coil does not fit.
    """

    plan: Winding
    coils: tuple[Coil, ...] = ()
    paths: int = 1

    def __post_init__(self) -> None:
        paths = arguments.whole("paths", self.paths)
        if self.plan.coils_per_phase % paths:
            raise ValueError(f"paths must divide the {self.plan.coils_per_phase} coils of a phase evenly, not be {paths}")
        laid: tuple[Coil, ...] = ()
        for coil in self.coils:
            self._check(Coil(*coil), laid)
            laid += (Coil(*coil),)
        object.__setattr__(self, "coils", laid)

    @property
    def slots(self) -> int:
        return self.plan.slots

    @property
    def turns(self) -> int:
        return self.plan.turns

    @property
    def layers(self) -> int:
        return self.plan.layers

    @property
    def pole_pairs(self) -> int:
        return self.plan.pole_pairs

    @property
    def first_slot_angle(self) -> float:
        return self.plan.first_slot_angle

    @property
    def whole(self) -> bool:
        """Whether all coils are laid."""
        return len(self.coils) == len(self.plan.coils)

    @cached_property
    def right(self) -> bool:
        """Whether every coil side laid so far is of the phase, and carries its current the way, that the plan has there."""
        return not wrong_phases(self)

    @property
    def counts(self) -> tuple[int, int, int]:
        """Coils laid of U, V and W."""
        found = Counter(coil.phase for coil in self.coils)
        return found["U"], found["V"], found["W"]

    def with_coil(self, phase: str, start: int, finish: int) -> LaidWinding:
        """The winding with one more coil, whose start lies in the slot `start` and whose finish in `finish`.

        Where both slots would do as its go slot, as with full pitch and two poles, it takes the free one. `ValueError` says what
        does not fit: the span, a slot that is full, a phase that has all its coils.
        """
        start, finish = _slot("start", start, self.slots), _slot("finish", finish, self.slots)
        pitch = self.plan.span
        ways = [Coil(phase, start, finish, 1)] if (finish - start) % self.slots == pitch else []
        ways += [Coil(phase, finish, start, -1)] if (start - finish) % self.slots == pitch else []
        if not ways:
            ends = sorted({(start + pitch) % self.slots + 1, (start - pitch) % self.slots + 1})
            raise ValueError(
                f"A coil spans {pitch} slots here: from slot {start + 1} it goes to slot {' or '.join(map(str, ends))}, "
                f"not to slot {finish + 1}."
            )
        for way in ways[:-1]:
            if not self._filled(way, self.coils):
                return replace(self, coils=(*self.coils, way))
        return replace(self, coils=(*self.coils, ways[-1]))

    def without_coil(self, number: int = -1) -> LaidWinding:
        """The winding with one coil taken out, the last one laid if none is named."""
        if not self.coils:
            raise ValueError("No coil is laid yet: there is none to take out.")
        coils = list(self.coils)
        del coils[number]
        return replace(self, coils=tuple(coils))

    def next_right(self, phase: str) -> Coil | None:
        """The plan's next coil of `phase` whose places are free, in the order of the slots; None if there is none."""
        if self.counts[PHASES.index(phase)] == self.plan.coils_per_phase:
            return None
        mine = [coil for coil in self.plan.coils if coil.phase == phase]
        return next((coil for coil in mine if not self._filled(coil, self.coils)), None)

    def emfs(self, harmonic: int = 1) -> np.ndarray:
        """EMF of each coil as it is joined, complex, shape (coils,): of one rotating field wave, 1 for a coil of full pitch.

        Its angle is the coil's axis, electrical rad. The field rotates clockwise looking at the drive end, so a coil whose axis lies
        further clockwise lags: the angle is that in time too.
        """
        order = arguments.whole("harmonic", harmonic) * self.pole_pairs
        slots = np.exp(1j * order * self.slot_angles) / 2j
        return np.array([coil.sign * (slots[coil.go] - slots[coil.back]) for coil in self.coils], complex)

    def path_emfs(self, phase: str) -> np.ndarray:
        """EMF of each parallel path of `phase`, complex, shape (paths,), as shares of a path laid as planned; 0 of one without coils."""
        emfs, whole = self.emfs(), self.plan.coils_per_phase / self.paths * abs(self.plan.winding_factor())
        return np.array([sum(emfs[each.coil] for each in path) / whole for path in self.connections(phase)], complex)

    def phase_emfs(self) -> np.ndarray:
        """EMF of U, V and W, the mean of their paths; complex, shape (3,), as shares of that of a phase laid as planned."""
        return np.array([self.path_emfs(phase).mean() for phase in PHASES])

    def circulating_voltage(self, phase: str) -> float:
        """The largest difference of EMF between two parallel paths of `phase`, as a share of a whole path's EMF; 0 in series."""
        emfs = self.path_emfs(phase)
        return float(np.abs(emfs[:, None] - emfs).max())

    def connections(self, phase: str) -> list[list[InPath]]:
        """Of each parallel path the coils as its current passes them.

        Coils are joined in the order of their go slots; neighbours that are all the other way round are passed from the last to the
        first, finish of one group to finish of the next (common practice, no source).
        """
        first = {coil.go for coil in self.plan.coils}  # in one layer a coil may as well have been laid from its other slot
        ours = sorted((coil.go if coil.go in first else coil.back, n) for n, coil in enumerate(self.coils) if coil.phase == phase)
        share = self.plan.coils_per_phase // self.paths
        paths = [ours[k * share : (k + 1) * share] for k in range(self.paths)]
        return [self._in_order([number for _, number in path]) for path in paths]

    def _in_order(self, path: list[int]) -> list[InPath]:
        ordered: list[int] = []
        group: list[int] = []
        for number in path:
            coil, last = self.coils[number], self.coils[group[-1]] if group else None
            if last is not None and (coil.sign != last.sign or coil.go != (last.go + 1) % self.slots):
                ordered += group if last.sign > 0 else group[::-1]
                group = []
            group.append(number)
        if group:
            ordered += group if self.coils[group[-1]].sign > 0 else group[::-1]
        ends = [(number, self.coils[number]) for number in ordered]
        return [InPath(number, *((coil.go, coil.back) if coil.sign > 0 else (coil.back, coil.go))) for number, coil in ends]

    def _check(self, coil: Coil, laid: tuple[Coil, ...]) -> None:
        if coil.phase not in PHASES:
            raise ValueError(f"coils must be of the phases U, V, W, not {coil.phase!r}")
        if not 0 <= coil.go < self.slots or coil.back != (coil.go + self.plan.span) % self.slots or coil.sign not in (-1, 1):
            raise ValueError(f"coils must lie in {self.slots} slots, {self.plan.span} apart, with sign -1 or 1, not {coil}")
        full = self._filled(coil, laid)
        if full:
            slots = " and ".join(str(slot + 1) for slot in sorted(full))
            said = f"Slot {slots} is full" if len(full) == 1 else f"Slots {slots} are full"
            raise ValueError(f"{said}: a coil needs two free places.")
        if sum(each.phase == coil.phase for each in laid) == self.plan.coils_per_phase:
            raise ValueError(f"Phase {coil.phase} has all its {self.plan.coils_per_phase} coils: lay another phase.")

    def _filled(self, coil: Coil, laid: tuple[Coil, ...]) -> list[int]:
        """The slots in which there is no place for `coil` any more."""
        taken = {side for each in laid for side in _sides(each, self.layers)}
        return [slot for slot, layer in _sides(coil, self.layers) if (slot, layer) in taken]


def wrong_phases(winding: LaidWinding) -> tuple[str, ...]:
    """The phases of which a coil lies wrong."""
    wrong = {winding.coils[number].phase for number in wrong_coils(winding)}
    return tuple(phase for phase in PHASES if phase in wrong)


def wrong_coils(winding: LaidWinding) -> tuple[int, ...]:
    """The numbers of the coils of which a side lies where the plan has another phase, or carries its current the other way."""
    planned = {(side.slot, side.layer): (side.phase, side.sign) for side in winding.plan.slot_table}
    wrong = {side.coil for side in winding.slot_table if planned[side.slot, side.layer] != (side.phase, side.sign)}
    return tuple(sorted(wrong))


def circulating_currents(emfs: ArrayLike, impedance: complex) -> np.ndarray:
    """Current of each of several parallel paths that carry nothing outward, complex A, shape as `emfs`, adding up to nothing.

    emfs: complex V of the paths; impedance: complex ohm of one path. (Millman's theorem; any textbook of circuit theory.)
    """
    volts = arguments.complex_numbers("emfs", emfs)
    if not np.isfinite(impedance) or impedance == 0:
        raise ValueError(f"impedance must be a finite number of ohms other than 0, not {impedance}")
    return (volts - volts.mean()) / impedance


def _sides(coil: Coil, layers: int) -> tuple[tuple[int, int], tuple[int, int]]:
    return (coil.go, 1), (coil.back, layers)


def _slot(name: str, value: object, slots: int) -> int:
    slot = arguments.whole(name, value, least=0)
    if slot >= slots:
        raise ValueError(f"{name} must be a slot from 0 to {slots - 1}, not {slot}")
    return slot
