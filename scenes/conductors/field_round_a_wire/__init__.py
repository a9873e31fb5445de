"""A current makes a field: compasses round a wire running up through a table."""

from scenes.conductors.field_round_a_wire.scene import FieldRoundAWire

__all__ = ["FieldRoundAWire"]
