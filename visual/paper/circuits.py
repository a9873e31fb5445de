"""Circuits on paper: the six studs of a terminal board, windings in star and in delta, a single-phase motor's two windings."""

from __future__ import annotations

from collections.abc import Collection, Mapping

import numpy as np

from visual.paper.paper import THICK, Drawing

# W2 U2 V2 above U1 V1 W1, so that upright links make a delta (common practice; letters by IEC 60034-8)
STUDS = {
    stud: np.array([15.0 * column, 8.0 - 16.0 * row])
    for row, studs in enumerate((("W2", "U2", "V2"), ("U1", "V1", "W1")))
    for column, stud in zip((-1, 0, 1), studs, strict=True)
}
BENT = 6.0  # mm that a link to a stud which is not its neighbour goes aside
COIL = 2.1  # mm, radius of a winding's turns


def board(links: Collection[tuple[str, str]], leads: Mapping[str, str], words: str, meter: tuple[str, str] | None = None) -> Drawing:
    """A terminal board: `links` between two studs, `leads` as {line: stud}, and an ohmmeter on two studs."""
    drawing = Drawing(64, 52 if leads else 46, words)
    down = 3.0 if leads else 4.0 if meter else 0.0
    places = {stud: place + (0, down) for stud, place in STUDS.items()}
    drawing.block((0, down), 54, 31)
    for first, second in links:
        with drawing.group("link"):
            drawing.line(*_way(places[first], places[second]), width=2.2)
    for stud, place in places.items():
        drawing.circle(place, 2.2, fill="#fff", width=0.5)
        drawing.letters(place + (5.2, 3.6 if place[1] > down else -3.6), stud, 3.4)
    for line, stud in leads.items():
        _lead(drawing, places[stud], line, down)
    if meter:
        _meter(drawing, [places[stud] for stud in meter], down)
    return drawing


def _way(start, end) -> list[np.ndarray]:
    """From stud to stud: straight to a neighbour, aside past one in between."""
    if np.linalg.norm(end - start) < 25 or start[0] != end[0] and start[1] != end[1]:
        return [start, end]
    aside = np.array([0, BENT * np.sign(start[1])])
    return [start, start + aside, end + aside, end]


def _lead(drawing: Drawing, place, line: str, down: float) -> None:
    """A lead from below to its stud; to one of the upper row beside the studs of the lower one."""
    foot = np.array([place[0], down - 20.5])
    with drawing.group("lead"):
        if place[1] > down:
            drawing.line(foot - (4.6, 0), np.array([place[0] - 4.6, place[1]]), place - (2.2, 0), width=THICK)
        else:
            drawing.line(foot, place - (0, 2.2), width=THICK)
        drawing.letters(foot - (4.6 if place[1] > down else 0, 3.2), line, 3.8)


def _meter(drawing: Drawing, studs, down: float) -> None:
    """An ohmmeter below the board with a lead to each of two studs."""
    middle = np.array([0.0, down - 22.5])
    with drawing.group("meter"):
        drawing.circle(middle, 4.0, fill="#fff", width=0.5)
        drawing.letters(middle, "Ω", 4.2)
        for side, place in zip((-1, 1), sorted(studs, key=lambda each: each[0]), strict=True):
            # past the studs of the lower row and their letters, and beside the one that stands over the meter
            x = place[0] + ((-4.6 if side < 0 else 10.0) if place[0] == 0 else -3.8 if place[1] > down else 0.0)
            drawing.line(middle + (4.0 * side, 0), (x, middle[1]), (x, place[1]), place, width=0.4)
            drawing.circle(place, 0.9, fill="#000")


def star_and_delta(words: str) -> Drawing:
    """Three windings joined in star, and the same three in delta, with their terminals."""
    drawing = Drawing(64, 34, words)
    for centre, joined in (((-16.0, -1.0), "star"), ((16.0, -1.0), "delta")):
        corners = [np.array([np.cos(angle), np.sin(angle)]) * 10.0 for angle in np.radians((90, -30, 210))]
        middle = np.asarray(centre)
        with drawing.group(joined):
            for place, (letter, corner) in enumerate(zip("UVW", corners, strict=True)):
                end = np.zeros(2) if joined == "star" else corners[(place + 1) % 3]
                winding(drawing, middle + corner, middle + end)
                drawing.circle(middle + corner, 0.8, fill="#000")
                drawing.letters(middle + 1.3 * corner, f"{letter}1", 3.2)
            if joined == "star":
                drawing.circle(middle, 0.8, fill="#000")
        drawing.letters(middle + (0, -12.0), joined, 3.4, bold=False)
    return drawing


def winding(drawing: Drawing, start, end) -> None:
    """A winding between two places, as a row of half turns."""
    start, end = np.asarray(start, float), np.asarray(end, float)
    long = float(np.linalg.norm(end - start))
    along = (end - start) / long
    across = np.array([-along[1], along[0]])
    turns = max(2, int((long - 3) / (2 * COIL)))
    places = [start]
    first = (long - 2 * COIL * turns) / 2
    for turn in range(turns):
        angles = np.linspace(np.pi, 0, 9)
        middle = start + (first + COIL * (2 * turn + 1)) * along
        places += [middle + COIL * (np.cos(angle) * along + np.sin(angle) * across) for angle in angles]
    drawing.line(*places, end, width=0.4)


def single_phase(connections, words: str) -> Drawing:
    """Single-phase motors side by side, numbered: each with its main winding and its auxiliary one, with a capacitor, between L and N.

    connections: for each the terminals next to L, as ("U1", "Z1").
    """
    drawing = Drawing(64, 50, words)
    for number, (main, auxiliary) in enumerate(connections, 1):
        left = -31.0 + 33.0 * (number - 1)
        top, bottom = 17.0, -17.0
        with drawing.group(f"motor {number}"):
            for height, letter in ((top, "L"), (bottom, "N")):
                drawing.line((left + 4, height), (left + 24, height), width=0.4)
                drawing.letters((left + 1.4, height), letter, 3.4)
            _branch(drawing, left + 10, main, top, bottom, capacitor=False)
            _branch(drawing, left + 22, auxiliary, top, bottom, capacitor=True)
            drawing.letters((left + 15, -22.4), str(number), 4.2)
    return drawing


def _branch(drawing: Drawing, x: float, near_line: str, top: float, bottom: float, capacitor: bool) -> None:
    """A winding from L to N with its terminals, the first of them on the side of L; a capacitor below it."""
    other = near_line[0] + ("2" if near_line[1] == "1" else "1")
    foot = bottom if not capacitor else bottom + 7.0
    winding(drawing, (x, top - 4), (x, foot + 6))
    drawing.line((x, top), (x, top - 4), width=0.4)
    drawing.line((x, foot + 6), (x, foot + (1.0 if capacitor else 0)), width=0.4)
    if capacitor:
        drawing.line((x - 3, foot + 1), (x + 3, foot + 1), width=THICK)
        drawing.line((x - 3, foot - 0.8), (x + 3, foot - 0.8), width=THICK)
        drawing.line((x, foot - 0.8), (x, bottom), width=0.4)
    for height, name in ((top - 4, near_line), (foot + 6, other)):
        drawing.circle((x, height), 0.9, fill="#fff", width=0.4)
        drawing.letters((x - 4.2, height), name, 3.0)
