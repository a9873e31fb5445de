"""The moved conductor: a rod drawn through the gap of a magnet, its meter and what it feeds."""

from scenes.conductors.moved_conductor.scene import MovedConductor

__all__ = ["MovedConductor"]
