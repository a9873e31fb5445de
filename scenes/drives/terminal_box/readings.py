"""The figures of the terminal box, each with its formula and this instant's numbers."""

from __future__ import annotations

import numpy as np

from physics.terminals import LINES, PHASES
from scenes.drives.starting.motors import RATED_TORQUE
from scenes.drives.terminal_box.motors import CURRENT_DENSITY, LIMIT, POLES
from scenes.drives.terminal_box.snapshot import Snapshot
from scenes.drives.terminal_box.words import fault, heated, heating, judged, tripping
from scenes.scene.common_readings import load_torque, synchronous_speed
from scenes.scene.scene import Reading, minus
from scenes.scene.story import Look
from scenes.workings.inputs import of_running

KINDS = {"star": "in star", "delta": "in delta", "open": "no closed circuit", "other": "neither star nor delta"}
SWITCHED = {"isolated": "main switch open", "on": "switched on", "fuse": "fuses blown", "relay": "overload relay tripped"}


def readings(now: Snapshot, look: Look) -> list[Reading]:
    return [*_of_the_board(now), *_of_windings(now), *_of_lines(now), *_of_the_shaft(now, look), *_of_protection(now)]


def workings(now: Snapshot) -> dict[str, dict[str, float | str]]:
    """The calculations that belong here, with this instant's inputs."""
    return of_running(now.setup.frequency, POLES, 60 * abs(now.speed))


def _of_the_board(now: Snapshot) -> list[Reading]:
    case = now.case
    return [
        Reading("", "state of the supply", SWITCHED[now.state], "", tells=now.state != "isolated"),
        Reading("", "joined", KINDS.get(case.connected.kind, case.connected.kind), "", case.joining.words, tells=True),
        Reading("", "right for plate and supply", "no" if fault(case) else "yes", "", fault(case) or judged(case), tells=True),
    ]


def _of_windings(now: Snapshot) -> list[Reading]:
    plate, running = now.setup.plate, now.running
    volts = np.zeros(3) if running is None else np.abs(running.voltages)
    amperes = np.zeros(3) if running is None else np.abs(running.currents)
    said = []
    for k, phase in enumerate(PHASES):
        said.append(
            Reading(
                f"U {phase}",
                f"voltage of winding {phase}",
                minus(volts[k], 0),
                "V",
                f"{volts[k] / plate.delta_voltage:.2f} × the {plate.delta_voltage:.0f} V it is made for",
                tells=True,
            )
        )
    for k, phase in enumerate(PHASES):
        said.append(
            Reading(
                f"I {phase}",
                f"current of winding {phase}",
                minus(amperes[k], 1),
                "A",
                f"{amperes[k] / plate.winding_current:.2f} × the rated {plate.winding_current:.1f} A of a winding",
                tells=True,
            )
        )
    return said


def _of_lines(now: Snapshot) -> list[Reading]:
    lines = np.zeros(3) if now.running is None else np.abs(now.running.line_currents)
    values = ", ".join(f"{line} {value:.1f} A" for line, value in zip(LINES, lines, strict=True))
    rated = now.setup.plate.line_current(now.setup.supply)
    return [
        Reading(
            "I",
            "largest current in a line",
            minus(np.max(lines), 1),
            "A",
            f"{values}; {now.times:.2f} × the rated {rated:.1f} A",
            tells=True,
        )
    ]


def _of_the_shaft(now: Snapshot, look: Look) -> list[Reading]:
    powers, rpm, synchronous = now.powers, 60 * abs(now.speed), now.case.synchronous
    torque = 0.0 if now.running is None else abs(float(now.running.torque))
    loss = powers["stator_loss"] + powers["rotor_loss"]
    return [
        synchronous_speed(60 * synchronous, now.setup.frequency, POLES),
        Reading("n", "speed of the shaft", f"{rpm:.0f}", "r/min", look.view.turns(now.speed), tells=True),
        Reading(
            "T",
            "torque of the motor",
            minus(torque, 1),
            "N m",
            f"{torque / RATED_TORQUE:.2f} × the rated {RATED_TORQUE:.1f} N m",
            tells=True,
        ),
        load_torque(now.setup.load, now.setup.percent, RATED_TORQUE),
        Reading(
            "P",
            "power drawn",
            minus(powers["input_power"] / 1000, 2),
            "kW",
            f"shaft {minus(powers['converted_power'] / 1000, 3)} kW + heat {minus(loss / 1000, 3)} kW",
            tells=True,
        ),
    ]


def _of_protection(now: Snapshot) -> list[Reading]:
    case = now.case
    relay, fuse = case.plate.relay(case.supply), case.plate.fuse(case.supply)
    return [
        Reading(
            "", "what trips", tripping(case), "", f"class 10 relay set to {relay.setting:.1f} A, gG fuses of {fuse.rating} A", tells=True
        ),
        Reading(
            "",
            f"windings at {LIMIT:.0f} °C, if nothing trips",
            heated(case),
            "",
            f"{heating(case)}; I² R against the heat of the copper, {CURRENT_DENSITY:g} A/mm² at rated current assumed",
            tells=True,
        ),
    ]
