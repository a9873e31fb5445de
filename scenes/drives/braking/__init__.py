"""Braking: two lines swapped, direct current, and a motor driven past synchronous speed."""

from scenes.drives.braking.scene import Braking

__all__ = ["Braking"]
