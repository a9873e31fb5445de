"""A magnet turning inside coils: one coil and its wave, then three a third of a pole pair apart, and lamps on them."""

from __future__ import annotations

from dataclasses import replace

from scenes.machines.alternator import kinds, picture, question, readings, snapshot, waves
from scenes.machines.alternator.picture import METRES_PER_SPEED, METRES_PER_TESLA
from scenes.machines.alternator.snapshot import LARGEST_FIELD, LARGEST_SPEED, Snapshot
from scenes.scene import common_controls, phases
from scenes.scene.controls import Choice, Number, slow_motion
from scenes.scene.scene import Key
from scenes.scene.story import Look, Story
from scenes.scene.views import View, round_the_shaft
from visual import palette
from visual.machines.alternator_drawn import LAMP, LAMPS_AT

LAMPS = tuple(((x - LAMP / 2, y, z - LAMP / 2), (x + LAMP / 2, y + 1.35 * LAMP, z + LAMP / 2)) for x, y, z in LAMPS_AT.tolist())


def scales(now: Snapshot) -> dict[str, str]:
    full = "fills the slot at the peak of the EMF"
    return {
        "B": f"10 mm is {0.01 / METRES_PER_TESLA * 1000:.0f} mT",
        "v": f"10 mm is {0.01 / METRES_PER_SPEED:.0f} m/s",
        "\N{CIRCLED DOT OPERATOR}": full,
        "\N{CIRCLED TIMES}": full,
    }


FEET = ((-0.078, -0.122, -0.03), (0.078, -0.1, 0.03))


def sentence(now: Snapshot, look: Look) -> str:
    setup, end = now.setup, look.view.end
    if not setup.speed:
        return "The magnet is at standstill and nothing is generated."
    turning = f"Looking at {end}, the magnet of {setup.poles} poles turns {look.view.turning(setup.speed)}"
    if not setup.flux_density:
        return f"{turning}; without a field it generates nothing."
    return f"{turning} and makes {now.rms:.1f} V at {now.frequency:.4g} Hz in {', '.join(setup.wound)}."


class AlternatorScene(Story, parts=(snapshot, picture, readings, question, waves, kinds)):
    name = "alternator"
    title = "A magnet turned inside coils: the alternator"
    principle = (
        "A magnet turning past a coil makes an alternating voltage in it; three coils a third of a pole pair apart make three voltages, "
        "one after the other."
    )
    controls = (
        Choice("coils", "Coils in the stator", "1", (("1", "U alone"), ("2", "U and V"), ("3", "U, V and W"))),
        Number("speed", "Speed, clockwise looking at the drive end", 1500.0, "r/min", -LARGEST_SPEED, LARGEST_SPEED, 100.0),
        common_controls.poles(),
        Number("field", "Field at the middle of a pole", 400.0, "mT", -LARGEST_FIELD * 1000, LARGEST_FIELD * 1000, 50.0, role="field"),
        Choice("load", "On each phase", "open", (("open", "nothing"), ("lamp", "a lamp"))),
        phases.colours(),
        slow_motion("100", ("20", "50", "100", "200", "500", "1000")),
    )
    arrows = (
        Key("B", "field of the magnet at coil side +U", palette.HEX["field"], "T"),
        Key("v", "motion of coil side +U relative to the magnet", palette.HEX["motion"], "m/s"),
        Key("\N{CIRCLED DOT OPERATOR}", "EMF drives current out of the end in view", palette.HEX["emf"]),
        Key("\N{CIRCLED TIMES}", "EMF drives current into the end in view", palette.HEX["emf"]),
    )
    subject = (
        *round_the_shaft(0.103, -0.04, 0.04),
        FEET,
        ((-0.185, -0.04, 0.03), (-0.1, 0.065, 0.08)),
        ((0.09, -0.05, 0.0), (0.13, 0.06, 0.02)),
    )
    letters = ("N", "S", "U1", "V1", "W1", "hand", "+U", "\N{MINUS SIGN}U", "B", "+V", "+W")
    views = (
        View("drive-end", "from the drive end", (-0.36, -0.36, -1.0)),
        View(
            "other-end",
            "from the non-drive end",
            (0.84, -0.35, 1.0),
            subject=(
                *round_the_shaft(0.103, -0.04, 0.04),
                FEET,
                ((-0.21, -0.05, -0.02), (-0.1, 0.06, 0.07)),
                ((0.09, -0.05, 0.0), (0.13, 0.06, 0.02)),
            ),
        ),
        View("window", "into the window", (-0.75, -0.7, -0.75)),
    )
    caution = (
        "While an alternator turns, its terminals are live: a permanent magnet cannot be switched off. "
        "Before "
        "anyone touches it, the shaft is stopped and locked and the machine isolated and proved dead, by a locally licensed person."
    )
    leaves_out = (
        "The field is a sine round the bore; that of real poles is flatter and adds harmonics.",
        "The currents of the coils do not weaken the magnet's field (no armature reaction), and the coils have resistance but no "
        "inductance.",
        "A lamp has the resistance it has at full brightness; a cold filament has about a tenth of it, so a real lamp starts to glow "
        "sooner.",
    )
    narration = (
        "A magnet turns inside the coils. Each passing pole takes the voltage up and down, and three coils make three waves in turn."
    )
    shaft_of = staticmethod(lambda now: now.angle)

    @property
    def eye(self) -> View:
        """With lamps these are looked at as well, but for the view from near."""
        view = super().eye
        if self["load"] != "lamp" or view.name == "window":
            return view
        return replace(view, subject=(*(view.subject or self.subject), *LAMPS[: int(self["coils"])]))
