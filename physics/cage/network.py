"""The cage as the network it is: bars that generate, joined at both ends by rings, solved mesh by mesh.

Needs no symmetry, so bars may be missing. A healthy cage gives what the symmetrical formula in `cage` gives.
"""

from __future__ import annotations

import numpy as np


def bar_currents(emf: np.ndarray, bar_impedance: complex, ring_impedance: complex, whole: np.ndarray) -> np.ndarray:
    """Current of every bar, as phasors at slip frequency.

    `emf` (bars,) complex volts, positive toward the end the currents are counted to; `bar_impedance` ohm of one bar,
    `ring_impedance` ohm of one ring segment between neighbouring bar positions, the same at both ends; `whole`
    positions of the bars that carry current, ascending. Returns (bars,) complex amperes, 0 where a bar is missing.

    Kirchhoff's laws round each mesh of two neighbouring bars and the two ring pieces between them:
    Z_b (i_k - i_k+1) + 2 n Z_r m_k = e_k - e_k+1, with the mesh current m_k in the ring pieces, i_k = m_k - m_k-1, and
    n the ring segments that the mesh spans: a missing bar leaves a longer mesh.
    """
    currents = np.zeros(len(emf), dtype=complex)
    count = len(whole)
    if count < 2:
        return currents  # one bar has no way back
    here = np.arange(count)
    following = (here + 1) % count
    spans = (whole[following] - whole).astype(float)
    spans[-1] += len(emf)
    meshes = np.zeros((count, count), dtype=complex)
    meshes[here, here] = 2.0 * bar_impedance + 2.0 * spans * ring_impedance
    meshes[here, following] -= bar_impedance
    meshes[following, here] -= bar_impedance
    # No flux runs along the shaft, so the voltages round a ring, and with them the currents, add up to nothing. The
    # meshes say so already, unless the ring has no impedance; saying it once more solves that case too.
    meshes += bar_impedance * np.outer(spans, spans) / len(emf)
    generated = emf[whole]
    mesh_currents = np.linalg.solve(meshes, generated - generated[following])
    currents[whole] = mesh_currents - mesh_currents[here - 1]
    return currents
