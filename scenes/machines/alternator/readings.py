"""The alternator's figures, each with its formula and this instant's numbers."""

from __future__ import annotations

import numpy as np

from scenes.machines.alternator.snapshot import LAMP_POWER, LAMP_RESISTANCE, LAMP_VOLTAGE, RESISTANCE, TURNS, Snapshot
from scenes.scene.scene import Reading, minus
from scenes.scene.story import Look


def readings(now: Snapshot, look: Look) -> list[Reading]:
    setup, f, rms = now.setup, now.frequency, now.rms
    revolutions = abs(setup.speed) * 60
    flux = abs(now.machine.magnet.pole_flux()) * 1000
    return [
        Reading("n", f"speed: {look.view.turns(setup.speed)}", f"{revolutions:.0f}", "r/min"),
        Reading(
            "f",
            "frequency",
            f"{f:.4g}",
            "Hz",
            f"f = poles × n / 120 = {setup.poles} × {revolutions:.0f} r/min / 120 = {f:.4g} Hz",
            tells=True,
        ),
        Reading(
            "E",
            "EMF of a phase, r.m.s.",
            minus(rms, 1),
            "V",
            f"E = 4.443 f N k_w Φ = 4.443 × {f:.4g} Hz × {TURNS} × 1 × {flux:.3f} mWb = {rms:.1f} V",
            tells=True,
        ),
        *[
            Reading(
                f"e {phase}",
                f"EMF of {phase} at this instant, positive toward the drive end in coil side +{phase}",
                minus(float(emf), 1),
                "V",
                tells=True,
            )
            for phase, emf in zip(setup.wound, now.emfs, strict=False)
        ],
        Reading("", "phase sequence, in order of the peaks", now.order, "", tells=True),
        *_loaded(now),
    ]


def workings(now: Snapshot) -> dict[str, dict[str, float | str]]:
    """The calculations that belong here, with this instant's inputs."""
    flux, speed = abs(now.machine.magnet.pole_flux()) * 1000, 60 * abs(now.setup.speed)
    return {"coil-emf": {"turns": TURNS, "flux": flux, "poles": now.setup.poles, "speed": speed}}


def _loaded(now: Snapshot) -> list[Reading]:
    """Current, power and torque; zero without lamps."""
    if not now.setup.lamps:
        return [
            Reading("I", "current of a phase, r.m.s.", "0.00", "A", "nothing is connected", tells=True),
            Reading("T", "torque of the coils on the magnet, opposing rotation", "0.0", "mN m", "no current, no torque", tells=True),
        ]
    current, power = float(now.on_lamps.current[0]), float(now.on_lamps.lamp_power[0])
    products = " + ".join(
        f"{minus(float(e), 3)} V × {minus(float(i), 4)} A" for e, i, _ in zip(now.emfs, now.currents, now.setup.wound, strict=False)
    )
    speed = 2 * np.pi * abs(now.setup.speed)
    return [
        Reading(
            "I",
            "current of a phase, r.m.s.",
            minus(current, 2),
            "A",
            f"I = E / (R + R_lamp) = {now.rms:.2f} V / ({RESISTANCE:g} Ω + {LAMP_RESISTANCE:g} Ω)",
            tells=True,
        ),
        Reading(
            "P",
            f"power of a lamp rated {LAMP_VOLTAGE:g} V, {LAMP_POWER:g} W",
            minus(power, 1),
            "W",
            f"P = I² R_lamp = ({current:.4f} A)² × {LAMP_RESISTANCE:g} Ω",
            tells=True,
        ),
        Reading(
            "T",
            "torque of the coils on the magnet, opposing rotation",
            minus(abs(now.torque) * 1000, 1),
            "mN m",
            f"T = Σ e i / ω = ({products}) / {speed:.3f} rad/s" if speed else "no current, no torque",
            tells=True,
        ),
    ]
