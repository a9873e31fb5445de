"""The circuit of an armature: coils, commutator segments, brush contacts and what is connected outside.

Solved by node potentials at each position of the rotor: the currents that meet in every segment and brush cancel
out (Kirchhoff), a brush conducts to each segment in proportion to the area it covers, and the outside circuit ties
terminal voltage and current together. Nothing is assumed about which coils are in series or in parallel, or where
the current changes over; it follows.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import ClassVar

import numpy as np

from physics.arguments import not_negative, number
from physics.commutated.commutator import BRUSHES, is_open, winding_ends

# A brush that stands on insulation alone still needs a potential, and so does a coil that no brush touches. They get the
# faint leakage over the insulation, this fraction of a full contact: what a voltmeter on a dead brush would find.
LEAKAGE = 1e-12


@dataclass(frozen=True)
class Source:
    """A battery or other source of constant EMF on the brushes: the machine runs as a motor, or charges it.

    emf         V, positive terminal on brush 0; negative when it is connected the other way round
    resistance  ohm inside the source and in the leads together
    """

    emf: float
    resistance: float = 0.0
    voltage_factor: ClassVar[float] = 1.0

    def __post_init__(self) -> None:
        object.__setattr__(self, "emf", number("emf", self.emf))
        object.__setattr__(self, "resistance", not_negative("resistance", self.resistance))

    def reversed(self) -> Source:
        """The same source with its two wires swapped."""
        return replace(self, emf=-self.emf)


@dataclass(frozen=True)
class LoadResistor:
    """A resistance (ohm) across the brushes: the machine is a generator under load; 0 short-circuits it."""

    resistance: float
    emf: ClassVar[float] = 0.0
    voltage_factor: ClassVar[float] = 1.0

    def __post_init__(self) -> None:
        object.__setattr__(self, "resistance", not_negative("resistance", self.resistance))


@dataclass(frozen=True)
class OpenCircuit:
    """Nothing across the brushes but a voltmeter that draws no current."""

    emf: ClassVar[float] = 0.0
    resistance: ClassVar[float] = 1.0
    voltage_factor: ClassVar[float] = 0.0


# Each of them is one equation between the terminal voltage V (brush 0 above brush 1) and the current I into brush 0:
# voltage_factor V + resistance I = emf.
OutsideCircuit = Source | LoadResistor | OpenCircuit


@dataclass(frozen=True)
class NetworkSolution:
    """Potentials in V against the first segment, and currents in A; one further axis at the end, one column for each
    set of sources that was asked for.

    segment_potentials  (..., segments, columns)
    brush_potentials    (..., 2, columns)
    terminal_current    (..., columns), from outside into the positive brush
    coil_currents       (..., coils, columns), from a coil's beginning to its end
    """

    segment_potentials: np.ndarray
    brush_potentials: np.ndarray
    terminal_current: np.ndarray
    coil_currents: np.ndarray


@lru_cache(maxsize=64)
def coil_ends(coils: int) -> tuple[np.ndarray, np.ndarray]:
    """The segments at which each coil begins and ends, two arrays (coils,)."""
    begins = np.arange(coils)
    ends = (begins + (coils if is_open(coils) else 1)) % winding_ends(coils)
    begins.setflags(write=False)
    ends.setflags(write=False)
    return begins, ends


@lru_cache(maxsize=64)
def _incidence(coils: int) -> np.ndarray:
    """Which segments each coil joins: (coils, segments), +1 where it begins and -1 where it ends."""
    incidence = np.zeros((coils, winding_ends(coils)))
    begins, ends = coil_ends(coils)
    incidence[begins, begins] = 1.0
    incidence[begins, ends] = -1.0
    incidence.setflags(write=False)
    return incidence


@lru_cache(maxsize=64)
def _without_contacts(coils: int, coil_resistance: float, circuit: OutsideCircuit) -> np.ndarray:
    """The part of the circuit's matrix that does not change while the rotor turns."""
    incidence = _incidence(coils)
    positive_brush, negative_brush, outside = (np.arange(3) + winding_ends(coils)).tolist()
    matrix = np.zeros((outside + 1, outside + 1))
    matrix[:positive_brush, :positive_brush] = incidence.T @ incidence / coil_resistance
    matrix[positive_brush, outside], matrix[negative_brush, outside] = -1.0, 1.0
    matrix[outside, positive_brush], matrix[outside, negative_brush] = circuit.voltage_factor, -circuit.voltage_factor
    matrix[outside, outside] = circuit.resistance
    matrix.setflags(write=False)
    return matrix


def contact_conductances(shares: np.ndarray, contact_resistance: float, coils: int) -> np.ndarray:
    """Conductance in S of every brush on every segment of so many `coils`, from the shares (..., 2, segments) of brush on it."""
    leaks = ~shares.any(axis=-1, keepdims=True)
    if is_open(coils):  # a closed winding ties its segments together by itself
        leaks = leaks | ~shares.any(axis=-2, keepdims=True)
    return (shares + LEAKAGE * leaks) / contact_resistance


def solve_network(coil_emfs: np.ndarray, coil_resistance: float, contacts: np.ndarray, circuit: OutsideCircuit) -> NetworkSolution:
    """Solve the armature circuit by node potentials.

    coil_emfs        V in each coil, positive when it drives current from the coil's beginning to its end, shape
                     (..., coils, columns); the outside circuit's own EMF acts in the first column only, so that
                     further columns give the currents that coil EMFs cause by themselves
    coil_resistance  ohm of each coil, more than 0
    contacts         S between each brush and segment, shape (..., 2, segments)
    circuit          what is connected between the brushes
    """
    coils, columns = coil_emfs.shape[-2:]
    segments = contacts.shape[-1]
    outside = segments + BRUSHES
    incidence = _incidence(coils)

    # unknowns: segment potentials, brush potentials, terminal current; segment 0 serves as the zero of potential
    matrix = np.empty(contacts.shape[:-2] + (outside + 1, outside + 1))
    matrix[...] = _without_contacts(coils, coil_resistance, circuit)
    matrix[..., segments:outside, :segments] = -contacts
    matrix[..., :segments, segments:outside] = -contacts.swapaxes(-1, -2)
    diagonal = np.einsum("...ii->...i", matrix)
    diagonal[..., :segments] += contacts.sum(axis=-2)
    diagonal[..., segments:outside] = contacts.sum(axis=-1)

    sources = np.zeros(contacts.shape[:-2] + (outside + 1, columns))
    sources[..., :segments, :] = -(incidence.T @ coil_emfs) / coil_resistance
    sources[..., outside, 0] = circuit.emf

    unknowns = np.zeros_like(sources)
    unknowns[..., 1:, :] = np.linalg.solve(matrix[..., 1:, 1:], sources[..., 1:, :])
    potentials = unknowns[..., :segments, :]
    return NetworkSolution(
        segment_potentials=potentials,
        brush_potentials=unknowns[..., segments:outside, :],
        terminal_current=unknowns[..., outside, :],
        coil_currents=(incidence @ potentials + coil_emfs) / coil_resistance,
    )
