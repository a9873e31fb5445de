"""The parts of both motors as a college workshop names them: what each is made of, where it is, what it is there for, what it carries.

Names after the vocabulary of IEC 60050-411 (memory); materials and uses are common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass

CAGE, SLIP_RING = "cage", "slip-ring"
MOTORS = {CAGE: "cage motor", SLIP_RING: "slip-ring motor"}


@dataclass(frozen=True)
class Part:
    """One part. job: what it is there to do, in words that do not give its name; under: the step, of taking apart, that brings it into
    sight, "" where it is always seen; at: a place on it that is seen from the drive end and from the side, m, the motor being together."""

    key: str
    name: str
    material: str
    where: str
    job: str
    carries: str
    under: str
    at: tuple[float, float, float]

    @property
    def it(self) -> str:
        """The pronoun with its verb."""
        return "they are" if self.name.endswith("s") else "it is"

    @property
    def verb(self) -> str:
        return self.it.split()[1]


_BOTH = (
    Part("shaft", "shaft", "steel", "along the middle, from end to end", "carry the rotor and take the torque out to the load",
         "torque", "", (-0.010, 0.0185, 0.222)),
    Part("key", "key", "bright steel", "sunk in the shaft at the drive end", "make the coupling or pulley turn with the motor",
         "torque, as a force on its flanks", "", (0.0, 0.024, 0.305)),
    Part("drive-bearing", "bearing, drive end", "bearing steel and grease", "on the shaft, in the hub next to the load",
         "let the rotor turn freely and take the pull of belt or coupling", "force: half the rotor's weight, and the pull of a belt",
         "drive-shield", (-0.038, -0.024, 0.195)),
    Part("other-bearing", "bearing, non-drive end", "bearing steel and grease", "on the shaft, in the hub away from the load",
         "let the rotor turn freely at the end away from the load", "force: half the rotor's weight", "other-shield",
         (-0.030, 0.034, -0.170)),
    Part("drive-shield", "end shield, drive end", "cast iron", "bolted to the frame where the shaft comes out to the load",
         "hold the bearing next to the load in the middle of the bore, and close that end", "force of the bearing in it", "",
         (-0.138, -0.030, 0.153)),
    Part("other-shield", "end shield, non-drive end", "cast iron", "bolted to the frame at the end away from the load",
         "hold the bearing away from the load in the middle of the bore, and close that end", "force of the bearing in it", "",
         (-0.120, -0.085, -0.146)),
    Part("frame", "frame", "cast iron, with fins and feet", "round the outside, on the floor",
         "stand on the floor, hold the core that does not turn, and give the heat to the air", "heat, and the torque down to the floor", "",
         (-0.125, -0.085, 0.06)),
    Part("stator-core", "stator core", "thin sheets of electrical steel, each insulated", "shrunk into the frame, round the bore",
         "lead the rotating field round outside the bore, and hold the winding that is fed", "field, and heat from it", "frame",
         (-0.088, 0.089, 0.0)),
    Part("stator-winding", "stator winding", "enamelled copper wire", "in slots round the bore, its end windings out at both ends",
         "make the rotating field out of the three currents from the supply", "current of the supply, and heat from it", "drive-shield",
         (-0.098, -0.030, 0.128)),
    Part("terminal-box", "terminal box", "cast iron", "on top of the frame", "give the supply cable a closed place to come in",
         "nothing", "", (-0.065, 0.168, -0.020)),
    Part("terminal-board", "terminal board", "moulded plastic, studs of brass", "in the box on top of the frame",
         "bring out the six ends of the fed winding, to be joined in star or delta", "current of the supply", "box-cover",
         (-0.026, 0.185, 0.022)),
    Part("box-cover", "terminal box cover", "cast iron", "screwed down on top of the box", "keep hands, dust and water off live studs",
         "nothing", "", (0.0, 0.238, 0.0)),
    Part("fan", "external fan", "plastic", "on the shaft at the non-drive end, outside", "blow cooling air along the fins",
         "torque, a little, to move the air", "cowl", (-0.040, 0.095, -0.222)),
    Part("cowl", "fan cowl", "sheet steel", "over the blades at the non-drive end",
         "guide the cooling air along the fins and keep fingers out", "nothing but air", "", (-0.150, 0.045, -0.220)),
    Part("nameplate", "nameplate", "stainless steel", "on the side of the frame", "tell voltage, current, speed and how it is to be joined",
         "nothing", "", (-0.160, 0.0, 0.0)),
    Part("eye-bolt", "eye bolt", "forged steel", "screwed into the top of the frame", "take the hook when the motor is lifted",
         "the motor's weight, while it is lifted", "", (0.0, 0.190, 0.108)),
    Part("rotor-core", "rotor core", "thin sheets of electrical steel", "on the shaft, inside the bore",
         "lead the rotating field through what turns, and hold its conductors in slots", "field", "rotor", (-0.078, 0.004, 0.045)),
)  # fmt: skip
_OWN = {
    CAGE: (
        Part("bars", "rotor bars", "aluminium, cast into the slots", "in the slots of the rotor, a little skewed",
             "carry the currents on which the field pulls, without any connection to the outside", "current, and the force that turns it",
             "rotor", (-0.030, 0.0725, -0.045)),
        Part("end-rings", "end rings", "aluminium, cast in one with their blades", "at both ends of the rotor core",
             "join the rotor's conductors at both ends, so that their currents can flow round", "current of all bars together", "rotor",
             (-0.062, -0.026, 0.106)),
    ),
    SLIP_RING: (
        Part("rotor-winding", "rotor winding", "insulated copper", "in the slots of the rotor, its ends led along the shaft",
             "carry the currents on which the field pulls, in three phases whose ends are led out", "current, and the force that turns it",
             "rotor", (-0.066, -0.020, 0.116)),
        Part("slip-rings", "slip rings", "bronze", "on an insulated bush on the shaft", "bring the rotor's currents off what turns",
             "current of the rotor", "brush-cover", (-0.030, 0.034, -0.190)),
        Part("brushes", "brushes", "carbon, graphite and copper", "at the non-drive end, just above the shaft",
             "slide on the rings and lead the rotor's currents on, to the resistors outside", "current of the rotor", "brush-cover",
             (-0.004, 0.077, -0.212)),
        Part("brush-holders", "brush-holders", "brass", "on a spindle in the end shield, one for each ring",
             "guide the sliding contacts and press them on with springs", "the force of the springs", "brush-cover",
             (0.020, 0.068, -0.168)),
        Part("brush-cover", "brush gear cover", "sheet steel", "over the window in the end shield",
             "give access to the sliding contacts for inspection, and keep fingers out while they are live", "nothing", "",
             (-0.040, 0.127, -0.190)),
    ),
}  # fmt: skip
PARTS: dict[str, tuple[Part, ...]] = {motor: (*_BOTH, *own) for motor, own in _OWN.items()}
MOST = max(len(parts) for parts in PARTS.values())


def part_of(motor: str, number: float) -> Part | None:
    """The part with that number, from 1, in the motor's list; None for 0 or one that it has not."""
    parts = PARTS[motor]
    return parts[int(number) - 1] if 1 <= number <= len(parts) else None


def number_of(motor: str, key: str) -> int:
    """The number of a part in the motor's list; `ValueError` where the motor has none of that name."""
    for number, part in enumerate(PARTS[motor], 1):
        if part.key == key:
            return number
    raise ValueError(f"The {MOTORS[motor]} has the parts {', '.join(part.key for part in PARTS[motor])}, not {key!r:.40}.")


def owners(key: str) -> str:
    """Which motor has a part: its name, or "both"."""
    having = [motor for motor, parts in PARTS.items() if any(part.key == key for part in parts)]
    return having[0] if len(having) == 1 else "both"
