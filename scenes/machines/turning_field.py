"""Three windings a third of a turn apart, fed a third of a period apart: a field that turns though nothing moves."""

from __future__ import annotations

from functools import cached_property

import numpy as np

from physics.directions import turning_sense
from physics.speeds import synchronous_speed
from physics.supply.star_delta import StarLoad
from physics.supply.supplies import ThreePhaseSupply, instantaneous
from physics.windings.coils_in_slots import PHASES
from scenes.machines.turning_field_windings import SLOTS, TURNS_OF_A_POLE, belts_of, machine_of, winding_of
from scenes.scene import common_controls, phases
from scenes.scene.controls import Choice, Number, slow_motion
from scenes.scene.scene import Key, Line, Mark, Plot, Question, Reading, View, minus
from scenes.scene.seen_from_an_end import AXIS, SeenFromAnEnd
from visual import palette
from visual.machines.field_machine import longest_field
from visual.solid.solids import Group

FULL = 20.0  # A, crest, that fills a slot's mark and makes the longest arrow
PLOTTED = np.radians(np.arange(0, 361, 5))


class TurningField(SeenFromAnEnd):
    name = "turning-field"
    title = "Three phases make a turning field"
    principle = "Three windings a third of a pole pair apart, fed a third of a period apart, make one field that turns: exchange two lines and it turns back."
    controls = (
        common_controls.line_order(),
        Choice("lost", "Line lost", "none", (("none", "none"), *((line, line) for line in phases.LINES))),
        Choice("reversed", "Coil connected backwards", "none",
               (("none", "none"), *((phase, f"the first coil of {phase}") for phase in PHASES))),
        common_controls.poles(),
        Number("current", "Current, crest", FULL, "A", 2.0, FULL, 1.0),
        common_controls.frequency(),
        Choice("picture", "Shown in the bore", "lines", (("lines", "flux lines"), ("mmf", "MMF on each tooth"))),
        Choice("instants", "One step goes", "30", (("30", "30° of the period, 12 instants"), ("60", "60°, 6 instants"))),
        phases.colours(),
        slow_motion("500", ("50", "100", "200", "500", "1000", "2000")),
    )
    arrows = (
        Key("B", "the field across the bore, as long as its MMF", palette.HEX["field"]),
        Key("N", "pole from which flux comes into the bore", "#b4443c"),
        Key("S", "pole into which flux goes", "#4e6f80"),
        Key("\N{CIRCLED DOT OPERATOR}", "current toward the drive end", palette.HEX["current"]),
        Key("\N{CIRCLED TIMES}", "current away from the drive end", palette.HEX["current"]),
    )
    views = (
        View("drive-end", "from the drive end", (-0.2, -0.13, -1.0), (0.038, 0.0, 0.0), 0.123),
        View("other-end", "from the other end", (0.2, -0.13, 1.0), (-0.038, 0.0, 0.0), 0.123),
    )
    caution = (
        "With a line lost a motor hums, does not start and burns; two lines exchanged make a machine run backwards. Leads are "
        "exchanged only with the supply isolated, locked off and proved dead, by who is licensed for it where you are."
    )
    narration = (
        "No part of this stator moves. The three currents rise and fall one after the other, and the field they make goes round."
    )

    # the physics of this moment

    @property
    def poles(self) -> int:
        return int(self["poles"])

    @property
    def lines(self) -> list[str]:
        """Which line is joined to U, V, W."""
        return self["lines"].split("-")

    @cached_property
    def winding(self):
        """The winding as it is connected."""
        wound = winding_of(self.poles)
        if self["reversed"] == "none":
            return wound
        first = next(number for number, coil in enumerate(wound.coils) if coil.phase == self["reversed"])
        return wound.with_coil_reversed(first)

    @cached_property
    def phasors(self) -> np.ndarray:
        """Currents of U, V, W, complex r.m.s., that of L1 at its crest at angle 0: three equal windings in star."""
        supply = ThreePhaseSupply(np.sqrt(1.5) * self["current"], self["frequency"], tuple(self.lines))
        lost = None if self["lost"] == "none" else PHASES[self.lines.index(self["lost"])]
        return StarLoad(1.0).on(supply.phase_phasors, lost).phase_currents

    @cached_property
    def waves(self) -> np.ndarray:
        """Crests of the waves that turn clockwise and counter-clockwise seen from the drive end, A."""
        return np.abs(self.winding.travelling_waves(np.sqrt(2) * self.phasors))

    @property
    def currents(self) -> np.ndarray:
        """Of U, V, W at this moment, A."""
        return instantaneous(self.phasors, self.angle)

    @property
    def way(self) -> float:
        """+1 where the field turns counter-clockwise seen from the drive end, -1 where clockwise, 0 where its two waves are alike."""
        clockwise, other = self.waves
        return 0.0 if abs(clockwise - other) < 1e-6 * (clockwise + other) else float(np.sign(other - clockwise))

    @property
    def amplitude(self) -> float:
        """Crest of the field's MMF wave, A."""
        return float(self.winding.fundamental_amplitude(self.currents))

    @cached_property
    def fullest(self) -> tuple[float, float]:
        """Crest of the wave, and highest MMF on a tooth, A, that the whole winding makes with the largest current."""
        wound = winding_of(self.poles)
        each = instantaneous(ThreePhaseSupply(np.sqrt(1.5) * FULL, 50.0).phase_phasors, PLOTTED)
        teeth = wound.slot_angles - np.pi / wound.slots
        return float(wound.fundamental_amplitude(each[0])), float(np.abs(wound.mmf(teeth, each)).max())

    def changed(self, name: str) -> None:
        if name in ("lines", "lost", "reversed", "poles", "current", "frequency"):
            self.forget("winding", "phasors", "waves", "fullest")
            self._find_crest()

    def restart(self) -> None:
        self.angle = 0.0
        self.crest = 0.0
        self._find_crest()

    def step(self, seconds: float) -> None:
        self.angle = (self.angle + 2 * np.pi * self["frequency"] * seconds) % (2 * np.pi)
        self._find_crest()

    def one_step(self) -> None:
        """To the next of the numbered instants."""
        step = np.radians(int(self["instants"]))
        self.angle = (np.floor(self.angle / step + 1 + 1e-9) * step) % (2 * np.pi)
        self._find_crest()

    def _find_crest(self) -> None:
        """Follow that crest of the field that is nearest to the one followed so far."""
        axis = self.winding.field_axis(self.currents)
        if not np.isnan(axis):
            turn = 2 * np.pi / self.winding.pole_pairs
            self.crest += (axis / self.winding.pole_pairs - self.crest + turn / 2) % turn - turn / 2

    @property
    def instant(self) -> str:
        """The numbered instant that this is, or the one that was last."""
        step = np.radians(int(self["instants"]))
        return str(int(np.floor(self.angle / step + 1e-6)) % (360 // int(self["instants"])) + 1)

    # what is drawn

    def build(self, host) -> None:
        group = self.drawn = Group()
        self.machines = {poles: group.add(machine_of(poles)) for poles in SLOTS}
        for poles, machine in self.machines.items():
            machine.visible = poles == self.poles
            for number, arrow in enumerate(machine.arrows.arrows):
                host.name(f"turning-field-{poles}-{number}", arrow.shaft.drawn)
            for number, mark in enumerate(machine.stator.marks):
                host.name(f"turning-slot-{poles}-{number}", mark.solid.drawn)
            host.name(f"turning-poles-{poles}", machine.poles.solid.drawn)
            for number, conductors in enumerate(machine.stator.conductors):
                host.name(f"turning-{poles}-{PHASES[number]}", conductors.drawn)
            for number, steps in enumerate(zip(*machine.mmf.steps)):
                for way, step in zip(("out", "in"), steps):
                    host.name(f"turning-mmf-{way}-{poles}-{number}", step.drawn)

    def draw(self) -> None:
        for poles, machine in self.machines.items():
            machine.visible = poles == self.poles
        region = phases.REGIONS[self["colours"]]
        of_lines = [phases.LINES.index(line) for line in self.lines]
        now, full = self.currents, self.fullest
        winding = self.winding
        self.machines[self.poles].put(
            belts=belts_of(winding, winding_of(self.poles)), colours=[region.colours[n] for n in of_lines], inks=[region.inks[n] for n in of_lines],
            currents=winding.slot_currents(now) / (TURNS_OF_A_POLE / (winding.slots / (3 * self.poles)) * FULL),
            crest=self.crest, share=self.amplitude / full[0], mmf=winding.mmf(winding.slot_angles - np.pi / winding.slots, now) / full[1],
            picture=self["picture"] if self.answers_shown else "nothing",
            side=self.side,
        )

    def plot(self) -> Plot:
        return self.kept(tuple(self[name] for name in ("lines", "lost", "current", "colours")), self._waves_of_the_lines)

    def _waves_of_the_lines(self) -> Plot:
        """The three currents over a period."""
        waves = instantaneous(self.phasors, PLOTTED)
        lines = (
            Line(name, colour, tuple(zip(np.degrees(PLOTTED).tolist(), waves[:, self.lines.index(name)].tolist())))
            for name, colour in zip(phases.LINES, phases.REGIONS[self["colours"]].hexes)
        )
        return Plot("electrical angle", "°", "current", "A", tuple(lines))

    def marks(self) -> list[Mark]:
        degrees = float(np.degrees(self.angle))
        of_lines = dict(zip(self.lines, self.currents))
        return [Mark(f"instant {self.instant}", palette.HEX["field"], degrees, float("nan"))] + [
            Mark(line, colour, degrees, float(of_lines[line])) for line, colour in zip(phases.LINES, phases.REGIONS[self["colours"]].hexes)
        ]

    # what is read and asked

    def readings(self) -> list[Reading]:
        degrees = round(float(np.degrees(self.angle)), 1)
        clockwise, other = self.waves
        speed = 60 * float(synchronous_speed(self["frequency"], self.poles))
        turning = self.seen(self.way)
        return [
            Reading("", f"how it turns, seen from {self.end}", turning if turning != "none" else "it does not turn", "", tells=True),
            Reading("n\N{LATIN SUBSCRIPT SMALL LETTER S}", "synchronous speed", f"{speed:.0f}", "r/min",
                    f"nₛ = 120 f / poles = 120 × {self['frequency']:g} Hz / {self.poles} = {speed:.0f} r/min"),
            Reading("ωt", f"electrical angle: instant {self.instant} of {360 // int(self['instants'])}", f"{degrees:.0f}", "°"),
            *[
                Reading(f"I {phase}", f"current from {line} into {phase}", minus(current, 1), "A", self._current_formula(line, degrees))
                for phase, line, current in zip(PHASES, self.lines, self.currents)
            ],
            Reading("", "belt with the largest current toward the drive end", self.strongest_belt(), ""),
            Reading("F", "MMF of the field's wave, crest", f"{self.amplitude:.0f}", "A", self._amplitude_formula()),
            Reading("θ", "the field's axis from that of U, clockwise seen from the drive end",
                    minus(np.degrees(-self.crest * self.poles / 2) % 360 / (self.poles / 2), 0) if self.amplitude > 1e-6 else "none", "°", tells=True),
            Reading("F₊ F₋", "waves that turn clockwise and against it, seen from the drive end", f"{clockwise:.0f}, {other:.0f}", "A",
                    "two alike stand still; with one alone the field keeps its size as it turns", tells=True),
        ]

    def strongest_belt(self) -> str:
        """The belt, such as +U, in which the largest current flows toward the drive end: the first of equals."""
        return winding_of(self.poles).belt_at_largest_current(self.currents).replace("-", "\N{MINUS SIGN}")

    def _current_formula(self, line: str, degrees: float) -> str:
        if self["lost"] != "none":
            return "no current: the line is lost" if line == self["lost"] else "two windings in series between the lines that are left"
        behind = 120 * phases.LINES.index(line)
        return f"i = {self['current']:g} A × cos({degrees:.0f}°{f' − {behind}°' if behind else ''})"

    def _amplitude_formula(self) -> str:
        if self["lost"] != "none" or self["reversed"] != "none":
            return "the waves of U, V and W at this moment, added as arrows"
        wound = self.winding
        return (f"F = 3/2 × 4/π × N k_w Î / poles = 1.5 × 1.273 × {wound.series_turns} × {float(wound.winding_factor()):.3f} × "
                f"{self['current']:g} A / {self.poles} = {self.amplitude:.0f} A")

    def scales(self) -> dict[str, str]:
        full = f"as large as the slot at {FULL:g} A"
        return {"B": f"10 mm is {0.01 / longest_field(self.poles // 2) * self.fullest[0]:.0f} A", "\N{CIRCLED DOT OPERATOR}": full, "\N{CIRCLED TIMES}": full}

    def says(self) -> str:
        sense = self.seen(self.way)
        if sense == "none":
            return "The field does not turn: it grows, fades and changes over along one line."
        even = "" if min(self.waves) < 1e-6 * max(self.waves) else ", unevenly"
        return f"Seen from {self.end} the field turns {sense}{even}; it has {self.poles} poles."

    def question(self) -> Question:
        joined = ", ".join(f"{line} to {phase}" for line, phase in zip(self.lines, PHASES))
        faults = []
        if self["lost"] != "none":
            faults.append(f"Line {self['lost']} is lost.")
        if self["reversed"] != "none":
            faults.append(f"One of the {winding_of(self.poles).slots // 6} coils of {self['reversed']} is connected backwards.")
        return Question(
            " ".join([f"{joined} are joined.", *faults, f"Seen from {self.end}, which way does the field turn?"]),
            (("clockwise", "clockwise"), ("counter-clockwise", "counter-clockwise"), ("none", "it does not turn")),
            self.seen(self.way),
            self._reason(),
        )

    def _reason(self) -> str:
        clockwise, other = self.waves
        if self["lost"] != "none":
            return ("One current is left, through two windings in series. Its field only grows, fades and changes over along one line: two "
                    f"waves of {clockwise:.0f} A that turn against each other.")
        order = sorted(PHASES, key=lambda phase: phases.LINES.index(self.lines[PHASES.index(phase)]))
        from_u = order[order.index("U"):] + order[: order.index("U")]
        from_drive_end = turning_sense(self.way * AXIS, AXIS)
        here = "" if self.side > 0 else f", which from the other end is {self.seen(self.way)}"
        why = (f"The currents crest in the order {'-'.join(from_u)}, and seen from the drive end the axes of U, V and W follow each other "
               f"clockwise: the field turns {from_drive_end}{here}.")
        if min(clockwise, other) > 1e-6 * max(clockwise, other):
            why += f" The coil that is backwards adds a wave of {min(clockwise, other):.0f} A against it: it turns unevenly."
        return why

    def random_setup(self, random) -> dict:
        fault = random.choice(("none", "none", "none", "lost", "reversed"))
        return {
            "lines": random.choice([name for name, _ in self.by_name["lines"].choices]),
            "lost": random.choice(phases.LINES) if fault == "lost" else "none",
            "reversed": random.choice(PHASES) if fault == "reversed" else "none",
            "poles": random.choice(("2", "2", "4", "6", "8")),
        }
