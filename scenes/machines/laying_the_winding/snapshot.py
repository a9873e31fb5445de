"""The settings of a winding that is being laid, how its currents advance, and everything physical at one instant."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from physics.supply.supplies import instantaneous
from physics.windings import LaidWinding
from physics.windings.bore_lines import field_at_the_wall
from physics.windings.coils_in_slots import BALANCED, PHASES
from physics.windings.laid import wrong_phases
from scenes.machines.laying_the_winding.plans import Plan, laid, plan_of
from visual.machines.stator import StatorShape

FREQUENCY = 50.0  # Hz
FULL = 20.0  # A, peak
SHAPE = StatorShape(bore=0.070, slot_bottom=0.094, outside=0.116, half_length=0.03)


@dataclass(frozen=True)
class Setup:
    """What is set. text: the coils that are laid, by name or one by one; in_hand: the phase of the next coil; bold: what is shown bold,
    "last", "all" or a phase; current: A, peak; asked: what the question is about; colours: of the phases."""

    plan: Plan
    text: str
    in_hand: str
    bold: str
    current: float
    asked: str
    colours: str

    @classmethod
    def of(cls, settings: dict) -> Setup:
        return cls(
            plan=plan_of(settings),
            text=settings["laid"],
            in_hand=settings["hand"],
            bold=settings["bold"],
            current=settings["current"],
            asked=settings["asked"],
            colours=settings["colours"],
        )

    @property
    def winding(self) -> LaidWinding:
        return laid(self.plan, self.text)

    @property
    def next_phase(self) -> str:
        """The phase in hand or, where that has all its coils, the first that has not; the one in hand if all have."""
        counts = dict(zip(PHASES, self.winding.counts, strict=True))
        missing = [phase for phase in (self.in_hand, *PHASES) if counts[phase] < self.winding.plan.coils_per_phase]
        return missing[0] if missing else self.in_hand

    @property
    def phasors(self) -> np.ndarray:
        """Peak currents of U, V, W, complex, shape (3,); a phase without coils carries none."""
        return self.current * BALANCED * (np.array(self.winding.counts) > 0)


@dataclass(frozen=True)
class Instant:
    """angle: of the supply, electrical rad, the current of U having its peak at 0; peak: last position of the field peak being
    followed, mechanical rad, counter-clockwise looking at the drive end."""

    angle: float = 0.0
    peak: float = 0.0


def begin(setup: Setup) -> Instant:
    return _at(setup, Instant(), 0.0)


def advance(setup: Setup, state: Instant, seconds: float) -> Instant:
    return _at(setup, state, state.angle + 2 * np.pi * FREQUENCY * seconds)


def _at(setup: Setup, state: Instant, angle: float) -> Instant:
    angle = float(angle % (2 * np.pi))
    return Instant(angle, _followed(setup, state.peak, _currents(setup, angle)))


def _followed(setup: Setup, before: float, currents: np.ndarray) -> float:
    """The field peak nearest to the position `before`, mechanical rad; `before` itself if there is no field."""
    axis = setup.winding.field_axis(currents)
    if np.isnan(axis):
        return before
    apart = 4 * np.pi / setup.plan.poles
    return before + (axis / (setup.plan.poles / 2) - before + apart / 2) % apart - apart / 2


def _currents(setup: Setup, angle: float) -> np.ndarray:
    return instantaneous(setup.phasors / np.sqrt(2), angle)


@dataclass(frozen=True)
class Snapshot:
    """Everything physical at one instant.

    currents: of U, V, W, A; slot_currents: A toward the drive end in every slot; tooth_mmf: A on the tooth clockwise of each slot;
    amplitude: peak of the MMF's working wave, A; field: T at the wall of the empty bore at its peak; peak: mechanical rad of that peak;
    waves: peaks, A, of the working waves that rotate clockwise and counter-clockwise looking at the drive end; star: winding factor
    of each phase as laid, complex, its angle the phase's axis; emfs: of the phases, as shares of a right one.
    """

    setup: Setup
    angle: float
    currents: np.ndarray
    slot_currents: np.ndarray
    tooth_mmf: np.ndarray
    amplitude: float
    field: float
    peak: float
    waves: tuple[float, float]
    star: np.ndarray
    emfs: np.ndarray

    @property
    def winding(self) -> LaidWinding:
        return self.setup.winding

    @property
    def rotation(self) -> float:
        """+1 where the field rotates counter-clockwise looking at the drive end, -1 where clockwise, 0 where it does not rotate."""
        clockwise, other = self.waves
        return 0.0 if abs(clockwise - other) <= 1e-6 * (clockwise + other) else float(np.sign(other - clockwise))

    @property
    def uneven(self) -> bool:
        """Whether it rotates, but with a second wave against it."""
        return bool(self.rotation) and min(self.waves) > 1e-6 * max(self.waves)

    @property
    def wrong(self) -> tuple[str, ...]:
        """The phases of which a coil lies where the plan has another, or the other way round."""
        return wrong_phases(self.winding)


def observe(setup: Setup, state: Instant) -> Snapshot:
    winding, currents = setup.winding, _currents(setup, state.angle)
    pairs = setup.plan.poles // 2
    amplitude = float(winding.fundamental_amplitude(currents))
    clockwise, other = np.abs(winding.travelling_waves(setup.phasors))
    return Snapshot(
        setup=setup,
        angle=state.angle,
        currents=currents,
        slot_currents=winding.slot_currents(currents),
        tooth_mmf=winding.mmf(winding.slot_angles - np.pi / winding.slots, currents),
        amplitude=amplitude,
        field=float(field_at_the_wall(amplitude, pairs, SHAPE.bore)),
        peak=_followed(setup, state.peak, currents),  # coils may have been laid since
        waves=(float(clockwise), float(other)),
        star=winding.slot_star(),
        emfs=winding.phase_emfs(),
    )
