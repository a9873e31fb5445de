"""A cage motor and a slip-ring motor that come apart, part by part."""

from scenes.machines.inside_a_motor.scene import InsideAMotor

__all__ = ["InsideAMotor"]
