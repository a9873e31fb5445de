"""The six studs of a three-phase motor's terminal box: what any way of joining them does to the three windings.

The windings are U, V, W with the ends 1 and 2 (IEC 60034-8); a link makes two studs one node, a lead puts a line on a stud. The
circuit is solved by node voltages, each winding one impedance; the windings' mutual inductance is left out, which is exact for
balanced currents when the impedance is that of the running or standing motor.

Phasors are r.m.s., L1 at angle 0, L2 lagging by 120 degrees, L3 by 240. Currents are positive from end 1 to end 2 of a winding,
and from a line into the board.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from physics import arguments

PHASES = ("U", "V", "W")
STUDS = tuple(phase + end for phase in PHASES for end in "12")
LINES = ("L1", "L2", "L3")

_LAG = np.exp(-2j * np.pi / 3 * np.arange(3))  # of L1, L2, L3; of U, V, W when they follow one another in that order
_ALIKE = 1e-9  # shares below this are rounding


@dataclass(frozen=True)
class Connected:
    """What a wired board does on a supply.

    winding_voltages, winding_currents: complex, shape (3,), of U, V, W, V and A r.m.s.; line_currents: complex, shape (3,), of L1,
    L2, L3 into the board, A r.m.s.
    kind: "star" or "delta" as the windings are joined, whichever lines are there; "short circuit" with two lines on one node,
    "open" when no winding carries current, "other" for every other way.
    turns: "clockwise", "counter-clockwise" or "none", of the field, and of the rotor from rest, seen from the drive end.
    """

    winding_voltages: np.ndarray
    winding_currents: np.ndarray
    line_currents: np.ndarray
    kind: str
    turns: str


@dataclass(frozen=True)
class Network:
    """A wired board as linear relations between its windings and its lines, for windings that act on one another.

    The winding voltages are `fed + between @ free`, V, with the potentials `free`, V, of the nodes that no line holds; the currents
    of the windings then fulfil between.T @ currents = 0. fed: complex, shape (3,); between: shape (3, n); each part of the board that
    no line reaches has one node at 0. into: shape (3, 3), the currents of L1, L2, L3 into the board are into @ currents. shorted:
    for each line, whether it is on one node with another; supply: complex, shape (3,), V of the lines against the star point.
    """

    fed: np.ndarray
    between: np.ndarray
    into: np.ndarray
    shorted: tuple[bool, ...]
    supply: np.ndarray


# Long, for all that may be asked of one board stands together: what flows, what an ohmmeter shows, what it is called.
@dataclass(frozen=True)
class Wiring:
    """How the board is wired.

    leads: the stud that each line is on, {"L1": "U1", ...}; a line may be missing. links: pairs of studs. reversed_windings: letters
    of the windings whose two ends are on each other's stud inside the motor. `ValueError` for a line, stud or winding that is none.
    """

    leads: Mapping[str, str]
    links: Collection[tuple[str, str]]
    reversed_windings: Collection[str] = ()

    def __post_init__(self) -> None:
        _among("leads", self.leads, LINES)
        _among("leads", self.leads.values(), STUDS)
        for link in self.links:
            if isinstance(link, str) or len(link) != 2 or link[0] == link[1]:
                raise ValueError(f"links must be pairs of two different studs, not {arguments.quoted(link)}")
            _among("links", link, STUDS)
        _among("reversed_windings", self.reversed_windings, PHASES)

    def on(self, line_voltage: float, frequency: float, winding_impedance: ArrayLike) -> Connected:
        """What flows on a symmetrical supply.

        line_voltage: V r.m.s. between lines; frequency: Hz, at which winding_impedance holds; winding_impedance: ohm, complex, one
        for all windings or three for U, V, W, none of them 0 and no resistance below 0.

        A short circuit has line currents of inf in the lines that are joined; their node has the mean of their voltages, the limit
        of equal supply impedances toward 0. `ValueError` naming the argument for values that are not allowed.
        """
        arguments.positive("frequency", frequency)
        admittances = 1 / _impedances(winding_impedance)
        network = self.network(line_voltage)
        across = network.between.T * admittances
        try:
            free = np.linalg.solve(across @ network.between, -across @ network.fed)
        except np.linalg.LinAlgError:
            raise ValueError("winding_impedance must not be such that windings in series cancel each other") from None
        voltages = network.fed + network.between @ free
        currents = admittances * voltages
        currents[np.abs(currents) < _ALIKE * line_voltage * np.abs(admittances)] = 0  # a dead end's rounding
        line_currents = network.into @ currents
        line_currents[list(network.shorted)] = math.inf
        return Connected(voltages, currents, line_currents, self._kind(network, currents), field_turns(currents))

    def network(self, line_voltage: float) -> Network:
        """The board on a symmetrical supply, line_voltage in V r.m.s. between lines; lines on one node have their mean, as in `on`."""
        supply = arguments.positive("line_voltage", line_voltage) / math.sqrt(3) * _LAG
        ends = self._ends()
        on = {line: self._node(stud) for line, stud in self.leads.items()}
        lines_at = {node: [k for k, line in enumerate(LINES) if on.get(line) == node] for node in set(on.values())}
        free = sorted({node for pair in ends for node in pair} - set(lines_at))
        known = set(lines_at)
        for node in list(free):  # a part that floats has one node at 0
            if node not in _reached(ends, np.ones(3), known):
                known.add(node)
                free.remove(node)
        fed, between, into = np.zeros(3, complex), np.zeros((3, len(free))), np.zeros((3, 3))
        for winding, pair in enumerate(ends):
            for node, sign in zip(pair, (1, -1), strict=True):
                if node in lines_at:
                    fed[winding] += sign * supply[lines_at[node]].mean()
                    into[lines_at[node], winding] += sign
                elif node in free:
                    between[winding, free.index(node)] += sign
        shorted = tuple(line in on and len(lines_at[on[line]]) > 1 for line in LINES)
        return Network(fed, between, into, shorted, supply)

    def resistance(self, first: str, second: str, winding_resistance: ArrayLike, opened: Collection[str] = ()) -> float:
        """What an ohmmeter shows between two studs of the dead board, leads off and links on, ohm; inf where there is no way.

        winding_resistance: ohm, one for all or three for U, V, W, greater than 0; opened: letters of broken windings.
        `ValueError` naming the argument for values that are not allowed.
        """
        _among("first", (first,), STUDS)
        _among("second", (second,), STUDS)
        _among("opened", opened, PHASES)
        resistances = np.broadcast_to(arguments.numbers("winding_resistance", winding_resistance), 3)
        if np.any(resistances <= 0):
            raise ValueError("winding_resistance must be greater than 0")
        conductances = np.where([phase in opened for phase in PHASES], 0, 1 / resistances)
        start, finish = self._node(first), self._node(second)
        if start == finish:
            return 0.0
        ends = self._ends()
        if finish not in _reached(ends, conductances, {start}):
            return math.inf
        nodes = sorted({node for pair in ends for node in pair})
        between = np.array([[(node == one) - (node == two) for node in nodes] for one, two in ends], float)
        fed = np.array([(node == start) - (node == finish) for node in nodes], float)
        return float(fed @ np.linalg.pinv(between.T * conductances @ between) @ fed)

    def _node(self, stud: str) -> str:
        """The node that a stud belongs to, named by the first of its studs."""
        reached = {stud}
        for _ in STUDS:
            reached |= {stud for link in self.links if reached & set(link) for stud in link}
        return min(reached)

    def _ends(self) -> list[tuple[str, str]]:
        """The nodes that end 1 and end 2 of each winding are on."""
        ends = []
        for phase in PHASES:
            one, two = self._node(phase + "1"), self._node(phase + "2")
            ends.append((two, one) if phase in self.reversed_windings else (one, two))
        return ends

    def _kind(self, network: Network, currents: np.ndarray) -> str:
        if any(network.shorted):
            return "short circuit"
        if not currents.any():
            return "open"
        nodes = [frozenset(pair) for pair in self._ends()]
        if all(len(pair) == 2 for pair in nodes):
            for common in frozenset.intersection(*nodes):
                if len(frozenset.union(*nodes)) == 4 and common not in map(self._node, self.leads.values()):
                    return "star"
            if len(set(nodes)) == len(frozenset.union(*nodes)) == 3:
                return "delta"
        return "other"


def field_turns(winding_currents: np.ndarray) -> str:
    """Which way the field of three windings turns, seen from the drive end: "clockwise", "counter-clockwise" or "none".

    winding_currents: complex, shape (3,), of U, V, W. Symmetrical components (Fortescue): the larger of the component that follows
    U, V, W, which turns clockwise when it is alone (IEC 60034-8), and the one that follows U, W, V. One winding's field, or two in
    phase, only swells and shrinks: "none", as for a motor that hums.
    """
    clockwise, counter = abs(winding_currents @ _LAG.conj()), abs(winding_currents @ _LAG)
    if abs(clockwise - counter) <= _ALIKE * (clockwise + counter):
        return "none"
    return "clockwise" if clockwise > counter else "counter-clockwise"


def _reached(ends: list[tuple[str, str]], admittances: np.ndarray, nodes: set[str]) -> set[str]:
    """Those nodes and all that windings join to them."""
    for _ in PHASES:
        for admittance, pair in zip(admittances, ends, strict=True):
            if admittance and nodes & set(pair):
                nodes = nodes | set(pair)
    return nodes


def _impedances(winding_impedance: ArrayLike) -> np.ndarray:
    given = arguments.complex_numbers("winding_impedance", winding_impedance)
    if given.shape not in ((), (3,)):
        raise ValueError(f"winding_impedance must be one impedance or three, not of shape {given.shape}")
    if np.any(given == 0) or np.any(given.real < 0):
        raise ValueError("winding_impedance must not be 0, nor its resistance below 0")
    return np.broadcast_to(given, 3)


def _among(name: str, given: Collection[str], allowed: Collection[str]) -> None:
    for each in given:
        if each not in allowed:
            raise ValueError(f"{name} must be of {', '.join(allowed)}, not {arguments.quoted(each)}")
