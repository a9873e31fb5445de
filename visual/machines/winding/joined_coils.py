"""The leads of an unrolled winding, below its coils: from coil to coil, and from the ends of each phase to six terminals.

Each connection runs across in a lane of its own as far as others are in its way; where lines cross without meeting they are not joined.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from visual import palette
from visual.machines.winding.unrolled import SHEET, TERMINALS_AT, Sheet
from visual.solid.mesh import rod
from visual.solid.solids import Group, Solid
from visual.solid.told import Told
from visual.terminal_box.markings import Marking

PHASES = ("U", "V", "W")
WHITE = (1.0, 1.0, 1.0)
LANE, CLEAR = 0.0075, 0.004  # m from lane to lane at most, and between two connections in one lane
THICK = 0.0024
MARKED_BELOW = 0.012  # m


@dataclass(frozen=True)
class Leg:
    """A lead that comes down from a coil: "coil 3 start", say, and its x."""

    name: str
    x: float


@dataclass
class Run:
    """What one connection joins: legs and perhaps a terminal, by its marking and x."""

    phase: int
    legs: list[Leg]
    terminal: tuple[str, float] | None = None
    lane: int = field(default=0)

    @property
    def across(self) -> tuple[float, float]:
        places = [leg.x for leg in self.legs] + ([self.terminal[1]] if self.terminal else [])
        return min(places), max(places)


class JoinedCoils(Group):
    """Leads for up to `most` coils, and the terminals; none joined yet."""

    def __init__(self, most: int, sheet: Sheet = SHEET):
        super().__init__()
        self.sheet = sheet
        line = Solid(rod([0, 0, 0], [1, 0, 0], 0.5, WHITE, 5))
        self.lines = [self.add(line if k == 0 else line.copy()) for k in range(4 * most + 24)]
        self.marks = {f"{phase}{end}": Marking(self, f"{phase}{end}", 0.0125, palette.INK) for end in "12" for phase in PHASES}
        self._runs: list[Run] = []
        self._fed: set[int] = set()
        self._inside: list[tuple[str, str, str]] = []

    def join(self, paths, fed, colours) -> None:
        """Of each phase its parallel paths, each a list of (number of the coil, x of the leg by which current enters it, x of the other);
        `fed`: the phases that carry current, by number; the colours of the phases."""
        self._fed = set(fed)
        self._inside = [
            (f"coil {number} start", f"coil {number} finish", f"coil {number}") for phase in paths for path in phase for number, *_ in path
        ]
        self._runs = _in_lanes([run for phase, of_phase in enumerate(paths) for run in _runs(phase, of_phase)], self.sheet)
        self._draw(colours)

    def tell(self, found: Told) -> None:
        """Leads by what they join; a phase that is fed is closed through the supply."""
        for run in self._runs:
            names = [leg.name for leg in run.legs] + ([f"terminal {run.terminal[0]}"] if run.terminal else [])
            found.leads.extend((first, second, "") for first, second in zip(names, names[1:], strict=False))
        found.leads.extend(self._inside)
        found.leads.extend((f"terminal {PHASES[k]}1", f"terminal {PHASES[k]}2", "supply") for k in sorted(self._fed))

    def _draw(self, colours) -> None:
        top, bottom = self.sheet.head_bottom, TERMINALS_AT
        lanes = 1 + max((run.lane for run in self._runs), default=0)
        step = min(LANE, (top - bottom - 0.012) / (lanes + 1))
        pieces = []
        placed: set[str] = set()
        for run in self._runs:
            y = top - step * (run.lane + 1)
            low, high = run.across
            pieces.append((run.phase, (low, y), (high, y)))
            pieces += [(run.phase, (leg.x, top), (leg.x, y)) for leg in run.legs]
            if run.terminal:
                marking, x = run.terminal
                pieces.append((run.phase, (x, y), (x, bottom)))
                self.marks[marking].put((x, bottom - MARKED_BELOW, self.sheet.front))
                placed.add(marking)
        for marking, mark in self.marks.items():
            mark.visible = self.visible and marking in placed
        for line, piece in zip(self.lines, [*pieces, *[None] * (len(self.lines) - len(pieces))], strict=True):
            line.visible = self.visible and piece is not None
            if piece is not None:
                phase, (x, y), (to_x, to_y) = piece
                flat = y == to_y
                line.colour(colours[phase])
                along, across = ([1.0, 0.0, 0.0], [0.0, 1.0, 0.0]) if flat else ([0.0, -1.0, 0.0], [1.0, 0.0, 0.0])
                line.put_along((x, y, self.sheet.front), along, across, (max(to_x - x if flat else y - to_y, 1e-4), THICK, THICK))


def _runs(phase: int, paths) -> list[Run]:
    """The connections of one phase; its terminals have no place yet."""
    laid = [path for path in paths if path]
    if not laid:
        return []
    runs = [Run(phase, [Leg(f"coil {path[0][0]} start", path[0][1]) for path in laid], (f"{PHASES[phase]}1", np.nan))]
    runs.append(Run(phase, [Leg(f"coil {path[-1][0]} finish", path[-1][2]) for path in laid], (f"{PHASES[phase]}2", np.nan)))
    for path in laid:
        for (before, _, leaves), (after, enters, _) in zip(path, path[1:], strict=False):
            runs.append(Run(phase, [Leg(f"coil {before} finish", leaves), Leg(f"coil {after} start", enters)]))
    return runs


def _in_lanes(runs: list[Run], sheet: Sheet) -> list[Run]:
    """The same with a place for each terminal, in the order in which their leads come down, and a lane for each connection."""
    legs = [leg.x for run in runs for leg in run.legs]
    ending = sorted((run for run in runs if run.terminal), key=lambda run: run.legs[0].x)
    for place, run in enumerate(ending):
        assert run.terminal
        x = sheet.left + sheet.width * (place + 0.5) / len(ending)
        nudges = (x + side * 0.0015 * n for n in range(12) for side in (1, -1))
        clear = next((each for each in nudges if all(abs(each - leg) > CLEAR for leg in legs)), x)
        run.terminal = (run.terminal[0], clear)
    ends: list[float] = []  # of each lane, how far it is taken
    for run in sorted(runs, key=lambda run: run.across):
        low, high = run.across
        run.lane = next((lane for lane, end in enumerate(ends) if end < low - CLEAR), len(ends))
        ends[run.lane : run.lane + 1] = [high]
    return runs
