"""Apparatus on the bench: batteries, switches, leads, meters, lamps, compasses, magnets."""
