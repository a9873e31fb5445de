"""What is told of the lit part, and how far the motor is apart."""

from __future__ import annotations

import re

from scenes.drives.terminal_box.motors import FREQUENCY, POLES, RATED_SPEED
from scenes.machines.inside_a_motor.figures import figure
from scenes.machines.inside_a_motor.parts import MOTORS, PARTS, owners
from scenes.machines.inside_a_motor.snapshot import Snapshot
from scenes.machines.inside_a_motor.taking_apart import ORDER, STEPS
from scenes.scene.scene import Reading
from scenes.scene.story import Look
from scenes.workings.inputs import of_running


def readings(now: Snapshot, look: Look) -> list[Reading]:
    return [*_of_the_part(now, look.reveals_answer), *_of_the_motor(now)]


def _of_the_part(now: Snapshot, reveals_answer: bool) -> list[Reading]:
    """The figure is left out while an answer is hidden: what it is a figure of would give the part away."""
    part, motor = now.part, now.setup.motor
    if part is None:
        return [Reading("", "part lit", "none", "", f"press one in the picture; there are {len(PARTS[motor])}", tells=True)]
    worked_out = figure(motor, part.key) if reveals_answer else None
    has = owners(part.key)
    return [
        Reading("", "part lit", part.name, "", f"{now.setup.number} of {len(PARTS[motor])}: {part.it} there to {part.job}", tells=True),
        Reading("", "it carries", _first(part.carries), "", part.carries if _first(part.carries) != part.carries else "", tells=True),
        *([] if worked_out is None else [worked_out]),
        Reading("", "made of", _first(part.material), "", f"{part.material}; {part.where}", tells=True),
        Reading("", "which motor has it", "both" if has == "both" else f"the {MOTORS[has]}", "", tells=True),
    ]


def _first(words: str) -> str:
    """What comes first, without what is added to it."""
    return re.split("[,:]", words)[0]


def _of_the_motor(now: Snapshot) -> list[Reading]:
    order = ORDER[now.setup.motor]
    done = order.index(now.step) + 1 if now.step else 0
    last = f": {STEPS[now.step]}" if now.step else ""
    return [Reading("", "taken apart", f"{100 * now.share:.0f}", "%", f"step {done} of {len(order)}{last}", tells=True)]


def workings(now: Snapshot) -> dict[str, dict[str, float | str]]:
    """The calculations that belong here, with this motor's inputs."""
    return of_running(FREQUENCY, POLES, float(RATED_SPEED))
