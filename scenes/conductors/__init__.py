"""Scenes of wires, rods and magnets."""
