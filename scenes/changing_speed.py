"""Changing speed: an inverter gives any frequency, a pole-changing winding a few fixed speeds and none between."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from physics import circuit_motion
from physics.circuit_motion import SlipMoment, settled_slip, slip_of
from physics.coils_in_slots import BALANCED, ConnectedCoils
from physics.directions import turning_sense
from physics.pole_changing import FourSpeedWinding, PoleConnection, TappedWinding
from physics.shafts import FreeShaft
from physics.windings import Winding
from scenes import common_controls, phases
from scenes.bench_motors import FREQUENCY, SUPPLY, VOLTAGE, own_motor
from scenes.scene import Choice, Key, Line, Mark, Number, Plot, Question, Reading, Scene, View, minus, slow_motion
from visual import palette
from visual.solids import Group
from visual.speed_machine import SpeedMachine

AXIS = np.array([0.0, 0.0, 1.0])  # of the shaft, toward the drive end
SLOTS = 36
ORDINARY = Winding(SLOTS, 4)
FAMILY = (10, 20, 30, 40, 50, 60, 80, 100)  # Hz, of the inverter's curves
FAINT = "#9aa3a7"


@lru_cache(maxsize=1)
def connections() -> dict[int, PoleConnection]:
    """The four ways to join the two tapped windings, by the number of poles that each finds in its own field."""
    return {connection.poles: connection for connection in FourSpeedWinding(SLOTS, (2, 6)).speeds}


@lru_cache(maxsize=1)
def tapped_alone() -> dict[int, PoleConnection]:
    """The two ways to join the first of them where it is the only winding, its terminals numbered accordingly."""
    return {connection.poles: connection for connection in TappedWinding(SLOTS, 2).speeds}


class ChangingSpeed(Scene):
    name = "changing-speed"
    title = "Changing the speed"
    principle = "A motor follows its field: change the frequency and it takes any speed, change the poles and it takes a few fixed ones, with nothing between."
    controls = (
        Choice("method", "Speed set by", "inverter", (
            ("inverter", "an inverter"), ("one-tapped-winding", "one tapped winding, two speeds"), ("two-windings", "two tapped windings, four speeds"))),
        Number("frequency", "Frequency of the inverter", 25.0, "Hz", 5.0, 100.0, 1.0, only_with=("method", "inverter")),
        Choice("tapped", "Joined for", "4", (("4", "4 poles, slow"), ("2", "2 poles, fast")), only_with=("method", "one-tapped-winding")),
        Choice("joined", "Joined for", "12", (("12", "12 poles"), ("6", "6 poles"), ("4", "4 poles"), ("2", "2 poles")), only_with=("method", "two-windings")),
        common_controls.load(40.0),
        common_controls.line_order(),
        phases.colours(),
        slow_motion("50", ("1", "5", "20", "50", "200")),
    )
    arrows = (
        Key("B", "field of the stator", palette.HEX["field"]),
        Key("n", "the rotor's hand", palette.HEX["motion"]),
    )
    views = (
        View("drive-end", "from the drive end", (-0.1, -0.08, -1.0), (0.0, 0.002, 0.0), 0.125),
        View("other-end", "from the other end", (0.1, -0.08, 1.0), (0.0, 0.002, 0.0), 0.125),
    )
    caution = (
        "The capacitors in an inverter stay charged for minutes after it is switched off: wait as long as its plate says and prove it dead. Never "
        "reconnect terminals under voltage. Both speeds must turn the same way: try the direction with the load uncoupled. Local codes and "
        "licensed practice come first."
    )
    narration = "An inverter takes this motor through every speed. A pole-changing winding jumps from one to the next."

    def __init__(self):
        self._plot: tuple | None = None
        super().__init__()

    # the motor as it is fed and joined now

    @property
    def poles(self) -> int:
        return {"inverter": 4, "one-tapped-winding": int(self["tapped"]), "two-windings": int(self["joined"])}[self["method"]]

    @property
    def frequency(self) -> float:
        return self["frequency"] if self["method"] == "inverter" else FREQUENCY

    @property
    def motor(self):
        return own_motor(self.frequency, self.poles)

    @property
    def connection(self) -> PoleConnection | None:
        """How a pole-changing winding is joined; none for an ordinary one on an inverter."""
        if self["method"] == "inverter":
            return None
        return (tapped_alone() if self["method"] == "one-tapped-winding" else connections())[self.poles]

    @property
    def coils(self) -> ConnectedCoils:
        return self.connection.coils if self.connection else ORDINARY

    @property
    def way(self) -> str:
        """The name of the winding and connection that is seen."""
        return "inverter" if self["method"] == "inverter" else str(self.poles)

    @property
    def load(self) -> float:
        """N m that the load asks of the shaft: of the rated torque with 4 poles on 50 Hz, the same at all speeds."""
        return self["load"] / 100 * own_motor(FREQUENCY, 4).rated_torque

    @property
    def exchanged(self) -> bool:
        """Whether two lines are exchanged, so that the phases follow each other the other way round."""
        return self["lines"] in ("L2-L1-L3", "L1-L3-L2", "L3-L2-L1")

    @property
    def sense(self) -> float:
        """+1 where the field turns counter-clockwise seen from the drive end, -1 where clockwise."""
        clockwise, counter_clockwise = np.abs(self.coils.travelling_waves(BALANCED))
        return -1.0 if (clockwise > counter_clockwise) != self.exchanged else 1.0

    def restart(self) -> None:
        """Running as fast as the load lets it."""
        slip = settled_slip(self.motor.circuit, self.load)
        self.angle = 0.0  # electrical, of the supply
        self.moment = SlipMoment(speed=self.sense * (1 - slip) * self.motor.circuit.synchronous_speed)

    def revealed(self) -> None:
        self.restart()

    def step(self, seconds: float) -> None:
        self.angle = math.fmod(self.angle + 2 * math.pi * self.frequency * seconds, 2 * math.pi)
        shaft = FreeShaft(own_motor(FREQUENCY, 4).inertia, self.load)
        self.moment = circuit_motion.move_on(self.motor.circuit, self.sense, shaft, self.moment, seconds)

    @property
    def currents(self) -> np.ndarray:
        """Of U, V, W at this instant, as shares of the crest."""
        values = np.real(BALANCED * np.exp(1j * self.angle))
        order = [("L1", "L2", "L3").index(line) for line in self["lines"].split("-")]
        return values[order]

    @property
    def crest(self) -> float:
        """Where the field goes outward most, mechanical rad: found from the winding and the currents of this instant."""
        return self.coils.field_axis(self.currents) / (self.poles / 2)

    @property
    def slip(self) -> float:
        return slip_of(self.motor.circuit, self.sense, self.moment.speed)

    @property
    def speeds(self) -> list[int]:
        """The field's speeds that this motor can have, r/min; none for an inverter, which gives any."""
        poles = {"inverter": (), "one-tapped-winding": (4, 2), "two-windings": (12, 6, 4, 2)}[self["method"]]
        return [round(120 * FREQUENCY / n) for n in poles]

    # what is drawn

    @property
    def side(self) -> float:
        return -1.0 if self.eye.forward[2] > 0 else 1.0

    def build(self, host) -> None:
        layouts = {}
        self._fullest = {}
        instants = np.real(BALANCED * np.exp(1j * np.linspace(0, 2 * np.pi, 24, endpoint=False))[:, None])
        windings = {str(poles): connection.coils for poles, connection in connections().items()} | {"inverter": ORDINARY}
        for way, coils in windings.items():
            sides = [next(side for side in coils.slot_table if side.slot == slot) for slot in range(coils.slots)]
            belts = [("+" if side.sign > 0 else "\N{MINUS SIGN}") + side.phase for side in sides]
            layouts[way] = (coils.poles, coils.slot_angles, ["UVW".index(side.phase) for side in sides], belts)
            self._fullest[way] = float(np.abs(coils.slot_currents(instants)).max())
        self.drawn = Group()
        self.machine = self.drawn.add(SpeedMachine(layouts))
        for poles in self.machine.poles:
            host.name(f"speed-field-{poles}", self.machine.fields[poles].arrows[0].shaft.drawn)
            host.name(f"speed-poles-{poles}", self.machine.poles[poles].solid.drawn)
        for way, stator in self.machine.stators.items():
            host.name(f"speed-phase-{way}", stator.conductors[0].drawn)
            for slot, mark in enumerate(stator.marks):
                host.name(f"speed-mark-{way}-{slot}", mark.solid.drawn)
        host.name("speed-hand", self.machine.hand.shaft.drawn)

    def draw(self) -> None:
        region = phases.REGIONS[self["colours"]]
        self.machine.colour(region.colours, region.inks)
        rotor = np.pi / 2 + 2 * np.pi * math.fmod(self.moment.rotor_turns, 1.0)
        shares = self.coils.slot_currents(self.currents) / self._fullest[self.way]
        circuit = self.motor.circuit
        idle, here = np.abs(circuit.at(np.array([0.0, self.slip])).gap_voltage)
        self.machine.put(self.way, self.poles, shares, self.crest, float(here / idle) * min(1.0, self.flux), rotor, self.side)

    @property
    def flux(self) -> float:
        """Volts per hertz as a share of those at 50 Hz."""
        return float(SUPPLY.flux(self.frequency)) if self["method"] == "inverter" else 1.0

    def plot(self) -> Plot:
        key = (self["method"], self.frequency, self.poles, self["load"], self.answers_shown)
        if self._plot is None or self._plot[0] != key:
            self._plot = (key, self._curves())
        return self._plot[1]

    def _curves(self) -> Plot:
        """Torque against speed at every setting the method has, the present one last and strong."""
        method = self["method"]
        if method == "inverter":
            settings = [(float(f), 4) for f in FAMILY]
        else:
            settings = [(FREQUENCY, n) for n in ((4, 2) if method == "one-tapped-winding" else (12, 6, 4, 2))]
        lines = [Line("", FAINT, _curve(*setting)) for setting in settings if setting != (self.frequency, self.poles)]
        lines.append(Line("torque as fed now", palette.HEX["force"], _curve(self.frequency, self.poles)))
        fastest = max(60 * own_motor(*setting).circuit.synchronous_speed for setting in settings)
        lines.append(Line("load", palette.HEX["emf"], ((0.0, self.load), (fastest, self.load))))
        return Plot("speed", "r/min", "torque", "N m", tuple(lines) if self.answers_shown else ())

    def marks(self) -> list[Mark]:
        if not self.answers_shown:
            return []
        return [Mark("now", palette.HEX["motion"], 60 * self.sense * self.moment.speed, float(self.motor.circuit.at(self.slip).torque))]

    # what is read and asked

    def seen(self, speed: float) -> str:
        return turning_sense(speed * AXIS, self.side * AXIS) if abs(speed) > 1e-9 else "none"

    def readings(self) -> list[Reading]:
        circuit, method = self.motor.circuit, self["method"]
        field, rotor = 60 * circuit.synchronous_speed, 60 * self.sense * self.moment.speed
        readings = [
            Reading("nₛ", "synchronous speed", f"{field:.0f}", "r/min",
                    f"nₛ = 120 f / poles = 120 × {self.frequency:g} Hz / {self.poles} = {field:.0f} r/min", tells=True),
            Reading("n", "speed of the rotor", minus(rotor, 0), "r/min", f"slip s = ({field:.0f} − {minus(rotor, 0)}) / {field:.0f} = {minus(100 * self.slip, 1)} %", tells=True),
        ]
        if method == "inverter":
            volts = float(SUPPLY.voltage(self.frequency))
            weak = "above 50 Hz the voltage stays and the field weakens" if self.frequency > FREQUENCY else "held constant, with a little more for the winding's own drop"
            readings.append(Reading("U / f", "volts per hertz", f"{volts / self.frequency:.2f}", "V/Hz", f"{volts:.0f} V / {self.frequency:g} Hz; {weak}"))
        else:
            supplied = ", ".join(f"L{n} on {terminal}" for n, terminal in enumerate(self.connection.supplied, 1))
            star = f"; {', '.join(self.connection.joined)} joined" if self.connection.joined else ""
            readings.append(Reading("2p", "poles, counted in the field of this connection", str(self.poles), "", supplied + star, tells=True))
            all_speeds = ", ".join(str(speed) for speed in self.speeds)
            readings.append(Reading("", "speeds of the field it can have", str(len(self.speeds)), "", f"{all_speeds} r/min, and nothing between"))
        breakdown = float(circuit.breakdown()[1])
        return readings + [
            Reading("T", "torque", minus(float(circuit.at(self.slip).torque), 2), "N m", f"the load asks for {self.load:.2f} N m"),
            Reading("Tₘ", "breakdown torque as fed now", f"{breakdown:.2f}", "N m", f"{breakdown / own_motor(FREQUENCY, 4).rated_torque:.1f} times the rated one of 4 poles on {VOLTAGE:.0f} V, 50 Hz"),
            Reading("", "it turns, seen from here", self.seen(self.moment.speed), ""),
        ]

    def scales(self) -> dict[str, str]:
        return {"B": "as long as the flux: full at 50 Hz without load"}

    def says(self) -> str:
        end = "the drive end" if self.side > 0 else "the other end"
        return (f"With {self.poles} poles on {self.frequency:g} Hz the field turns at {60 * self.motor.circuit.synchronous_speed:.0f} r/min, and the rotor, seen from "
                f"{end}, {self.seen(self.moment.speed)} at {60 * abs(self.moment.speed):.0f} r/min.")

    def question(self) -> Question:
        right = round(60 * self.motor.circuit.synchronous_speed)
        if self["method"] == "inverter":
            asked = f"A 4-pole motor is fed by an inverter at {self.frequency:g} Hz. How fast does its field turn?"
            others = (right * 2, round(right / 2), round(60 * self.frequency) if right != round(60 * self.frequency) else 1500)
            reason = f"The field goes one pole pair further in each period: {self.frequency:g} periods a second over 2 pole pairs are {right} r/min."
        else:
            asked = (f"In the slots of this {'tapped winding' if self['method'] == 'one-tapped-winding' else 'pair of tapped windings'} the signs stand as drawn, "
                     f"joined for {self.poles} poles on 50 Hz. How fast does its field turn?")
            others = tuple(speed for speed in (3000, 1500, 1000, 500) if speed != right)
            reason = f"{self.poles} poles are {self.poles // 2} pole pairs: 50 periods a second over {self.poles // 2} are {right} r/min, and the winding has no other speed as joined."
        choices = sorted({right, *others})
        return Question(asked, tuple((str(speed), f"{speed} r/min") for speed in choices), str(right), reason)

    def random_setup(self, random) -> dict:
        return {
            "method": random.choice([value for value, _ in self.by_name["method"].choices]),
            "frequency": float(random.choice((10, 20, 25, 40, 60, 80, 100))),
            "tapped": random.choice(("2", "4")),
            "joined": random.choice(("2", "4", "6", "12")),
            "load": float(random.choice((0, 20, 40))),
        }


@lru_cache(maxsize=128)
def _curve(frequency: float, poles: int) -> tuple[tuple[float, float], ...]:
    """Torque against speed, r/min and N m, from rest to the field's own speed."""
    points = own_motor(frequency, poles).circuit.at(np.linspace(1.0, 0.0, 61))
    return tuple(zip((60 * points.speed).tolist(), points.torque.tolist()))
