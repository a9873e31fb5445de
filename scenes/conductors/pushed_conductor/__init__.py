"""The pushed conductor: a rod carrying current, hung between the poles of a magnet."""

from scenes.conductors.pushed_conductor.scene import PushedConductor

__all__ = ["PushedConductor"]
