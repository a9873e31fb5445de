"""Three phases in a stator: the field that they make rotates though nothing moves."""

from scenes.machines.turning_field.scene import TurningField

__all__ = ["TurningField"]
