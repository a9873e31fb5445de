"""The alternator: a magnet spun inside coils, and what it feeds."""

from scenes.machines.alternator.scene import AlternatorScene

__all__ = ["AlternatorScene"]
