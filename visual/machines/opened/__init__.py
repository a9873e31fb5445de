"""Whole motors that come apart: every part a solid of its own, drawn to scale, with the way it takes when it is taken off."""
