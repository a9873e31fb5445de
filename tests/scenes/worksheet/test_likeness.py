"""How alike two exercises are."""

from __future__ import annotations

from scenes.worksheet.exercise import Exercise
from scenes.worksheet.likeness import likeness


def force(field: int, current: int, answer: str) -> Exercise:
    return Exercise(f"A rod with {current} A in {field} mT. How large is the force?", answer, ())


def test_who_shares_an_answer_copies_more_than_who_shares_a_figure():
    """One of three figures is the same in both pairs."""
    own = force(200, 8, "96 mN")
    assert likeness(own, own) > likeness(own, force(400, 4, "96 mN")) > likeness(own, force(200, 4, "48 mN")) > 0
    assert likeness(own, force(400, 4, "13 mN")) == 0


def test_figures_a_few_per_cent_apart_are_nearly_the_same():
    same, near, far = (likeness(force(200, 100, "up"), force(200, other, "up")) for other in (100, 104, 150))
    assert same > near > far
