"""How fast a motor turns: its field by frequency and poles, its rotor behind that by the slip that its load asks for."""

from __future__ import annotations

from scenes.drives.slip_and_speed import curves, kinds, picture, plate, question, readings, snapshot
from scenes.drives.slip_and_speed.plate import WithPlate
from scenes.drives.slip_and_speed.snapshot import Setup
from scenes.scene import common_controls
from scenes.scene.controls import slow_motion
from scenes.scene.scene import Key
from scenes.scene.views import View, round_the_shaft
from visual import palette


class SlipAndSpeed(WithPlate, parts=(snapshot, picture, readings, question, curves, kinds)):
    name = "slip-and-speed"
    title = "Slip and speed"
    principle = (
        "Frequency and poles give the field its speed. The rotor stays behind by the slip, and the more load there is, the more slip."
    )
    controls = (
        common_controls.load(100.0),
        plate.SWITCH,
        common_controls.frequency(only_with=("plate", False)),
        common_controls.poles(only_with=("plate", False)),
        *plate.FIGURES,
        common_controls.lamp(),
        common_controls.line_order(),
        slow_motion("20", ("1", "5", "20", "50", "100", "200")),
    )
    arrows = (
        Key("B", "field across the gap, peak", palette.HEX["field"], "T"),
        Key(
            "\N{CIRCLED DOT OPERATOR}",
            "dot: the bar's current flows toward this end of it; cross: toward the far end",
            palette.HEX["current"],
        ),
        Key("s", "the band: how far the rotor has dropped behind in this lap", palette.HEX["emf"]),
    )
    subject = (
        *round_the_shaft(0.086, -0.03, 0.03),
        ((-0.1, -0.125, 0.03), (0.06, -0.1, 0.04)),
        ((-0.04, 0.09, -0.013), (0.145, 0.125, 0.013)),
    )
    letters = ("B", "rotor", "N", "S", "field", "rotor", "laps")
    views = (
        View("drive-end", "from the drive end", (-0.12, -0.09, -1.0)),
        View(
            "other-end",
            "from the non-drive end",
            (0.12, -0.09, 1.0),
            subject=(
                *round_the_shaft(0.086, -0.03, 0.03),
                ((-0.06, -0.125, -0.04), (0.1, -0.1, -0.03)),
                ((-0.04, 0.09, -0.013), (0.145, 0.125, 0.013)),
            ),
        ),
    )
    caution = (
        "A stalled motor draws several times its rated current and burns out within seconds unless its overload relay trips. It starts by "
        "itself when the load lets go. Isolate, lock off and prove dead before you clear what jammed it, as your local code and your "
        "licence ask."
    )
    narration = "The blue hand is the field, the other the rotor. Count how often the field laps the rotor: that is the slip."
    leaves_out = (
        "The rush of the first cycles after a change: current and torque are those of steady running at the speed of each moment.",
        "Saturation: leakage does not fall when the current is large, so that a real motor at standstill draws somewhat more.",
        "Iron loss and stray loss by themselves: of a motor from its nameplate they are taken with friction, of the small one they are "
        "left out.",
        "Heating: the resistances stay as they are however long it is overloaded.",
        "Skewed bars and the slots of stator and rotor: the field in the gap is a pure sine wave.",
        "A motor from its nameplate is drawn with the bars of the small one; two cages, or deep bars, are told by their current together.",
        "Braking when two lines are swapped while it runs: the count goes on as if it had turned that way from the start.",
    )
    shaft_of = staticmethod(lambda now: now.rotor_angle)
    starts_anew = ("poles", "plate")  # another motor, which has not the speed of the one before

    def shown_whole(self, passed: float) -> bool:
        return self.now.stalled or self.now.laps >= 1

    def setup_of(self, settings: dict) -> Setup:
        return Setup.of(settings, self.plate, self.refused)
