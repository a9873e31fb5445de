"""The first visitors of tests/simulated_stand.py, with no page that looks on: the quick part of the soak in tests/browser/."""

from __future__ import annotations

import asyncio
import json

from tests.simulated_stand import Stand, counted_by_hand, without_noughts

COME = 120


def test_nothing_stays_set_and_what_is_counted_is_right_to_one(tmp_path):
    stand = Stand(tmp_path / "counts.json", 0, 0)
    asyncio.run(stand.come(COME))
    stand.counts.close()
    kept = json.loads((tmp_path / "counts.json").read_text("utf-8"))
    assert stand.amiss == [] and kept["version"] == 1
    assert without_noughts(kept["days"]) == without_noughts(counted_by_hand(stand.sent))
    assert len(stand.sent) > 2 * COME
    assert {what for _, what, _ in stand.sent} == {"touch", "next", "speak", "try", "answer", "press", "turn"}
