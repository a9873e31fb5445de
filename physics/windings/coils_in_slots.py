"""Coils of three phases in the slots of a stator: which coil is in which slot, and the MMF round the bore.

Common to every winding here, whether regular (`physics.windings.Winding`), with a coil connected
backwards, or tapped to change its pole number (`physics.pole_changing`).

Conventions, the same for all of them:

- Angles are mechanical radians, counter-clockwise looking at the drive end (from +z). **Slots are numbered clockwise**
  seen from there, so the angle of a slot falls as its number rises.
- A current is positive toward the drive end (+z). A coil's go side carries the phase current that way where the coil's
  sign is +1, its return side the other way.
- MMF is positive where it drives flux outward across the gap, from rotor to stator. Past a slot, going
  counter-clockwise, it falls by the current toward +z in that slot (Ampere's law round that slot).
- A wave of m pole pairs, |A| cos(m angle - arg A), is told by its complex amplitude A in amperes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from physics import arguments
from physics.arguments import NumberOrArray
from physics.windings.coil import BALANCED, PHASES, Coil, CoilSide

__all__ = ["BALANCED", "PHASES", "Coil", "CoilSide", "CoilsInSlots", "ConnectedCoils"]

# an angle this close to a slot, in slot pitches, is at the slot
_AT_A_SLOT = 1e-9


# Long, half of it docstrings: slot table, MMF, waves and winding factor all come from the same conductors in slots.
class CoilsInSlots:
    """Coils in the slots of a stator, and the MMF they make. A subclass has the attributes

    slots: number of slots; turns: turns of a coil; coils: tuple of `Coil`; layers: 1 or 2;
    paths: parallel paths a phase (a coil carries the phase current over this number);
    pole_pairs: of the fundamental; first_slot_angle: mechanical rad of slot 0.
    """

    if TYPE_CHECKING:  # as properties, since a subclass may compute them and none can be set

        @property
        def slots(self) -> int: ...
        @property
        def turns(self) -> int: ...
        @property
        def coils(self) -> tuple[Coil, ...]: ...
        @property
        def layers(self) -> int: ...
        @property
        def paths(self) -> int: ...
        @property
        def pole_pairs(self) -> int: ...
        @property
        def first_slot_angle(self) -> float: ...

    @cached_property
    def slot_angles(self) -> np.ndarray:
        """Mechanical angle of every slot, shape (slots,); it falls from slot to slot, by one slot pitch."""
        angles = self.first_slot_angle - 2 * np.pi * np.arange(self.slots) / self.slots
        angles.setflags(write=False)
        return angles

    @cached_property
    def conductors(self) -> np.ndarray:
        """Conductors of each phase in each slot, counted with their sign, shape (slots, 3)."""
        conductors = np.zeros((self.slots, 3))
        for side in self.slot_table:
            conductors[side.slot, PHASES.index(side.phase)] += side.sign * self.turns
        conductors.setflags(write=False)
        return conductors

    @cached_property
    def slot_table(self) -> tuple[CoilSide, ...]:
        """Every coil side, sorted by slot and layer."""
        sides = []
        for number, coil in enumerate(self.coils):
            sides.append(CoilSide(coil.go, 1, coil.phase, coil.sign, number))
            sides.append(CoilSide(coil.back, self.layers, coil.phase, -coil.sign, number))
        return tuple(sorted(sides))

    def slot_rows(self) -> list[str]:
        """The slot table as text: one line a slot, slots and coils counted from 1, the layer at the bore first."""
        rows = []
        for slot in range(self.slots):
            sides = [str(side) for side in self.slot_table if side.slot == slot]
            rows.append(f"slot {slot + 1:>3}:  " + "   ".join(f"{side:<12}" for side in sides).rstrip())
        return rows

    def slot_currents(self, phase_currents: ArrayLike) -> np.ndarray:
        """Ampere conductors in every slot, positive toward +z: shape (slots,), or (..., slots) for (..., 3)."""
        return _phase_values("phase_currents", phase_currents) @ self.conductors.T / self.paths

    def mmf(self, angles: ArrayLike, phase_currents: ArrayLike) -> np.ndarray:
        """MMF round the bore, A, at mechanical `angles` for the phase currents of one instant, A.

        It is the exact stepped curve of currents concentrated in the slots, with zero mean; at a slot itself, the
        middle of the step. angles: any shape; phase_currents: shape (3,) in the order U, V, W, or (..., 3) for many
        instants. The result has the shape (..., *angles.shape).
        """
        angles = arguments.numbers("angles", angles)
        levels = _phase_values("phase_currents", phase_currents) @ self._teeth_levels.T
        slots_passed = (self.first_slot_angle - angles) * (self.slots / (2 * np.pi))
        before = np.floor(slots_passed - _AT_A_SLOT).astype(int) % self.slots
        after = np.floor(slots_passed + _AT_A_SLOT).astype(int) % self.slots
        return (levels[..., before] + levels[..., after]) / 2

    def mmf_wave(self, phase_currents: ArrayLike, pole_pairs: ArrayLike | None = None) -> np.ndarray:
        """Complex amplitude, A, of the MMF's wave of `pole_pairs` pole pairs (None: the working number).

        phase_currents: (3,) or (..., 3), of one instant each; pole_pairs: a whole number or an array of them. Result:
        (..., *pole_pairs.shape). The MMF is the sum of all waves; those of 3n times the working number vanish when
        the currents sum to zero.
        """
        currents = _phase_values("phase_currents", phase_currents)
        return np.tensordot(currents, self._waves_per_ampere(pole_pairs), axes=(-1, -1))

    def travelling_waves(self, phase_phasors: ArrayLike, pole_pairs: ArrayLike | None = None) -> tuple[np.ndarray, np.ndarray]:
        """The two waves of `pole_pairs` pole pairs that alternating currents make: (clockwise, counter-clockwise).

        phase_phasors: complex peak values, shape (..., 3), of currents i = Re(I exp(j w t)). A wave's complex amplitude
        A is that at t = 0; the counter-clockwise one runs as A exp(j w t), the clockwise one as A exp(-j w t), both
        at w / pole_pairs mechanical. Only one of them is there with balanced currents; both together make the tip of
        the field run on an ellipse, with half axes | |A_1| +- |A_2| |. (Fortescue's components, in space.)
        """
        phasors = _phase_values("phase_phasors", phase_phasors, arguments.complex_numbers)
        per_ampere = self._waves_per_ampere(pole_pairs)
        counter_clockwise = np.tensordot(phasors, per_ampere, axes=(-1, -1)) / 2
        clockwise = np.tensordot(np.conj(phasors), per_ampere, axes=(-1, -1)) / 2
        return clockwise, counter_clockwise

    def field_axis(self, phase_currents: ArrayLike) -> NumberOrArray:
        """Electrical angle of the fundamental's outward peak, in (-pi, pi]; nan without field.

        phase_currents: (3,) gives a float, (..., 3) an array of shape (...).
        """
        currents = _phase_values("phase_currents", phase_currents)
        per_ampere = self._working_wave_per_ampere
        wave = currents @ per_ampere
        axis = np.angle(wave)
        # -pi is the same axis as pi, and rounding must not choose between them
        axis = np.where(axis < 1e-12 - np.pi, np.pi, axis)
        no_field = np.abs(wave) <= 1e-12 * (np.abs(currents) @ np.abs(per_ampere))
        axis = np.where(no_field, np.nan, axis)
        return axis if axis.ndim else float(axis)

    def fundamental_amplitude(self, phase_currents: ArrayLike) -> NumberOrArray:
        """Peak of the fundamental, A, 0 or more; shapes as in `field_axis`."""
        return np.abs(_phase_values("phase_currents", phase_currents) @ self._working_wave_per_ampere)

    def slot_star(self, harmonic: int = 1) -> np.ndarray:
        """Winding factor of each phase from the star of slot EMFs, complex, shape (3,).

        The phasors of a phase's conductors are added as the slots lie and divided by what they would give if all
        stood in line. The size is the winding factor, the angle the phase's axis, in electrical rad of that harmonic.
        harmonic: whole multiple of the working pole pairs. Only the slot table is used.
        """
        order = arguments.whole("harmonic", harmonic) * self.pole_pairs
        # a turn of full pitch has its go side a quarter wave ahead of its axis, hence the division by j
        star = np.exp(1j * order * self.slot_angles) @ self.conductors / 1j
        sides = np.array([2 * self.turns * sum(coil.phase == phase for coil in self.coils) for phase in PHASES])
        return star / np.maximum(sides, 1)

    def with_coil_reversed(self, coil: int) -> ConnectedCoils:
        """The same winding with start and finish of one coil (counted from 0) swapped."""
        coil = arguments.whole("coil", coil, least=0)
        if coil >= len(self.coils):
            raise ValueError(f"coil must be less than {len(self.coils)}, the number of coils, not {coil}")
        return self._with_coils(each._replace(sign=-each.sign) if number == coil else each for number, each in enumerate(self.coils))

    def without_phase(self, phase: str) -> ConnectedCoils:
        """The same winding with the coils of `phase` left out of circuit."""
        phase = _phase("phase", phase)
        return self._with_coils(each._replace(sign=0) if each.phase == phase else each for each in self.coils)

    def with_leads_exchanged(self, first: str, second: str) -> ConnectedCoils:
        """The same winding with the leads of two phases swapped, which reverses its field."""
        first, second = _phase("first", first), _phase("second", second)
        other = {first: second, second: first}
        return self._with_coils(each._replace(phase=other.get(each.phase, each.phase)) for each in self.coils)

    def _with_coils(self, coils: Iterable[Coil]) -> ConnectedCoils:
        return ConnectedCoils(
            slots=self.slots,
            coils=tuple(coils),
            turns=self.turns,
            layers=self.layers,
            paths=self.paths,
            first_slot_angle=self.first_slot_angle,
            poles=2 * self.pole_pairs,
        )

    @cached_property
    def _teeth_levels(self) -> np.ndarray:
        """MMF on the tooth clockwise of every slot, for 1 A in each phase: shape (slots, 3)."""
        levels = np.cumsum(self.conductors, axis=0) / self.paths
        return levels - levels.mean(axis=0)

    @cached_property
    def _working_wave_per_ampere(self) -> np.ndarray:
        return self._waves_per_ampere(self.pole_pairs)

    def _waves_per_ampere(self, pole_pairs: ArrayLike | None) -> np.ndarray:
        """Complex amplitude of the MMF's wave for 1 A in each phase, shape (*pole_pairs.shape, 3).

        Fourier coefficient of a curve with a step at each slot: A_m = sum a_s exp(j m angle_s) / (j pi m).
        """
        m = arguments.numbers("pole_pairs", self.pole_pairs if pole_pairs is None else pole_pairs)
        if np.any(m < 1) or np.any(m != np.floor(m)):
            raise ValueError("pole_pairs must be whole numbers of at least 1")
        m = m[..., np.newaxis]
        return np.exp(1j * m * self.slot_angles) @ self.conductors / (1j * np.pi * m * self.paths)


@dataclass(frozen=True)
class ConnectedCoils(CoilsInSlots):
    """Coils in slots in any arrangement. Attributes as in `CoilsInSlots`, and

    poles: of the fundamental; None takes the wave that balanced currents make strongest, so that the pole number is
    a result and not a label.
    """

    slots: int
    coils: tuple[Coil, ...]
    turns: int = 1
    layers: int = 2
    paths: int = 1
    first_slot_angle: float = 0.0
    poles: int | None = None

    def __post_init__(self) -> None:
        for name in ("slots", "turns", "layers", "paths"):
            object.__setattr__(self, name, arguments.whole(name, getattr(self, name)))
        if self.layers > 2:
            raise ValueError(f"layers must be 1 or 2, not {self.layers}")
        arguments.number("first_slot_angle", self.first_slot_angle)
        object.__setattr__(self, "coils", tuple(Coil(*coil) for coil in self.coils))
        for coil in self.coils:
            _phase("coils", coil.phase)
            if not {coil.go, coil.back} <= set(range(self.slots)) or coil.sign not in (-1, 0, 1):
                raise ValueError(f"coils must lie in slots 0 to {self.slots - 1} with sign -1, 0 or 1, not {coil}")
        poles = self._strongest_poles() if self.poles is None else arguments.poles("poles", self.poles)
        object.__setattr__(self, "poles", poles)

    @property
    def pole_pairs(self) -> int:
        """Pole pairs of the fundamental."""
        assert self.poles is not None  # found above
        return self.poles // 2

    def _strongest_poles(self) -> int:
        """Twice the pole pairs of the strongest wave. Above half the number of slots there are only the images of the
        waves below it, each smaller than its original."""
        orders = np.arange(1, self.slots // 2 + 1)
        strength = np.max(np.abs(self.travelling_waves(BALANCED, orders)), axis=0)
        if not np.any(strength > 1e-12 * self.turns):
            raise ValueError("coils must make a field with balanced currents, or poles must be given")
        return 2 * int(orders[np.argmax(strength)])


def _phase(name: str, value: object) -> str:
    if value not in PHASES:
        raise ValueError(f"{name} must be one of the phases U, V, W, not {value!r}")
    return value


def _phase_values(name: str, values: ArrayLike, check: Callable[[str, object], np.ndarray] = arguments.numbers) -> np.ndarray:
    """`values`, passed through `check`, with one value for each of the three phases along the last axis."""
    array = check(name, values)
    if array.shape[-1:] != (3,):
        raise ValueError(f"{name} must have three values, for U, V and W, along the last axis, not shape {array.shape}")
    return array
