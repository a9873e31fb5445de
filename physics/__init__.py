"""The numbers behind the bench: pure functions and frozen dataclasses, SI units, arrays in, arrays out.

Imports numpy only, and knows nothing of how things are drawn or shown. Axes: x right, y up, z toward the viewer; a machine's
shaft is z with its drive end toward +z. Currents are conventional.
"""
