"""A short soak: pages loaded again, browsers killed, the same scenes and settings round after round; nothing grows.

tests/benchmarks/soak.py does more of it with ever new settings, and says where time went.
"""

from __future__ import annotations

import random
import time

from tests.benchmarks.soak import PYTHON, Soak, growth

RELOADS, KILLS, ROUNDS = 3, 1, 3
A_ROUND = (  # scenes of each kind, with a chart, with curves and with neither
    "field-round-a-wire", "pushed-conductor", "coils-and-commutator", "cage-rotor", "slip-and-speed", "terminal-box", "starting",
    "coils-and-commutator", "cage-rotor",
)  # fmt: skip
# a clean run grows by 0.1% in Python and by 3% in the page, which still compiles what it runs
MOST = {"objects": 0.01, "drawn": 0.0, "kept": 0.02, "blocks": 0.01, "page objects": 0.0, "nodes": 0.1, "listeners": 0.1, "heap": 0.06}


def test_nothing_grows_while_pages_come_back_browsers_die_and_scenes_change(launch_browser):
    use = Soak(launch_browser)
    try:
        use.open()
        use.reload()
        first = use.count("after a reload")
        for _ in range(RELOADS):  # before other scenes are made: a page that comes back is sent them all
            use.reload()
        for _ in range(KILLS):
            use.kill()
        last = counted_alone(use)
        assert last["viewers"] == 1, "pages that are gone are forgotten"
        assert too_much(growth(first, last, tuple(name for name in PYTHON if name != "resident"))) == {}
        rounds = []
        for number in range(ROUNDS):
            use.dice = random.Random(3)  # what a setting needs is made when it first comes: the first round makes it all
            for name in A_ROUND:
                use.change(name)
            rounds.append(use.count(f"by round {number + 1}"))
        assert too_much(growth(rounds[1], rounds[-1])) == {}
    finally:
        use.close()


def counted_alone(use: Soak) -> dict:
    """What there is once the killed browser's connection has ended, which takes a moment."""
    give_up = time.monotonic() + 60
    while (found := use.count("after a kill"))["viewers"] > 1 and time.monotonic() < give_up:
        pass
    return found


def too_much(grown: dict[str, float]) -> dict[str, float]:
    return {name: part for name, part in grown.items() if part > MOST.get(name, 0.05)}
