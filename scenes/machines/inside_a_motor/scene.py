"""A cage motor and a slip-ring motor taken apart: name, place and job of every part."""

from __future__ import annotations

from dataclasses import replace

from scenes.machines.inside_a_motor import kinds, picture, question, readings, snapshot
from scenes.machines.inside_a_motor.parts import CAGE, MOST, MOTORS, PARTS, SLIP_RING, number_of
from scenes.machines.inside_a_motor.question import LETTERS, lettered
from scenes.machines.inside_a_motor.snapshot import WORK, Setup, Snapshot
from scenes.machines.inside_a_motor.taking_apart import STEPS, offsets
from scenes.scene.controls import Choice, Number, slow_motion
from scenes.scene.scene import Pick
from scenes.scene.story import Look, Story
from scenes.scene.views import Box, View
from visual.machines.opened import sizes
from visual.machines.opened.housing import BOX_TOP


def sentence(now: Snapshot, look: Look) -> str:
    motor, part = MOTORS[now.setup.motor], now.part
    state = (
        "assembled"
        if not now.step
        else "fully dismantled"
        if now.share >= 1
        else f"{'being reassembled' if now.closing else 'partly dismantled'}; step: {STEPS[now.step]}"
    )
    hidden = ", inside, and not to be seen until the motor is apart" if now.hides_lit else ""
    lit = "" if part is None else f" The {part.name} {part.verb} lit{hidden}: {part.it} there to {part.job}."
    return f"A {motor}, {state}.{lit}"


NEAR = "near"


def boxes_round(setup: Setup) -> tuple[Box, ...]:
    """Close round all that is there at the share that is set: what lies along the shaft, and what stands on the frame."""
    away = offsets(setup.motor, setup.share)
    behind = sizes.BEHIND if setup.motor == SLIP_RING else 0.0
    low = float(away["cowl"][2]) - sizes.COWL_AT[1] - behind
    high = float(max(away["shaft"][2] + sizes.SHAFT_END[1], away["drive-shield"][2] + sizes.SHIELD_FACE))
    frame, top = float(away["frame"][2]), float(away["box-cover"][1]) + BOX_TOP + 0.016
    return ((-0.16, -sizes.SHAFT_HEIGHT, low), (0.16, 0.16, high)), ((-0.07, 0.15, frame - 0.07), (0.07, top, frame + 0.07))


class InsideAMotor(Story, parts=(snapshot, picture, readings, question, kinds)):
    name = "inside-a-motor"
    title = "Inside a motor: every part and what it is there for"
    principle = (
        "Two motors alike but for the rotor: in the one, bars and rings in which currents flow round; in the other, a winding whose "
        "currents slip rings and brushes lead out."
    )
    controls = (
        Choice("motor", "Motor", CAGE, ((CAGE, "with a cage rotor"), (SLIP_RING, "with slip rings"))),
        Choice("by", "Taken apart", "itself", (("itself", "by itself, and put together again"), ("hand", "by hand"))),
        Number("apart", "Apart by", 100.0, "%", 0.0, 100.0, 1.0, only_with=("by", "hand")),
        Number("part", "Part lit, by its number; 0 for none", 18.0, "", 0.0, float(MOST), 1.0),
        Choice("asked", "The question is about", "which", question.ASKED),
        slow_motion("1", ("1", "2", "5")),
    )
    subject = (
        ((-0.16, -0.16, -0.80), (0.16, 0.16, 0.92)),
        ((-0.08, 0.15, -0.37), (0.08, 0.45, -0.23)),  # what stands on the frame, apart
        ((-0.08, 0.15, -0.23), (0.08, 0.26, 0.13)),  # and together
    )
    letters = ("aside", "A", "B", "C", "D", "E")
    views = (
        View("side", "from the side", (0.82, -0.36, -0.56)),
        View(NEAR, "close-up", (0.72, -0.36, -0.70)),
        View("drive-end", "from the drive end", (0.42, -0.62, -0.66)),
        View("other-end", "from the non-drive end", (0.80, -0.36, 0.62)),
    )
    caution = (
        "Before a motor is opened: isolate, lock off, prove dead at its terminals, and let capacitors and any inverter discharge. It may "
        "be hot, its rotor is too heavy to lift by hand, and fingers are crushed between fits: use hoist and pullers. This is work for a "
        "locally licensed person, by the local code and the maker's instructions."
    )
    leaves_out = (
        "Screws, seals, grease, wave washers, bearing covers, cables, the leads to the terminal board and its markings are not drawn.",
        "The core of the stator is drawn out of its frame to be seen; in the workshop it stays there, shrunk in.",
        "Nothing runs here: the motor is dead and its shaft at rest; other scenes have it running.",
        "The gap is drawn as wide as if iron and slots were air; between the real sheets it is about half of that.",
        "Every maker builds a little otherwise: other cooling, lifting lugs cast on, the box at the side, brushes outside the bearing.",
    )
    narration = "A motor comes apart, part by part, and goes together again. Each part has a name and is there for something."

    def shown_whole(self, passed: float) -> bool:
        return self.setup.by == "hand" or passed >= WORK

    @property
    def eye(self) -> View:
        """The present view; by hand the near one comes as near as the slider lets it."""
        view = super().eye
        return replace(view, subject=boxes_round(self.setup)) if view.name == NEAR and self["by"] == "hand" else view

    def press(self, name: str) -> None:
        """Light the part of that name, or put it out."""
        number = number_of(self.setup.motor, name)
        self.set("part", 0 if number == self.setup.number else number)

    def picks_now(self, reveals_answer: bool) -> list[Pick]:
        """The parts in sight; while a question waits, without their names."""
        if self.drawn is None:
            return []
        setup, solids = self.setup, self.drawn.solids[self.setup.motor]
        letters = {part.key: f"part {letter}" for part, letter in zip(lettered(setup), LETTERS, strict=False)}
        return [
            Pick(part.key, part.name if reveals_answer else letters.get(part.key, "part"), part.at, alone=True, on=solids[part.key])
            for part in PARTS[setup.motor]
            if part.key in self.now.seen
        ]
