"""Flux lines of one turning wave in an empty bore, and how they close through the yoke behind the slots.

A wave of p pole pairs in the bore of a machine whose iron carries flux without MMF: the flux function is
(r / R)^p sin(p theta) in the bore of radius R, and in the yoke, from its inner radius R1 to its outer R2, where no flux
leaves it, sin(p theta) ((R2 / r)^p - (r / R2)^p) / ((R2 / R1)^p - (R1 / R2)^p). Both solve Laplace's equation; between
them the teeth carry the flux straight outward. Lines of equal steps of the flux function have equal flux between them.

Angles are mechanical radians, counter-clockwise; a peak of the wave, where most flux goes outward, lies at 0.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from physics import arguments
from physics.arguments import NumberOrArray
from physics.constants import VACUUM_PERMEABILITY


@dataclass(frozen=True)
class WaveLines:
    """Flux lines with equal flux between neighbours, the innermost of each pole last; each an array (points, 2), metres.

    `bore` runs in the direction of the flux from the bore's wall to the wall; `yoke` from where the line goes into the
    yoke to where it leaves it. Line k of `bore` goes on as line k of `yoke`. `levels` says which share of the
    flux of half a pole passes between the pole's middle and each line.
    """

    bore: list[np.ndarray]
    yoke: list[np.ndarray]
    levels: np.ndarray


def field_at_the_wall(mmf_amplitude: ArrayLike, pole_pairs: int, bore_radius: float) -> NumberOrArray:
    """Peak flux density, T, at the wall of an empty bore in which the winding makes an MMF wave of that amplitude, A.

    mu0 p Theta / R: iron that takes no MMF has along its wall a tangential field equal to the current sheet, whose amplitude
    is p Theta / R; of a potential that goes as r^p cos(p theta) the radial field at the wall has the same amplitude. With two
    poles the field is the same all over the bore. Arrays too.
    """
    p = arguments.whole("pole_pairs", pole_pairs)
    return VACUUM_PERMEABILITY * p * arguments.numbers("mmf_amplitude", mmf_amplitude) / arguments.positive("bore_radius", bore_radius)


def wave_lines(pole_pairs: int, bore_radius: float, yoke_inner: float, yoke_outer: float, count: int, points: int = 17) -> WaveLines:
    """`count` lines for each half of every pole of a wave of `pole_pairs` pole pairs.

    Radii in metres, rising; points on each piece of a line. `ValueError` names what does not fit.
    """
    p = arguments.whole("pole_pairs", pole_pairs)
    count, points = arguments.whole("count", count), arguments.whole("points", points, least=2)
    bore_radius = arguments.positive("bore_radius", bore_radius)
    yoke_inner, yoke_outer = arguments.positive("yoke_inner", yoke_inner), arguments.positive("yoke_outer", yoke_outer)
    if not bore_radius <= yoke_inner < yoke_outer:
        raise ValueError("bore_radius, yoke_inner and yoke_outer must rise: the yoke lies outside the bore")
    levels = (np.arange(count) + 0.5) / count
    bore, yoke, shares = [], [], []
    for half_wave in range(2 * p):
        # the flux function is positive from each peak on for half a wave, then negative: lines go round it both ways
        turn = half_wave * np.pi / p
        for level in levels:
            edge = np.arcsin(level) / p
            angles = np.linspace(np.pi / p - edge, edge, points)
            share = np.minimum(level / np.sin(p * angles), 1.0)
            inside = _polar(bore_radius * share ** (1 / p), angles + turn)
            outside = _polar(_yoke_radius(share, p, yoke_inner, yoke_outer), angles + turn)[::-1]
            forward = half_wave % 2 == 0
            bore.append(inside if forward else inside[::-1])
            yoke.append(outside if forward else outside[::-1])
            shares.append(level)
    return WaveLines(bore, yoke, np.array(shares))


def _yoke_radius(share: np.ndarray, p: int, inner: float, outer: float) -> np.ndarray:
    """Where the yoke's part of the flux function has fallen to `share` of what it is at the inner radius."""
    whole = (outer / inner) ** p - (inner / outer) ** p
    # 1 / u - u = share x whole with u = (r / R2)^p
    u = (np.sqrt((share * whole) ** 2 + 4) - share * whole) / 2
    return outer * u ** (1 / p)


def _polar(radius: np.ndarray, angle: np.ndarray) -> np.ndarray:
    return np.column_stack([radius * np.cos(angle), radius * np.sin(angle)])
