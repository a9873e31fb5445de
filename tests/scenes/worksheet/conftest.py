"""The questions of some sheets, read back from what is printed."""

from __future__ import annotations

import pytest

from scenes.worksheet.worksheet import KINDS
from tests.scenes.worksheet.printed import SEEDS, Question, questions_of


@pytest.fixture(scope="module")
def asked() -> dict[str, list[Question]]:
    """Every kind of question as it comes on the sheets of some seeds."""
    found: dict[str, list[Question]] = {name: [] for name in KINDS}
    for seed in SEEDS:
        for question in questions_of(seed):
            found[question.kind].append(question)
    return found
