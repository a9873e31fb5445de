"""A short soak: the same scenes and settings round after round, pages loaded again, browsers killed; nothing grows.

tests/benchmarks/soak.py does more of it with ever new settings, and says where time went.
"""

from __future__ import annotations

import random

from tests.benchmarks.soak import PYTHON, Soak, growth

ROUNDS, A_ROUND = 3, 12
# a clean run grows by 0.1% in Python and by 3% in the page, which still compiles what it runs
MOST = {"objects": 0.01, "drawn": 0.0, "kept": 0.02, "blocks": 0.01, "page objects": 0.0, "nodes": 0.1, "listeners": 0.1, "heap": 0.06}


def test_nothing_grows_while_scenes_change_pages_come_back_and_browsers_die(launch_browser):
    use = Soak(launch_browser)
    try:
        use.open()
        rounds = []
        for number in range(ROUNDS):
            use.dice = random.Random(3)  # what a setting needs is made when it first comes: the first round makes it all
            for _ in range(A_ROUND):
                use.change()
            rounds.append(use.count(f"by round {number + 1}"))
        for _ in range(4):
            use.reload()
        for _ in range(2):
            use.kill()
        killed = use.count("after a kill")
    finally:
        use.close()
    grown = growth(rounds[1], rounds[-1]) | growth(rounds[1], killed, tuple(name for name in PYTHON if name != "resident"))
    assert {name: part for name, part in grown.items() if part > MOST.get(name, 0.05)} == {}
    assert killed["viewers"] == 1, "pages that are gone are forgotten"
