"""The motor on the bench: what is made once, and where everything is at one instant."""

from __future__ import annotations

from scenes.drives.changing_speed.motors import ORDINARY, connections, full_field
from scenes.drives.changing_speed.snapshot import INVERTER, ONE_WINDING, Setup, Snapshot
from scenes.scene import phases
from scenes.scene.story import Look
from visual.machines.speed_machine import SpeedMachine
from visual.solid.solids import Group
from visual.switchgear.motor_wiring import InverterBox, Joined, MotorWiring, SwitchBox


class MotorDrawn(Group):
    """The machine, and its wiring for each way of setting the speed."""

    def __init__(self):
        super().__init__()
        layouts = {"inverter": _layout(ORDINARY)} | {str(poles): _layout(joined.coils) for poles, joined in connections().items()}
        self.machine = self.add(SpeedMachine(layouts, {layout[0]: full_field(layout[0]) for layout in layouts.values()}))
        ends = [(f"{phase}1", f"{phase}2") for phase in phases.TERMINALS]
        self.wirings: dict[str, MotorWiring] = {
            "inverter": InverterBox(["U1", "V1", "W1", "W2", "U2", "V2"], ends, linked=(3, 4, 5)),
            "12": _tapped_wiring(1, 2),
            "34": _tapped_wiring(3, 4),
        }
        for wiring in self.wirings.values():
            self.add(wiring)

    def show(self, name: str) -> MotorWiring:
        """Show the wiring of that name, and hide the others."""
        for each, wiring in self.wirings.items():
            wiring.visible = self.visible and each == name
        return self.wirings[name]


def _tapped_wiring(low: int, high: int) -> SwitchBox:
    """The wiring of a tapped winding with ends marked `low` and taps marked `high`: from the end through one half to the tap,
    and through the other half to the internal star point. End V belongs with tap W, and end W with tap V."""
    halves = [(f"{low}{end}", f"{high}{tap}") for end, tap in zip("UVW", "UWV", strict=True)]
    studs = [f"{figure}{letter}" for figure in (low, high) for letter in "UVW"]
    return SwitchBox(studs, [*halves, *((tap, "star point") for _, tap in halves)])


def _layout(coils) -> tuple:
    """Poles, slot angles, the two sides of each slot, and letters of the phases."""
    sides = [[("UVW".index(side.phase), side.sign) for side in coils.slot_table if side.slot == slot] for slot in range(coils.slots)]
    return 2 * coils.pole_pairs, coils.slot_angles, sides, phases.TERMINALS


def build(host) -> MotorDrawn:
    drawn = MotorDrawn()
    machine = drawn.machine
    for poles in machine.poles:
        host.name(f"speed-field-{poles}", machine.fields[poles].arrows[0].shaft.drawn)
        host.name(f"speed-poles-{poles}", machine.poles[poles].solid.drawn)
    for name, stator in machine.stators.items():
        for phase, conductors in zip(phases.TERMINALS, stator.conductors, strict=True):
            host.name(f"speed-{phase}-{name}", conductors.drawn)
        for number, (_, _, letters, _) in enumerate(stator.groups):
            host.name(f"speed-belt-{name}-{number}", letters.drawn)
    host.name("speed-hand", machine.hand.solid.drawn)
    return drawn


def name_of(setup: Setup) -> str:
    """The name of the winding and connection shown."""
    return "inverter" if setup.method == INVERTER else str(setup.poles)


def letters_of(setup: Setup) -> list[str]:
    """The names of the winding's three phases: the terminals that feed them."""
    return list(phases.TERMINALS) if setup.method == INVERTER else sorted(setup.supplied)


def lines_on_phases(setup: Setup) -> list[int]:
    """Which line, 0 to 2, feeds each of the phases in the order of their letters."""
    return [int(line[1]) - 1 for _, line in sorted(zip(setup.supplied, setup.lines, strict=True))]


def place(drawn: MotorDrawn, now: Snapshot, look: Look) -> None:
    setup, region = now.setup, phases.REGIONS[now.setup.colours]
    name, fed_by = name_of(setup), lines_on_phases(setup)
    stator = drawn.machine.stators[name]
    stator.call(letters_of(setup))
    stator.colour([region.colours[n] for n in fed_by], [region.inks[n] for n in fed_by])
    field = now.field if look.reveals_answer else 0.0
    drawn.machine.put(name, setup.poles, now.peak, field, setup.sense, now.rotor, look.view.side)
    _wire(drawn, setup, region.colours)


def _wire(drawn: MotorDrawn, setup: Setup, colours) -> None:
    if setup.method == INVERTER:
        # the phase sequence on an inverter's input does not matter: phases are swapped between inverter and motor
        studs = tuple(setup.lines.index(line) for line in phases.LINES)
        drawn.show("inverter").put(Joined(studs=studs), colours)
        return
    wiring = drawn.show("12" if setup.method == ONE_WINDING or setup.poles > 4 else "34")
    low = setup.connection is not None and setup.connection.joined == ()
    wiring.put(
        Joined(
            lines=tuple(int(line[1]) - 1 for line in setup.lines),
            studs=(0, 2, 1) if setup.swapped_at_low_speed else (0, 1, 2),
            bars=tuple((n, n if low else n + 3) for n in range(3)),
            bridged=() if low else (0, 1, 2),
        ),
        colours,
    )
