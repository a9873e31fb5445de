"""The rotating field's settings, how its currents advance, and everything physical at one instant."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from physics.speeds import synchronous_speed
from physics.supply.star_delta import StarLoad
from physics.supply.supplies import ThreePhaseSupply, instantaneous
from physics.windings import LaidWinding, Winding
from physics.windings.bore_lines import field_at_the_wall
from physics.windings.coils_in_slots import PHASES, CoilsInSlots
from scenes.machines.turning_field.windings import SHAPE, USUAL, connected, tooth_angles, winding_of, wound_by_hand
from scenes.scene.phases import LINES


@dataclass(frozen=True)
class Setup:
    """The settings. lines: the line on each of U, V, W; lost: the line that is lost; backwards: the phase with a coil
    connected backwards; current: A, peak; frequency: Hz; step: electrical rad from one numbered instant to the
    next; picture: what is shown in the bore, "lines" or "mmf"; colours: of the phases; looked_at: the number of the phase whose coils
    are shown, None for all, and one_coil: whether only its first is; laid: the winding laid by hand, None for the usual one."""

    lines: tuple[str, str, str]
    lost: str | None
    backwards: str | None
    poles: int
    current: float
    frequency: float
    step: float
    picture: str
    colours: str
    looked_at: int | None
    one_coil: bool
    laid: LaidWinding | None = None

    @classmethod
    def of(cls, settings: dict) -> Setup:
        laid = None if settings["wound"] == USUAL else wound_by_hand(settings["wound"])
        return cls(
            lines=tuple(settings["lines"].split("-")),
            lost=None if settings["lost"] == "none" else settings["lost"],
            # one laid by hand has its own mistakes
            backwards=None if settings["reversed"] == "none" or laid else settings["reversed"],
            poles=2 * laid.pole_pairs if laid else int(settings["poles"]),
            current=settings["current"],
            frequency=settings["frequency"],
            step=float(np.radians(int(settings["instants"]))),
            picture=settings["picture"],
            colours=settings["colours"],
            looked_at=None if settings["coils"] == "all" else PHASES.index(settings["coils"][-1]),
            one_coil=settings["coils"].startswith("first"),
            laid=laid,
        )

    @property
    def winding(self) -> CoilsInSlots:
        """The winding as it is connected."""
        return connected(self.wound, self.backwards)

    @property
    def wound(self) -> Winding | LaidWinding:
        """The winding as it was laid, before a coil is connected backwards."""
        return self.laid or winding_of(self.poles)

    @property
    def phasors(self) -> np.ndarray:
        """Currents of U, V, W, complex r.m.s., shape (3,), that of L1 at its peak at angle 0."""
        return phasors(self.lines, self.lost, self.current)

    @property
    def instants(self) -> int:
        """Numbered instants in a cycle."""
        return round(2 * np.pi / self.step)


@lru_cache(maxsize=64)
def phasors(lines: tuple[str, str, str], lost: str | None, current: float) -> np.ndarray:
    """Currents of three equal windings in star, complex r.m.s.; their peak is `current`, A, with all three lines connected."""
    supply = ThreePhaseSupply(np.sqrt(1.5) * current, 50.0, lines)
    return StarLoad(1.0).on(supply.phase_phasors, None if lost is None else PHASES[lines.index(lost)]).phase_currents


@dataclass(frozen=True)
class Instant:
    """angle: of the supply, electrical rad, L1 having its peak at 0; peak: last position of the field peak being followed,
    mechanical rad, counter-clockwise looking at the drive end, whole turns included."""

    angle: float = 0.0
    peak: float = 0.0


def begin(setup: Setup) -> Instant:
    return at_angle(setup, Instant(), 0.0)


def advance(setup: Setup, state: Instant, seconds: float) -> Instant:
    return at_angle(setup, state, state.angle + 2 * np.pi * setup.frequency * seconds)


def next_instant(setup: Setup, state: Instant) -> Instant:
    """The state at the next numbered instant."""
    return at_angle(setup, state, np.floor(state.angle / setup.step + 1 + 1e-9) * setup.step)


def at_angle(setup: Setup, state: Instant, angle: float) -> Instant:
    angle = float(angle % (2 * np.pi))
    return replace(state, angle=angle, peak=followed(setup, state.peak, instantaneous(setup.phasors, angle)))


def followed(setup: Setup, before: float, currents: np.ndarray) -> float:
    """The field peak nearest to the position `before`, mechanical rad; `before` itself if there is no field."""
    axis = setup.winding.field_axis(currents)
    if np.isnan(axis):
        return before
    apart = 4 * np.pi / setup.poles
    return before + (axis / (setup.poles / 2) - before + apart / 2) % apart - apart / 2


@dataclass(frozen=True)
class Snapshot:
    """Everything physical at one instant.

    currents: of U, V, W, A; coil_currents: A from the non-drive end up the go side of every coil, over the end winding and down the
    return side; coil_charges: how much of it has flowed since the middle of its swing, in A times electrical rad; slot_currents: A
    toward the drive end in every slot; mmf_amplitude: peak of the MMF's fundamental, A; field: T at the wall of the bore at its peak; peak:
    mechanical rad of that peak; tooth_mmf: A on each tooth, outward positive; waves: peaks of the waves that rotate clockwise and
    counter-clockwise looking at the drive end, A.
    """

    setup: Setup
    angle: float
    currents: np.ndarray
    coil_currents: np.ndarray
    coil_charges: np.ndarray
    slot_currents: np.ndarray
    mmf_amplitude: float
    field: float
    peak: float
    tooth_mmf: np.ndarray
    waves: tuple[float, float]

    @property
    def rotation(self) -> float:
        """+1 where the field rotates counter-clockwise looking at the drive end, -1 where clockwise, 0 where its two waves are equal."""
        clockwise, other = self.waves
        return 0.0 if abs(clockwise - other) < 1e-6 * (clockwise + other) else float(np.sign(other - clockwise))

    @property
    def uneven(self) -> bool:
        """Whether it rotates, but with a second wave against it."""
        return bool(self.rotation) and min(self.waves) > 1e-6 * max(self.waves)

    @property
    def instant(self) -> int:
        """The number of this instant, or of the last one passed."""
        return int(np.floor(self.angle / self.setup.step + 1e-6)) % self.setup.instants + 1

    @property
    def synchronous_speed(self) -> float:
        """rev/s."""
        return float(synchronous_speed(self.setup.frequency, self.setup.poles))

    @property
    def order(self) -> list[str]:
        """The phases in the order in which their currents peak, from U on."""
        order = [PHASES[self.setup.lines.index(line)] for line in LINES]
        return order[order.index("U") :] + order[: order.index("U")]


def observe(setup: Setup, state: Instant) -> Snapshot:
    winding, currents = setup.winding, instantaneous(setup.phasors, state.angle)
    amplitude = float(winding.fundamental_amplitude(currents))
    clockwise, other = np.abs(winding.travelling_waves(np.sqrt(2) * setup.phasors))
    return Snapshot(
        setup=setup,
        angle=state.angle,
        currents=currents,
        coil_currents=_in_coils(winding, currents),
        # the integral of Re(I exp(jwt)) over wt, without its constant
        coil_charges=_in_coils(winding, instantaneous(-1j * setup.phasors, state.angle)),
        slot_currents=winding.slot_currents(currents),
        mmf_amplitude=amplitude,
        field=float(field_at_the_wall(amplitude, setup.poles // 2, SHAPE.bore)),
        peak=followed(setup, state.peak, currents),
        tooth_mmf=winding.mmf(tooth_angles(winding), currents),
        waves=(float(clockwise), float(other)),
    )


def _in_coils(winding: CoilsInSlots, of_phases: np.ndarray) -> np.ndarray:
    """What each coil has of a quantity of U, V, W, as it is connected."""
    return np.array([coil.sign * of_phases[PHASES.index(coil.phase)] for coil in winding.coils])
