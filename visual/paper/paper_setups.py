"""Set-ups as drawn on paper: poles with a conductor, wires with compasses, a coil, a stator end-on."""

from __future__ import annotations

import numpy as np

from visual.paper.paper import GREY, THICK, Drawing

GAP = 22.0  # mm between the poles
POLE = (9.0, 20.0)  # mm, along the field and across it


def poles(field, words: str, letters: tuple[str, str] = ("N", "S"), height: float | None = None, gap: float = GAP) -> Drawing:
    """Two poles facing each other; `letters` for the one the field (x, y) comes from and the one it goes to."""
    along = np.asarray(field, float)
    drawing = Drawing(60, height or (34 if along[0] else 44), words)
    width, height = POLE if along[0] else POLE[::-1]
    for end, letter in zip((-1, 1), letters, strict=False):
        centre = end * (gap + POLE[0]) / 2 * along
        drawing.block(centre, width, height, GREY if letter == "N" else "#fff")
        drawing.letters(centre, letter, 5.0)
    return drawing


def needles(current: float, places, directions, words: str) -> Drawing:
    """A wire end-on with compasses at (x, y) `places`, lettered from A; `directions` of the needles, if shown."""
    drawing = Drawing(60, 50, words)
    drawing.conductor((0, 0), current, 4.0)
    for letter, place, direction in zip("ABCDEF", places, directions, strict=False):
        place = np.asarray(place)
        drawing.circle(place, 4.4, fill="#fff")
        drawing.letters(place * (1 + 7.2 / np.linalg.norm(place)), letter)
        drawing.circle(place, 0.5, fill="#000")
        drawing.arrow(place - 3.6 * np.asarray(direction), place + 3.6 * np.asarray(direction), width=0.5)
    return drawing


def two_wires(currents, forces, words: str) -> Drawing:
    """Two parallel wires end-on, and the directions (x, y) of the forces on them, if shown."""
    drawing = Drawing(60, 26, words)
    for place, letter, current, force in zip(((-11, 0), (11, 0)), "AB", currents, forces, strict=False):
        drawing.conductor(place, current, 4.0)
        drawing.letters(np.add(place, (0, 8)), letter)
        drawing.arrow(np.add(place, 4.4 * np.asarray(force)), np.add(place, 9.5 * np.asarray(force)))
    return drawing


def coil(field, sides, currents, words: str, height: float | None = None) -> Drawing:
    """A coil between poles, looking along its shaft: its two sides at (x, y), with their currents."""
    drawing = poles(field, words, height=height)
    first, second = np.asarray(sides)
    drawing.line(first, second, width=1.2)
    drawing.circle((0, 0), 1.3, fill="#fff")
    coil_sides(drawing, (first, second), currents)
    return drawing


def coil_sides(drawing: Drawing, sides, currents) -> None:
    """The two sides of a coil end-on, A and B."""
    for place, letter, current in zip(sides, "AB", currents, strict=False):
        drawing.conductor(place, current, 2.9)
        aside = np.array([-place[1], place[0]]) / np.linalg.norm(place)
        drawing.letters(place + 4.8 * aside * np.sign(aside[1] or aside[0]), letter, 3.4)


def in_space(arrows, words: str) -> Drawing:
    """Arrows (letter, x, y, z) from one point in a box in oblique projection, toward the viewer being to the lower left."""
    drawing = Drawing(60, 43, words)
    half = 8.0
    corners = {(x, y, z): oblique((x * half, y * half, z * half)) for x in (-1, 1) for y in (-1, 1) for z in (-1, 1)}
    for corner, place in corners.items():
        for axis in range(3):
            x, y, z = (-value if n == axis else value for n, value in enumerate(corner))
            other = (x, y, z)
            if corner < other:
                drawing.line(place, corners[other], width=0.15, dashes="1.6 1.2" if (-1, -1, -1) in (corner, other) else "")
    for letter, *vector in arrows:
        drawing.arrow((0, 0), oblique(np.asarray(vector) * 15.0), letter)
    drawing.circle((0, 0), 0.8, fill="#000")
    return drawing


def oblique(vector) -> np.ndarray:
    """A vector (x, y, z) projected on to the paper, (x, y)."""
    x, y, z = vector
    return np.array([x - 0.55 * z, y - 0.42 * z])


def stator(slot_angles, groups, currents, field_axis: float | None, words: str) -> Drawing:
    """A stator, looking at the drive end: slots at their angles, each with the name of its phase group and its current;
    and the direction of the field across the bore, radians, if shown."""
    drawing = Drawing(64, 64, words)
    drawing.circle((0, 0), 30.5, fill=GREY)
    drawing.circle((0, 0), 17.0, fill="#fff")
    for angle, group, current in zip(slot_angles, groups, currents, strict=False):
        outward = np.array([np.cos(angle), np.sin(angle)])
        drawing.conductor(19.6 * outward, current, 2.5)
        drawing.letters(26.4 * outward, group, 3.2)
    if field_axis is not None:
        along = np.array([np.cos(field_axis), np.sin(field_axis)])
        drawing.arrow(-12 * along, 12 * along)
        drawing.letters(4.2 * np.array([-along[1], along[0]]), "B")
    return drawing


def terminals(lines, open_line: str | None, words: str) -> Drawing:
    """Lines L1, L2, L3 above, terminals U1, V1, W1 below; `lines` names the line at each terminal; one may be open."""
    drawing = Drawing(60, 40, words)
    above = {line: np.array([x, 14.0]) for line, x in zip(("L1", "L2", "L3"), (-18, 0, 18), strict=False)}
    drawing.block((0, -13.5), 52, 11)
    for terminal, x, line in zip(("U1", "V1", "W1"), (-18, 0, 18), lines, strict=False):
        top, bottom = above[line], np.array([x, -8.0])
        if line == open_line:
            drawing.line(top, top + 0.3 * (bottom - top), width=THICK)
            drawing.line(top + 0.5 * (bottom - top) + np.array([2.5, 0]), bottom, width=THICK)
        else:
            drawing.line(top, bottom, width=THICK)
        drawing.circle(bottom, 1.3, fill="#fff")
        drawing.letters((x, -13.5), terminal)
    for line, place in above.items():
        drawing.circle(place, 1.0, fill="#000")
        drawing.letters(place + np.array([0, 3.8]), line)
    return drawing


def bar_under_a_pole(letter: str, pole_motion: float, bar_motion: float, current: float | None, force: float, words: str) -> Drawing:
    """A pole moving over a rotor bar: which pole, how it and the bar move to the right (+) or left (-), the current in the
    bar (None: not shown) and the force on it."""
    drawing = Drawing(60, 51, words)
    drawing.block((0, 13), 26, 11, GREY if letter == "N" else "#fff")
    drawing.letters((0, 13), letter, 5.0)
    drawing.arrow((0, 22.5), (11 * pole_motion, 22.5), "n_s" if pole_motion else "")
    drawing.line((-27, -1.5), (27, -1.5), width=0.2)
    drawing.conductor((0, -5.5), current or 0.0, 3.2)
    drawing.arrow((4.4 * force, -5.5), (13 * force, -5.5), "F")
    drawing.arrow((0, -14), (11 * bar_motion, -14), "n" if bar_motion else "")
    return drawing


def in_uniform_field(field: float, along, moving, letter: str, ends: str, words: str) -> Drawing:
    """A straight conductor along (x, y), across a uniform field at right angles to the paper; letters at its `ends`, if
    any; an arrow with `letter` along `moving` (x, y), beside the conductor if parallel to it."""
    drawing = Drawing(60, 42, words)
    for x in (-14, -6.5, 6.5, 14):
        for y in (-14, -6.5, 6.5, 14):
            drawing.conductor((x, y), field, 1.1)
    along, moving = np.asarray(along, float), np.asarray(moving, float)
    across = np.array([-along[1], along[0]])
    drawing.line(-16 * along, 16 * along, width=1.8)
    for end, name in zip((-1, 1), ends, strict=False):
        drawing.letters(end * 18.6 * along, name)
    start = 2.8 * across - 5 * moving if moving @ along else 1.2 * moving
    drawing.arrow(start, start + 10 * moving, letter)
    return drawing


def plate(rows, words: str) -> Drawing:
    """A nameplate: rows of (quantity, value)."""
    drawing = Drawing(60, 9 + 6 * len(rows), words)
    top = drawing.height / 2
    drawing.block((0, 0), 58, drawing.height - 2)
    for x in (-26.5, 26.5):
        drawing.circle((x, 0), 0.9)
    for place, (what, value) in enumerate(rows):
        y = top - 7.5 - 6 * place
        drawing.letters((-12.5, y), what, 3.6, bold=False)
        drawing.letters((12.5, y), value, 4.0)
    return drawing
