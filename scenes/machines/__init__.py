"""Scenes of machines: what generates and what turns."""
