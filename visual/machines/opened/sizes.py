"""Sizes of the motors that come apart, in metres: those of a foot-mounted motor with a shaft height of 160 mm.

Shaft height, feet, shaft end and key as in IEC 60072-1 (memory); a deep-groove bearing 45 x 100 x 25 mm as in ISO 15 (memory); the rest as
such motors are usually built (common practice, no source). The shaft is z, drive end +z, the middle of the core at 0.
"""

from __future__ import annotations

SHAFT_HEIGHT = 0.160
FEET_ACROSS, FEET_ALONG = 0.254, 0.210  # between the middles of the holes
SHAFT_END = 0.213, 0.323  # where the end that drives begins and ends
SHAFT_END_RADIUS = 0.021
KEY = 0.012, 0.008, 0.090  # wide, high, long
KEY_TOP = 0.024  # from the middle of the shaft: the key is sunk in it

BORE, SLOT_BOTTOM, CORE_OUTSIDE = 0.080, 0.100, 0.125  # radii
CORE_HALF = 0.0775
HEAD_LOW, HEAD_HIGH, HEAD_END = 0.0835, 0.118, 0.1325  # end winding: radii, and how far it comes
FRAME_RADIUS, FRAME_HALF = 0.136, 0.140
FIN_TOP = 0.1545

SHIELD_RADIUS = 0.150
BEARING_BORE, BEARING_OUTSIDE, BEARING_HALF = 0.0225, 0.050, 0.0125
BEARING_AT = 0.1825
SHIELD_FACE = 0.205
FAN_AT = 0.207, 0.240  # beyond the non-drive end, from and to
FAN_RADIUS = 0.120
SHAFT_TAIL = 0.246
COWL_AT = 0.156, 0.272
COWL_RADIUS = 0.158

SHAFT_IN_CORE = 0.030
ROTOR_HEAD = 0.058, 0.076, 0.122  # end winding of a wound rotor: radii, and how far it comes
END_RING = 0.054, 0.0765, 0.0975  # radii, and how far it comes
BLADE_END = 0.116

BEHIND = 0.080  # by which a motor with slip rings is longer at the non-drive end
RINGS_AT = (-0.168, -0.190, -0.212)
RING_RADIUS, RING_HALF = 0.045, 0.006
BRUSH = 0.016, 0.010  # across and along the shaft
BRUSH_TOP = 0.078
WINDOW = -0.228, -0.154  # from and to, through which one comes to the brushes
WINDOW_HALF_ANGLE = 0.62  # rad, to either side of the top
BARREL = 0.118, 0.128  # radii of the shield round the rings
