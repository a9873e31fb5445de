"""Regular three-phase windings: integral-slot, single- or double-layer, full or short pitch, 60-degree phase belts.

**Phase order.** The axis of phase U is at electrical angle 0. Clockwise looking at the drive end
(from +z), and in the order of the slot numbers, the phase belts follow each other as +U, -W, +V, -U, +W, -V. So the axis of V
is at -120 electrical degrees and that of W at +120, and balanced currents in the order U-V-W rotate the field
**clockwise looking at the drive end**, as IEC 60034-8 demands: while the currents advance by some electrical angle,
`field_axis` falls by the same angle.

Formulae of the winding factors: standard handbook results, e.g. Pyrhonen, Jokinen, Hrabovcova, Design of Rotating
Electrical Machines, chapter 2.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike

from physics import arguments
from physics.arguments import NumberOrArray
from physics.windings.coils_in_slots import PHASES, Coil, CoilsInSlots

BELTS = (("U", +1), ("W", -1), ("V", +1), ("U", -1), ("W", +1), ("V", -1))
"""The phase belts of a pole pair in the order of the slot numbers: phase, and sign of its current toward +z."""


@dataclass(frozen=True)
class Winding(CoilsInSlots):
    """A regular three-phase winding.

    slots: a multiple of 3 x poles; poles: even; turns: turns of one coil, all coils of a phase in series;
    coil_pitch: in slots, from 1 to the full pitch slots / poles (None: full pitch), and shorter than full only in two
    layers, for in one layer the phase belts are a full pitch apart however the coils are bent; layers: 1 or 2.
    `ValueError` names what does not fit.
    """

    slots: int
    poles: int
    turns: int = 1
    coil_pitch: int | None = None
    layers: int = 1

    def __post_init__(self) -> None:
        poles = arguments.poles("poles", self.poles)
        slots = arguments.whole("slots", self.slots)
        turns = arguments.whole("turns", self.turns)
        layers = arguments.whole("layers", self.layers)
        if slots % (3 * poles):
            raise ValueError(f"slots must be a multiple of {3 * poles} (3 phases x {poles} poles), not {slots}")
        if layers > 2:
            raise ValueError(f"layers must be 1 or 2, not {layers}")
        full_pitch = slots // poles
        pitch = full_pitch if self.coil_pitch is None else arguments.whole("coil_pitch", self.coil_pitch)
        if pitch > full_pitch:
            raise ValueError(f"coil_pitch must be from 1 to the full pitch of {full_pitch} slots, not {pitch}")
        if pitch < full_pitch and layers == 1:
            raise ValueError(
                f"coil_pitch must be the full pitch of {full_pitch} slots in a single-layer winding, not {pitch}; "
                "a shorter pitch needs layers=2"
            )
        for name, value in (("slots", slots), ("poles", poles), ("turns", turns), ("coil_pitch", pitch),
                            ("layers", layers)):  # fmt: skip
            object.__setattr__(self, name, value)

    paths = 1  # all coils of a phase in series; no field of the dataclass

    @property
    def span(self) -> int:
        """Coil pitch in slots, full pitch included."""
        assert self.coil_pitch is not None  # taken as full pitch above
        return self.coil_pitch

    @property
    def pole_pairs(self) -> int:
        """Half the number of poles."""
        return self.poles // 2

    @property
    def slots_per_pole_and_phase(self) -> int:
        """Width of a phase belt in slots."""
        return self.slots // (3 * self.poles)

    @property
    def coils_per_phase(self) -> int:
        """Coils of one phase: a coil fills two slots in one layer, two half slots in two."""
        return self.slots * self.layers // 6

    @property
    def series_turns(self) -> int:
        """Turns of one phase, all coils in series."""
        return self.coils_per_phase * self.turns

    @property
    def first_slot_angle(self) -> float:
        """Mechanical angle of slot 0, such that the axis of phase U is at 0: its first belt of go sides lies half a
        coil pitch counter-clockwise of its axis, and slot 0 is the belt's end on that side."""
        slots_ahead = (self.span + self.slots_per_pole_and_phase - 1) / 2
        return 2 * np.pi * slots_ahead / self.slots

    @cached_property
    def coils(self) -> tuple[Coil, ...]:
        """All coils, in the order of their go sides. In one layer only the + belts are go sides."""
        coils = []
        for slot in range(self.slots):
            phase, sign = BELTS[slot // self.slots_per_pole_and_phase % 6]
            if sign > 0 or self.layers == 2:
                coils.append(Coil(phase, slot, (slot + self.span) % self.slots, sign))
        return tuple(coils)

    def belt_at_largest_current(self, phase_currents: ArrayLike) -> str:
        """The belt, such as "+U" or "-W", that carries the largest current toward +z; the first of equals.

        phase_currents: shape (3,), in the order U, V, W.
        """
        currents = arguments.vector("phase_currents", phase_currents)
        phase, sign = max(BELTS, key=lambda belt: belt[1] * currents[PHASES.index(belt[0])])
        return f"{'+' if sign > 0 else '-'}{phase}"

    def pitch_factor(self, harmonic: ArrayLike = 1) -> NumberOrArray:
        """k_p = sin(n (y / tau) pi / 2) of harmonic n, signed; y coil pitch, tau pole pitch."""
        n = _harmonics(harmonic)
        return np.sin(n * (self.span * self.poles / self.slots) * np.pi / 2)

    def distribution_factor(self, harmonic: ArrayLike = 1) -> NumberOrArray:
        """k_d = sin(q g / 2) / (q sin(g / 2)) of harmonic n, signed; g = n x electrical slot pitch, q slots a belt.

        Where the sines vanish all coils of a belt stand in line (the slot harmonics' even multiples) and k_d is +-1.
        """
        q = self.slots_per_pole_and_phase
        half_step = _harmonics(harmonic) * np.pi / (6 * q)
        in_line = np.abs(np.sin(half_step)) < 1e-9
        denominator = np.where(in_line, 1, q * np.sin(half_step))
        return np.where(in_line, np.cos(q * half_step) / np.cos(half_step), np.sin(q * half_step) / denominator)[()]

    def winding_factor(self, harmonic: ArrayLike = 1) -> NumberOrArray:
        """k_w = k_d k_p of a phase for harmonic n of the pole pairs, signed: n a whole number or an array of them.

        Of even order it is 0, because each phase has belts of both signs a pole pitch apart. (`slot_star` gives the
        same from the slots.) A phase current i makes the wave (4 / pi) N k_w i / (n poles), N its series turns.
        """
        n = _harmonics(harmonic)
        return np.where(n % 2 == 0, 0.0, self.distribution_factor(n) * self.pitch_factor(n))[()]


def _harmonics(value: ArrayLike) -> np.ndarray:
    harmonic = arguments.numbers("harmonic", value)
    if np.any(harmonic < 1) or np.any(harmonic != np.floor(harmonic)):
        raise ValueError("harmonic must be a whole number of at least 1")
    return harmonic
