"""The board, the instrument on it, and what keeps the order of work, on the bench."""

from __future__ import annotations

import textwrap

from physics.terminals import LINES
from scenes.drives.instruments import order
from scenes.drives.instruments.case import KNOWN, KNOWN_VOLTS
from scenes.drives.instruments.faults import LINKS
from scenes.drives.instruments.measured import CLAMP, INSULATION, OHMMETER, ROTATION, VOLTMETER, WORDS
from scenes.drives.instruments.snapshot import Snapshot
from scenes.drives.terminal_box.board import STRAIGHT
from scenes.drives.terminal_box.motors import PLATES
from scenes.drives.terminal_box.picture import PLATE_LINE, RIGHT, WRONG, on_the_plate
from scenes.scene import phases
from scenes.scene.scene import Pick
from scenes.scene.story import Look
from visual import palette
from visual.apparatus.wiring import Terminal
from visual.instruments.instrument import Face, Instrument
from visual.instruments.safety import APART, Padlock, ProvingUnit, StuckPole
from visual.solid.mesh import block
from visual.solid.solids import Group, Letters, Solid
from visual.switchgear.contactor import POLES
from visual.terminal_box.box import EARTH_AT, ISOLATOR_AT, LEADS_AT, MIDDLE, POSTS_AT, TerminalBoxDrawn, name_parts
from visual.terminal_box.box import STUDS as STUDS_AT
from visual.terminal_box.drive_end import DriveEnd
from visual.terminal_box.markings import Stamped

INSTRUMENT_AT, SOURCE_AT, LOCK_AT = (0.172, 0.07, 0.0), (0.085, -0.09, 0.0), (MIDDLE - 0.067, ISOLATOR_AT - 0.033, 0.006)
MOTOR_AT, MOTOR_RADIUS, PLATE_AT = (0.1, -0.158, 0.0), 0.03, (0.222, -0.118, 0.0)
VERDICT_AT, LINE, LETTERS_A_LINE = (0.2, -0.02, 0.0), 0.027, 34
SUBJECT = (((-0.228, -0.196, 0.0), (0.298, 0.152, 0.03)),)
BOARD = (((-0.212, -0.045, 0.0), (0.012, 0.142, 0.03)),)
FACES = {
    CLAMP: Face(WORDS[CLAMP], "clamp meter", (), palette.rgb("#7d5b2a")),
    VOLTMETER: Face(WORDS[VOLTMETER], "voltmeter", ("V", "0"), palette.rgb("#35586b")),
    OHMMETER: Face(WORDS[OHMMETER], "ohmmeter", ("Ω", "0"), palette.rgb("#4b5a3a")),
    INSULATION: Face(WORDS[INSULATION], "insulation tester", ("+", "\N{MINUS SIGN}"), palette.rgb("#6b3a3a")),
    ROTATION: Face(WORDS[ROTATION], "phase-rotation indicator", ("L1", "L2", "L3"), palette.rgb("#4a4566")),
}
ROUND_AT = tuple((x, -0.0215, z) for x, _, z in LEADS_AT)  # m, where the clamp closes round the lead of each line
POSTS = tuple((MIDDLE + pole, POSTS_AT, 0.02) for pole in POLES)
FRONT = 0.0355  # m, where a probe's tip meets a stud
PROBE_AT = {
    **{name: (x, y, FRONT) for name, (x, y, _) in STUDS_AT.items()},
    **dict(zip(LINES, POSTS, strict=True)),
    "PE": (EARTH_AT[0], EARTH_AT[1], EARTH_AT[2] + 0.006),
}


class Drawn(Group):
    """Box, instrument, proving unit, lock, motor and plates."""

    def __init__(self):
        super().__init__()
        self.box = self.add(TerminalBoxDrawn())
        self.instrument = self.add(Instrument(INSTRUMENT_AT, FACES))
        self.source = self.add(ProvingUnit(SOURCE_AT, KNOWN, f"proving unit, {KNOWN_VOLTS:.0f} V"))
        self.lock = self.add(Padlock(LOCK_AT))
        self.stuck = self.add(StuckPole((MIDDLE, ISOLATOR_AT, 0), self.box.isolator.bottom[0], self.box.isolator.top[0]))
        self.motor = self.add(DriveEnd(MOTOR_AT, MOTOR_RADIUS))
        self.add(Solid(block([0, -1.5 * PLATE_LINE, -0.004], [0.132, 4.6 * PLATE_LINE, 0.004], palette.STEEL))).put(PLATE_AT)
        self.plates = {}
        for name, plate in PLATES.items():
            lines = [(line, (0.0, -PLATE_LINE * k, 0.0), 0.0095, palette.INK) for k, line in enumerate(on_the_plate(plate))]
            self.plates[name] = Stamped(self, lines)
            self.plates[name].put(PLATE_AT)
        self.verdict = [self.add(Letters("", palette.PAPER, 16, ground=WRONG, role="verdict")) for _ in range(3)]
        for k, letters in enumerate(self.verdict):
            letters.put((VERDICT_AT[0], VERDICT_AT[1] - LINE * k, VERDICT_AT[2]))
        things = {name: terminal.at for name, terminal in self.box.studs.items()}
        self.points = {name: Terminal("motor" if name in (*things, "PE") else "supply", name, at) for name, at in PROBE_AT.items()}
        self.points |= dict(zip(KNOWN, self.source.sockets, strict=True))


def build(host) -> Drawn:
    drawn = Drawn()
    for name, part in name_parts(drawn.box):
        host.name(f"instruments-{name}", part)
    for k, probe in enumerate(drawn.instrument.probes, 1):
        host.name(f"probe-{k}", probe.solid.drawn)
    host.name("clamp-jaw", drawn.instrument.jaw.solid.drawn)
    host.name("padlock", drawn.lock.lock.drawn)
    return drawn


def place(drawn: Drawn, now: Snapshot, look: Look) -> None:
    setup, condition = now.setup, now.setup.condition
    links = list(LINKS[setup.joined]) if condition.links else []
    drawn.box.wire((links + [None] * 3)[:3], STRAIGHT if condition.leads else (None,) * 3, phases.REGIONS[setup.colours].colours)
    drawn.box.switch(condition.on, True, "fuses, relay")
    stuck = setup.sticks and not condition.on
    drawn.stuck.show(stuck)
    drawn.box.isolator.broken.visible = drawn.box.isolator.visible and not condition.on and not stuck
    drawn.lock.put_on(setup.work in (order.LOCKED, order.PROVED))
    drawn.motor.turn(now.angle)
    for name, plate in drawn.plates.items():
        plate.visible = drawn.visible and name == now.case.plate.name
    _lay(drawn, now)
    _say(drawn, now)


def _lay(drawn: Drawn, now: Snapshot) -> None:
    """The instrument, where it is laid, and what it shows."""
    setup, instrument = now.setup, drawn.instrument
    instrument.choose(setup.instrument)
    clamp = setup.instrument == CLAMP
    instrument.lay([drawn.points[clip] for clip in setup.clips if not clamp])
    around = ROUND_AT[LINES.index(setup.clips[0])] if clamp and setup.clips and setup.condition.leads else None
    instrument.jaw.round(around, setup.clips[0] if setup.clips else "")
    if now.answer is None:
        instrument.show("---", "")
    elif setup.instrument == ROTATION:
        instrument.show("", "", now.answer.shown)
    else:
        instrument.show(*now.answer.figures)


def _say(drawn: Drawn, now: Snapshot) -> None:
    """What is wrong, or what to mind and to do next."""
    setup = now.setup
    lines = textwrap.wrap(now.mistake or order.advice(setup.laid, setup.work, now.proof), LETTERS_A_LINE)
    ground = WRONG if now.mistake or now.proof.live else RIGHT if now.proof.again else palette.SLATE
    for k, letters in enumerate(drawn.verdict):
        letters.text = lines[k] if k < len(lines) else ""
        letters.paint(palette.PAPER, ground)
        letters.visible = drawn.visible and bool(letters.text)


PROBE_PICKS = (
    *[Pick(name, f"stud {name}", at) for name, at in PROBE_AT.items() if name in STUDS_AT],
    *[Pick(line, f"supply {line}", at) for line, at in zip(LINES, POSTS, strict=True)],
    Pick("PE", "earth terminal PE", PROBE_AT["PE"]),
    Pick("K1", "proving unit, first socket", (SOURCE_AT[0] - APART / 2, SOURCE_AT[1] - 0.004, 0.016)),
    Pick("K2", "proving unit, other socket", (SOURCE_AT[0] + APART / 2, SOURCE_AT[1] - 0.004, 0.016)),
)
# a lead is pressed where the clamp goes round it, on its stud, or below the isolator
LEAD_OF = {name: line for line, stud in zip(LINES, STRAIGHT, strict=True) for name in (line, stud, f"supply {line}")}
CLAMP_PICKS = tuple(
    Pick(name, words, at, alone=True)
    for line, stud, around, post in zip(LINES, STRAIGHT, ROUND_AT, POSTS, strict=True)
    for name, words, at in (
        (line, f"lead {line}", around),
        (stud, f"lead {line} at stud {stud}", PROBE_AT[stud]),
        (f"supply {line}", f"lead {line} at the supply", post),
    )
)
