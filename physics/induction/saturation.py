"""Leakage that saturates with the current: teeth tips and the bridges over closed slots fill with flux, and let no more through.

Of a winding that carries I the part S of its leakage falls to S / (1 + I / I_s), half of it being left at I_s: its flux
linkage grows towards a limit. That is so for the length of the current's space vector, so that a steady run has sinusoidal
currents, and circuit and transient agree. (Falling leakage at standstill: common practice, no source for this form; it is
the Froelich curve of magnetism, handbook.)
"""

from __future__ import annotations

from physics.arguments import NumberOrArray

_MOST_ROUNDS = 40


def left_at(reactance: NumberOrArray, saturation_current: NumberOrArray, current: NumberOrArray) -> NumberOrArray:
    """Of `reactance`, ohm or H, what is left at `current`, in the unit of `saturation_current`."""
    return reactance / (1.0 + current / saturation_current)


def current_drawn(
    voltage: NumberOrArray, impedance: NumberOrArray, reactance: NumberOrArray, saturation_current: NumberOrArray
) -> NumberOrArray:
    """A that `voltage` drives through `impedance`, complex ohm, and such a `reactance` in series.

    By Newton's method from below: V is a function of I that rises all the way, ever less steeply, so no step goes too far.
    """
    resistance, constant = impedance.real, impedance.imag
    current = voltage / abs(impedance + 1j * reactance)
    for _ in range(_MOST_ROUNDS):
        left = left_at(reactance, saturation_current, current)
        across = current * (resistance * resistance + (constant + left) * (constant + left)) ** 0.5
        # d(I X) / dI: the flux linkage grows by the rest squared
        differential = constant + left / (1.0 + current / saturation_current)
        steepness = (resistance * resistance + (constant + left) * differential) * current / across
        change = (voltage - across) / steepness
        current = current + change
        settled = abs(change) <= 1e-11 * current
        if settled if isinstance(settled, bool) else settled.all():
            break
    return current


def current_per_linkage(
    linkage: NumberOrArray, inductance: NumberOrArray, saturable: NumberOrArray, saturation_current: NumberOrArray
) -> NumberOrArray:
    """1/H: the current over `linkage`, Wb, where this is (inductance + what is left of saturable) times the current.

    L i + S i I_s / (I_s + i) = F is a square equation for i; `inductance` above 0.
    """
    half = 0.5 * (saturation_current * (inductance + saturable) - linkage)
    return saturation_current / (half + (half * half + inductance * saturation_current * linkage) ** 0.5)
