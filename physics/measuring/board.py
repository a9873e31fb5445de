"""A motor's terminal board with a fault as data, from the supply's posts to the windings' insulation, as a network.

A winding is cut into parts where a fault asks for it. The turns of all parts of a winding sit in the same field: what the gap's
field induces in a part, and what a part does to that field, go with its share of the turns. Resistance and leakage go with the
share too, without mutual leakage between parts (R. M. Tallam, T. G. Habetler, R. G. Harley, IEEE Trans. Ind. Appl. 38, 2002,
memory). Shorted turns are then a ring that the field drives like the secondary of a transformer.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from physics import arguments
from physics.measuring.network import EARTH, Network
from physics.terminals import LINES, PHASES, STUDS

LEAD_ENDS = ("M1", "M2", "M3")  # of L1, L2, L3 past isolator and fuses, where their leads begin
POINTS = (*STUDS, *LINES, EARTH)  # where a probe may be laid
LEAD_OHM = 0.01  # of a line from its post to its stud: some metres of cable, assumed
METER_OHM = 10e6  # of a voltmeter: usual for a digital one, common practice
SOUND_TO_EARTH, SOUND_BETWEEN = 400e6, 600e6  # ohm of a sound winding's insulation, assumed: some hundred megohms are usual
TEST_VOLTAGE = 500.0  # V d.c. on a winding for up to 500 V: IEC 60364-6 (memory)


@dataclass(frozen=True)
class Defects:
    """What is wrong with a board and its supply; nothing by default.

    opened: letters of windings broken at their end 1. shorted: by letter, the share of a winding's turns, next to its end 1, that are
    shorted on themselves. reversed_windings: as `physics.terminals.Wiring` has them. earthed: by letter, the ohm to earth from the
    middle of a winding. loose: ohm of a link by its pair of studs. lost: lines interrupted between post and lead. supply: each line's
    share of its voltage against earth. `ValueError` for what is not possible.
    """

    opened: frozenset[str] = frozenset()
    shorted: Mapping[str, float] = field(default_factory=dict)
    reversed_windings: frozenset[str] = frozenset()
    earthed: Mapping[str, float] = field(default_factory=dict)
    loose: Mapping[tuple[str, str], float] = field(default_factory=dict)
    lost: frozenset[str] = frozenset()
    supply: tuple[float, float, float] = (1.0, 1.0, 1.0)

    def __post_init__(self) -> None:
        for name, letters in (
            ("opened", self.opened), ("shorted", self.shorted), ("reversed_windings", self.reversed_windings), ("earthed", self.earthed)
        ):  # fmt: skip
            if not set(letters) <= set(PHASES):
                raise ValueError(f"{name} must be of {', '.join(PHASES)}, not {arguments.quoted(sorted(letters))}")
        if any(not 0 < share < 1 for share in self.shorted.values()):
            raise ValueError("shorted must be shares between 0 and 1")
        if set(self.shorted) & set(self.earthed):
            raise ValueError("shorted and earthed must not be of the same winding")
        if any(ohm <= 0 for ohm in (*self.earthed.values(), *self.loose.values())):
            raise ValueError("earthed and loose must be resistances greater than 0")
        if not set(self.lost) <= set(LINES):
            raise ValueError(f"lost must be of {', '.join(LINES)}, not {arguments.quoted(sorted(self.lost))}")
        if min(self.supply) < 0:
            raise ValueError("supply must be three shares, none below 0")


# Long, for the network is built in one place: what the same part is to each instrument stands together.
@dataclass(frozen=True)
class Board:
    """The board with its links and leads, each there or taken off.

    links: pairs of studs; leads: the stud of L1, L2, L3, or none of them with `()`; closed: for each line, whether the isolator's
    pole conducts; line_voltage: V r.m.s. of the supply when it is even.
    """

    links: tuple[tuple[str, str], ...]
    leads: tuple[str, ...]
    closed: tuple[bool, bool, bool]
    line_voltage: float
    defects: Defects = Defects()

    @cached_property
    def supply(self) -> np.ndarray:
        """Voltages of L1, L2, L3 against earth at the posts, complex r.m.s., (3,): the star point is earthed (TN)."""
        return np.asarray(self.defects.supply) * self.line_voltage / np.sqrt(3) * np.exp(-2j * np.pi / 3 * np.arange(3))

    @cached_property
    def parts(self) -> list[tuple[str, str, str, float]]:
        """(winding, node, node, share of its turns) from end 1 to end 2 of each winding, cut where a fault asks for it."""
        made = []
        for phase in PHASES:
            start, finish = phase + "1", phase + "2"
            if phase in self.defects.reversed_windings:
                start, finish = finish, start
            cuts = {0.0: phase + " broken" if phase in self.defects.opened else start, 1.0: finish}
            if phase in self.defects.shorted:
                cuts[self.defects.shorted[phase]] = phase + " shorted"
            if phase in self.defects.earthed:
                cuts[0.5] = phase + " earthed"
            places = sorted(cuts)
            made += [(phase, cuts[low], cuts[high], high - low) for low, high in zip(places, places[1:], strict=False)]
        return made

    @cached_property
    def ties(self) -> list[tuple[str, str, float]]:
        """(node, node, ohm) of all that joins outside the windings' turns: lines, links, shorted turns."""
        lines = [
            (line, end, 0.0) for line, end, closed in zip(LINES, LEAD_ENDS, self.closed, strict=True)
            if self.leads and closed and line not in self.defects.lost
        ]  # fmt: skip
        leads = [(end, stud, LEAD_OHM) for end, stud in zip(LEAD_ENDS, self.leads, strict=False)]
        links = [(*pair, self.defects.loose.get(pair, 0.0)) for pair in self.links]
        rings = [(first, second, 0.0) for phase, first, second, _ in self.parts if second == phase + " shorted"]
        return [*lines, *leads, *links, *rings]

    @cached_property
    def leaks(self) -> list[tuple[str, str, float]]:
        """Insulation, half of it at either end of a winding, and what a fault puts to earth."""
        made = []
        for k, phase in enumerate(PHASES):
            for end in "12":
                made.append((phase + end, EARTH, 0.5 / SOUND_TO_EARTH))
                made.append((phase + end, PHASES[(k + 1) % 3] + end, 0.5 / SOUND_BETWEEN))
            if phase in self.defects.earthed:
                made.append((phase + " earthed", EARTH, 1 / self.defects.earthed[phase]))
        return made

    @cached_property
    def network(self) -> Network:
        """Parts first, then ties."""
        branches = [(first, second) for _, first, second, _ in self.parts] + [(first, second) for first, second, _ in self.ties]
        return Network(branches, self.leaks)

    def impedances(self, per_winding: complex, gap: np.ndarray) -> np.ndarray:
        """Ohm of all branches, (m, n, n): `per_winding` of a whole winding by itself, `gap` (m, 3, 3) through the gap's field."""
        share = np.array([part[3] for part in self.parts])
        of = [PHASES.index(part[0]) for part in self.parts]
        count, ties = len(share), [ohm for _, _, ohm in self.ties]
        made = np.zeros((len(gap), count + len(ties), count + len(ties)), complex)
        made[:, :count, :count] = share[:, np.newaxis] * share * gap[:, of][:, :, of]
        made += np.diag([*(share * per_winding), *ties])
        return made

    # dead

    def resistance(self, first: str, second: str, winding_ohm: float) -> float:
        """What an ohmmeter shows between two points of the dead board, ohm; what only insulation joins has megohms."""
        if first == second:
            return 0.0
        volts, _ = self.network.solve(self.impedances(winding_ohm, np.zeros((1, 3, 3))), {}, {first: 1.0, second: -1.0})
        return float(abs((volts[first] - volts[second]).real[0]))

    def insulation(self, first: str, second: str, winding_ohm: float) -> float:
        """What an insulation tester shows between two points, ohm: `TEST_VOLTAGE` over what it drives; without polarisation, which
        makes a real figure rise for a minute."""
        return self.resistance(first, second, winding_ohm)

    def dead_voltage(self, first: str, second: str) -> float:
        """V r.m.s. that a voltmeter shows between two points of a board on which nothing turns and the isolator is open; a pole
        that does not open shows. The windings' impedances hardly matter, as next to nothing flows."""
        volts, _ = self.metered(first, second).solve(self.metered_impedances(1.0, np.zeros((1, 3, 3))), self.held)
        return float(abs(volts[first] - volts[second])[0])

    def dead_phasors(self, points: Sequence[str]) -> np.ndarray:
        """Complex V r.m.s. against earth of points on such a board, (n,), with no instrument that counts between them."""
        volts, _ = self.network.solve(self.impedances(1.0, np.zeros((1, 3, 3))), self.held)
        return np.array([volts[point][0] for point in points])

    @property
    def held(self) -> dict[str, complex]:
        return dict(zip(LINES, self.supply.tolist(), strict=True))

    def metered(self, first: str, second: str) -> Network:
        """The network with a voltmeter between two points."""
        return Network([*self.network.branches, (first, second)], self.leaks)

    def metered_impedances(self, per_winding: complex, gap: np.ndarray) -> np.ndarray:
        """As `impedances`, the voltmeter last."""
        return np.pad(self.impedances(per_winding, gap), ((0, 0), (0, 1), (0, 1))) + np.diag([0] * len(self.network.branches) + [METER_OHM])
