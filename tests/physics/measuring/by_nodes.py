"""A board with a fault, solved by the test's own nodes with `numpy.linalg` alone: admittances, joined nodes merged, nothing of the
program's. Windings and motor by the figures of the ordinary 11 kW plate (400 V star, 0.415 ohm)."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass, field

import numpy as np

from tests.physics.induction.test_joined_windings import branch, coupled

STUDS = ("U1", "U2", "V1", "V2", "W1", "W2")
LINES = ("L1", "L2", "L3")
LINKS = {"star": (("W2", "U2"), ("U2", "V2")), "delta": (("U1", "W2"), ("V1", "U2"), ("W1", "V2"))}
SCALE = {"star": 1.0, "delta": (690 / 400) ** 2}  # of all ohms: the motor for delta on 400 V has root three more turns, nearly
TO_EARTH, BETWEEN, METER, LEAD = 400e6, 600e6, 10e6, 0.01  # ohm


@dataclass
class Bench:
    """What is wrong: letters, lines or links as they are named on the board."""

    joined: str = "star"
    opened: str = ""
    shorted: tuple = ()  # (phase, share)
    turned: str = ""
    earthed: tuple = ()  # (phase, ohm)
    loose: tuple = ()  # (pair, ohm)
    lost: str = ""
    low: tuple = ()  # (line, share)
    links: bool = True
    leads: bool = True
    closed: tuple = (True, True, True)
    parts: list = field(default_factory=list)  # (phase, node, node, share)
    kept: dict = field(default_factory=dict)  # what was worked out before

    def __post_init__(self):
        for phase in "UVW":
            one, two = phase + "1", phase + "2"
            if phase == self.turned:
                one, two = two, one
            if phase == self.opened:
                self.parts.append((phase, phase + "x", two, 1.0))
            elif self.shorted and self.shorted[0] == phase:
                x = self.shorted[1]
                self.parts += [(phase, one, one, x), (phase, one, two, 1 - x)]  # the ring begins and ends at one node
            elif self.earthed and self.earthed[0] == phase:
                self.parts += [(phase, one, phase + "e", 0.5), (phase, phase + "e", two, 0.5)]
            else:
                self.parts.append((phase, one, two, 1.0))

    def volts(self):
        """Of the lines against earth."""
        sizes = {line: 400 / math.sqrt(3) for line in LINES}
        if self.low:
            sizes[self.low[0]] *= self.low[1]
        return {line: cmath.rect(sizes[line], -2 * math.pi * k / 3) for k, line in enumerate(LINES)}

    def merged(self):
        """Of each node the one that sound links join it to."""
        same = {node: node for part in self.parts for node in part[1:3]} | {stud: stud for stud in STUDS}
        if self.links:
            for first, second in LINKS[self.joined]:
                if not self.loose or self.loose[0] != (first, second):
                    old, new = same[second], same[first]
                    same = {node: new if at == old else at for node, at in same.items()}
        return same

    def conductances(self):
        """(node, node, siemens) beside the windings; earth is "0"."""
        made = []
        for k, phase in enumerate("UVW"):
            for end in "12":
                made += [(phase + end, "0", 0.5 / TO_EARTH), (phase + end, "VWU"[k] + end, 0.5 / BETWEEN)]
        if self.earthed:
            made.append((self.earthed[0] + "e", "0", 1 / self.earthed[1]))
        if self.loose and self.links:
            made.append((*self.loose[0], 1 / self.loose[1]))
        if self.leads:
            for line, stud, closed in zip(LINES, ("U1", "V1", "W1"), self.closed, strict=True):
                if closed and line != self.lost:
                    made.append((line, stud, 1 / LEAD))
        return made

    def matrix(self, ohms: np.ndarray):
        """Nodes and their admittance matrix: the coupled parts inverted as one, then everything else; `ohms` (parts, parts)."""
        same = self.merged()
        at = lambda node: same.get(node, node)  # noqa: E731
        conductances = self.conductances()
        nodes = sorted(
            {at(n) for part in self.parts for n in part[1:3]} | {at(n) for c in conductances for n in c[:2]} - {"0"} | set(LINES)
        )
        place = {node: k for k, node in enumerate(nodes)}
        incidence = np.zeros((len(nodes), len(self.parts)))
        for k, (_, first, second, _) in enumerate(self.parts):
            incidence[place[at(first)], k] += 1
            incidence[place[at(second)], k] -= 1
        matrix = incidence @ np.linalg.inv(ohms) @ incidence.T.astype(complex)
        for first, second, siemens in conductances:
            ends = [place[at(node)] for node in (first, second) if node != "0"]
            for here in ends:
                matrix[here, here] += siemens
            if len(ends) == 2:
                matrix[ends[0], ends[1]] -= siemens
                matrix[ends[1], ends[0]] -= siemens
        return nodes, matrix, incidence

    def coils(self, slip: float):
        """Ohm of the parts, coupled through the gap by their turns; and the gap's branches."""
        scale = SCALE[self.joined]
        gaps = branch(slip, 1.0, 1.0), branch(2 - slip, 1.0, 1.0)
        through = scale * coupled(0, *gaps)
        ohms = np.array([[through["UVW".index(a[0]), "UVW".index(b[0])] * a[3] * b[3] for b in self.parts] for a in self.parts])
        return ohms + np.diag([scale * part[3] * (0.415 + 0.721j) for part in self.parts]), [scale * gap for gap in gaps]

    def live(self, slip: float):
        """(volts by node against earth, A of the lines, torque N m clockwise)."""
        ohms, gaps = self.coils(slip)
        nodes, matrix, incidence = self.matrix(ohms)
        found = self.solved(nodes, matrix)
        volts = np.array([found[node] for node in nodes])
        currents = np.linalg.inv(ohms) @ incidence.T @ volts
        turns = [sum(i * part[3] for i, part in zip(currents, self.parts, strict=True) if part[0] == phase) for phase in "UVW"]
        parts = [sum(v * cmath.rect(1, sign * 2 * math.pi * k / 3) for k, v in enumerate(turns)) / 3 for sign in (1, -1)]
        across = 3 * (abs(parts[0]) ** 2 * gaps[0].real - abs(parts[1]) ** 2 * gaps[1].real)
        same = self.merged()
        leads = {c[0]: c for c in self.conductances() if c[0] in LINES}
        lines = [(found[line] - found[same[leads[line][1]]]) / LEAD if line in leads else 0.0 for line in LINES]
        return {**found, **{node: found[to] for node, to in same.items()}, "PE": 0.0}, np.array(lines), across / (2 * math.pi * 25)

    def solved(self, nodes, matrix):
        """Volts by node with the lines held."""
        held = [k for k, node in enumerate(nodes) if node in LINES]
        free = [k for k, node in enumerate(nodes) if node not in LINES]
        supply = self.volts()
        given = np.array([supply[nodes[k]] for k in held])
        left = np.linalg.solve(matrix[np.ix_(free, free)], -matrix[np.ix_(free, held)] @ given)
        return {nodes[k]: v for k, v in zip(held + free, [*given, *left], strict=True)}

    def shown(self, slip, first: str, second: str) -> float:
        """V that a voltmeter of 10 megohm shows: the open voltage, divided between meter and the ohms behind it (Thevenin)."""
        if slip not in self.kept:
            nodes, matrix, _ = self.matrix(self.coils(slip)[0])
            free = [k for k, node in enumerate(nodes) if node not in LINES]
            self.kept[slip] = self.live(slip)[0], [nodes[k] for k in free], np.linalg.inv(matrix[np.ix_(free, free)])
        volts, free, behind = self.kept[slip]
        same = self.merged()
        fed = np.zeros(len(free))
        for point, sign in ((first, 1), (second, -1)):
            if same.get(point, point) in free:
                fed[free.index(same.get(point, point))] += sign
        volts = volts | self.volts()
        return abs((volts[first] - volts[second]) * METER / (METER + fed @ behind @ fed))

    def ohms(self, first: str, second: str) -> float:
        """Ohm between two points of the dead board."""
        if "dead" not in self.kept:
            winding = SCALE[self.joined] * 0.415
            nodes, matrix, _ = self.matrix(np.diag([winding * part[3] for part in self.parts]))
            there = [k for k, node in enumerate(nodes) if np.abs(matrix[k]).sum() > 0]
            self.kept["dead"] = [nodes[k] for k in there], np.linalg.inv(matrix[np.ix_(there, there)]).real
        nodes, behind = self.kept["dead"]
        fed = np.zeros(len(nodes))
        for point, sign in ((first, 1), (second, -1)):
            if point != "PE":
                fed[nodes.index(self.merged()[point])] += sign
        return float(fed @ behind @ fed)


def benches(joined: str):
    """(name, what it is) of every fault, as the scene names them: 15 % of turns, 8 kohm to earth, 0.4 ohm, 8 % of a line's voltage."""
    made = [("sound", {}), ("overload", {})]
    made += [(f"loose-{name}", {"loose": (link, 0.4)}) for name, link in zip(("first", "second"), LINKS[joined], strict=False)]
    for phase, line in zip("UVW", LINES, strict=True):
        made += [
            (f"open-{phase}", {"opened": phase}),
            (f"shorted-{phase}", {"shorted": (phase, 0.15)}),
            (f"earth-{phase}", {"earthed": (phase, 8e3)}),
            (f"reversed-{phase}", {"turned": phase}),
            (f"lost-{line}", {"lost": line}),
            (f"lost-running-{line}", {"lost": line}),
            (f"uneven-{line}", {"low": (line, 0.92)}),
        ]
    return made
