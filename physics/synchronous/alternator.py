"""The alternator: a magnet spun inside the coils of a stator, one coil or three phases, open or on lamps.

Angles are mechanical radians and speeds revolutions per second, both counter-clockwise looking at the drive end (+z).
`angle` is where the middle of one of the magnet's north poles stands, the pole from which flux goes outward into the
stator.

- The flux linkage of a coil is positive while flux goes outward through it, that is, the way its own positive current
  drives it (positive: toward +z in the go side, see `physics.windings.coils_in_slots`).
- An EMF, e = -d(flux linkage)/dt, is positive where it drives current that way. So what a loaded alternator delivers is
  e i, and its current resists the motion.
- The phases come round as U, V, W when the magnet turns clockwise, and as U, W, V when it turns counter-clockwise.

Everything is a sum over the harmonics of the magnet's field. Inside, a quantity x of harmonic h has a complex peak
amplitude X in the rotor's angle, x(angle) = Re(X exp(-j h p angle)), which holds for either way of turning.

Formulae: standard textbook results, e.g. Chapman, Electric Machinery Fundamentals, chapters on the fundamentals of AC
machinery and on synchronous generators.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from physics import arguments
from physics.arguments import NumberOrArray
from physics.speeds import frequency_of_speed
from physics.windings.coils_in_slots import CoilsInSlots


def emf_of_phase(frequency: ArrayLike, series_turns: ArrayLike, winding_factor: ArrayLike, pole_flux: ArrayLike) -> NumberOrArray:
    """EMF of a phase, V r.m.s.: E = 4.44 f N k_w Phi, with f in Hz, Phi in Wb and 4.44 for pi sqrt(2); arrays too."""
    factors = {
        "frequency": frequency, "series_turns": series_turns, "winding_factor": winding_factor, "pole_flux": pole_flux
    }  # fmt: skip
    f, n, k, flux = (arguments.numbers(name, value) for name, value in factors.items())
    return np.pi * np.sqrt(2) * f * n * k * flux


@dataclass(frozen=True)
class RotorMagnet:
    """A rotor of permanent magnets and its field in the gap.

    poles: even; radius: m, of the bore; length: m, along the shaft; spectrum: peak flux density in T of each harmonic,
    {1: 0.8, 3: 0.1, ...}, of either sign: B(theta) = sum B_h cos(h p (theta - angle)), outward positive.
    """

    poles: int
    radius: float
    length: float
    spectrum: Mapping[int, float]

    def __post_init__(self) -> None:
        arguments.poles("poles", self.poles)
        arguments.positive("radius", self.radius)
        arguments.positive("length", self.length)
        if not isinstance(self.spectrum, Mapping) or not self.spectrum:
            raise ValueError("spectrum must give a flux density for each harmonic, such as {1: 0.8, 3: 0.1}")
        checked = {
            arguments.whole("spectrum", harmonic): arguments.number("spectrum", density) for harmonic, density in self.spectrum.items()
        }
        object.__setattr__(self, "spectrum", MappingProxyType(dict(sorted(checked.items()))))

    @classmethod
    def with_even_poles(
        cls, poles: int, radius: float, length: float, flux_density: float, pole_arc: float = 1.0, highest_harmonic: int = 15
    ) -> RotorMagnet:
        """Poles with the same `flux_density`, T, all over their faces, and none between them.

        pole_arc: the part of a pole pitch that a face covers, above 0 and at most 1. B_h = 4 B / (pi h) sin(h arc / 2)
        of odd h up to `highest_harmonic` (Fourier's series of a rectangular wave).
        """
        pole_arc = arguments.positive("pole_arc", pole_arc)
        if pole_arc > 1:
            raise ValueError(f"pole_arc must be at most 1, the whole pole pitch, not {pole_arc:g}")
        density = arguments.number("flux_density", flux_density)
        odd = range(1, arguments.whole("highest_harmonic", highest_harmonic) + 1, 2)
        spectrum = {h: 4 * density / (np.pi * h) * np.sin(h * pole_arc * np.pi / 2) for h in odd}
        return cls(poles, radius, length, spectrum)

    @property
    def pole_pairs(self) -> int:
        """Half the number of poles."""
        return self.poles // 2

    @cached_property
    def orders(self) -> np.ndarray:
        """Number of waves round the bore of each harmonic: h times the pole pairs."""
        return self.pole_pairs * np.array(list(self.spectrum), dtype=np.float64)

    def flux_density(self, angles: ArrayLike, angle: float) -> np.ndarray:
        """Outward flux density in T at mechanical `angles` round the bore, any shape, with the magnet at `angle`."""
        from_pole = arguments.numbers("angles", angles) - arguments.number("angle", angle)
        return np.cos(from_pole[..., np.newaxis] * self.orders) @ np.array(list(self.spectrum.values()))

    def pole_flux(self, harmonic: int = 1) -> float:
        """Flux of one pole of `harmonic`, Wb: mean over half a wave times its area, Phi = 2 B r l / (h p)."""
        harmonic = arguments.whole("harmonic", harmonic)
        return 2 * self.spectrum.get(harmonic, 0.0) * self.radius * self.length / (harmonic * self.pole_pairs)


@dataclass(frozen=True)
class Alternator:
    """winding: any coils in slots (`physics.windings.Winding` for three regular phases); magnet: what is spun in them;
    resistance: ohm of a phase, 0 or more; inductance: synchronous inductance of a phase, H, 0 or more (synchronous
    reactance over 2 pi f).

    `angle` may have any shape in what follows, and `speed` one that broadcasts with it.
    """

    winding: CoilsInSlots
    magnet: RotorMagnet
    resistance: float = 0.0
    inductance: float = 0.0

    def __post_init__(self) -> None:
        arguments.not_negative("resistance", self.resistance)
        arguments.not_negative("inductance", self.inductance)

    def coil_flux_linkages(self, angle: NumberOrArray) -> np.ndarray:
        """Flux linkage in Wb of every single coil as it is wound, shape (..., coils)."""
        return self._values(self._per_coil, angle)

    def coil_emfs(self, angle: NumberOrArray, speed: NumberOrArray) -> np.ndarray:
        """EMF in V of every single coil as it is wound, shape (..., coils)."""
        return _angular(speed) * self._values(1j * self.magnet.orders[:, np.newaxis] * self._per_coil, angle)

    def flux_linkages(self, angle: NumberOrArray) -> np.ndarray:
        """Flux linkage in Wb of U, V, W, their coils joined as the winding has them, shape (..., 3)."""
        return self._values(self._per_phase, angle)

    def emfs(self, angle: NumberOrArray, speed: NumberOrArray) -> np.ndarray:
        """EMF in V of U, V, W, shape (..., 3): minus the rate of change of `flux_linkages`, exactly."""
        return _angular(speed) * self._values(self.emf_amplitudes, angle)

    def frequency(self, speed: ArrayLike) -> NumberOrArray:
        """Frequency of the fundamental, Hz: f = p n."""
        return frequency_of_speed(speed, self.magnet.poles)

    def emf(self, speed: float, harmonic: int = 1) -> np.ndarray:
        """EMF of one harmonic in U, V, W, V r.m.s., shape (3,); the fundamental's is 4.44 f N k_w Phi."""
        harmonic = arguments.whole("harmonic", harmonic)
        present = np.array([each == harmonic for each in self.magnet.spectrum])
        speed = arguments.number("speed", speed)
        return np.abs(2 * np.pi * speed * self.emf_amplitudes[present]).sum(axis=0) / np.sqrt(2)

    def on_lamps(self, speed: float, resistance: float) -> LoadedAlternator:
        """Settled running at `speed` with three equal resistances in star, ohm each, above 0; star points not joined.

        speed: one number. Of each harmonic the part that is the same in all three phases (the third, the ninth) finds
        no way back and drives no current; the rest drives it through the lamp, the winding's resistance and its
        reactance at that harmonic.
        """
        load = arguments.positive("resistance", resistance)
        angular_speed = 2 * np.pi * arguments.number("speed", speed)
        emf = angular_speed * self.emf_amplitudes
        impedance = load + self.resistance - 1j * angular_speed * self.magnet.orders * self.inductance
        current = (emf - emf.mean(axis=1, keepdims=True)) / impedance[:, np.newaxis]
        return LoadedAlternator(self, float(speed), load, current)

    @cached_property
    def emf_amplitudes(self) -> np.ndarray:
        """Complex peak amplitudes in the rotor's angle of the EMFs at 1 rad/s mechanical, V, shape (harmonics, 3)."""
        return 1j * self.magnet.orders[:, np.newaxis] * self._per_phase

    @cached_property
    def _per_coil(self) -> np.ndarray:
        """Complex amplitude of each coil's flux linkage, shape (harmonics, coils)."""
        per_slot = self._per_conductor
        go = [coil.go for coil in self.winding.coils]
        back = [coil.back for coil in self.winding.coils]
        return self.winding.turns * (per_slot[:, go] - per_slot[:, back])

    @cached_property
    def _per_phase(self) -> np.ndarray:
        """Complex amplitude of each phase's flux linkage, shape (harmonics, 3)."""
        return self._per_conductor @ self.winding.conductors / self.winding.paths

    @cached_property
    def _per_conductor(self) -> np.ndarray:
        """Share of one conductor in the flux linkage, complex amplitude, shape (harmonics, slots).

        Flux is summed up from angle 0 to the slot, r l B / m sin(m (slot - angle)), a constant left aside that cancels
        between go and return side.
        """
        orders = self.magnet.orders
        size = self.magnet.radius * self.magnet.length * np.array(list(self.magnet.spectrum.values())) / orders
        return -1j * size[:, np.newaxis] * np.exp(1j * np.outer(orders, self.winding.slot_angles))

    def _values(self, amplitudes: np.ndarray, angle: NumberOrArray) -> np.ndarray:
        return _values(amplitudes, self.magnet.orders, angle)


@dataclass(frozen=True)
class LoadedAlternator:
    """An alternator in settled running on three lamps (see `Alternator.on_lamps`)."""

    alternator: Alternator
    speed: float
    lamp_resistance: float
    current_amplitudes: np.ndarray
    """Complex peak amplitudes in the rotor's angle, A, shape (harmonics, 3)."""

    def currents(self, angle: ArrayLike) -> np.ndarray:
        """Currents of U, V, W in A with the magnet at `angle`, shape (..., 3)."""
        return _values(self.current_amplitudes, self.alternator.magnet.orders, angle)

    def torque(self, angle: NumberOrArray) -> np.ndarray:
        """Torque on the magnet in N m, positive counter-clockwise, shape (...): sum of i d(flux linkage)/d(angle).

        It is against the motion on the whole, and e i = -torque x speed at every instant.
        """
        emfs_of_one_radian_a_second = self.alternator.emfs(angle, 1 / (2 * np.pi))
        return -np.sum(self.currents(angle) * emfs_of_one_radian_a_second, axis=-1)

    @property
    def current(self) -> np.ndarray:
        """Currents of U, V, W, A r.m.s., all harmonics together, shape (3,)."""
        return np.sqrt(np.sum(np.abs(self.current_amplitudes) ** 2, axis=0) / 2)

    @property
    def lamp_voltage(self) -> np.ndarray:
        """Voltages across the three lamps, V r.m.s., shape (3,)."""
        return self.lamp_resistance * self.current

    @property
    def lamp_power(self) -> np.ndarray:
        """Mean power of the three lamps, W, shape (3,)."""
        return self.lamp_resistance * self.current**2

    @property
    def winding_loss(self) -> float:
        """Mean heat per second in the resistance of the three phases, W."""
        return float(self.alternator.resistance * np.sum(self.current**2))

    @property
    def shaft_power(self) -> float:
        """Mean power taken from the shaft, W: what the EMFs deliver, mean of the sum of e i."""
        emf = 2 * np.pi * self.speed * self.alternator.emf_amplitudes
        return float(np.sum(np.real(emf * np.conj(self.current_amplitudes))) / 2)

    @property
    def mean_torque(self) -> float:
        """Mean torque on the magnet in N m, positive counter-clockwise: from the balance of powers, -P / (2 pi n); 0 at
        standstill."""
        return -self.shaft_power / (2 * np.pi * self.speed) if self.speed else 0.0


def _values(amplitudes: np.ndarray, orders: np.ndarray, angle: ArrayLike) -> np.ndarray:
    """Sum over harmonics of Re(X exp(-j order angle)), for X of shape (harmonics, k): (*angle.shape, k)."""
    phases = arguments.numbers("angle", angle)[..., np.newaxis] * orders
    return np.cos(phases) @ amplitudes.real + np.sin(phases) @ amplitudes.imag


def _angular(speed: ArrayLike) -> np.ndarray:
    return 2 * np.pi * arguments.numbers("speed", speed)[..., np.newaxis]
