"""The alternator: a magnet turning inside coils, and its load."""

from scenes.machines.alternator.scene import AlternatorScene

__all__ = ["AlternatorScene"]
