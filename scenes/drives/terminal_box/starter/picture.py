"""The motor on its starter: contactors, timer, six leads, and what is joined behind them at one instant."""

from __future__ import annotations

from physics.terminals import LINES, PHASES
from scenes.drives.terminal_box.board import OFF
from scenes.drives.terminal_box.picture import ON_STARTER, RELAY_WORDS, STUD_PICKS, Drawn, nodes_of, say
from scenes.drives.terminal_box.starter.settings import POLES, joining
from scenes.drives.terminal_box.starter.snapshot import Snapshot
from scenes.drives.terminal_box.starter.words import named
from scenes.scene import phases
from scenes.scene.scene import Pick
from scenes.scene.story import Look
from visual.switchgear.star_delta_starter import POLES_AT

PICKS = (
    *STUD_PICKS,
    *(Pick(name, f"lead of {name[:2]}, pole {name[3]}", at) for name, at in zip(POLES, POLES_AT, strict=True)),
)
"""What may be joined: the six studs, and each lead where it leaves its contactor."""


def place(drawn: Drawn, now: Snapshot, look: Look) -> None:
    setup = now.setup
    colours = phases.REGIONS[setup.colours].colours
    drawn.arrange(ON_STARTER)
    drawn.box.wire((None,) * 3, (None,) * 3, colours)
    isolated = now.step == "isolated"
    drawn.starter.wire([None if stud == OFF else stud for stud in setup.leads], colours)
    drawn.starter.switch(not isolated, now.step != "fuse", RELAY_WORDS.get(now.step, "fuses, relay"), now.closed, setup.interlock)
    drawn.starter.timer.run(now.timed, f"K1 timer: {setup.timer:.1f} s")
    joined = joining(setup.leads, now.closed)
    leads = {line: stud for line, stud in zip(LINES, joined.leads, strict=True) if stud != OFF}
    figures = dict.fromkeys(PHASES, f"{now.volts:.0f} V, {now.amperes:.1f} A") if look.reveals_answer and not isolated else {}
    drawn.circuit.draw([tuple(link.split("-")) for link in joined.laid], leads, nodes_of(joined), figures)
    drawn.motor.turn(now.angle)
    say(drawn.verdict, *_told(now), look)
    drawn.supply.text = f"{setup.supply:.0f} V, {setup.frequency:.0f} Hz, isolator {'open' if isolated else 'closed'}"
    drawn.show_plate(setup.plate)


def _told(now: Snapshot) -> tuple[str, bool]:
    """What stands under the circuit, and whether something is wrong."""
    if now.case.wrong:
        return f"wrong: {now.case.wrong}", True
    if now.step in RELAY_WORDS:
        return RELAY_WORDS[now.step], True
    said = {
        "isolated": "six leads, links out; isolated",
        "star": f"star: {named(now.closed)} closed",
        "open": "change-over: Q2 waits for Q3",
        "delta": f"delta: {named(now.closed)} closed",
    }[now.step]
    peaks = f"\npeak {now.peak_current:.0f} A, direct-on-line {now.case.direct.current:.0f} A"
    return said + (peaks if now.changed_over else ""), False
