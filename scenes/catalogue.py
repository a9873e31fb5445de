"""The scenes in the order of the lesson. To add one, add its package and two lines here."""

from __future__ import annotations

from scenes.conductors.field_round_a_wire import FieldRoundAWire
from scenes.conductors.moved_conductor import MovedConductor
from scenes.conductors.pushed_conductor import PushedConductor
from scenes.conductors.two_wires import TwoWires
from scenes.drives.braking import Braking
from scenes.drives.changing_speed import ChangingSpeed
from scenes.drives.instruments import Instruments
from scenes.drives.one_phase import OnePhase
from scenes.drives.slip_and_speed import SlipAndSpeed
from scenes.drives.starting import Starting
from scenes.drives.synchronous_motor import SynchronousMotor
from scenes.drives.terminal_box import TerminalBox
from scenes.machines.alternator import AlternatorScene
from scenes.machines.cage_rotor import CageRotor
from scenes.machines.commutator import CoilsAndCommutator
from scenes.machines.inside_a_motor import InsideAMotor
from scenes.machines.laying_the_winding import LayingTheWinding
from scenes.machines.turning_field import TurningField
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
