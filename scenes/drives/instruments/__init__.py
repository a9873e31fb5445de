"""Instruments on a motor's terminal board: measured in the right order, and the fault named from the figures."""

from scenes.drives.instruments.scene import Instruments

__all__ = ["Instruments"]
