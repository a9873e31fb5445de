"""Changing speed: an inverter gives any frequency, a pole-changing winding a few fixed speeds and none between."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from physics.induction import EquivalentCircuit
from physics.induction import motion as circuit_motion
from physics.induction.motion import SlipMoment, settled_slip, slip_of
from physics.pole_changing import PoleConnection
from physics.shaft.shafts import FreeShaft
from physics.windings.coils_in_slots import BALANCED, CoilsInSlots
from scenes.drives.speed_motors import (
    FREQUENCY,
    INERTIA,
    ORDINARY,
    RATED_TORQUE,
    SUPPLY,
    VOLTAGE,
    connections,
    joined_motor,
    motor_at,
    tapped_alone,
)
from scenes.scene import common_controls, phases
from scenes.scene.controls import Choice, slow_motion
from scenes.scene.scene import Key, Line, Mark, Plot, Question, Reading, View, minus
from scenes.scene.seen_from_an_end import SeenFromAnEnd
from visual import palette
from visual.machines.speed_machine import SpeedMachine
from visual.solid.solids import Group

FAMILY = (10, 20, 30, 40, 50, 60, 80, 100)  # Hz, of the inverter's curves
FAINT = "#9aa3a7"
WELL_ABOVE = 1.2  # times the rated frequency: below that "as the square" and "in proportion" are too near each other to ask


class ChangingSpeed(SeenFromAnEnd):
    name = "changing-speed"
    title = "Changing the speed"
    principle = "A motor follows its field: change the frequency and it takes any speed, change the poles and it takes a few fixed ones, with nothing between."
    controls = (
        Choice("method", "Speed set by", "inverter", (
            ("inverter", "an inverter"), ("one-tapped-winding", "one tapped winding, two speeds"), ("two-windings", "two tapped windings, four speeds"))),
        common_controls.frequency(25.0, only_with=("method", "inverter")),
        Choice("tapped", "Joined for", "4", (("4", "4 poles, slow"), ("2", "2 poles, fast")), only_with=("method", "one-tapped-winding")),
        Choice("leads", "Leads at the slow speed", "exchanged", (("exchanged", "two exchanged"), ("alike", "joined alike")), only_with=("method", "one-tapped-winding")),
        Choice("joined", "Joined for", "12", (("12", "12 poles"), ("6", "6 poles"), ("4", "4 poles"), ("2", "2 poles")), only_with=("method", "two-windings")),
        common_controls.load(40.0),
        common_controls.line_order(),
        phases.colours(),
        slow_motion("50", ("1", "5", "20", "50", "200")),
    )
    arrows = (
        Key("B", "field of the stator", palette.HEX["field"]),
        Key("n", "the rotor's hand", palette.HEX["motion"]),
        Key("+", "coil side whose phase's positive current flows toward the drive end; −: away", palette.HEX["current"]),
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

    # the motor as it is fed and joined now

    @property
    def poles(self) -> int:
        return {"inverter": 4, "one-tapped-winding": int(self["tapped"]), "two-windings": int(self["joined"])}[self["method"]]

    @property
    def frequency(self) -> float:
        return self["frequency"] if self["method"] == "inverter" else FREQUENCY

    @property
    def circuit(self) -> EquivalentCircuit:
        return motor_at(self.frequency) if self["method"] == "inverter" else joined_motor(self.poles)

    @property
    def connection(self) -> PoleConnection | None:
        """How a pole-changing winding is joined; none for an ordinary one on an inverter."""
        if self["method"] == "inverter":
            return None
        return (tapped_alone(self["leads"]) if self["method"] == "one-tapped-winding" else connections())[self.poles]

    @property
    def lines_on_phases(self) -> list[str]:
        """Which line feeds the coils of the phases U, V, W of the winding, whichever way it is joined."""
        lines = self["lines"].split("-")
        if self.connection is None:
            return lines
        return [line for _, line in sorted(zip((terminal[-1] for terminal in self.connection.supplied), lines))]

    @property
    def coils(self) -> CoilsInSlots:
        return self.connection.coils if self.connection else ORDINARY

    @property
    def way(self) -> str:
        """The name of the winding and connection that is seen."""
        return "inverter" if self["method"] == "inverter" else str(self.poles)

    @property
    def load(self) -> float:
        """N m that the load asks of the shaft: of the rated torque of the ordinary motor, the same at all speeds."""
        return self["load"] / 100 * RATED_TORQUE

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
        slip = settled_slip(self.circuit, self.load)
        self.angle = 0.0  # electrical, of the supply
        self.moment = SlipMoment(speed=self.sense * (1 - slip) * self.circuit.synchronous_speed)

    def step(self, seconds: float) -> None:
        self.angle = math.fmod(self.angle + 2 * math.pi * self.frequency * seconds, 2 * math.pi)
        shaft = FreeShaft(INERTIA, self.load)
        self.moment = circuit_motion.move_on(self.circuit, self.sense, shaft, self.moment, seconds)

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
        return slip_of(self.circuit, self.sense, self.moment.speed)

    @property
    def speeds(self) -> list[int]:
        """The field's speeds that this motor can have, r/min; none for an inverter, which gives any."""
        poles = {"inverter": (), "one-tapped-winding": (4, 2), "two-windings": (12, 6, 4, 2)}[self["method"]]
        return [round(120 * FREQUENCY / n) for n in poles]

    # what is drawn

    def build(self, host) -> None:
        ways = {str(poles): (connection.coils, connection.supplied) for poles, connection in connections().items()}
        layouts = {way: _layout(coils, supplied) for way, (coils, supplied) in (ways | {"inverter": (ORDINARY, phases.TERMINALS)}).items()}
        self.drawn = Group()
        self.machine = self.drawn.add(SpeedMachine(layouts))
        for poles in self.machine.poles:
            host.name(f"speed-field-{poles}", self.machine.fields[poles].arrows[0].shaft.drawn)
            host.name(f"speed-poles-{poles}", self.machine.poles[poles].solid.drawn)
        for way, stator in self.machine.stators.items():
            for phase, conductors in zip(phases.TERMINALS, stator.conductors):
                host.name(f"speed-{phase}-{way}", conductors.drawn)
            for number, (_, _, letters, _) in enumerate(stator.belts):
                host.name(f"speed-belt-{way}-{number}", letters.drawn)
        host.name("speed-hand", self.machine.hand.shaft.drawn)

    def draw(self) -> None:
        region = phases.REGIONS[self["colours"]]
        fed_by = [phases.LINES.index(line) for line in self.lines_on_phases]
        self.machine.stators[self.way].colour([region.colours[n] for n in fed_by], [region.inks[n] for n in fed_by])
        rotor = np.pi / 2 + 2 * np.pi * math.fmod(self.moment.rotor_turns, 1.0)
        circuit = self.circuit
        idle, here = np.abs(circuit.at(np.array([0.0, self.slip])).gap_voltage)
        self.machine.put(self.way, self.poles, self.crest, float(here / idle) * min(1.0, self.flux) if self.answers_shown else 0.0, rotor, self.side)

    @property
    def flux(self) -> float:
        """Volts per hertz as a share of those at 50 Hz."""
        return float(SUPPLY.flux(self.frequency)) if self["method"] == "inverter" else 1.0

    def plot(self) -> Plot | None:
        if not self.answers_shown:
            return None
        key = (self["method"], self.frequency, self.poles, self["load"])
        return self.kept(key, self._curves)

    def _curves(self) -> Plot:
        """Torque against speed at every setting the method has, the present one last and strong."""
        if self["method"] == "inverter":
            others = [motor_at(float(f)) for f in FAMILY if f != self.frequency]
        else:
            others = [joined_motor(n) for n in ((4, 2) if self["method"] == "one-tapped-winding" else (12, 6, 4, 2)) if n != self.poles]
        lines = [Line("", FAINT, _curve(circuit)) for circuit in others]
        lines.append(Line("torque as fed now", palette.HEX["force"], _curve(self.circuit)))
        fastest = max(60 * circuit.synchronous_speed for circuit in (*others, self.circuit))
        lines.append(Line("load", palette.HEX["emf"], ((0.0, self.load), (fastest, self.load))))
        return Plot("speed", "r/min", "torque", "N m", tuple(lines))

    def marks(self) -> list[Mark]:
        if not self.answers_shown:
            return []
        return [Mark("now", palette.HEX["motion"], 60 * self.sense * self.moment.speed, float(self.circuit.at(self.slip).torque))]

    # what is read and asked

    def readings(self) -> list[Reading]:
        circuit, method = self.circuit, self["method"]
        field, rotor = 60 * circuit.synchronous_speed, 60 * self.sense * self.moment.speed
        readings = [
            Reading("nₛ", "synchronous speed", f"{field:.0f}", "r/min",
                    f"nₛ = 120 f / poles = 120 × {self.frequency:g} Hz / {self.poles} = {field:.0f} r/min", tells=True),
            Reading("n", "speed of the rotor", minus(rotor, 0), "r/min", f"slip s = ({field:.0f} − {minus(rotor, 1)}) / {field:.0f} = {minus(100 * self.slip, 1)} %", tells=True),
        ]
        if method == "inverter":
            volts = float(SUPPLY.voltage(self.frequency))
            weak = "above 50 Hz the voltage stays and the field weakens" if self.frequency > FREQUENCY else "held constant, with a little more for the winding's own drop"
            readings.append(Reading("U / f", "volts per hertz", f"{volts / self.frequency:.2f}", "V/Hz", f"{volts:.0f} V / {self.frequency:g} Hz; {weak}"))
        else:
            supplied = ", ".join(f"{line} on {terminal}" for line, terminal in zip(self["lines"].split("-"), self.connection.supplied))
            star = f"; {', '.join(self.connection.joined)} joined" if self.connection.joined else ""
            readings.append(Reading("2p", "poles, counted in the field of this connection", str(self.poles), "", supplied + star, tells=True))
            all_speeds = ", ".join(str(speed) for speed in self.speeds)
            readings.append(Reading("", "speeds of the field it can have", str(len(self.speeds)), "", f"{all_speeds} r/min, and nothing between"))
        breakdown = float(circuit.breakdown()[1])
        return readings + [
            Reading("T", "torque", minus(float(circuit.at(self.slip).torque), 2), "N m", f"the load asks for {self.load:.2f} N m"),
            Reading("Tₘ", "breakdown torque as fed now", f"{breakdown:.2f}", "N m", f"{breakdown / RATED_TORQUE:.1f} times the rated {RATED_TORQUE:.1f} N m of the ordinary motor", tells=True),
            Reading("", "it turns, seen from here", self.seen(self.moment.speed), "", tells=True),
        ]

    def scales(self) -> dict[str, str]:
        return {"B": "as long as the flux: full at 50 Hz without load"}

    def says(self) -> str:
        rpm = 60 * self.moment.speed
        rotor = f"turns {self.seen(rpm)} at {abs(rpm):.0f} r/min" if abs(rpm) >= 0.5 else "stands"
        return (f"With {self.poles} poles on {self.frequency:g} Hz the field turns {self.seen(self.sense)} at {60 * self.circuit.synchronous_speed:.0f} r/min "
                f"seen from {self.end}, and the rotor {rotor}.")

    def question(self) -> Question:
        if self["method"] == "one-tapped-winding":
            return self._which_way()
        if self["method"] == "inverter" and self.frequency >= WELL_ABOVE * FREQUENCY:
            return self._how_strong()
        right = round(60 * self.circuit.synchronous_speed)
        if self["method"] == "inverter":
            asked = f"A 4-pole motor is fed by an inverter at {self.frequency:g} Hz. How fast does its field turn?"
            others = (2 * right, round(right / 2), 1500)
            reason = f"The field goes one pole pair further in each period: {self.frequency:g} periods a second over 2 pole pairs are {right} r/min."
        else:
            asked = f"One of two tapped windings is joined for {self.poles} poles, its signs as drawn, on 50 Hz. How fast does its field turn?"
            others = tuple(self.speeds)
            reason = f"The signs make {self.poles} poles, {self._pairs()}: 50 periods a second over {self.poles // 2} are {right} r/min, and the winding has no other speed as joined."
        choices = sorted({right, *others})
        return Question(asked, tuple((str(speed), f"{speed} r/min") for speed in choices), str(right), reason)

    def _pairs(self) -> str:
        return "1 pole pair" if self.poles == 2 else f"{self.poles // 2} pole pairs"

    def _which_way(self) -> Question:
        """Of one tapped winding: it may turn backward at its slow speed."""
        supplied = ", ".join(f"{line} on {terminal}" for line, terminal in zip(self["lines"].split("-"), self.connection.supplied))
        joined = f", {', '.join(self.connection.joined)} joined" if self.connection.joined else ""
        way, speed = self.seen(self.sense), round(60 * self.circuit.synchronous_speed)
        halves = ("Its halves are in series, all coils alike: 4 poles." if self.poles == 4 else "Its halves are in parallel, every second belt the other way round: 2 poles.")
        phases_follow = "-".join(self.lines_on_phases)
        reason = (f"{halves} U, V, W are fed by {phases_follow}. With 2 poles U-V-W on L1-L2-L3 turns clockwise seen from the drive end; with 4, where each step "
                  f"from phase to phase counts double, counter-clockwise; another order of the lines, the other way. Seen from {self.end} that is here {way}, at {speed} r/min.")
        return Question(
            f"One tapped winding on 50 Hz: {supplied}{joined}. Seen from {self.end}, how does its field turn?",
            tuple((f"{each}-{turn}", f"{turn} at {each} r/min") for each in (1500, 3000) for turn in ("clockwise", "counter-clockwise")),
            f"{speed}-{way}", reason,
        )

    def _how_strong(self) -> Question:
        """Of an inverter above its base frequency: what is left of the breakdown torque."""
        times = self.frequency / FREQUENCY
        share = float(self.circuit.breakdown()[1] / motor_at(FREQUENCY).breakdown()[1])
        expected = {"same": 1.0, "once": 1 / times, "squared": 1 / times**2}
        answer = min(expected, key=lambda value: abs(math.log(share / expected[value])))
        return Question(
            f"From 50 Hz up the inverter cannot raise its {VOLTAGE:.0f} V. At {self.frequency:g} Hz, how much of the breakdown torque of 50 Hz is left?",
            (("same", "about all of it"), ("once", f"about {100 * expected['once']:.0f} %"), ("squared", f"about {100 * expected['squared']:.0f} %")), answer,
            f"Volts per hertz are {100 / times:.0f} % of the full ones, and so is the field; the torque goes about as its square. Worked out, {100 * share:.0f} % is left.",
        )

    def random_setup(self, random) -> dict:
        return {
            "method": random.choice([value for value, _ in self.by_name["method"].choices]),
            "frequency": float(random.choice((10, 20, 25, 40, 60, 80, 100))),
            "tapped": random.choice(("2", "4")),
            "leads": random.choice(("exchanged", "alike")),
            "lines": random.choice(("L1-L2-L3", "L2-L1-L3", "L1-L3-L2")),
            "joined": random.choice(("2", "4", "6", "12")),
            "load": float(random.choice((0, 20, 40))),
        }


@lru_cache(maxsize=128)
def _curve(circuit: EquivalentCircuit) -> tuple[tuple[float, float], ...]:
    """Torque against speed, r/min and N m, from rest to the field's own speed."""
    points = circuit.at(np.linspace(1.0, 0.0, 61))
    return tuple(zip((60 * points.speed).tolist(), points.torque.tolist()))


def _layout(coils, supplied) -> tuple:
    """Poles, slot angles, the two sides of each slot, and letters of the phases. Coils are known by the lines that feed
    them; here they have the phase whose terminal that is, which stays when leads are exchanged."""
    phase_of = {name: phases.TERMINALS.index(terminal[-1]) for name, terminal in zip(phases.TERMINALS, supplied)}
    sides = [[(phase_of[side.phase], side.sign) for side in coils.slot_table if side.slot == slot] for slot in range(coils.slots)]
    return 2 * coils.pole_pairs, coils.slot_angles, sides, phases.TERMINALS
