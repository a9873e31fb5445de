"""Node voltages of a network of branches that may act on one another: modified nodal analysis (C.-W. Ho and others, 1975).

Every branch has a current of its own among the unknowns, so that one without impedance joins two nodes outright. Beside the
branches, nodes have leaks: conductances so small that they carry nothing to speak of, and nothing floats.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

EARTH = "PE"  # the node at 0 V


@dataclass(frozen=True)
class Network:
    """branches: pairs of nodes, a current positive from the first to the second; leaks: (node, node, siemens)."""

    branches: Sequence[tuple[str, str]]
    leaks: Sequence[tuple[str, str, float]]

    def solve(
        self, impedances: np.ndarray, held: Mapping[str, complex], driven: Mapping[str, complex] | None = None
    ) -> tuple[dict[str, np.ndarray], np.ndarray]:
        """Voltages against earth by node, each (m,), and currents of the branches, (m, n).

        impedances: (m, n, n), V across each branch for 1 A in each; held: nodes at a given voltage, V; driven: A fed into a node,
        to come out at earth or where another is negative.
        """
        nodes = [node for node in dict.fromkeys(end for pair in self._pairs() for end in pair) if node != EARTH and node not in held]
        place = {node: k for k, node in enumerate(nodes)}
        count, branches = len(nodes), len(self.branches)
        matrix = np.zeros((len(impedances), count + branches, count + branches), complex)
        right = np.zeros(count + branches, complex)
        for first, second, siemens in self.leaks:
            for here, there in ((first, second), (second, first)):
                if here in place:
                    matrix[:, place[here], place[here]] += siemens
                    if there in place:
                        matrix[:, place[here], place[there]] -= siemens
                    elif there in held:
                        right[place[here]] += siemens * held[there]
        for k, pair in enumerate(self.branches):
            for node, sign in zip(pair, (1.0, -1.0), strict=True):
                if node in place:
                    matrix[:, place[node], count + k] += sign
                    matrix[:, count + k, place[node]] += sign
                elif node in held:
                    right[count + k] -= sign * held[node]
        matrix[:, count:, count:] -= impedances
        for node, amperes in (driven or {}).items():
            if node in place:
                right[place[node]] += amperes
        found = np.linalg.solve(matrix, np.broadcast_to(right[:, np.newaxis], (len(impedances), count + branches, 1)))[..., 0]
        volts = {node: found[:, k] for node, k in place.items()}
        for node, at in {EARTH: 0.0, **held}.items():
            volts[node] = np.full(len(impedances), complex(at))
        return volts, found[:, count:]

    def _pairs(self) -> list[tuple[str, str]]:
        return [*self.branches, *[(first, second) for first, second, _ in self.leaks]]
