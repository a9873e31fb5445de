"""The scenes in the order of the lesson. To add one, add its package and two lines here."""

from __future__ import annotations

from scenes.conductors.field_round_a_wire.scene import FieldRoundAWire
from scenes.conductors.moved_conductor.scene import MovedConductor
from scenes.conductors.pushed_conductor.scene import PushedConductor
from scenes.conductors.two_wires.scene import TwoWires
from scenes.drives.braking.scene import Braking
from scenes.drives.changing_speed.scene import ChangingSpeed
from scenes.drives.instruments.scene import Instruments
from scenes.drives.one_phase.scene import OnePhase
from scenes.drives.slip_and_speed.scene import SlipAndSpeed
from scenes.drives.starting.scene import Starting
from scenes.drives.synchronous_motor.scene import SynchronousMotor
from scenes.drives.terminal_box.scene import TerminalBox
from scenes.machines.alternator.scene import AlternatorScene
from scenes.machines.cage_rotor.scene import CageRotor
from scenes.machines.commutator.scene import CoilsAndCommutator
from scenes.machines.inside_a_motor.scene import InsideAMotor
from scenes.machines.laying_the_winding.scene import LayingTheWinding
from scenes.machines.turning_field.scene import TurningField
from scenes.names import no_such
from scenes.scene.scene import Scene

LESSON: tuple[type[Scene], ...] = (
    FieldRoundAWire,
    PushedConductor,
    TwoWires,
    MovedConductor,
    CoilsAndCommutator,
    AlternatorScene,
    TurningField,
    LayingTheWinding,
    CageRotor,
    InsideAMotor,
    SlipAndSpeed,
    ChangingSpeed,
    SynchronousMotor,
    TerminalBox,
    Instruments,
    OnePhase,
    Starting,
    Braking,
)

NAMES = tuple(scene.name for scene in LESSON)


def scene_class(name: str) -> type[Scene]:
    """The scene of that name; `ValueError` with the nearest name if there is none."""
    for scene in LESSON:
        if scene.name == name:
            return scene
    raise ValueError(no_such("scene", name, NAMES))
