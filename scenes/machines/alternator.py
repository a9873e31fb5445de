"""A magnet spun inside coils generates: one coil and its wave, then three a third of a pole pair apart, and lamps on them."""

from __future__ import annotations

from functools import cached_property

import numpy as np

from physics.directions import right_hand, turning_sense
from physics.speeds import frequency_of_speed
from physics.synchronous.alternator import Alternator, RotorMagnet
from physics.windings import Winding
from physics.windings.coils_in_slots import PHASES
from scenes.scene import common_controls, phases
from scenes.scene.controls import Choice, Number, slow_motion
from scenes.scene.scene import Key, Line, Mark, Plot, Question, Reading, View, minus
from scenes.scene.seen_from_an_end import AXIS, SeenFromAnEnd
from visual import palette
from visual.machines.alternator_drawn import AlternatorDrawn
from visual.machines.stator import StatorShape

SHAPE = StatorShape()
TURNS = 48  # of a phase, all its coils in series, whatever the poles: so the voltage follows speed and field alone
RESISTANCE = 1.0  # ohm of a phase
LAMP_RESISTANCE, LAMP_POWER = 28.8, 20.0  # ohm; W at 24 V, at which it shines fully
AT_FIRST = np.radians(40.0)  # where the middle of a north pole stands at the start
PLOTTED = np.radians(np.arange(0, 361, 3))
LARGEST_FIELD = 0.6  # T
LARGEST_SPEED = 3000.0  # r/min
METRES_PER_TESLA = 0.05 / LARGEST_FIELD
METRES_PER_SPEED = 0.05 / 20.0  # m for each m/s


def alternator_of(poles: int, flux_density: float) -> Alternator:
    """The alternator shown: one coil a phase for each pole pair, a field that is a sine round the bore."""
    winding = Winding(3 * poles, poles, TURNS * 2 // poles)
    return Alternator(winding, RotorMagnet(poles, SHAPE.bore, 2 * SHAPE.half_length, {1: flux_density}), RESISTANCE)


class AlternatorScene(SeenFromAnEnd):
    name = "alternator"
    title = "A magnet turned in coils: the alternator"
    principle = (
        "A magnet that turns past a coil generates an alternating voltage in it; three coils a third of a pole pair apart give three, "
        "one after the other."
    )
    controls = (
        Choice("coils", "Coils in the stator", "1", (("1", "U alone"), ("2", "U and V"), ("3", "U, V and W"))),
        Number("speed", "Speed, clockwise from the drive end", 1500.0, "r/min", -LARGEST_SPEED, LARGEST_SPEED, 100.0),
        common_controls.poles(),
        Number("field", "Field at the middle of a pole", 400.0, "mT", -LARGEST_FIELD * 1000, LARGEST_FIELD * 1000, 50.0, role="field"),
        Choice("load", "On each phase", "open", (("open", "nothing"), ("lamp", "a lamp"))),
        phases.colours(),
        slow_motion("100", ("20", "50", "100", "200", "500", "1000")),
    )
    arrows = (
        Key("B", "field of the magnet at the side +U", palette.HEX["field"]),
        Key("v", "motion of the side +U as seen from the magnet", palette.HEX["motion"]),
        Key("\N{CIRCLED DOT OPERATOR}", "EMF drives current toward the drive end", palette.HEX["emf"]),
        Key("\N{CIRCLED TIMES}", "EMF drives current away from the drive end", palette.HEX["emf"]),
    )
    views = (
        View("drive-end", "from the drive end", (-0.3, -0.3, -1.0), (0.0, 0.012, 0.0), 0.148),
        View("other-end", "from the other end", (0.3, -0.3, 1.0), (0.0, 0.012, 0.0), 0.148),
        View("window", "into the window", (-0.75, -0.7, -0.75), (0.01, 0.01, 0.0), 0.12),
    )
    caution = (
        "Whatever turns an alternator makes its terminals live, and with permanent magnets nothing switches that off but standstill. Before anyone "
        "touches it the shaft is secured, the machine isolated and proved dead, by who is licensed for it where you are."
    )
    narration = "A magnet turns inside the coils. Each pole that passes drives the voltage up and down, and three coils give three waves in turn."

    # the physics of this moment

    @property
    def poles(self) -> int:
        return int(self["poles"])

    @property
    def phases_wound(self) -> tuple[str, ...]:
        return PHASES[: int(self["coils"])]

    @property
    def speed(self) -> float:
        """Revolutions per second, counter-clockwise seen from the drive end."""
        return -self["speed"] / 60 + 0.0

    @property
    def way(self) -> float:
        """+1 when the magnet turns counter-clockwise seen from the drive end, -1 when clockwise, 0 at rest."""
        return float(np.sign(self.speed))

    @cached_property
    def machine(self) -> Alternator:
        return alternator_of(self.poles, self["field"] / 1000)

    @cached_property
    def on_lamps(self):
        """Each phase on its own lamp: with a sine field the currents are those of three equal lamps in star."""
        return self.machine.on_lamps(self.speed, LAMP_RESISTANCE)

    @cached_property
    def peak(self) -> float:
        """The largest EMF of a phase, V."""
        return float(np.sqrt(2) * self.machine.emf(self.speed)[0])

    @property
    def frequency(self) -> float:
        return float(frequency_of_speed(self.speed, self.poles))

    @property
    def emfs(self) -> np.ndarray:
        """Of U, V, W at this moment, V."""
        return self.machine.emfs(self.angle, self.speed)

    def currents(self, angle=None) -> np.ndarray:
        """Of U, V, W at this moment or with the magnet at `angle`, A; none without lamps or coils."""
        angle = self.angle if angle is None else angle
        wound = np.arange(3) < len(self.phases_wound)
        return self.on_lamps.currents(angle) * wound if self["load"] == "lamp" else np.zeros(np.shape(angle) + (3,))

    def torque(self) -> float:
        """N m on the magnet, counter-clockwise from the drive end: what the currents of the coils hold against the hand."""
        return -float(self.currents() @ self.machine.emfs(self.angle, 1 / (2 * np.pi)))

    def changed(self, name: str) -> None:
        self.forget("machine", "on_lamps", "peak")

    def restart(self) -> None:
        self.angle = AT_FIRST

    def step(self, seconds: float) -> None:
        self.angle += 2 * np.pi * self.speed * seconds

    @property
    def turned(self) -> float:
        """Degrees that the magnet has turned since its last whole turn."""
        return float(np.degrees(abs(self.angle - AT_FIRST)) % 360)

    def at_u(self) -> dict:
        """Place, field and motion relative to the magnet of the first side of U, and the right hand there."""
        winding = self.machine.winding
        go = next(coil.go for coil in winding.coils if coil.phase == "U")
        angle = winding.slot_angles[go]
        outward = np.array([np.cos(angle), np.sin(angle), 0.0])
        field = float(self.machine.magnet.flux_density(angle, self.angle)) * outward
        # the wire rests and the field goes past it: seen from the magnet the wire moves the other way
        motion = -2 * np.pi * self.speed * SHAPE.bore * np.cross(AXIS, outward)
        return {"place": SHAPE.bore * outward, "field": field, "motion": motion, "hand": right_hand(field, motion)}

    # what is drawn

    def build(self, host) -> None:
        machines = {}
        for poles in common_controls.POLES:
            winding = alternator_of(poles, 1.0).winding
            machines[poles] = (winding.slot_angles, [(PHASES.index(coil.phase), coil.go, coil.back) for coil in winding.coils])
        drawn = self.drawn = AlternatorDrawn(machines)
        for poles, machine in drawn.machines.items():
            host.name(f"alternator-wheel-{poles}", machine.wheel.drawn)
            for phase, coil in zip(PHASES, machine.coils):
                host.name(f"alternator-coil-{poles}-{phase}", coil.drawn)
            for slot, mark in enumerate(machine.marks):
                host.name(f"alternator-mark-{poles}-{slot}", mark.solid.drawn)
        for phase, lamp in zip(PHASES, drawn.lamps):
            host.name(f"alternator-lamp-{phase}", lamp.bulb.drawn)
        for name, part in (("field", drawn.field.shaft), ("motion", drawn.motion.shaft), ("right-hand", drawn.hand.solid)):
            host.name(f"alternator-{name}", part.drawn)

    def draw(self) -> None:
        drawn, shown, region = self.drawn, self.answers_shown, phases.REGIONS[self["colours"]]
        drawn.show(self.poles)
        drawn.colour(region.colours, region.inks)
        machine = drawn.machine
        machine.seen_from(self.side)
        wound = [phase in self.phases_wound for phase in PHASES]
        machine.wind(wound)
        # where flux goes outward most there is a north pole of the magnet: a pole further on when the magnet is reversed
        machine.turn(self.angle + (np.pi * 2 / self.poles if self["field"] < 0 else 0.0), self.side, bool(self["field"]))
        toward = np.sign(self.machine.winding.conductors) @ self.emfs / self.peak if shown and self.peak else np.zeros(len(machine.marks))
        machine.drive(toward)
        lit = [there and self["load"] == "lamp" for there in wound]
        drawn.light(lit, self.on_lamps.lamp_power / LAMP_POWER if shown else np.zeros(3))
        at, where = self.at_u(), self.side * (SHAPE.half_length + 0.016)
        hand = at["hand"] if shown and abs(self.emfs[0]) > 0.03 * self.peak else None
        drawn.point_out(at["place"] + [0, 0, where], METRES_PER_TESLA * at["field"], METRES_PER_SPEED * at["motion"] * bool(self["field"]), hand)

    def plot(self) -> Plot:
        key = tuple(self[name] for name in ("coils", "speed", "poles", "field", "colours")) + (self.answers_shown,)
        return self.kept(key, self._waves)

    def _waves(self) -> Plot:
        """The EMF of each phase over a turn of the magnet."""
        waves = self.machine.emfs(AT_FIRST + self.way * PLOTTED, self.speed)
        wanted = self.phases_wound if self.answers_shown else ()
        colours = phases.REGIONS[self["colours"]].hexes
        lines = [
            Line(phase, colours[k], tuple(zip(np.degrees(PLOTTED).tolist(), waves[:, k].tolist()))) for k, phase in enumerate(wanted)
        ] or [Line("", palette.HEX["emf"], ((0.0, 0.0), (360.0, 0.0)))]
        return Plot("turn of the magnet", "°", "EMF", "V", tuple(lines))

    def marks(self) -> list[Mark]:
        if not self.answers_shown:
            return []
        colours = phases.REGIONS[self["colours"]].hexes
        return [Mark("now", palette.HEX["field"], self.turned, float("nan"))] + [
            Mark(phase, colours[k], self.turned, float(self.emfs[k])) for k, phase in enumerate(self.phases_wound)
        ]

    # what is read and asked

    def readings(self) -> list[Reading]:
        magnet, emfs, currents = self.machine.magnet, self.emfs, self.currents()
        flux, rms, f = abs(magnet.pole_flux()), self.peak / np.sqrt(2), self.frequency
        sense = self.seen(self.speed)
        turns = "at rest" if sense == "none" else f"{sense}, seen from {self.end}"
        loaded = self["load"] == "lamp"
        torque = self.torque()
        powers = " + ".join(f"{minus(float(e), 1)} V × {minus(float(i), 2)} A" for e, i, _ in zip(emfs, currents, self.phases_wound))
        return [
            Reading("n", f"speed: {turns}", f"{abs(self['speed']):.0f}", "r/min"),
            Reading("f", "frequency", f"{f:.4g}", "Hz",
                    f"f = poles × n / 120 = {self.poles} × {abs(self['speed']):.0f} r/min / 120 = {f:.4g} Hz", tells=True),
            Reading("E", "EMF of a phase, r.m.s.", minus(rms, 1), "V",
                    f"E = 4.443 f N k_w Φ = 4.443 × {f:.4g} Hz × {TURNS} × 1 × {flux * 1000:.3f} mWb = {rms:.1f} V", tells=True),
            *[
                Reading(f"e {phase}", f"EMF of {phase} at this moment", minus(float(emfs[k]), 1), "V", tells=True)
                for k, phase in enumerate(self.phases_wound)
            ],
            Reading("", "the phases crest in the order", self.order(), "", tells=True),
            Reading("I", "current of a phase, r.m.s.", minus(float(self.on_lamps.current[0]) if loaded else 0.0, 2), "A",
                    f"I = E / (R + R_lamp) = {rms:.1f} V / ({RESISTANCE:g} Ω + {LAMP_RESISTANCE:g} Ω)" if loaded else "nothing is connected"),
            Reading("P", f"power of a lamp that is made for {LAMP_POWER:g} W", minus(float(self.on_lamps.lamp_power[0]) if loaded else 0.0, 1), "W",
                    f"P = I² R_lamp = ({float(self.on_lamps.current[0]):.3f} A)² × {LAMP_RESISTANCE:g} Ω" if loaded else ""),
            Reading("M", "torque with which the coils hold the magnet back", minus(abs(torque) * 1000, 1), "mN m",
                    f"M = Σ e i / ω = ({powers}) / {2 * np.pi * abs(self.speed):.1f} rad/s" if loaded and self.speed else "no current, no torque"),
        ]

    def order(self) -> str:
        if not self.peak:
            return "none"
        if len(self.phases_wound) < 3:
            return "-".join(self.phases_wound)
        return "U-W-V" if self.way > 0 else "U-V-W"

    def scales(self) -> dict[str, str]:
        full = f"as large as the slot at {self.peak:.1f} V of a phase"
        return {"B": f"10 mm is {0.01 / METRES_PER_TESLA * 1000:.0f} mT", "v": f"10 mm is {0.01 / METRES_PER_SPEED:.0f} m/s",
                "\N{CIRCLED DOT OPERATOR}": full, "\N{CIRCLED TIMES}": full}

    def says(self) -> str:
        if not self.peak:
            return "The magnet stands still, and nothing is generated." if not self.speed else "Without a field nothing is generated."
        turning = f"Seen from {self.end} the magnet of {self.poles} poles turns {self.seen(self.speed)}"
        return f"{turning} and makes {self.peak / np.sqrt(2):.1f} V at {self.frequency:.4g} Hz in {', '.join(self.phases_wound)}."

    def question(self) -> Question:
        return self._which_next() if self["coils"] == "3" else self._which_frequency()

    def _which_next(self) -> Question:
        answer = "none" if not self.peak else "W" if self.way > 0 else "V"
        if not self.peak:
            why = "At standstill, or without a field, nothing is generated."
        else:
            here = f", which from the other end is {self.seen(self.speed)}" if self.side < 0 else ""
            why = (f"Seen from the drive end the coils of U, V and W follow each other clockwise. The magnet turns "
                   f"{turning_sense(self.speed * AXIS, AXIS)}{here}: after the coil of U the same pole passes that of {answer}.")
        turning = f"Seen from {self.end} the magnet turns {self.seen(self.speed)}." if self.speed else "The magnet stands still."
        field = "" if self["field"] else " It has lost its field."
        return Question(
            f"{turning}{field} The coils of U, V, W follow each other {self.seen(-1.0)}. After the crest of U, which phase crests next?",
            (("V", "V"), ("W", "W"), ("none", "none: nothing is generated")), answer, why,
        )

    def _which_frequency(self) -> Question:
        n = abs(self["speed"])
        right = self.frequency
        wrong = [n / 60 * self.poles, n / 60, n / 30, right / 2, right * 3, 50.0, 60.0, 25.0, 100.0]
        values = sorted([f"{right:.4g}", *self._three_others(right, wrong)], key=float)
        if not self.peak:
            return Question(
                f"A magnet of {self.poles} poles {'turns' if n else 'stands still'}{'' if self['field'] else ' and has lost its field'}. "
                "What is the frequency of the voltage in coil U?",
                (*((value, f"{value} Hz") for value in values if float(value)), ("none", "there is no voltage")), "none",
                "At standstill, or without a field, nothing is generated.",
            )
        pairs = self.poles // 2
        passed = f"{pairs} pole pair{'s pass' if pairs > 1 else ' passes'}"
        return Question(
            f"A magnet of {self.poles} poles turns at {n:.0f} r/min. What is the frequency of the voltage in coil U?",
            tuple((value, f"{value} Hz") for value in values),
            f"{right:.4g}",
            f"In each turn {passed} the coil, and each makes one period: {n:.0f} r/min / 60 = {n / 60:.4g} turns a second, "
            f"times {pairs}: {right:.4g} Hz.",
        )

    @staticmethod
    def _three_others(right: float, wrong) -> list[str]:
        """The first three of the values, as text, that differ from the right one and from each other."""
        return [text for text in dict.fromkeys(f"{value:.4g}" for value in wrong) if text != f"{right:.4g}"][:3]

    def random_setup(self, random) -> dict:
        return {
            "coils": random.choice(("1", "3", "3")),
            "speed": float(random.choice((-1, 1)) * random.choice((500, 600, 1000, 1500, 1800, 3000, 3000)) * random.choice((1,) * 8 + (0,))) + 0.0,
            "poles": random.choice(("2", "4", "6", "8")),
            "field": float(random.choice((-1, 1)) * random.choice((300, 400, 500))),
            "load": random.choice(("open", "lamp")),
        }
