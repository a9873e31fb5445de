"""Machines on paper: a coil with its commutator, an unrolled winding, a motor cut open along its shaft, a rotor in its field."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from visual.paper.paper import GREY, THICK, Drawing
from visual.paper.paper_setups import coil_sides, poles

BETWEEN, SIDE = 40.0, 14.5  # mm between the poles, and from the shaft to a side of the coil
COMMUTATOR, BRUSH = 6.0, 4.0  # mm, its radius, and a brush's length


def commutator(
    field, turned: float, currents, brushes: Mapping[str, int], words: str, letters=("N", "S"), clockwise: bool | None = None
) -> Drawing:
    """A coil between poles with its commutator, looking at the commutator end.

    field: (x, y), along the poles' axis; letters: of the poles, as in `poles`; turned: rad of side A from that axis; each segment
    stands a quarter turn counter-clockwise of the side that it is joined to, so that the brushes stand across the field. brushes:
    {name: polarity}, the first where side A's segment is for `turned` = 0, its sign + or -, 0 for none; clockwise: in which
    direction it is turned, if it is.
    """
    axis = np.asarray(field, float)
    angle = float(np.arctan2(axis[1], axis[0])) + turned
    side = SIDE * _at(angle)
    drawing = poles(axis, words, letters, 62 if axis[0] else 76, BETWEEN)
    for place, segment in ((side, angle + np.pi / 2), (-side, angle - np.pi / 2)):
        with drawing.group("segment"):
            drawing.line(place, COMMUTATOR * _at(segment - 1.3), width=0.5)
            drawing.line(*(COMMUTATOR * _at(each) for each in segment + np.linspace(-1.45, 1.45, 31)), width=1.6)
    coil_sides(drawing, (side, -side), currents)
    across = np.array([-axis[1], axis[0]])
    for outward, (name, polarity) in zip((across, -across), brushes.items(), strict=True):
        _brush(drawing, outward, name, polarity)
    if clockwise is not None:
        drawing.turning((0, 0), 27.0 if axis[0] else 33.5, clockwise)
    return drawing


def _brush(drawing: Drawing, outward, name: str, polarity: int) -> None:
    """A brush on the commutator with its lead outward, its name and its sign."""
    upright = bool(outward[1])
    middle = (COMMUTATOR + 0.8 + BRUSH / 2) * outward
    with drawing.group("brush"):
        drawing.block(middle, *((3.6, BRUSH) if upright else (BRUSH, 3.6)), GREY)
        drawing.line(middle + BRUSH / 2 * outward, middle + 6 * outward, width=0.5)
        drawing.letters(middle + 9.2 * outward, name, 3.8)
        if polarity:
            drawing.letters(middle + 9.2 * outward + ((5.6, 0) if upright else (0, 5.2)), "+" if polarity > 0 else "\N{MINUS SIGN}", 5.0)


def _at(angle: float) -> np.ndarray:
    return np.array([np.cos(angle), np.sin(angle)])


def unrolled(slots: int, coils, words: str, terminals: Mapping[int, str] | None = None) -> Drawing:
    """A winding unrolled: slots numbered from 1; coils as (letter, start, finish), slots from 1, the start marked by its letter;
    `terminals`: letters below their slots."""
    drawing = Drawing(68 if slots <= 12 else 92, 44, words)
    pitch = (drawing.width - 6) / slots
    across = {slot: (slot - (slots + 1) / 2) * pitch for slot in range(1, slots + 1)}
    for slot, x in across.items():
        drawing.line((x, -9), (x, 9), width=0.2)
        if slots <= 12 or slot % 2:
            drawing.letters((x, -17.5), str(slot), 2.6, bold=False)
    for letter, start, finish in coils:
        with drawing.group(f"coil {letter}"):
            _coil(drawing, across, start, finish, letter)
    for slot, name in (terminals or {}).items():
        drawing.letters((across[slot], 13.0), name, 3.0)
    return drawing


def _coil(drawing: Drawing, across: Mapping[int, float], start: int, finish: int, letter: str) -> None:
    """A coil: up its start's slot, down its finish's, by the shorter way round; beyond the edge it goes on at the other."""
    slots = len(across)
    pitch = across[2] - across[1]
    span = (finish - start) % slots
    span = span if span <= slots / 2 else span - slots
    for from_, way in ((across[start], span), (across[finish], -span)):
        to = from_ + way * pitch / 2
        drawing.line((to, 13.5), (from_, 9), (from_, -9), (to, -13.5), width=0.6)
    drawing.head((across[start], 2), (0, 1))
    drawing.head((across[finish], -2), (0, -1))
    drawing.letters((across[start] - 1.9, -11.5), letter, 3.0)


PARTS = {
    # key: outlines (x, y) of half a cage motor above its shaft's middle line, mm; the drive end to the right
    "shaft": ((-27, 0, 32, 2.4),),
    "bearings": ((-19.5, 2.6, -16.5, 6.0), (16.5, 2.6, 19.5, 6.0)),
    "rotor-core": ((-9, 2.6, 9, 10.0),),
    "end-rings": ((-11.4, 6.0, -9.2, 10.0), (9.2, 6.0, 11.4, 10.0)),
    "stator-core": ((-9, 11.2, 9, 18.0),),
    "stator-winding": ((-14, 11.6, -9.2, 16.6), (9.2, 11.6, 14, 16.6)),
    "end-shields": ((-19.5, 6.2, -16.5, 20.0), (16.5, 6.2, 19.5, 20.0)),
    "frame": ((-16.3, 18.2, 16.3, 20.6),),
    "fan": ((-25.4, 2.6, -23, 16.0),),
    "cowl": ((-28.6, 2.8, -27.6, 20.6), (-27.6, 19.6, -19.7, 20.6)),
}
DOWN = 12.0  # mm, the shaft's middle line below the drawing's
SHARE = {"cowl": 0.3, "frame": 0.25, "stator-core": 0.4, "rotor-core": 0.6, "shaft": 0.95}  # of a part's length, where its letter points
LIGHT = {"rotor-core": GREY, "stator-core": GREY, "shaft": "#eee"}


def cut_motor(letters: Mapping[str, str], words: str) -> Drawing:
    """The upper half of a cage motor cut along its shaft, drive end to the right; `letters`: {letter: part} from left to right, each
    above the drawing with a line that ends on its part."""
    drawing = Drawing(78, 50, words)
    for part, outlines in PARTS.items():
        for left, low, right, high in outlines:
            drawing.block(((left + right) / 2, (low + high) / 2 - DOWN), right - left, high - low, LIGHT.get(part, "#fff"))
    drawing.line((-32, -DOWN), (36, -DOWN), width=0.15, dashes="4 1 1 1")
    for place, (letter, part) in enumerate(letters.items()):
        end = pointed_at(part)
        foot = np.array([-30 + 60 * place / max(1, len(letters) - 1), 17.0])
        with drawing.group("pointer"):
            drawing.line(foot, end, width=0.25)
            drawing.circle(end, 0.8, fill="#000")
            drawing.letters(foot + (0, 3), letter, 4.2)
    return drawing


def pointed_at(part: str) -> np.ndarray:
    """The place in the drawing of `cut_motor`, mm, on which the line from a part's letter ends."""
    left, low, right, high = PARTS[part][-1]
    return np.array([left + SHARE.get(part, 0.5) * (right - left), (low + high) / 2 - DOWN])


def in_step(field_angle: float, rotor_angle: float, clockwise: bool, words: str) -> Drawing:
    """A two-pole rotor turning in step with its field, looking at the drive end: the field's axis B_t, the rotor's N pole."""
    drawing = Drawing(60, 62, words)
    drawing.circle((0, 0), 20.0, width=THICK)
    along, across = _at(rotor_angle), _at(rotor_angle + np.pi / 2)
    drawing.line(*(x * 13 * along + y * 4.2 * across for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1))), closed=True, fill=GREY)
    drawing.line((0, 0), 20 * along, width=0.25, dashes="1.6 1.2")
    for sign, letter in ((1, "N"), (-1, "S")):
        drawing.letters(sign * 9.5 * along, letter, 4.6)
    drawing.arrow((0, 0), 19.6 * _at(field_angle), width=0.5)
    drawing.circle((0, 0), 1.6, fill="#fff")
    drawing.letters(23.4 * _at(field_angle), "B", 4.2)
    drawing.turning((0, 0), 27.5, clockwise)
    return drawing
