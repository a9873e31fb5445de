"""The moving conductor: a rod moved through a magnet's gap, its meter and what it feeds."""

from scenes.conductors.moved_conductor.scene import MovedConductor

__all__ = ["MovedConductor"]
