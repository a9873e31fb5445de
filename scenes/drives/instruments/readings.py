"""The figures: what the instrument shows, how far the order of work has come, and the table of what was measured."""

from __future__ import annotations

import numpy as np

from physics.measuring.limits import unbalance
from physics.terminals import LINES
from scenes.drives.instruments import order
from scenes.drives.instruments.diagnosis import ROUND
from scenes.drives.instruments.measured import CLAMP, QUANTITIES, SYMBOLS, VOLTMETER, WORDS, Measured, expected
from scenes.drives.instruments.snapshot import Snapshot
from scenes.drives.terminal_box.motors import FREQUENCY, POLES
from scenes.drives.terminal_box.words import after
from scenes.scene.scene import Reading
from scenes.scene.story import Look
from scenes.workings.inputs import of_running

SHORT = {order.ON: "switched on", order.OFF: "isolated", order.LOCKED: "locked off", order.PROVED: "proved dead"}
POSTS = tuple(zip(LINES, (*LINES[1:], LINES[0]), strict=True))


def readings(now: Snapshot, look: Look) -> list[Reading]:
    earlier = [each for each in reversed(now.records) if each != now.answer]  # what is shown now stands at the top
    table = [_record(now, each) for each in (*earlier, *[each for each in now.records if each == now.answer])]
    work, proof = _order(now)
    return [_shown(now), work, *table, proof, _currents(now), _voltages(now), *_motor(now, look)]


def workings(now: Snapshot) -> dict[str, dict[str, float | str]]:
    """The calculations that belong here, with this instant's inputs."""
    return of_running(FREQUENCY, POLES, 60 * abs(now.speed))


def _shown(now: Snapshot) -> Reading:
    symbol, name = SYMBOLS[now.setup.instrument], WORDS[now.setup.instrument]
    if now.answer is None:
        return Reading("", f"shown by the {name}", "nothing", "", now.mistake or "not laid on")
    value, unit = now.answer.figures
    where = " and ".join(now.answer.laid.points) if len(now.answer.laid.points) < 3 else ", ".join(now.answer.laid.points)
    return Reading(
        symbol, f"{QUANTITIES[now.setup.instrument]} shown by the {name}, on {where}", value, unit, expected(now.case, now.answer.laid)
    )


def _order(now: Snapshot) -> list[Reading]:
    work, proof = now.setup.work, now.proof
    tests = "taken as done" if proof.taken else f"{proof.tests} of {order.ALL_TESTS} tests"
    proved = f"{' to '.join(proof.live)} is live" if proof.live else tests
    return [
        Reading("", "order of work", SHORT[work], "", now.mistake or order.advice(now.setup.laid, work, proof)),
        Reading("", "proved dead", proved, "", proof.next),
    ]


def _record(now: Snapshot, each: Measured) -> Reading:
    value, unit = each.figures
    return Reading(each.laid.symbol, each.laid.words, value, unit, expected(now.case, each.laid))


def _of_three(now: Snapshot, instrument: str, places) -> list[Measured]:
    """The live records at three places, [] unless all are there."""
    found = {frozenset(each.laid.points): each for each in now.records if each.laid.instrument == instrument and each.laid.condition.on}
    three = [found.get(frozenset(place)) for place in places]
    return [each for each in three if each is not None] if all(three) else []


def _spread(words: str, three: list[Measured], unit: str, missing: str) -> Reading:
    """How unbalanced three figures are."""
    if not three:
        return Reading("", words, "not measured", "", missing)
    sizes = np.array([each.value for each in three])
    farthest = sizes[np.argmax(np.abs(sizes - sizes.mean()))]
    formula = f"{abs(farthest - sizes.mean()):.1f} {unit} from the mean / the mean of {sizes.mean():.1f} {unit}"
    return Reading("", words, f"{100 * unbalance(sizes):.1f}", "%", formula)


def _currents(now: Snapshot) -> Reading:
    return _spread(
        "unbalance of the line currents", _of_three(now, CLAMP, [(line,) for line in LINES]), "A", "clamp meter round L1, L2 and L3"
    )


def _voltages(now: Snapshot) -> Reading:
    three = _of_three(now, VOLTMETER, POSTS) or _of_three(now, VOLTMETER, ROUND)
    return _spread("unbalance of the line voltages", three, "V", "voltmeter between L1, L2 and L3, or U1, V1 and W1")


def _motor(now: Snapshot, look: Look) -> list[Reading]:
    plate = now.case.plate
    relay = plate.relay(400.0)
    trips = "nothing flows" if now.live is None else after(relay.trips_after(np.abs(now.live.line_currents)))
    fault = now.case.fault.words(now.setup.joined) if now.named or not now.setup.hidden else "to be found"
    return [
        Reading("n", "speed of the shaft", f"{60 * abs(now.speed):.0f}", "r/min", look.view.turns(now.speed)),
        Reading(
            "", "overload relay trips", trips, "", f"class 10 relay set to {relay.setting:.1f} A, from cold, at this current", tells=True
        ),
        Reading("", "fault", fault, "", "", tells=True),
    ]
