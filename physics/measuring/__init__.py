"""What instruments show on a motor's terminal board, sound or with a fault: live, dead, and from the windings to earth."""

from physics.measuring.board import Board, Defects
from physics.measuring.live import Live, settled

__all__ = ["Board", "Defects", "Live", "settled"]
