"""Where a pointer goes."""

from __future__ import annotations


def middle(locator) -> tuple[float, float]:
    """The middle of what a locator finds, in pixels of the page."""
    box = locator.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
