"""Instruments on a motor's terminal board, and the order of work."""

from __future__ import annotations

from dataclasses import replace

from physics.measuring.board import POINTS
from scenes.drives.instruments import faults, kinds, measured, order, picture, question, readings, snapshot
from scenes.drives.instruments.case import KNOWN
from scenes.scene import phases
from scenes.scene.controls import Choice, Number, Switch, slow_motion
from scenes.scene.story import Story
from scenes.scene.views import View

AT = (
    *[(point, point) for point in POINTS],
    ("K1", "proving unit, first socket"),
    ("K2", "proving unit, other socket"),
    ("off", "nowhere"),
)
CLIPS = ("first", "second", "third")
ANEW = ("joined", "fault", "number", "sticks")  # another motor: what was measured does not hold for it
LETTERS = ("display", "instrument", *("verdict",) * 3, "isolator", "lock")
TRIOS = (("U1", "V1", "W1"), ("L1", "L2", "L3"))


# Long, for laying an instrument on is a few rules of one kind: what is refused, what is lifted, what is noted.
class Instruments(Story, parts=(snapshot, picture, readings, question, kinds)):
    name = "instruments"
    title = "Instruments: measure in the right order and find the fault"
    principle = (
        "Isolate, lock off, prove dead, then measure. Live, one measures voltage, current and phase order; dead, resistance and "
        "insulation. Each fault leaves its own figures."
    )
    controls = (
        Choice("work", "State of the supply", order.ON, order.WORK),
        Choice("instrument", "Instrument", measured.VOLTMETER, tuple(measured.WORDS.items())),
        Choice("first", "First probe, or lead in the clamp", "U1", AT),
        Choice("second", "Second probe", "V1", AT),
        Choice("third", "Third clip", "W1", AT, only_with=("instrument", measured.ROTATION)),
        Switch("links", "Links on the board", True, only_with=("work", order.PROVED)),
        Switch("leads", "Leads on the board", True, only_with=("work", order.PROVED)),
        Choice("joined", "Joined in", "star", (("star", "star, motor for 230/400 V"), ("delta", "delta, motor for 400/690 V"))),
        Choice("fault", "Fault", faults.SOUND, (*faults.SETTINGS, (faults.HIDDEN, "hidden: find it"))),
        Number("number", "Number of the hidden fault", 1.0, "", 1.0, 9999.0, 1.0, only_with=("fault", faults.HIDDEN)),
        Switch("sticks", "One pole of the isolator does not open", False),
        Choice("asked", "The question is about", "measured", (("measured", "the figures that are measured"), ("sheet", "a test sheet"))),
        phases.colours(),
        slow_motion("50", ("1", "5", "10", "20", "50", "100")),
    )
    subject = picture.SUBJECT
    letters = (*LETTERS, "known")
    views = (
        View("front", "into the box", (0.0, -0.25, -1.0)),
        View("board", "the board from near", (0.0, -0.3, -1.0), subject=picture.BOARD, letters=LETTERS),
    )
    picks = picture.PROBE_PICKS
    caution = (
        "Live measuring is for licensed persons with a risk assessed, guarded probes and instruments of the right category; otherwise "
        "isolate, lock off, prove dead with a proved tester, and discharge what was tested for insulation. Local codes and a licensed "
        "person come before anything shown here."
    )
    leaves_out = (
        "The run-up: the motor is shown once it has settled, and no relay or fuse ends the measuring.",
        "Saturation of the iron, and the air's and iron's losses; the currents are sinusoidal.",
        "The resistance of test leads, and tolerances of instruments and windings.",
        "The insulation's capacitance and its charging: figures are those of a long test, and the tester discharges the winding.",
        "Windings warm up: all resistances are those of one temperature.",
    )
    not_told = ("number",)
    narration = "Five instruments, one board, and an order of work: what is measured names the fault."

    def set(self, name: str, value) -> None:
        """Set one control. By itself, links and leads come off a dead board only, and are back on it before anything else is done."""
        value = self._checked(name, value)
        if not self.sets_several and name in ("links", "leads") and value != self[name] and not self.now.proof.again:
            raise ValueError("Links and leads are moved on a dead board only: isolate, lock off and prove dead first.")
        super().set(name, value)
        if not self.sets_several:
            if name in ("instrument", "work"):  # the probes come off first
                super().set_all(dict.fromkeys(CLIPS, "off"))
            if name == "work" and value != order.PROVED:
                super().set_all({"links": True, "leads": True})
            self._note()

    def set_all(self, values: dict) -> None:
        super().set_all(values)
        self._note()

    def join(self, first: str, second: str) -> None:
        """Lay the instrument on: two probes on two points, three clips beginning with two of three lines. `ValueError`, in a sentence,
        where it must not be laid; it then lies there and shows nothing."""
        self._lay(self._clips(first, second))

    def press(self, name: str) -> None:
        """Lay the clamp round the lead that ends there; `ValueError`, in a sentence, for another instrument or where no lead ends."""
        if self["instrument"] != measured.CLAMP:
            raise ValueError("Two points are pressed, one after the other.")
        if name not in picture.LEAD_OF:
            raise ValueError(f"The clamp goes round one lead: press {', '.join(picture.LEAD_OF)}.")
        self._lay({"first": picture.LEAD_OF[name], "second": "off", "third": "off"})

    def _lay(self, clips: dict[str, str]) -> None:
        super().set_all(clips)
        if self.now.mistake:
            raise ValueError(self.now.mistake)
        self._note()

    def restart(self) -> None:
        """Back to the start; what was measured stays."""
        before = getattr(self, "state", None)
        self.state = self.begin(self.setup) if before is None else replace(before, time=0.0, named=False)
        self._now = None

    def revealed(self) -> None:
        """The fault was named, or shown: it may be told."""
        self.state = replace(self.state, named=True)
        self._now = None

    def changed(self, name: str) -> None:
        super().changed(name)
        self.picks = picture.CLAMP_PICKS if self["instrument"] == measured.CLAMP else picture.PROBE_PICKS
        if name in ANEW:
            self.state = self.begin(self.setup)
        elif name == "work":
            self.state = replace(self.state, tests=())

    def _clips(self, first: str, second: str) -> dict[str, str]:
        """The settings of the clips once two things have been pressed, or one dragged to the other."""
        names = {pick.name for pick in self.picks}
        for name in (first, second):
            if name not in names:
                raise ValueError(f"What can be pressed now is {', '.join(sorted(names))}.")
        if self["instrument"] == measured.CLAMP:
            raise ValueError("The clamp goes round one lead: press a lead.")
        if first == second:
            raise ValueError("The probes go on two different points.")
        if self["instrument"] != measured.ROTATION:
            return {"first": first, "second": second, "third": "off"}
        for trio in TRIOS:
            if first in trio and second in trio:
                return {"first": first, "second": second, "third": next(each for each in trio if each not in (first, second))}
        raise ValueError("The indicator's clips go on U1, V1 and W1, or on L1, L2 and L3: press the first and the second of three.")

    def _note(self) -> None:
        """Keep what the instrument shows; proving dead is complete with its last test."""
        self.state = self.state.noted(self.setup, self.now.answer)
        self._now = None
        if self["work"] == order.LOCKED and self.now.proof.again:
            tests = self.state.tests
            super().set_all({"work": order.PROVED})
            self.state = replace(self.state, tests=tests)


assert set(KNOWN) <= {name for name, _ in AT}
