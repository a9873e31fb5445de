"""The motor, what it drives, its starter and its bars: what is made once, and where everything stands at one instant."""

from __future__ import annotations

from physics.windings.coils_in_slots import PHASES
from scenes.drives.starting.motors import MOTOR, RATED_CURRENT, ROTOR_WINDING, SYNCHRONOUS, WOUND
from scenes.drives.starting.snapshot import Snapshot
from scenes.drives.starting.starters import IN_THE_PICTURE, WORDS, closed_contactors, rotor_steps
from scenes.scene.phases import REGIONS
from scenes.scene.story import Look
from visual import palette
from visual.machines import drive, slip_rings
from visual.solid.solids import Group, Solid
from visual.switchgear.starter_panel import StarterPanel

METHODS = list(WORDS)
PHASE_TINTS = ((0.78, 0.47, 0.30), (0.72, 0.58, 0.30), (0.62, 0.36, 0.33))  # of the rotor's own phases: enamelled wire
BRUSHES = tuple((slip_rings.BRUSH_END - 0.007, 0.0, z) for z in slip_rings.RINGS_AT)


class StartingDrawn(Group):
    """Motor and driven machine, the starter's panel, a bar for the current of each method and one for the speed."""

    def __init__(self):
        super().__init__()
        machine = self.machine = self.add(Group())
        self.bench = self.add(Solid(drive.bench_top()))
        self.frame = machine.add(Solid(drive.motor_frame()))
        opened = slip_rings.open_frame(drive.FRAME, drive.BODY, drive.feet_and_box(), drive.end_shield())
        self.open_frame = machine.add(Solid(opened))
        for solid in (self.bench, self.frame, self.open_frame):
            solid.put((0, 0, 0))
        self.turning = drive.TurningShaft(machine)
        sides = sorted(ROTOR_WINDING.slot_table, key=lambda side: -side.slot)  # counter-clockwise
        self.rotor = self.turning.add_rotor(slip_rings.wound_rotor([PHASE_TINTS[PHASES.index(side.phase)] for side in sides]))
        self.rings = machine.add(slip_rings.SlipRings())
        self.still = {"pump": machine.add(Solid(drive.pump_casing())), "conveyor": machine.add(Solid(drive.belt()))}
        for solid in self.still.values():
            solid.put((0, 0, 0))
        self.panel = StarterPanel(self, (-0.33, 0.09, 0.06), MOTOR.line_voltage, len(rotor_steps(WOUND).resistances), drive.GLAND, BRUSHES)
        self.currents = drive.Bars(
            machine,
            list(IN_THE_PICTURE.values()),
            "I",
            palette.CURRENT,
            (0.19, 0.3, 0.0),
            0.18,
            8.0,
            {1.0: "1 × rated", 4.0: "4 ×", 8.0: "8 ×"},
        )
        self.speed_bar = drive.Bars(machine, ["speed"], "n", palette.MOTION, (0.19, 0.03, 0.0), 0.18, 1.0, {0.5: "½", 1.0: "nₛ"})


def build(host) -> StartingDrawn:
    drawn = StartingDrawn()
    for name, part in (("shaft", drawn.turning.shaft), ("current", drawn.currents.bar), ("speed", drawn.speed_bar.bar)):
        host.name(f"starting-{name}", part.drawn)
    for name, bar in zip(METHODS, drawn.currents.largest, strict=True):
        host.name(f"starting-largest-{name}", bar.drawn)
    for name, wheel in drawn.turning.wheels.items():
        host.name(f"starting-{name}", wheel.drawn)
    return drawn


def place(drawn: StartingDrawn, now: Snapshot, look: Look) -> None:
    case, moment, near = now.case, now.moment, look.view.name == "starter"
    behind = look.view.side < 0
    drawn.machine.visible = drawn.bench.visible = drawn.visible and not near  # seen from near, the starter alone
    drawn.currents.visible = drawn.speed_bar.visible = drawn.machine.visible and not behind
    drawn.turning.put(case.drive, now.angle)
    wound = case.method == "wound-rotor"
    drawn.frame.visible, drawn.open_frame.visible = drawn.machine.visible and not wound, drawn.machine.visible and wound
    drawn.rotor.visible = drawn.machine.visible and wound
    drawn.rings.visible = drawn.machine.visible and wound and look.view.name == "other-end"
    for name, solid in drawn.still.items():
        solid.visible = drawn.machine.visible and name == case.drive
    starts = [now.others[name] if look.reveals_answer else None for name in METHODS]
    drawn.currents.show(
        [None if start is None else start.largest_line_current / RATED_CURRENT for start in starts],
        [start is not None and not start.starts for start in starts],
        METHODS.index(case.method),
        moment.line_current / RATED_CURRENT if look.reveals_answer else None,
    )
    drawn.speed_bar.show([None], [False], 0, moment.speed / SYNCHRONOUS if look.reveals_answer else None)
    drawn.panel.paint(REGIONS[now.setup.colours].colours)
    drawn.panel.show(case.method, moment.stage_name, closed_contactors(case.method, moment.stage), now.setup.tap, near, behind)
