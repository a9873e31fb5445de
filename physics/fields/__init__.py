"""Fields of wires, loops and magnets; lines through them, and the compass that shows them."""

from physics.fields.block_magnets import block_magnet_field
from physics.fields.currents import loop_field, segment_field

__all__ = ["block_magnet_field", "loop_field", "segment_field"]
