"""Fast tests first: what drives a browser comes last, and leaves no event loop behind for the others to trip over."""

from __future__ import annotations

import signal
import sys
from pathlib import Path

import pytest


def pytest_configure():
    """A run that is told to end is interrupted as by Ctrl+C, so that the fixtures end what they started."""
    signal.signal(signal.SIGTERM, signal.default_int_handler)


def pytest_collection_modifyitems(items):
    items.sort(key=lambda item: "browser" in Path(item.fspath).parts)


@pytest.fixture(autouse=True)
def nothing_left_over():
    """VPython's buffers belong to the whole process: what an earlier test drew and nobody fetched is not this one's."""
    if "visual.host.bridge" in sys.modules:
        sys.modules["visual.host.bridge"].ObjectStream().drain()
