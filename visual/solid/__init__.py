"""Shapes, solids, arrows, letters and lights."""
