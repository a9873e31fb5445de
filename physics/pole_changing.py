"""Pole-changing windings: one tapped winding for two speeds 2:1, two of them in the same slots for four speeds.

The tapped winding (consequent poles, Dahlander's connection) has coils of a full pitch at the higher number of poles,
half a pitch at the lower, and each phase in two halves with a tap between them. Here it is connected in **series star /
parallel star (Y/YY)**, the connection for a load whose torque rises with speed, such as a fan; delta / parallel star
(D/YY), for the same torque at both speeds, is not computed.

- **More poles, low speed.** Supplied at the ends, the taps open: the halves are in series and all coils of a phase act
  alike. Every coil makes a pole of the same sign; the poles between them (consequent poles) have the other sign.
- **Fewer poles, high speed.** Supplied at the taps, the ends joined to a second star point: the halves are in parallel,
  and the current in one of them is reversed. Its coils now make the poles of the other sign, and there
  are half as many.

A step of an electrical angle at the lower number of poles is twice that at the higher one, so a phase that lies 120
degrees behind another there lies 240 behind it here, which is 120 ahead: supplied alike, **the field of the same
coils rotates in opposite directions at the two speeds**. IEC 60034-8 demands that at each speed the letters in alphabetical order on L1,
L2, L3 turn the shaft clockwise looking at the drive end (memory of the standard's rule). So the marking takes up the
shift, and no leads are swapped: the phase with the end 1V has the tap 2W, and the one with the end 1W the tap 2V
(`TappedWinding.ends_and_taps`). The figure before the letter rises with the speed.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from physics import arguments
from physics.arguments import NumberOrArray
from physics.speeds import synchronous_speed
from physics.windings.coils_in_slots import BALANCED, PHASES, Coil, ConnectedCoils
from physics.windings.winding import BELTS

END_OF_TAP = ("U", "W", "V")
"""The letter of a phase's end, in the order of the letters U, V, W of its tap."""


@dataclass(frozen=True)
class PoleConnection:
    """One connection of a pole-changing winding to its lines.

    supplied: the terminals on L1, L2, L3, in this order; joined: terminals linked together to make a star point; left_open:
    terminals to which nothing is joined; coils: the winding as it is then connected, where U, V, W are the coils on L1,
    L2, L3, with the sign of each coil. The number of poles is the one that `coils` finds in its own MMF.
    """

    supplied: tuple[str, str, str]
    joined: tuple[str, ...]
    coils: ConnectedCoils
    left_open: tuple[str, ...] = ()

    @property
    def poles(self) -> int:
        """Poles of the strongest wave of the MMF."""
        return 2 * self.coils.pole_pairs

    def synchronous_speed(self, frequency: float = 50.0) -> NumberOrArray:
        """Speed of that wave on `frequency` Hz, rev/s."""
        return synchronous_speed(frequency, self.poles)

    @property
    def turns_clockwise(self) -> bool:
        """Whether that wave turns clockwise looking at the drive end, with the phases in the order L1, L2, L3."""
        clockwise, counter_clockwise = np.abs(self.coils.travelling_waves(BALANCED))
        return bool(clockwise > counter_clockwise)

    def with_leads_exchanged(self, first: str, second: str) -> PoleConnection:
        """The same connection with the leads of two of U, V, W swapped: the rotation reverses."""
        coils = self.coils.with_leads_exchanged(first, second)
        supplied = list(self.supplied)
        one, other = PHASES.index(first), PHASES.index(second)
        supplied[one], supplied[other] = supplied[other], supplied[one]
        return replace(self, supplied=(supplied[0], supplied[1], supplied[2]), coils=coils)


@dataclass(frozen=True)
class TappedWinding:
    """One tapped double-layer winding in star, for `poles` and twice as many.

    slots: a multiple of 6 x poles; poles: the lower of its two numbers; turns: of one coil; slow_terminals,
    fast_terminals: the figures before U, V, W for either speed; first_slot_angle: mechanical rad of slot 0, as it lies
    in the core (None: so that the axis of U is at 0). Both connections have the same coils in the same slots.
    """

    slots: int
    poles: int
    turns: int = 1
    slow_terminals: int = 1
    fast_terminals: int = 2
    first_slot_angle: float | None = None

    def __post_init__(self) -> None:
        poles = arguments.poles("poles", self.poles)
        if arguments.whole("slots", self.slots) % (6 * poles):
            raise ValueError(f"slots must be a multiple of {6 * poles} (6 x {poles} poles), not {self.slots}")
        arguments.whole("turns", self.turns)
        slow = arguments.whole("slow_terminals", self.slow_terminals)
        if arguments.whole("fast_terminals", self.fast_terminals) <= slow:
            raise ValueError(f"fast_terminals must be above slow_terminals, {slow}, not {self.fast_terminals}")
        if self.first_slot_angle is not None:
            arguments.number("first_slot_angle", self.first_slot_angle)

    @property
    def coil_pitch(self) -> int:
        """In slots: full pitch at the higher number of poles."""
        return self.slots // (2 * self.poles)

    @cached_property
    def ends_and_taps(self) -> tuple[tuple[str, str], ...]:
        """The two terminals of each phase, its end and its tap: marked so that each speed turns clockwise."""
        ends, taps = self._terminals(self.slow_terminals), self._terminals(self.fast_terminals)
        return tuple((ends[PHASES.index(phase)], taps[place]) for place, phase in enumerate(END_OF_TAP))

    @cached_property
    def slow(self) -> PoleConnection:
        """Halves in series, the more poles: the ends on L1, L2, L3, the taps open."""
        ends, taps = self._terminals(self.slow_terminals), self._terminals(self.fast_terminals)
        by_tap = self._coils(halves_alike=1, paths=1)
        # the coils are laid by their taps; on L1, L2, L3 are now the ends of the same letters
        return PoleConnection(ends, (), by_tap.with_leads_exchanged("V", "W"), taps)

    @cached_property
    def fast(self) -> PoleConnection:
        """Halves in parallel (double star), the fewer poles: the taps on L1, L2, L3, the ends joined."""
        ends, taps = self._terminals(self.slow_terminals), self._terminals(self.fast_terminals)
        return PoleConnection(taps, ends, self._coils(halves_alike=-1, paths=2))

    @property
    def speeds(self) -> tuple[PoleConnection, PoleConnection]:
        """The low-speed and the high-speed connection; both turn clockwise."""
        return self.slow, self.fast

    def _terminals(self, figure: int) -> tuple[str, str, str]:
        u, v, w = PHASES
        return f"{figure}{u}", f"{figure}{v}", f"{figure}{w}"

    def _coils(self, halves_alike: int, paths: int) -> ConnectedCoils:
        """The coils, U, V, W being those with the taps of these letters, their second half, that of the - belts, acting
        alike (+1) or the other way round (-1)."""
        belt = self.slots // (3 * self.poles)
        coils = []
        for slot in range(self.slots):
            phase, sign = BELTS[slot // belt % 6]
            coils.append(Coil(phase, slot, (slot + self.coil_pitch) % self.slots, 1 if sign > 0 else halves_alike))
        # the middle of the first belt's coils is the axis of U
        angle = np.pi * (self.coil_pitch + belt - 1) / self.slots
        if self.first_slot_angle is not None:
            angle = self.first_slot_angle
        return ConnectedCoils(self.slots, tuple(coils), self.turns, paths=paths, first_slot_angle=float(angle))


@dataclass(frozen=True)
class FourSpeedWinding:
    """Two tapped windings in the same slots, only one of them on the lines at a time: four fixed speeds.

    slots: a multiple of 6 x either number; poles: the lower number of poles of each winding, different and neither
    twice the other; turns: of one coil of each. The axis of U is at 0 for the first winding; that of the second lies
    where the same slots put it.
    """

    slots: int
    poles: tuple[int, int]
    turns: tuple[int, int] = (1, 1)

    def __post_init__(self) -> None:
        poles = [arguments.poles("poles", each) for each in self.poles]
        if len(poles) != 2 or len({*poles, *(2 * each for each in poles)}) != 4:
            raise ValueError(f"poles must be two numbers, different and neither twice the other, not {self.poles!r}")
        if len(self.turns) != 2:
            raise ValueError(f"turns must be two numbers, one for each winding, not {self.turns!r}")
        self.windings  # noqa: B018 - refuses slots that do not fit

    @cached_property
    def windings(self) -> tuple[TappedWinding, TappedWinding]:
        """The two windings, their terminals numbered by speed: 1U, 1V, 1W are the slowest."""
        slowest_first = sorted([*self.poles, *(2 * each for each in self.poles)], reverse=True)
        first, second = (
            TappedWinding(self.slots, poles, turns, 1 + slowest_first.index(2 * poles), 1 + slowest_first.index(poles))
            for poles, turns in zip(self.poles, self.turns, strict=True)
        )
        return first, replace(second, first_slot_angle=first.fast.coils.first_slot_angle)

    @cached_property
    def speeds(self) -> tuple[PoleConnection, ...]:
        """The four connections, slowest first, all turning the same way."""
        connections = [connection for winding in self.windings for connection in winding.speeds]
        return tuple(sorted(connections, key=lambda connection: -connection.poles))
