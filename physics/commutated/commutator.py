"""The connection to the armature: a commutator with two brushes, or two slip rings.

Both say which share of each brush lies on which end of the winding at a rotor angle; the circuit that follows from
it is solved in `armature_network`. Angles are in radians, counter-clockwise seen from +z.

The closed winding, from three coils up. Coil k begins at segment k and ends at segment k + 1, and the last one ends at
segment 0: as many segments as coils, and every segment joins the end of one coil to the beginning of the next. For
three coils that is a delta. Three coils can also be joined in star, one end each; then the coil whose segment no brush
touches idles, a bad contact opens the circuit, and more than three coils gain nothing. The closed winding keeps every
coil at work except the one under a brush, works for any number and is what machines of many segments use, so it is the
one that is modelled.

The open winding, of one or two coils. A single coil cannot close on itself, and two that did would lie in one place:
each has two segments of its own, opposite each other. Two coils at right angles have four segments; the brushes stand
on one coil at a time, the one that faces the poles, and on both while they change over.

Where things sit. At rotor angle 0 the first side of coil k of a closed winding lies at 2 pi k / coils, of an open one at
pi k / coils. In a closed winding the insulation between segments k and k + 1 follows that side by the angle `lead`, so a
coil commutates when the insulation between its two segments passes under a brush; in an open one the middle of segment k
lies a quarter turn before that insulation's place. The brushes stand so that coils change over in the neutral axis: with
`lead` 0 they are in the neutral axis themselves; with `lead` pi/2 each segment lies midway between the two coil sides that
are joined to it, or beside the one, as leads of equal length make it, and the brushes stand opposite the pole centres. It
is the same machine electrically. The commutator is at the machine's non-drive end (-z), where the coils begin and end.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import radians

import numpy as np
from numpy.typing import ArrayLike

from physics.arguments import not_negative, number, numbers, positive, whole

BRUSHES = 2
FULL_TURN = 2.0 * np.pi


def is_open(coils: int) -> bool:
    """Whether so many coils make an open winding, each with two segments of its own; one that closes on itself has more."""
    return whole("coils", coils) < 3


def winding_ends(coils: int) -> int:
    """Number of points where coils are joined and brought out, which is the number of commutator segments."""
    return 2 * coils if is_open(coils) else coils


@dataclass(frozen=True)
class Commutator:
    """A commutator of equal segments under two brushes half a turn apart.

    Brush 0 is the positive one: it stands a quarter turn before the field's axis (plus `lead` and `brush_shift`).
    With the positive pole of a battery on it and a positive field the torque is counter-clockwise.

    brush_width         rad of the circumference that a brush covers, more than 0 and less than pi
    insulation          rad between neighbouring segments. A brush wider than this bridges two segments at every
                        change-over, which short-circuits the coil between them (and with two segments only, the
                        supply as well); a brush narrower than this loses contact instead
    contact_resistance  ohm between a brush and the copper when the whole brush lies on it; part of a brush conducts
                        in proportion. Real carbon keeps a nearly constant drop of about a volt instead: choose the
                        resistance for the current of interest
    lead                rad from a coil's first side to the insulation between its two segments
    brush_shift         rad by which both brushes are moved out of the neutral position, counter-clockwise positive

    Raises `ValueError` naming the argument that is out of range.
    """

    brush_width: float = radians(20)
    insulation: float = radians(4)
    contact_resistance: float = 0.05
    lead: float = 0.0
    brush_shift: float = 0.0

    def __post_init__(self) -> None:
        checks = {
            "brush_width": positive,
            "insulation": not_negative,
            "contact_resistance": positive,
            "lead": number,
            "brush_shift": number,
        }
        for name, check in checks.items():
            object.__setattr__(self, name, check(name, getattr(self, name)))
        if self.brush_width >= np.pi:
            raise ValueError(f"brush_width must be less than pi radians, not {self.brush_width:g}")

    def segment_arc(self, coils: int) -> float:
        """Arc of copper in one segment, rad; `ValueError` if the insulation leaves none."""
        pitch = FULL_TURN / winding_ends(coils)
        if self.insulation >= pitch:
            raise ValueError(
                f"insulation must be less than the {pitch:.4g} rad that one of {winding_ends(coils)} segments has, not {self.insulation:g}"
            )
        return pitch - self.insulation

    def segment_centres(self, angle: ArrayLike, coils: int) -> np.ndarray:
        """Angle of the middle of each segment, rad, at rotor `angle`, rad, of any shape: angle.shape + (segments,)."""
        segments = winding_ends(coils)
        first = -np.pi / 2 if is_open(coils) else -np.pi / segments
        at_zero = self.lead + first + FULL_TURN * np.arange(segments) / segments
        return numbers("angle", angle)[..., np.newaxis] + at_zero

    def segment_edges(self, angle: ArrayLike, coils: int) -> np.ndarray:
        """Angles at which the copper of each segment begins and ends, rad: angle.shape + (segments, 2)."""
        half = self.segment_arc(coils) / 2
        return self.segment_centres(angle, coils)[..., np.newaxis] + np.array([-half, half])

    def brush_centres(self, field_axis: float) -> np.ndarray:
        """Angles of the middles of the positive and the negative brush, rad, shape (2,), for a field along `field_axis`, rad."""
        first = number("field_axis", field_axis) - np.pi / 2 + self.lead + self.brush_shift
        return np.array([first, first + np.pi])

    def brush_edges(self, field_axis: float) -> np.ndarray:
        """Angles at which each brush begins and ends, rad, shape (2, 2)."""
        half = self.brush_width / 2
        return self.brush_centres(field_axis)[:, np.newaxis] + np.array([-half, half])

    @property
    def commutation_arc(self) -> float:
        """Angle through which the rotor turns while a brush bridges the same two segments, rad; 0 if it cannot."""
        return max(self.brush_width - self.insulation, 0.0)

    def contact_shares(self, angle: ArrayLike, coils: int, field_axis: float) -> np.ndarray:
        """Share of each brush that lies on each segment, 0 to 1: angle.shape + (2, segments)."""
        half_brush = self.brush_width / 2
        half_segment = self.segment_arc(coils) / 2
        away = _brushes_from_segments(self, coils, field_axis) - numbers("angle", angle)[..., np.newaxis, np.newaxis]
        away -= FULL_TURN * np.rint(away / FULL_TURN)
        overlap = np.minimum(away + half_brush, half_segment) - np.maximum(away - half_brush, -half_segment)
        return np.maximum(overlap, 0.0) / self.brush_width


@lru_cache(maxsize=64)
def _brushes_from_segments(commutator: Commutator, coils: int, field_axis: float) -> np.ndarray:
    """rad from the middle of each segment to the middle of each brush, at rotor angle 0: (2, segments)."""
    away = commutator.brush_centres(field_axis)[:, np.newaxis] - commutator.segment_centres(0.0, coils)
    away.setflags(write=False)
    return away


@dataclass(frozen=True)
class SlipRings:
    """Two rings, one at each end of the first coil, each under its own brush: the alternating EMF of that coil.

    Of a closed winding the other coils stay in series with each other and in parallel with the first; of an open one the
    second coil is joined to nothing.

    contact_resistance  ohm between a brush and its ring
    """

    contact_resistance: float = 0.05

    def __post_init__(self) -> None:
        resistance = positive("contact_resistance", self.contact_resistance)
        object.__setattr__(self, "contact_resistance", resistance)

    def segment_arc(self, coils: int) -> float:
        """Arc of copper in one ring, rad: the whole turn, whatever the winding."""
        whole("coils", coils)
        return FULL_TURN

    def contact_shares(self, angle: ArrayLike, coils: int, field_axis: float) -> np.ndarray:
        """Share of each brush that lies on each end of the winding: angle.shape + (2, ends), at every angle alike."""
        shares = np.zeros((BRUSHES, winding_ends(coils)))
        shares[[0, 1], [0, coils if is_open(coils) else 1]] = 1.0
        return np.broadcast_to(shares, numbers("angle", angle).shape + shares.shape)
