"""The full loop: what is said, shown and changed at each stop in every scene of the lesson."""

from __future__ import annotations

from dataclasses import replace

from scenes import catalogue
from scenes.exhibit.tour import Tour, TourStop, Try
from scenes.scene.controls import ROLES
from scenes.scene.scene import Scene

BY_CHANCE = TourStop("", 9.0, chance=True)
ASK = Try("ask", "A question")


def full_loop(attract: TourStop, minutes_per_scene: float | None = None) -> Tour:
    """Every scene of the lesson, each for so long, or for as long as its captions need."""
    stops = [stop for scene in catalogue.LESSON for stop in _timed(tour_of(scene), minutes_per_scene)]
    return Tour(attract, stops, "the full loop")


def _timed(stops: tuple[TourStop, ...], minutes: float | None) -> tuple[TourStop, ...]:
    times = 1.0 if minutes is None else 60 * minutes / sum(stop.seconds for stop in stops)
    return tuple(replace(stop, seconds=times * stop.seconds) for stop in stops)


def tour_of(scene: Scene | type[Scene]) -> tuple[TourStop, ...]:
    """The stops at a scene: its own tour, or else the usual one; and a set-up that chance decides."""
    stops = (*(TOURS.get(scene.name) or usual(scene)), BY_CHANCE)
    tries = (*_reversing(scene), ASK)
    return tuple(replace(stop, scene=scene.name, goes_on=place > 0, tries=tries) for place, stop in enumerate(stops))


def _reversing(scene: Scene | type[Scene]) -> list[Try]:
    """What a visitor may reverse."""
    found = {control.role: control.name for control in scene.controls if control.role}
    words = {
        role: ("Swap two phases", "Two phases are swapped: see which way it turns now.")
        if found[role] == "lines"
        else (f"Reverse the {role}", f"The {role} is reversed: see what that changes.")
        for role in ROLES
        if role in found
    }
    return [Try("reverse", button, role, after=after, plain=True) for role, (button, after) in words.items()]


def with_hand(caption: str, view: str) -> TourStop:
    """A stop that speaks of the hand of a rule: it is held out there alone, and its fingers have the letters."""
    return TourStop(caption, 10, view, letters=("hand",), hand=True)


def usual(scene: Scene | type[Scene]) -> tuple[TourStop, ...]:
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
        with_hand("Grip the wire with the right hand, the thumb along the current: the fingers curl the way the field goes.", "level"),
        TourStop("The current is reversed, and every needle swings right round.", 12, "above", reverse="current"),
        TourStop("Seen straight along the wire, the field goes round it in circles.", 10, "top"),
        TourStop(
            "With little current each needle settles between the field of the wire and that of the Earth.", 10, settings={"current": 4}
        ),
    ),
    "pushed-conductor": (
        TourStop("A rod hangs between the poles of a magnet. Without current there is no force on it.", 8, "corner", {"switch": False}),
        TourStop("The current is switched on: a force across field and current swings the rod out.", 10, settings={"switch": True}),
        with_hand("The left hand shows the direction: first finger B the field, second finger I the current, thumb F the force.", "front"),
        TourStop("The current is reversed: the force is reversed.", 10, reverse="current"),
        TourStop("Now the field is reversed as well. With both reversed, the force has its first direction again.", 10, reverse="field"),
        TourStop(
            "Turned along the field, the rod feels no force: only current across the field counts.", 9, "corner", {"tilt": 90}, anew=True
        ),
    ),
    "two-wires": (
        TourStop("Two wires hang side by side. Without current there is no force on them.", 8, "corner", {"switch": False}),
        TourStop("Currents in the same direction: the wires attract each other.", 10, settings={"switch": True}),
        with_hand("Each wire lies in the field of the other: right hand for that field, left hand for the force.", "front"),
        TourStop("One current is reversed, and the wires repel each other.", 10, "corner", reverse="current"),
        TourStop("With no current in one of the wires, there is no force between them.", 9, settings={"other": 0}),
        TourStop(
            "Half the current at the same distance: a quarter of the force. A short circuit, a hundred times the current: ten thousand "
            "times.",
            12,
            settings={"current": 20, "other": 20},
        ),
        # common practice, no source
        TourStop(
            "A motor that starts on six times its current strains its wires 36 times as hard: end windings are tied and braced for it.",
            11,
            settings={"current": 50, "other": 50},
        ),
    ),
    "moved-conductor": (
        TourStop("A rod moves to and fro across a field, and the meter swings to and fro with it.", 12, "corner"),
        with_hand("The right hand shows the direction: first finger B the field, thumb v the motion, second finger E the EMF.", "front"),
        TourStop("The field is reversed, and so is the EMF.", 10, "corner", reverse="field"),
        TourStop(
            "Moved along the field, the rod generates nothing: only motion across the field does.", 9, settings={"way": "along-field"}
        ),
        TourStop(
            "Connected to a resistor, the rod drives a current, and the force on that current opposes the motion: generating takes work.",
            11,
            settings={"way": "across", "closed": True, "turns": 100},
        ),
    ),
    "coils-and-commutator": (
        TourStop("A direct-current motor: the forces on coils with current in a field turn the shaft.", 11, "drive-end"),
        TourStop(
            "The commutator reverses the current in each coil as its sides pass between the poles, so the torque keeps its direction.",
            11,
            "commutator",
        ),
        TourStop("The battery is reversed: it runs in the other direction.", 10, "drive-end", reverse="current"),
        TourStop("The field is reversed as well. With both reversed, it runs in the first direction again.", 10, reverse="field"),
        TourStop(
            "Cranked by hand it is a generator: the brushes give a voltage of one polarity.", 11, settings={"mode": "hand"}, anew=True
        ),
        TourStop(
            "With slip rings in place of the commutator, the voltage reverses every half revolution.",
            11,
            settings={"collector": "slip-rings"},
        ),
    ),
    "alternator": (
        TourStop("A magnet turns past a coil. One pole drives the voltage one way, the next pole the other way.", 12, "drive-end"),
        TourStop("Each time a pole passes a coil side, the voltage there is at its peak.", 10, "window"),
        TourStop("Three coils round the magnet give three voltages, one after the other: three phases.", 12, "drive-end", {"coils": "3"}),
        TourStop("Turned twice as fast: twice the voltage, at twice the frequency.", 10, settings={"speed": 3000}),
        TourStop("With four poles on the magnet, at the same speed, the frequency doubles again.", 10, settings={"poles": "4"}),
    ),
    "turning-field": (
        TourStop(
            "No part of this stator moves. Three currents rise and fall one after the other, and their field rotates.", 14, "drive-end"
        ),
        TourStop(
            "Two phases are swapped, and the field rotates in the other direction: this is how such a motor is reversed.",
            12,
            reverse="field",
        ),
        TourStop("One phase is lost: the field no longer rotates, it only pulsates.", 11, settings={"lost": "L1"}),
        TourStop(
            "The same three currents in a four-pole winding: the field rotates at half the speed.",
            12,
            settings={"lost": "none", "poles": "4"},
        ),
    ),
    "laying-the-winding": (
        TourStop("A motor's winding is laid coil by coil. The first coil of phase U spans half the bore.", 10, "both", {"laid": "first"}),
        TourStop("With phase U laid its field only pulsates.", 9, settings={"laid": "phase"}),
        TourStop("Phases U, V and W are laid a third of a pole pair apart, and the field rotates.", 11, settings={"laid": "all"}),
        TourStop("One coil the wrong way round: the field still rotates, but unevenly.", 11, settings={"laid": "reversed", "slow": "1000"}),
        TourStop("The two ends of V swapped: now the stronger field goes the other way.", 11, settings={"laid": "ends"}),
        TourStop("More coils in more slots make steps of the field finer.", 10, settings={"laid": "all", "stator": "24-4", "slow": "500"}),
    ),
    "cage-rotor": (
        TourStop("The rotating field sweeps over the bars of the cage and induces currents in them.", 12, "drive-end"),
        TourStop("The currents flow along the bars and back through the end rings.", 10, "bars"),
        TourStop("The force on these currents drags the rotor after the field, never quite as fast.", 10, "drive-end", anew=True),
        TourStop(
            "Two phases are swapped: the field rotates in the other direction, brakes the rotor and then drags it along.",
            14,
            settings={"slow": "50"},
            reverse="field",
        ),
        TourStop(
            "At the field's own speed nothing is left: no current in the bars, no torque.", 11, settings={"rotor": "driven", "speed": 100}
        ),
    ),
    "inside-a-motor": (
        TourStop("A motor as it stands in the workshop, on its feet.", 8, "near", {"by": "hand", "apart": 0, "part": 0}),
        TourStop(
            "It comes apart: cover and leads first, then fan cowl and fan, and both end shields.", 11, "side", {"by": "itself"}, anew=True
        ),
        TourStop("The rotor is withdrawn at the drive end: aluminium bars and two end rings, and no wire to it.", 9, settings={"part": 18}),
        TourStop(
            "The other kind has a winding on its rotor. Slip rings and brushes lead its currents out, to resistors.",
            12,
            settings={"motor": "slip-ring", "by": "hand", "apart": 100, "part": 19},
        ),
        TourStop("Brush-holders press the brushes on the rings. Brushes wear: somebody has to look after them.", 10, settings={"part": 21}),
    ),
    "slip-and-speed": (
        TourStop(
            'Arrow B is the field, the hand marked "rotor" is the rotor. The rotor drops behind: that is the slip.',
            13,
            "drive-end",
            anew=True,
        ),
        TourStop("With twice the load it drops behind more than twice as fast.", 12, settings={"load": 200}, anew=True),
        TourStop(
            "A four-pole winding: the field rotates at half the speed, and the rotor with it.",
            12,
            settings={"load": 100, "poles": "4"},
            anew=True,
        ),
        TourStop(
            "In the light of a lamp that flashes with the supply, the field stands still and the rotor creeps backwards.",
            13,
            settings={"poles": "2", "lamp": "flashing"},
            anew=True,
        ),
    ),
    "changing-speed": (
        TourStop("A motor follows its field. At 25 hertz this one turns slowly.", 10, "drive-end"),
        TourStop("An inverter raises the frequency to 50 hertz: twice the field's speed.", 10, settings={"frequency": 50}),
        TourStop("At 80 hertz it turns faster still. An inverter sets any speed between.", 10, settings={"frequency": 80}),
        TourStop(
            "Without an inverter: a winding that can be reconnected for another number of poles. Four poles, the low speed.",
            11,
            settings={"method": "one-tapped-winding", "tapped": "4"},
        ),
        TourStop("Connected for two poles: the high speed. There is nothing between the two.", 11, settings={"tapped": "2"}),
    ),
    "synchronous-motor": (
        TourStop("A magnet for a rotor: it runs exactly with the field, and only leans back a little under load.", 12, "drive-end"),
        TourStop(
            "In the light of a lamp that flashes with the supply all stands still, and one sees it lean.",
            12,
            settings={"lamp": "flashing", "load": 100},
        ),
        TourStop("Too much load: the field pulls past its poles, and it falls out of step.", 13, settings={"load": 200}),
        TourStop(
            "Without excitation a cage in its poles starts it. Near the field's speed it is excited, and falls into step.",
            14,
            settings={"lamp": "steady", "load": 20, "start": "mains", "slow": "5"},
            anew=True,
        ),
        TourStop(
            "Without that cage it cannot start on the mains: the field passes too fast, and it only shakes.",
            11,
            settings={"damper": False, "excited": "before", "slow": "20"},
            anew=True,
        ),
    ),
    "terminal-box": (
        TourStop(
            "A motor's terminal box: six ends of three windings on six studs. Links across the upper row join them in star.", 12, "front"
        ),
        TourStop("Links upright join them in delta: right on 230 V, as the plate says.", 10, settings={"joined": "delta", "supply": "230"}),
        TourStop("The same links the other way round, to V2, W2, U2, are a delta too.", 9, settings={"joined": "other-delta"}),
        TourStop(
            "Two leads swapped, and the shaft turns in the other direction.", 10, settings={"joined": "star-swapped", "supply": "400"}
        ),
        TourStop("One lead off: on one phase it only hums, and its windings overheat.", 10, settings={"joined": "lead-off"}),
        TourStop("Delta on the voltage for star: it starts fast, and it burns.", 10, settings={"joined": "delta"}),
        TourStop("Links for star and for delta together are a short circuit: the fuses blow.", 10, settings={"joined": "both"}),
        TourStop(
            "The same motor for a higher voltage, its links out, on a star-delta starter: main and star close first, then main and delta.",
            13,
            settings={"by": "starter", "plate": "400/690", "timer": 5.0, "slow": "1"},
        ),
    ),
    "instruments": (
        TourStop(
            "A clamp meter round a lead shows its current: on a sound motor the same in all three.",
            11,
            "front",
            {"instrument": "clamp", "first": "L1"},
        ),
        TourStop("A phase lost while it runs: the others carry nearly twice as much.", 10, settings={"fault": "lost-running-L3"}),
        TourStop(
            "An ohmmeter on a live board is a mistake. Isolate, lock off and prove dead first.",
            11,
            settings={"fault": "sound", "instrument": "ohmmeter", "first": "U1", "second": "V1"},
        ),
        TourStop("Now it answers: in star, two windings in a row.", 9, settings={"work": "proved"}),
        TourStop("With turns of one winding shorted it shows less.", 9, settings={"fault": "shorted-U"}),
        TourStop(
            "An insulation tester at 500 V, leads and links off: this winding has an earth fault.",
            11,
            settings={"fault": "earth-U", "links": False, "leads": False, "instrument": "insulation", "second": "PE"},
        ),
    ),
    "one-phase": (
        TourStop(
            "One winding on one phase: two equal fields rotate in opposite directions. It hums, and does not start.",
            10,
            "drive-end",
            {"auxiliary": "main"},
            anew=True,
        ),
        TourStop("A pull on the shaft is enough: it goes on in that direction.", 12, "machine", {"start": "clockwise"}),
        TourStop("Or in the opposite one: it does not mind which.", 12, settings={"start": "counter-clockwise"}),
        TourStop(
            "A second winding behind a capacitor makes one field the stronger: it starts by itself.",
            12,
            "drive-end",
            {"auxiliary": "run", "start": "rest"},
        ),
        TourStop(
            "With the ends of one winding swapped it starts in the other direction.", 12, settings={"auxiliary": "start"}, reverse="field"
        ),
        TourStop(
            "A three-phase motor that loses a phase goes on, with far more current and heat.",
            12,
            settings={"motor": "three", "start": "running", "load": 60},
        ),
        TourStop("From rest it would only hum, until its overload relay trips.", 14, settings={"start": "rest"}),
    ),
    "braking": (
        TourStop(
            "Switched off, a motor only coasts: its friction stops it, and that takes time.",
            9,
            "drive-end",
            {"method": "coast", "slow": "2"},
            anew=True,
        ),
        TourStop(
            "Two lines swapped: its field turns against it, and its rotor gets three times the energy as heat.",
            14,
            settings={"method": "plug", "friction": 0},
        ),
        TourStop("If nothing opens the contactor then, it starts again in the opposite direction.", 14, settings={"zero": False}),
        TourStop("With direct current the field stands still, and the rotor brakes itself.", 14, settings={"method": "dc", "direct": 300}),
        TourStop("Driven faster than its field it gives power back to the lines.", 10, settings={"method": "load"}),
        TourStop("So it does while an inverter lowers its frequency.", 14, settings={"method": "inverter"}),
    ),
    "starting": (
        TourStop(
            "Direct-on-line: a motor draws several times its rated current until it is nearly up to speed.",
            10,
            "corner",
            {"slow": "5"},
            anew=True,
        ),
        TourStop(
            "Star-delta: in star a third of the current and a third of the torque, so a longer start.",
            11,
            settings={"method": "star-delta", "slow": "1"},
            anew=True,
        ),
        TourStop(
            "The starter from near: three contactors, and six leads to the motor. Star and delta are never closed together.",
            11,
            "starter",
            anew=True,
        ),
        TourStop(
            "But a loaded conveyor does not even move in star: the torque is too small.",
            11,
            "corner",
            {"drive": "conveyor", "load": 60},
            anew=True,
        ),
        TourStop(
            "A soft starter raises the voltage slowly.", 10, settings={"drive": "fan", "load": 80, "method": "soft-starter"}, anew=True
        ),
        TourStop(
            "An inverter raises frequency and voltage together: little current from the line, and no jerk.",
            12,
            settings={"method": "inverter"},
            anew=True,
        ),
    ),
}
