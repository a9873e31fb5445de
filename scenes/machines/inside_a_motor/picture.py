"""The two motors on the bench: what is made once, and where each part is at one instant, which is lit and what is said of it."""

from __future__ import annotations

import textwrap

from scenes.machines.inside_a_motor.figures import GAP
from scenes.machines.inside_a_motor.parts import PARTS
from scenes.machines.inside_a_motor.question import LIT_WHILE_ASKED, lettered
from scenes.machines.inside_a_motor.snapshot import Snapshot
from scenes.scene.story import Look
from visual.machines.opened.motor import OpenedMotor

LETTERS_A_LINE = 34


def build(host) -> OpenedMotor:
    drawn = OpenedMotor(GAP, {part.key: part.at for parts in PARTS.values() for part in parts})
    for motor, solids in drawn.solids.items():
        for name, solid in solids.items():
            host.name(f"opened-{motor}-{name}", solid.drawn)
    return drawn


def place(drawn: OpenedMotor, now: Snapshot, look: Look) -> None:
    setup, part, shown = now.setup, now.part, look.reveals_answer
    lit = part if shown or setup.asked in LIT_WHILE_ASKED else None
    drawn.put(setup.motor, now.places, lit.key if lit else "")
    inside = " (inside, out of sight)" if now.hides_lit else ""
    drawn.name_lit("\n".join([part.name, *textwrap.wrap(f"to {part.job}{inside}", LETTERS_A_LINE)]) if part and shown else "")
    drawn.letter([] if shown else [each.key for each in lettered(setup)])
