"""Three phases in a stator: they make a rotating field though nothing moves."""

from scenes.machines.turning_field.scene import TurningField

__all__ = ["TurningField"]
