"""The unattended loop as data: what is said, shown and changed at each stop in a scene."""

from __future__ import annotations

from dataclasses import dataclass, field

from scenes.scene.scene import Scene


@dataclass(frozen=True)
class TourStop:
    """One stay: what is said, how long it stays, and what is changed for it; what was changed before stays changed.

    An empty `caption` says what the scene itself says of its state; an empty `view` leaves the eye where it is. `anew`
    has it begin from its start; a stop left to `chance` sets the scene up at random.
    """

    caption: str
    seconds: float = 10.0
    view: str = ""
    settings: dict = field(default_factory=dict)
    reverse: str = ""
    anew: bool = False
    chance: bool = False


BY_CHANCE = TourStop("", 9.0, chance=True)


def tour_of(scene: Scene) -> tuple[TourStop, ...]:
    """The stops at a scene: its own tour, or else the usual one; and a set-up that chance decides."""
    return (*(TOURS.get(scene.name) or usual(scene)), BY_CHANCE)


def usual(scene: Scene) -> tuple[TourStop, ...]:
    """The narration, each further view, and what reversing does."""
    first, *others = scene.views
    roles = dict.fromkeys(control.role for control in scene.controls if control.role)
    return (
        TourStop(scene.narration, 12.0, first.name),
        *(TourStop(scene.principle, 9.0, view.name) for view in others),
        *(TourStop(f"Now the {role} is reversed.", 9.0, first.name, reverse=role) for role in roles),
    )


TOURS: dict[str, tuple[TourStop, ...]] = {
    "field-round-a-wire": (
        TourStop("Compasses on a table. Without current in the wire every needle points north.", 9, "above", {"switch": False}),
        TourStop("The current is switched on: every needle swings to lie along a circle round the wire.", 12, settings={"switch": True}),
        TourStop("Grip the wire with the right hand, the thumb along the current: the fingers curl the way the field goes.", 10, "level"),
        TourStop("The current is reversed, and every needle swings right round.", 12, "above", reverse="current"),
        TourStop("Seen straight down the wire, the field goes round it in circles.", 10, "top"),
        TourStop("With little current the Earth has its say: each needle settles between the two fields.", 10, settings={"current": 4}),
    ),
    "pushed-conductor": (
        TourStop("A rod hangs between the poles of a magnet. Without current nothing happens.", 8, "corner", {"switch": False}),
        TourStop("The current is switched on, and the rod is pushed out sideways.", 10, settings={"switch": True}),
        TourStop("The left hand says which way: first finger B the field, second finger I the current, thumb F the push.", 10, "front"),
        TourStop("The current is reversed: the push is reversed.", 10, reverse="current"),
        TourStop("Now the field is reversed as well. Reversed twice, the rod is pushed the first way again.", 10, reverse="field"),
        TourStop("Turned along the field, the rod is not pushed at all: only a current across the field is.", 9, "corner", {"tilt": 90}, anew=True),
    ),
    "two-wires": (
        TourStop("Two wires hang side by side. Without current nothing happens.", 8, "corner", {"switch": False}),
        TourStop("Currents the same way in both: the wires are drawn together.", 10, settings={"switch": True}),
        TourStop("Each wire lies in the field of the other: right hand for that field, left hand for the push.", 10, "front"),
        TourStop("One current is reversed, and the wires are pushed apart.", 10, "corner", reverse="current"),
        TourStop("With no current in one of the wires, neither pushes the other.", 9, settings={"other": 0}),
        TourStop("Half the current in both is a quarter of the push. A short circuit, a hundred times the current: ten thousand times.", 12,
                 settings={"current": 20, "other": 20}),
        # common practice, no source
        TourStop("A motor that starts on six times its current pushes its wires 36 times as hard: end windings are tied and braced for it.", 11,
                 settings={"current": 50, "other": 50}),
    ),
    "moved-conductor": (
        TourStop("A rod is moved to and fro across a field, and the meter swings to and fro with it.", 12, "corner"),
        TourStop("The right hand says which way: first finger B the field, thumb v the motion, second finger E the voltage.", 10, "front"),
        TourStop("The field is reversed, and so is the voltage.", 10, "corner", reverse="field"),
        TourStop("Moved along the field, the rod generates nothing: only motion across the field does.", 9, settings={"way": "along-field"}),
        TourStop(
            "Joined to a resistor, the rod drives a current, and that current is pushed against the motion: generating takes work.",
            11, settings={"way": "across", "closed": True, "turns": 100},
        ),
    ),
    "coils-and-commutator": (
        TourStop("A motor for direct current: coils with current in a field are pushed round.", 11, "drive-end"),
        TourStop("The commutator changes each coil over as its sides pass between the poles, so the push goes on the same way.", 11, "commutator"),
        TourStop("The battery is reversed: it runs the other way.", 10, "drive-end", reverse="current"),
        TourStop("The field is reversed as well. Reversed twice, it runs the first way again.", 10, reverse="field"),
        TourStop("Turned by hand it is a generator: the brushes give a voltage of one direction.", 11, settings={"mode": "hand"}, anew=True),
        TourStop("With slip rings in the commutator's place, the voltage changes over with every half turn.", 11, settings={"collector": "slip-rings"}),
    ),
    "alternator": (
        TourStop("A magnet turns past a coil. One pole drives the voltage one way, the next pole the other way.", 12, "drive-end"),
        TourStop("Each time a pole passes a coil side, the voltage there is at its greatest.", 10, "window"),
        TourStop("Three coils round the magnet give three voltages, one after the other: three phases.", 12, "drive-end", {"coils": "3"}),
        TourStop("Turned twice as fast: twice the voltage, and twice as often.", 10, settings={"speed": 3000}),
        TourStop("With four poles on the magnet the voltage changes over twice as often again.", 10, settings={"poles": "4"}),
    ),
    "turning-field": (
        TourStop("No part of this stator moves. Three currents rise and fall one after the other, and their field goes round.", 14, "drive-end"),
        TourStop("Two lines are exchanged, and the field turns back: this is how such a motor is reversed.", 12, reverse="field"),
        TourStop("One line is lost: the field turns no more, it only grows, fades and changes over.", 11, settings={"lost": "L1"}),
        TourStop("The same three currents in a winding for four poles: the field goes round at half the speed.", 12,
                 settings={"lost": "none", "poles": "4"}),
    ),
    "cage-rotor": (
        TourStop("The turning field sweeps over the bars of the cage and generates currents in them.", 12, "drive-end"),
        TourStop("The currents go along the bars and back through the rings at the ends.", 10, "bars"),
        TourStop("The field pushes the bars that carry current, and the rotor follows it, never quite as fast.", 10, "drive-end", anew=True),
        TourStop("Two lines are exchanged: the field turns back, brakes the rotor and takes it along the other way.", 14, reverse="field"),
        TourStop("At the field's own speed nothing is left: no current in the bars, no push.", 11,
                 settings={"rotor": "driven", "speed": 100}),
    ),
    "slip-and-speed": (
        TourStop("The blue hand is the field, the other one the rotor. The rotor falls behind: that is the slip.", 13, "drive-end", anew=True),
        TourStop("With twice the load it falls behind more than twice as fast.", 12, settings={"load": 200}, anew=True),
        TourStop("A winding for four poles: the field turns at half the speed, and the rotor with it.", 12,
                 settings={"load": 100, "poles": "4"}, anew=True),
        TourStop("Seen by a lamp that flashes with the supply, the field stands still and the rotor creeps backwards.", 13,
                 settings={"poles": "2", "lamp": "flashing"}, anew=True),
    ),
    "changing-speed": (
        TourStop("A motor follows its field. At 25 hertz this one turns slowly.", 10, "drive-end"),
        TourStop("An inverter raises the frequency to 50 hertz: twice the speed.", 10, settings={"frequency": 50}),
        TourStop("At 80 hertz it turns faster still. An inverter takes it to any speed between.", 10, settings={"frequency": 80}),
        TourStop("Without an inverter: a winding that is joined another way has another number of poles. Four poles, the slow speed.", 11,
                 settings={"method": "one-tapped-winding", "tapped": "4"}),
        TourStop("Joined for two poles: the fast speed. There is nothing between the two.", 11, settings={"tapped": "2"}),
    ),
    "starting": (
        TourStop("Started straight on the lines, a motor draws several times its usual current until it is up to speed.", 10, "corner", anew=True),
        TourStop("Star-delta: a third of the current, a third of the torque, and a longer start.", 11, settings={"method": "star-delta"}, anew=True),
        TourStop("But a loaded conveyor does not even move in star: the torque is not enough.", 11, settings={"drive": "conveyor", "load": 60}, anew=True),
        TourStop("A soft starter lets the voltage rise slowly.", 10, settings={"drive": "fan", "load": 80, "method": "soft-starter"}, anew=True),
        TourStop("An inverter raises the frequency with the speed: little current, full torque, no shock.", 12,
                 settings={"method": "inverter"}, anew=True),
    ),
}
