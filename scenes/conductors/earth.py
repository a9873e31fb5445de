"""The Earth's field on the bench, the same in every scene that counts it."""

from __future__ import annotations

import numpy as np

from physics.fields.currents import earth_field

EARTH = earth_field(20e-6, np.radians(66.0))  # T: of the order met at mid latitudes, north lying away from the viewer
