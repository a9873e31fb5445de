"""Three windings a third of a pole pair apart, fed a third of a cycle apart: a field that rotates though nothing moves."""

from __future__ import annotations

from urllib.parse import urlencode

from physics.windings.coils_in_slots import PHASES
from scenes.machines.laying_the_winding.plans import BY_HAND, settings_of
from scenes.machines.turning_field import kinds, picture, question, readings, snapshot, waves
from scenes.machines.turning_field.snapshot import Snapshot, next_instant
from scenes.machines.turning_field.windings import FULL, USUAL, WoundByHand, largest_of, wound_by_hand
from scenes.scene import common_controls, phases
from scenes.scene.controls import Choice, Number, slow_motion
from scenes.scene.scene import Key, Pick
from scenes.scene.story import Story
from scenes.scene.views import View
from visual import palette
from visual.machines.bore_field import MmfRing
from visual.machines.field_machine import longest_field

BACK = (Pick("back", "Back to laying", None, alone=True),)


def scales(now: Snapshot) -> dict[str, str]:
    field, mmf = largest_of(now.setup.wound)
    full = f"fills the slot at {FULL:g} A"
    return {
        "B": f"10 mm is {0.01 / longest_field(now.setup.poles // 2) * field * 1000:.1f} mT",
        "Θ": f"10 mm is {0.01 / MmfRing.HIGHEST * mmf:.0f} A",
        "\N{CIRCLED DOT OPERATOR}": full,
        "\N{CIRCLED TIMES}": full,
    }


class TurningField(Story, parts=(snapshot, picture, readings, question, waves, kinds)):
    name = "turning-field"
    title = "Three phases make a rotating field"
    principle = (
        "Three windings a third of a pole pair apart, fed a third of a cycle apart, make one field that rotates, though nothing moves."
    )
    controls = (
        common_controls.line_order(),
        Choice("lost", "Phase lost", "none", (("none", "none"), *((line, line) for line in phases.LINES))),
        Choice(
            "reversed",
            "Coil connected backwards",
            "none",
            (("none", "none"), *((phase, f"the first coil of {phase}") for phase in PHASES)),
            only_with=("wound", USUAL),
        ),
        common_controls.poles(),
        WoundByHand("wound", "Winding", USUAL, ((USUAL, "the usual one"),), other=BY_HAND),
        Choice(
            "coils",
            "Coils shown",
            "all",
            (
                ("all", "all three phases"),
                *((phase, f"those of {phase}") for phase in PHASES),
                *((f"first {phase}", f"the first coil of {phase}") for phase in PHASES),
            ),
        ),
        Number("current", "Current, peak", FULL, "A", 2.0, FULL, 1.0),
        common_controls.frequency(),
        Choice("picture", "Shown in the bore", "lines", (("lines", "flux lines"), ("mmf", "MMF on each tooth"))),
        Choice("instants", "One step", "30", (("30", "30° of the cycle, 12 instants"), ("60", "60°, 6 instants"))),
        phases.colours(),
        slow_motion("500", ("50", "100", "200", "500", "1000", "2000")),
    )
    arrows = (
        Key("B", "field at the wall of the bore where it is strongest", palette.HEX["field"], "mT"),
        Key("Θ", "MMF on each tooth: blue outward, red inward", palette.HEX["field"], "A"),
        Key("N pole", "of the stator: flux leaves it for the bore", "#b4443c"),
        Key("S pole", "of the stator: flux enters it from the bore", "#4e6f80"),
        Key("\N{CIRCLED DOT OPERATOR}", "current out of the end in view", palette.HEX["current"]),
        Key("\N{CIRCLED TIMES}", "current into the end in view", palette.HEX["current"]),
        Key("▶", "marks along the coils: they move as the current of this instant flows", "#ffb31a"),
        Key(
            "+",
            "phase group whose positive current flows toward the drive end; −: away; !: coil connected backwards",
            palette.HEX["current"],
        ),
    )
    subject = (((-0.103, -0.103, -0.036), (0.235, 0.103, 0.036)),)
    letters = ("B", "Θ", "N", "S", "+U", "+V", "+W")
    views = (
        View("drive-end", "from the drive end", (-0.2, -0.13, -1.0)),
        View("other-end", "from the non-drive end", (0.2, -0.13, 1.0)),
        View("corner", "from the drive-end corner", (-0.75, -0.4, -0.8)),
    )
    caution = (
        "With a phase lost a motor at standstill hums, does not start and burns out; a running motor is single-phasing and overheats. With "
        "two phases swapped a machine runs backwards. Leads are moved only with the supply isolated, locked off and proved dead, by a "
        "locally licensed person."
    )
    leaves_out = (
        "There is no rotor: the bore is empty; with a rotor close to the teeth the same MMF would drive many times the flux.",
        "The iron takes no MMF, does not saturate and has no losses.",
        "The currents are set, not the voltage; with a phase lost the voltage is assumed unchanged.",
        "Arrow, poles and flux lines are those of the fundamental; the steps of the MMF, its harmonics, are shown on the teeth alone.",
        "Overload relay, contactor and protective conductor are not drawn.",
    )
    narration = "No part of this stator moves. Three currents a third of a cycle apart make a field that rotates."

    def shown_whole(self, passed: float) -> bool:
        return passed >= 1 / self.now.synchronous_speed

    def changed(self, name: str) -> None:
        """A winding laid by hand brings its number of poles; another number brings the usual winding back."""
        super().changed(name)
        if name == "poles":
            self.settings["wound"] = USUAL
        elif name == "wound" and self["wound"] != USUAL:
            self.settings["poles"] = str(2 * wound_by_hand(self["wound"]).pole_pairs)

    def picks_now(self, reveals_answer: bool) -> tuple[Pick, ...]:
        return () if self["wound"] == USUAL else BACK

    def press(self, name: str) -> str | None:
        """Take a winding laid by hand back to where it was laid."""
        if self["wound"] == USUAL or name not in [pick.name for pick in BACK]:
            return super().press(name)
        return urlencode({"scene": "laying-the-winding"} | settings_of(self["wound"]))

    def one_step(self) -> None:
        """Go to the next numbered instant."""
        self.state = next_instant(self.setup, self.state)
        self._now = None
