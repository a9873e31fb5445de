"""Slots, coils and three phases: a winding laid coil by coil, and the field that it makes."""

from __future__ import annotations

from urllib.parse import urlencode

from physics.speeds import synchronous_speed
from scenes.machines.laying_the_winding import curves, kinds, picture, question, readings, snapshot
from scenes.machines.laying_the_winding.mistakes import to_press
from scenes.machines.laying_the_winding.picture import ALONE, largest_of
from scenes.machines.laying_the_winding.plans import (
    BY_HAND,
    KINDS,
    STATORS,
    USUAL,
    LaidCoils,
    laid,
    plan_of,
    text_of,
    with_next,
    with_pressed,
    wound_text,
)
from scenes.machines.laying_the_winding.snapshot import FREQUENCY, FULL, Snapshot
from scenes.scene import phases
from scenes.scene.controls import Choice, Number, slow_motion
from scenes.scene.scene import Key
from scenes.scene.story import Story
from scenes.scene.views import View
from visual import palette
from visual.machines.field_machine import longest_field
from visual.machines.winding.unrolled import SHEET

BORE = ((-0.138, -0.17, -0.03), (0.138, 0.145, 0.05))
NEAR = ((-0.138, -0.172, -0.03), (0.138, 0.16, 0.05))
DRAWING = ((SHEET.left - 0.008, -0.192, 0.0), (SHEET.left + SHEET.width + 0.008, 0.168, 0.01))


def scales(now: Snapshot) -> dict[str, str]:
    field, mmf, slot_current = largest_of(now.setup.plan)
    return {
        "B": f"10 mm is {0.01 / longest_field(now.setup.plan.poles // 2) * field:.1f} mT",
        "Θ": f"10 mm is {0.01 / SHEET.mmf_high * mmf:.0f} A",
        "\N{CIRCLED DOT OPERATOR}": f"fills the slot at {slot_current:.0f} A",
        "\N{CIRCLED TIMES}": f"fills the slot at {slot_current:.0f} A",
    }


class LayingTheWinding(Story, parts=(snapshot, picture, readings, question, curves, kinds)):
    name = "laying-the-winding"
    title = "Laying the winding, coil by coil"
    principle = (
        "Each coil spans about one pole. Three phases laid a third of a pole pair apart and fed a third of a cycle apart make one field "
        "that rotates evenly; a coil laid wrong makes it uneven."
    )
    controls = (
        Choice("stator", "Stator", "12-2", tuple((f"{slots}-{poles}", f"{slots} slots, {poles} poles") for slots, poles in STATORS)),
        Choice("winding", "Coils", "one-layer", tuple(KINDS.items())),
        LaidCoils("laid", "Coils laid", "phase", tuple(USUAL.items()), other=BY_HAND),
        Choice("hand", "Phase of the next coil", "U", tuple((phase, phase) for phase in "UVW")),
        Choice("joined", "Coils of a phase joined", "series", (("series", "in series"), ("parallel", "in parallel paths"))),
        Choice(
            "bold",
            "Shown bold",
            "all",
            (("all", "all coils"), ("last", "the coil laid last"), *((phase, f"phase {phase}") for phase in "UVW")),
        ),
        Number("current", "Current, peak", FULL, "A", 0.0, FULL, 1.0),
        Choice("asked", "The question is about", "slot", question.ASKED),
        phases.colours(),
        slow_motion("500", ("50", "100", "200", "500", "1000", "2000")),
    )
    arrows = (
        Key("B", "axis of the field in the bore", palette.HEX["field"], "mT"),
        Key("Θ", "MMF on each tooth: blue outward, red inward", palette.HEX["field"], "A"),
        Key("N pole", "of the stator: flux leaves it for the bore", "#b4443c"),
        Key("S pole", "of the stator: flux enters it from the bore", "#4e6f80"),
        Key("\N{CIRCLED DOT OPERATOR}", "current out of the end in view", palette.HEX["current"]),
        Key("\N{CIRCLED TIMES}", "current into the end in view", palette.HEX["current"]),
        Key("▶", "current of a slot on the unrolled drawing, whose upper end is the drive end", palette.HEX["current"]),
    )
    subject = (BORE, DRAWING)
    letters = ("Θ", "N", "S", "B")
    views = (
        View("both", "bore and drawing", (0.0, -0.12, -1.0)),
        View("bore", "the bore from near", (0.0, -0.12, -1.0), subject=(NEAR,)),
        View("unrolled", "the drawing from near", (0.0, -0.05, -1.0), subject=(DRAWING,)),
    )
    caution = (
        "A stator is wound with the machine taken out and dead. Before it is connected, resistance, polarity and insulation to the frame "
        "are measured; test voltages and the supply are for a locally licensed person, by the local code and the maker's data."
    )
    leaves_out = (
        "Currents are set, not voltages; coils that are laid carry the current of their phase even before the phase is whole.",
        "The field is that of parallel paths that share the current evenly; what goes round unequal paths is told, not drawn.",
        "There is no rotor: the bore is empty, and the iron takes no MMF, does not saturate and has no losses.",
        "Slot insulation, wedges, binding and the turns of a coil are not drawn.",
        "Arrow and poles are those of the working wave; the steps of the MMF on the teeth have its harmonics too.",
    )
    picks = picture.picks(plan_of({"stator": "12-2", "winding": "one-layer", "joined": "series"}), "both")
    narration = (
        "Coil by coil three phases go into the slots. Laid a third of a pole pair apart and fed a third of a cycle apart, they make a "
        "field that rotates, though nothing moves."
    )

    def shown_whole(self, passed: float) -> bool:
        return passed >= 1 / synchronous_speed(FREQUENCY, self.setup.plan.poles)

    def changed(self, name: str) -> None:
        """What may be pressed goes with the number of slots."""
        super().changed(name)
        self.picks = picture.picks(plan_of(self.settings), self.view)

    def look(self, name: str) -> None:
        """Where the bore is looked at alone, its slots are pressed instead of those of the drawing."""
        super().look(name)
        self.picks = picture.picks(plan_of(self.settings), self.view)

    def set(self, name: str, value) -> None:
        self.set_all({name: value})

    def set_all(self, values: dict) -> None:
        """Set controls; coils laid by hand that another stator has no place for are taken out. Coils that do not fit are refused."""
        values = {name: self._checked(name, value) for name, value in values.items()}
        wanted = self.settings | values
        try:
            laid(plan_of(wanted), wanted["laid"])
        except ValueError:
            if "laid" in values:
                raise
            values["laid"] = "none"
        for name, value in values.items():
            super().set(name, value)

    def to_press(self, reveals_answer: bool) -> str:
        return to_press(self.setup, reveals_answer)

    def join(self, first: str, second: str) -> None:
        """Press two slots, the start of a coil and its finish, or drag from one to the other."""
        setup = self.setup
        numbers = {f"slot {k + 1}": k + 1 for k in range(setup.plan.slots)}
        for name in (first, second):
            if name not in numbers:
                raise ValueError(f"A coil goes from one of the slots 1 to {setup.plan.slots} to another.")
        self._lay(text_of(with_pressed(setup.plan, setup.text, setup.next_phase, numbers[first], numbers[second])))

    def press(self, name: str) -> str | None:
        """Lay the next coil, take the last one out, or take the winding to the rotating field."""
        setup = self.setup
        if name not in dict(ALONE):
            return super().press(name)
        if name == "bench":
            if not setup.winding.whole:
                raise ValueError("Lay all coils first: a winding that is not finished stays here.")
            return urlencode({"scene": "turning-field", "wound": wound_text(self.settings)})
        self._lay(text_of(with_next(setup.plan, setup.text, setup.next_phase) if name == "next" else setup.winding.without_coil()))
        return None

    def _lay(self, text: str) -> None:
        """Lay these coils; the phase in hand stays until it has all its coils."""
        super().set("laid", text)
        super().set("hand", self.setup.next_phase)
