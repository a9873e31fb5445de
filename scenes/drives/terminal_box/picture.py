"""The terminal box on the bench: what is made once, and what is joined, switched and turning at one instant."""

from __future__ import annotations

import re
import textwrap
from dataclasses import dataclass

import numpy as np

from physics.terminals import LINES, PHASES, STUDS
from scenes.drives.terminal_box.board import OFF, Joining
from scenes.drives.terminal_box.motors import FREQUENCY, PLATES, POWER, RATED_SPEED, Plate
from scenes.drives.terminal_box.snapshot import Snapshot
from scenes.drives.terminal_box.words import fault, judged
from scenes.scene import phases
from scenes.scene.scene import Pick
from scenes.scene.story import Look
from visual import palette
from visual.solid.mesh import block
from visual.solid.solids import Group, Letters, Solid
from visual.switchgear.star_delta_starter import COLUMN, StarDeltaStarter
from visual.switchgear.star_delta_starter import POSTS_AT as STARTER_POSTS_AT
from visual.terminal_box.box import LEADS_AT, MIDDLE, POSTS_AT, TerminalBoxDrawn, name_parts
from visual.terminal_box.box import STUDS as STUDS_AT
from visual.terminal_box.circuit import WindingCircuit
from visual.terminal_box.drive_end import DriveEnd
from visual.terminal_box.markings import Stamped


@dataclass(frozen=True)
class Layout:
    """Where things stand beside the box: the circuit, the first line of the verdict, motor, first line of the plate, the supply's words."""

    circuit: tuple[float, float, float]
    verdict: tuple[float, float, float]
    motor: tuple[float, float, float]
    plate: tuple[float, float, float]
    supply: tuple[float, float, float]


BY_HAND = Layout((0.165, 0.032, 0.0), (0.16, -0.061, 0.0), (0.09, -0.146, 0.0), (0.21, -0.122, 0.0), (MIDDLE, POSTS_AT - 0.022, 0.01))
ON_STARTER = Layout(
    (0.19, 0.098, 0.0), (0.19, -0.004, 0.0), (0.152, 0.24, 0.0), (0.262, 0.268, 0.0), (COLUMN, STARTER_POSTS_AT - 0.022, 0.01)
)
CIRCUIT_SIZE, LETTERS_A_LINE, MOTOR_RADIUS = (0.26, 0.166), 46, 0.034
PLATE_LINE = 0.0145  # m from one line of the plate to the next
LINE = 0.031  # m from one line of text to the next: enough on a telephone
RIGHT, WRONG = palette.rgb("#2f6b2b"), palette.rgb("#9c2f24")
RELAY_WORDS = {"fuse": "fuses: blown", "relay": "relay: tripped"}


class Drawn(Group):
    """Box, starter, circuit, motor and plate."""

    def __init__(self):
        super().__init__()
        self.box = self.add(TerminalBoxDrawn())
        self.starter = self.add(StarDeltaStarter(self.box.studs))
        self.circuit = self.add(WindingCircuit(BY_HAND.circuit, CIRCUIT_SIZE))
        self.motor = self.add(DriveEnd(BY_HAND.motor, MOTOR_RADIUS))
        self.blank = self.add(Solid(block([0, -1.5 * PLATE_LINE, -0.004], [0.132, 4.6 * PLATE_LINE, 0.004], palette.STEEL)))
        self.plates = {}
        for name, plate in PLATES.items():
            lines = [(line, (0.0, -PLATE_LINE * k, 0.0), 0.0095, palette.INK) for k, line in enumerate(on_the_plate(plate))]
            self.plates[name] = Stamped(self, lines)
        self.supply = self.add(Letters("", palette.PAPER, 15, ground=palette.SLATE, role="supply"))
        self.verdict = [self.add(Letters("", palette.PAPER, 16, ground=WRONG, role="verdict")) for _ in range(3)]
        self.layout: Layout | None = None

    def arrange(self, layout: Layout) -> None:
        """Put everything beside the box where that layout has it, with the feed that goes with it."""
        self.box.feed.visible = self.visible and layout is BY_HAND
        self.starter.visible = self.visible and layout is ON_STARTER
        if layout is self.layout:
            return
        self.layout = layout
        self.circuit.move(layout.circuit)
        self.motor.move(layout.motor)
        for solid in (self.blank, *self.plates.values()):
            solid.put(layout.plate)
        self.supply.put(layout.supply)
        for k, letters in enumerate(self.verdict):
            letters.put((layout.verdict[0], layout.verdict[1] - LINE * k, layout.verdict[2]))

    def show_plate(self, plate: Plate) -> None:
        for name, shown in self.plates.items():
            shown.visible = self.visible and name == plate.name


def build(host) -> Drawn:
    drawn = Drawn()
    for name, part in name_parts(drawn.box):
        host.name(f"terminal-{name}", part)
    host.name("terminal-shaft", drawn.motor.shaft.drawn)
    for thing, contactor in drawn.starter.contactors.items():
        host.name(f"starter-{thing}", contactor.made.drawn)
    return drawn


def place(drawn: Drawn, now: Snapshot, look: Look) -> None:
    setup = now.setup
    joining = setup.joining
    colours = phases.REGIONS[setup.colours].colours
    links = [None if link == OFF else tuple(link.split("-")) for link in joining.links]
    leads = [None if stud == OFF else stud for stud in joining.leads]
    drawn.arrange(BY_HAND)
    drawn.box.wire(links, leads, colours)
    drawn.box.switch(now.state != "isolated", now.state not in RELAY_WORDS, RELAY_WORDS.get(now.state, "fuses, relay"))
    drawn.circuit.draw(
        [link for link in links if link],
        {line: stud for line, stud in zip(LINES, leads, strict=True) if stud},
        nodes_of(joining),
        _figures(now, look),
    )
    drawn.motor.turn(now.angle)
    wrong = fault(now.case)
    say(drawn.verdict, f"wrong: {wrong}" if wrong else judged(now.case), bool(wrong), look)
    drawn.supply.text = f"supply {setup.supply:.0f} V, {setup.frequency:.0f} Hz"
    drawn.show_plate(setup.plate)


def on_the_plate(plate: Plate) -> tuple[str, ...]:
    """The lines of a nameplate."""
    return (
        f"{POWER:g} kW  {RATED_SPEED}/min",
        f"\N{GREEK CAPITAL LETTER DELTA} {plate.delta_voltage:.0f} V  {plate.delta_current:.1f} A",
        f"Y {plate.star_voltage:.0f} V  {plate.star_current:.1f} A",
        f"{FREQUENCY:.0f} Hz",
    )


def in_even_lines(text: str) -> list[str]:
    """As few lines as may be, none much longer than the others; a figure stays with its unit."""
    text = re.sub(r"(?<=\d) (?=[VA]\b)", "\N{NO-BREAK SPACE}", text)
    few = len(textwrap.wrap(text, LETTERS_A_LINE))
    lines = next(lines for width in range(1, LETTERS_A_LINE + 1) if len(lines := textwrap.wrap(text, width, break_long_words=False)) <= few)
    return [line.replace("\N{NO-BREAK SPACE}", " ") for line in lines]


def say(verdict: list[Letters], said: str, wrong: bool, look: Look) -> None:
    """What is right or wrong, at once and in words, unless that would answer the question."""
    lines = [line for part in said.split("\n") for line in in_even_lines(part)] if look.reveals_answer else []
    for k, letters in enumerate(verdict):
        letters.text = lines[k] if k < len(lines) else ""
        letters.paint(palette.PAPER, WRONG if wrong else RIGHT)
        letters.visible = bool(letters.text)


STUD_PICKS = tuple(Pick(name, f"stud {name}", at) for name, at in STUDS_AT.items())
PICKS = (*STUD_PICKS, *(Pick(line, f"lead {line}", at) for line, at in zip(LINES, LEADS_AT, strict=True)))
"""What may be joined: the six studs, and each lead where it comes in."""


def nodes_of(joining: Joining) -> dict[str, int]:
    """Of each end of a winding the number of what links join it to."""
    node = {stud: number for number, stud in enumerate(STUDS)}
    for link in joining.laid:
        first, second = link.split("-")
        node = {stud: node[first] if number == node[second] else number for stud, number in node.items()}
    return node


def _figures(now: Snapshot, look: Look) -> dict[str, str]:
    """Voltage and current of each winding, while they may be seen and it is on."""
    if not look.reveals_answer or now.running is None:
        return {}
    return {
        phase: f"{abs(volts):.0f} V, {abs(amperes):.1f} A"
        for phase, volts, amperes in zip(PHASES, np.asarray(now.running.voltages), np.asarray(now.running.currents), strict=True)
    }
