"""A synchronous motor: in step with its field or not at all, and its power factor set by its excitation."""

from scenes.drives.synchronous_motor.scene import SynchronousMotor

__all__ = ["SynchronousMotor"]
