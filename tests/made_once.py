"""Shapes that a process makes once and keeps: a test with a stream of its own has them made anew in it."""

from __future__ import annotations

import pytest

from visual.apparatus.compass import CompassDrawn
from visual.machines.stator import CurrentMark
from visual.solid.solids import Arrow

MADE_ONCE = {Arrow: ("_shaft", "_head"), CurrentMark: ("_shape",), CompassDrawn: ("_case", "_needle")}


def made_anew(patch: pytest.MonkeyPatch) -> None:
    """From now on, until `patch` ends."""
    for kind, names in MADE_ONCE.items():
        for name in names:
            patch.setattr(kind, name, None)
