"""Fast tests first: what drives a browser comes last, and leaves no event loop behind for the others to trip over."""

from __future__ import annotations

from pathlib import Path


def pytest_collection_modifyitems(items):
    items.sort(key=lambda item: "browser" in Path(item.fspath).parts)
