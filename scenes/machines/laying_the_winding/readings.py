"""The figures of a winding that is being laid, each with its formula and this instant's numbers."""

from __future__ import annotations

import numpy as np

from physics.windings import LaidWinding
from physics.windings.coils_in_slots import PHASES
from physics.windings.laid import circulating_currents
from scenes.machines.laying_the_winding.plans import ends
from scenes.machines.laying_the_winding.snapshot import FREQUENCY, Snapshot
from scenes.scene.common_readings import field_rotation
from scenes.scene.scene import Reading, minus
from scenes.scene.story import Look

PATH_IMPEDANCE = (
    0.2  # of its rated voltage over its rated current: that of a motor which starts on five times its current (common practice)
)


def readings(now: Snapshot, look: Look) -> list[Reading]:
    return [*_laying(now), *_rotation(now, look), *_slots(now), *_field(now), *_factors(now), *_emfs(now)]


def _laying(now: Snapshot) -> list[Reading]:
    setup, winding = now.setup, now.winding
    plan = winding.plan
    counted = ", ".join(f"{phase} {count}" for phase, count in zip(PHASES, winding.counts, strict=True))
    coil = None if winding.whole else winding.next_right(setup.next_phase)
    following = "all are laid" if winding.whole else "no right place is free"
    if coil is not None:
        start, finish = ends(coil)
        following = f"{coil.phase}: slot {start + 1} to slot {finish + 1}"
    return [
        Reading("", "coils laid", f"{len(winding.coils)} of {len(plan.coils)}", "", f"{counted}, of {plan.coils_per_phase} each"),
        Reading("", "next coil", following, "", "", tells=True),
    ]


def _slots(now: Snapshot) -> list[Reading]:
    setup, plan = now.setup, now.winding.plan
    full = plan.slots // plan.poles
    return [
        Reading(
            "",
            "slots per pole and phase",
            f"{plan.slots_per_pole_and_phase}",
            "",
            f"slots / (3 × poles) = {plan.slots} / (3 × {plan.poles}) = {plan.slots_per_pole_and_phase}",
        ),
        Reading(
            "",
            "coil pitch",
            f"{plan.span}",
            "slots",
            f"full pitch = slots / poles = {plan.slots} / {plan.poles} = {full}"
            + (f"; short by {full - plan.span}" if plan.span < full else ""),
            tells=setup.asked == "slot",
        ),
    ]


def _rotation(now: Snapshot, look: Look) -> list[Reading]:
    wrong = now.wrong
    return [
        field_rotation(look.view, now.rotation, now.uneven),
        Reading("", "laid wrong", " and ".join(wrong) or "no phase", "", tells=True),
    ]


def _field(now: Snapshot) -> list[Reading]:
    return [
        Reading(
            "Θ₊", "MMF wave that rotates clockwise, looking at the drive end", minus(now.waves[0], 0), "A", _wave_formula(now), tells=True
        ),
        Reading("Θ₋", "MMF wave that rotates counter-clockwise, looking at the drive end", minus(now.waves[1], 0), "A", tells=True),
        Reading("Θ", "MMF of the working wave at this instant, peak", f"{now.amplitude:.0f}", "A", tells=True),
        Reading("B", "field at the wall of the empty bore, peak", f"{1000 * now.field:.1f}", "mT", tells=True),
    ]


def _wave_formula(now: Snapshot) -> str:
    """Three halves of one phase's wave, where all three phases lie right."""
    setup, plan = now.setup, now.winding.plan
    if not (now.winding.whole and now.winding.right):
        return "the waves of all coils that are laid, added as arrows"
    factor = float(plan.winding_factor())
    turns = plan.series_turns // setup.plan.paths
    return (
        f"Θ₊ = 3/2 × 4/π × N k_w Î / poles = 1.5 × 1.273 × {turns} × {factor:.3f} × {setup.current:g} A / {plan.poles} = "
        f"{now.waves[0]:.0f} A"
    )


def _factors(now: Snapshot) -> list[Reading]:
    plan = now.winding.plan
    pitch, spread, q = float(plan.pitch_factor()), float(plan.distribution_factor()), plan.slots_per_pole_and_phase
    step = 180 * plan.poles / plan.slots
    full = plan.slots // plan.poles
    half = 90 * plan.span / full
    return [
        Reading(
            "k_p",
            "pitch factor of the plan: y coil pitch, τ full pitch",
            f"{pitch:.3f}",
            "",
            f"k_p = sin(y / τ × 90°) = sin({plan.span} / {full} × 90°) = sin {half:g}° = {pitch:.3f}",
            tells=now.setup.asked == "slot",
        ),
        Reading(
            "k_d",
            "distribution factor of the plan: z slots per pole and phase, γ angle of a slot",
            f"{spread:.3f}",
            "",
            f"k_d = sin(z γ / 2) / (z sin(γ / 2)) = sin({q} × {step / 2:g}°) / ({q} sin {step / 2:g}°) = {spread:.3f}",
        ),
        *[
            Reading(
                f"k_w{'' if order == 1 else order}",
                f"winding factor of U as laid{'' if order == 1 else f', {order}th harmonic'}",
                _factor(now, order),
                "",
                _factor_formula(now, order),
                tells=now.setup.asked in ("slot", "wrong", "turns"),
            )
            for order in (1, 5, 7)
        ],
    ]


def _factor(now: Snapshot, order: int) -> str:
    if not now.winding.counts[0]:
        return "no coil yet"
    return f"{abs(now.winding.slot_star(order)[0]):.3f}"


def _factor_formula(now: Snapshot, order: int) -> str:
    plan, (count, _, _) = now.winding.plan, now.winding.counts
    if not count:
        return ""
    if "U" not in now.wrong and count == plan.coils_per_phase:
        spread, pitch = abs(float(plan.distribution_factor(order))), abs(float(plan.pitch_factor(order)))
        return f"k_w = k_d k_p = {spread:.3f} × {pitch:.3f} = {spread * pitch:.3f}"
    return f"the EMFs of {count} {'coil' if count == 1 else 'coils'} of U added as arrows, over {2 * count} coil sides in line"


def _emfs(now: Snapshot) -> list[Reading]:
    winding = now.winding
    found = [
        Reading(
            "θ",
            f"angle by which the EMF of {second} lags that of {first}",
            _angle(now, first, second),
            "°",
            "right: 120°, a third of a pole pair",
            tells=True,
        )
        for first, second in (("U", "V"), ("V", "W"))
    ]
    if now.setup.plan.paths > 1:
        found += _round_the_paths(winding)
    return found


def _round_the_paths(winding: LaidWinding) -> list[Reading]:
    """What parallel paths that differ drive round themselves: in the phase in which that is most."""
    worst = max(PHASES, key=winding.circulating_voltage)
    volts = 100 * winding.circulating_voltage(worst)
    amperes = float(np.abs(circulating_currents(winding.path_emfs(worst), 1j * PATH_IMPEDANCE)).max())
    paths = f"{winding.paths} parallel paths of {worst}" if volts > 0.5 else f"{winding.paths} parallel paths of a phase"
    why = f"the difference over two paths in series, each of {PATH_IMPEDANCE:.0%} impedance (usual)"
    return [
        Reading(
            "",
            f"EMF round the {paths}",
            f"{volts:.0f}" if winding.whole else "?",
            "% of one path's",
            "none, where all paths are equal" if winding.whole else "lay all coils first",
            tells=True,
        ),
        Reading(
            "",
            "current that it drives round them at rated voltage",
            f"{amperes:.1f}" if winding.whole else "?",
            "× rated",
            why if winding.whole else "lay all coils first",
            tells=True,
        ),
    ]


def _angle(now: Snapshot, first: str, second: str) -> str:
    ahead, behind = now.emfs[PHASES.index(first)], now.emfs[PHASES.index(second)]
    if abs(ahead) < 1e-9 or abs(behind) < 1e-9:
        return "none"
    return minus(np.degrees(np.angle(ahead / behind)) % 360, 0)


def workings(now: Snapshot) -> dict[str, dict[str, float | str]]:
    """The calculations that belong here, with this instant's inputs."""
    plan = now.setup.plan
    return {
        "winding-factors": {"slots": plan.slots, "poles": plan.poles, "coil_pitch": plan.winding.span},
        "synchronous-speed": {"frequency": FREQUENCY, "poles": plan.poles},
    }
