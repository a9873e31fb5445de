"""Changing speed: an inverter gives any frequency, a pole-changing winding a few fixed speeds."""

from __future__ import annotations

from scenes.drives.changing_speed import curves, kinds, picture, question, readings, snapshot
from scenes.drives.changing_speed.motors import full_field
from scenes.drives.changing_speed.snapshot import INVERTER, ONE_WINDING, TWO_WINDINGS, Snapshot
from scenes.scene import common_controls, phases
from scenes.scene.controls import Choice, slow_motion
from scenes.scene.scene import Key
from scenes.scene.story import Story
from scenes.scene.views import View
from visual import palette
from visual.machines.speed_machine import longest_field


def scales(now: Snapshot) -> dict[str, str]:
    poles = now.setup.poles
    return {"B": f"10 mm is {0.01 / longest_field(poles) * full_field(poles):.2f} T"}


class ChangingSpeed(Story, parts=(snapshot, picture, readings, question, curves, kinds)):
    name = "changing-speed"
    title = "Changing the speed"
    principle = (
        "A motor follows its field: change the frequency and it runs at any speed; change the poles and it has a few fixed speeds, with "
        "nothing in between."
    )
    controls = (
        Choice(
            "method",
            "Speed set by",
            INVERTER,
            (
                (INVERTER, "an inverter"),
                (ONE_WINDING, "one tapped winding, two speeds"),
                (TWO_WINDINGS, "two tapped windings, four speeds"),
            ),
        ),
        common_controls.frequency(25.0, only_with=("method", INVERTER)),
        Choice("tapped", "Supplied at", "4", (("4", "1U 1V 1W"), ("2", "2U 2V 2W")), only_with=("method", ONE_WINDING)),
        Choice(
            "leads", "Leads of 1V and 1W", "alike", (("alike", "as marked"), ("exchanged", "swapped")), only_with=("method", ONE_WINDING)
        ),
        Choice(
            "joined",
            "Connected for",
            "12",
            (("12", "12 poles"), ("6", "6 poles"), ("4", "4 poles"), ("2", "2 poles")),
            only_with=("method", TWO_WINDINGS),
        ),
        common_controls.load(40.0),
        common_controls.line_order(),
        phases.colours(),
        slow_motion("50", ("1", "5", "20", "50", "200")),
    )
    arrows = (
        Key("B", "air-gap field at its outward peak", palette.HEX["field"], "T"),
        Key("N pole", "of the stator: flux leaves it for the rotor", "#b4443c"),
        Key("S pole", "of the stator: flux enters it from the rotor", "#4e6f80"),
        Key("rotor", "a mark that turns with the rotor", palette.HEX["motion"]),
        Key(
            "+",
            "coil side whose positive current flows toward the drive end; −: away. Outer letters: the sides at the bottom of the slots",
            palette.HEX["current"],
        ),
    )
    subject = (((-0.103, -0.103, -0.04), (0.235, 0.103, 0.04)),)
    letters = ("B", "rotor", "N", "S", "+U", "+V", "+W", "inverter")
    views = (
        View("drive-end", "from the drive end", (-0.1, -0.08, -1.0)),
        View("other-end", "from the non-drive end", (0.1, -0.08, 1.0)),
    )
    caution = (
        "The capacitors in an inverter stay charged for minutes after it is switched off: wait as long as its label says and prove it "
        "dead. Never reconnect live terminals. Every speed must turn the same way: check the direction with the load uncoupled. "
        "Local codes and licensed practice come first."
    )
    leaves_out = (
        "The tapped windings are series star / parallel star, for fans and pumps; delta / parallel star, for the same torque at both "
        "speeds, is not computed.",
        "The speed is assumed to change slowly compared with the currents; the torque surge at each switching is left out.",
        "The iron takes no MMF, does not saturate and has no losses; the drawn teeth carry 1.8 T at most.",
        "Only each winding's fundamental is included: the harmonics of a tapped winding cost some torque at low speed.",
        "The inverter's output is taken as sine waves, and the poorer cooling of a self-ventilated motor at low speed is left out.",
        "Only the contacts of the switch are drawn; the off position, overload protection for each speed and the protective conductor are "
        "not drawn.",
    )
    narration = "An inverter runs this motor at any speed. A pole-changing winding jumps from one to the next."
    shaft_of = staticmethod(lambda now: now.rotor)
