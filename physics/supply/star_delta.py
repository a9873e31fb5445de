"""Three impedances in star or in delta, on three lines or, with one lost, on two.

Voltages and currents are complex r.m.s. phasors, as in `physics.supply.supplies`. A star's phases lie between the terminals
U, V, W and a star point that is not joined to the neutral; a delta's between U and V, V and W, W and U.

Solved by nodes, so that the impedances need not be equal: any textbook of circuit theory.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from physics import arguments

TERMINALS = ("U", "V", "W")


@dataclass(frozen=True)
class LoadState:
    """Voltages and currents of a three-phase load; each shape (3,), complex r.m.s.

    terminal_voltages: of U, V, W against the neutral of the supply, a lost one floating; phase_voltages,
    phase_currents: of the three impedances; line_currents: into U, V, W.
    """

    terminal_voltages: np.ndarray
    phase_voltages: np.ndarray
    phase_currents: np.ndarray
    line_currents: np.ndarray

    @property
    def power(self) -> complex:
        """Real power in W and reactive power in var (its imaginary part) of all three phases."""
        return complex(np.sum(self.phase_voltages * np.conj(self.phase_currents)))


@dataclass(frozen=True)
class StarLoad:
    """Three impedances, complex ohm, from U, V, W to a free star point. One number stands for three equal ones."""

    impedances: complex | tuple[complex, complex, complex]

    def __post_init__(self) -> None:
        object.__setattr__(self, "impedances", _impedances(self.impedances))

    def on(self, voltages: ArrayLike, line_lost: str | None = None) -> LoadState:
        """The state on lines at `voltages`, V (U, V, W against neutral, shape (3,)); line_lost: None, "U", "V" or "W".

        With a phase lost the other two phases are in series between the lines that are left.
        """
        admittance = 1 / np.array(self.impedances)
        nodes = np.diag(admittance) - np.outer(admittance, admittance) / admittance.sum()
        terminals = _terminal_voltages(nodes, voltages, line_lost)
        phase_voltages = terminals - admittance @ terminals / admittance.sum()
        currents = phase_voltages * admittance
        return LoadState(terminals, phase_voltages, currents, currents)


@dataclass(frozen=True)
class DeltaLoad:
    """Three impedances, complex ohm, between U-V, V-W, W-U. One number stands for three equal ones."""

    impedances: complex | tuple[complex, complex, complex]

    def __post_init__(self) -> None:
        object.__setattr__(self, "impedances", _impedances(self.impedances))

    def on(self, voltages: ArrayLike, line_lost: str | None = None) -> LoadState:
        """The state on lines at `voltages`, V (U, V, W against neutral, shape (3,)); line_lost: None, "U", "V" or "W".

        With a phase lost one phase keeps its full voltage, and the other two share it in series.
        """
        across = np.eye(3) - np.roll(np.eye(3), 1, axis=1)  # rows: U - V, V - W, W - U
        nodes = across.T @ np.diag(1 / np.array(self.impedances)) @ across
        terminals = _terminal_voltages(nodes, voltages, line_lost)
        phase_voltages = across @ terminals
        phase_currents = phase_voltages / np.array(self.impedances)
        return LoadState(terminals, phase_voltages, phase_currents, across.T @ phase_currents)

    def star_equivalent(self) -> StarLoad:
        """The star that takes the same line currents; a third of each impedance where they are equal.

        From two neighbours and the sum, Z_U = Z_UV Z_WU / (Z_UV + Z_VW + Z_WU), and so round. `ValueError` where that
        star would need a negative resistance, which unequal impedances of unequal power factor can ask for.
        """
        delta = np.array(self.impedances)
        star = delta * np.roll(delta, 1) / delta.sum()
        if np.any(star.real < 0):
            raise ValueError(
                "impedances must be nearer to each other in power factor: no star without negative resistance takes the same currents"
            )
        return StarLoad(tuple(star))


def _terminal_voltages(nodes: np.ndarray, voltages: ArrayLike, line_lost: str | None) -> np.ndarray:
    """Terminal voltages at the node admittances `nodes` of a load; a lost one takes what leaves it no current."""
    terminals = arguments.complex_numbers("voltages", voltages)
    if terminals.shape != (3,):
        raise ValueError(f"voltages must be three phasors, for U, V and W, not of shape {terminals.shape}")
    if line_lost is None:
        return terminals
    if line_lost not in TERMINALS:
        raise ValueError(f'line_lost must be None, "U", "V" or "W", not {line_lost!r}')
    lost = TERMINALS.index(line_lost)
    others = [index for index in range(3) if index != lost]
    terminals = terminals.copy()
    terminals[lost] = -nodes[lost, others] @ terminals[others] / nodes[lost, lost]
    return terminals


def _impedances(value: ArrayLike) -> tuple[complex, complex, complex]:
    impedances = arguments.complex_numbers("impedances", value)
    if impedances.ndim == 0:
        impedances = np.full(3, impedances)
    if impedances.shape != (3,):
        raise ValueError(f"impedances must be one number or three, not of shape {impedances.shape}")
    if np.any(impedances == 0) or np.any(impedances.real < 0):
        raise ValueError("impedances must have a resistance of 0 or more and must not be 0")
    first, second, third = impedances.tolist()
    return first, second, third
