"""The terminal box of a three-phase motor: links and leads on six studs, and what comes of it."""

from __future__ import annotations

from scenes.drives.terminal_box import board, question
from scenes.drives.terminal_box.motors import PLATES
from scenes.drives.terminal_box.picture import build, picks, place
from scenes.drives.terminal_box.readings import readings, workings
from scenes.drives.terminal_box.snapshot import Setup, advance, begin, observe
from scenes.scene import common_controls, phases
from scenes.scene.controls import Choice, slow_motion
from scenes.scene.scene import View
from scenes.scene.story import Story

SUPPLIES = ("230", "400", "690")


BOARD = (((-0.212, -0.045, 0.0), (0.012, 0.142, 0.03)),)
WINDINGS = (((0.03, -0.115, 0.0), (0.3, 0.12, 0.01)),)
CIRCUIT = (((0.05, -0.022, 0.0), (0.185, 0.11, 0.005)),)  # without the verdict below it


class TerminalBox(Story):
    name = "terminal-box"
    title = "The terminal box: star, delta and every mistake"
    principle = (
        "Links and leads decide what each winding gets: in star the line voltage over the root of three, in delta all of it. The plate "
        "says what it is made for."
    )
    controls = (
        *board.controls(),
        Choice("plate", "Plate of the motor", "230/400", tuple((name, plate.words) for name, plate in PLATES.items())),
        Choice("supply", "Supply, between lines", "400", tuple((volts, f"{volts} V") for volts in SUPPLIES)),
        Choice("hertz", "Frequency of the supply", "50", (("50", "50 Hz"), ("60", "60 Hz"))),
        common_controls.load(50.0),
        Choice("asked", "The question is about", "turns", question.ASKED),
        phases.colours(),
        slow_motion("20", ("1", "5", "10", "20", "50", "100")),
    )
    subject = (((-0.228, -0.196, 0.0), (0.298, 0.142, 0.03)),)
    letters = ("verdict",) * 3 + ("figure",) * 3 + ("isolator", "switchgear", "supply")
    views = (
        View("front", "into the box", (0.0, -0.25, -1.0)),
        View("board", "the board from near", (0.0, -0.3, -1.0), subject=BOARD, letters=("verdict",) * 3),  # the others name what is below
        View("circuit", "the windings from near", (0.0, -0.2, -1.0), subject=CIRCUIT),
    )
    picks = picks()
    caution = (
        "Isolate, lock off, prove dead at the terminals and let capacitors discharge before the cover comes off; links and leads are "
        "moved with the supply off only. Work on a supply is for a locally licensed person, by the local code and the maker's diagram."
    )
    leaves_out = (
        "Before the steady currents each switching has a transient, with a peak of nearly twice; it is gone within a few cycles.",
        "Iron, friction of the air and stray losses; bearings take 1 % of rated torque.",
        "Saturated currents are not sinusoidal; only their fundamental is reckoned, by a magnetising curve that is assumed.",
        "Heat that flows off the windings, so their times hold for fast heating alone; the relay is one strip with one time constant.",
    )
    narration = (
        "Six studs, three links, three leads: joined in star or in delta the same motor fits two voltages, and joined wrongly it burns."
    )

    _several = False  # whether several controls are being set together

    setup_of, build, random_setup = staticmethod(Setup.of), staticmethod(build), staticmethod(question.random_setup)
    begin, advance, observe = staticmethod(begin), staticmethod(advance), staticmethod(observe)
    place, readings_of = staticmethod(place), staticmethod(readings)
    workings_of = staticmethod(workings)
    sentence, question_of = staticmethod(question.sentence), staticmethod(question.question)

    def set(self, name: str, value) -> None:
        """Set one control; choosing to set links and leads oneself begins from what is on the board."""
        before = board.joining_of(self.settings)
        super().set(name, value)
        if name == "joined" and value == board.OWN and not self._several:
            super().set_all(board.as_settings(before))

    def set_all(self, values: dict) -> None:
        self._several = True
        try:
            super().set_all(values)
        finally:
            self._several = False

    def join(self, first: str, second: str) -> None:
        """Press two studs, or a lead and a stud, or drag one to the other."""
        joining = board.touched(self.setup.joining, first, second)
        self.set_all({"joined": board.OWN} | board.as_settings(joining))

    def changed(self, name: str) -> None:
        """Whatever is joined anew is joined with the isolator open."""
        super().changed(name)
        if name not in ("slow", "asked", "colours"):
            self.restart()
