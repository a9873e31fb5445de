"""The Earth's field on the bench, the same in every scene that includes it."""

from __future__ import annotations

import numpy as np

from physics.fields.currents import earth_field

EARTH = earth_field(20e-6, np.radians(66.0))  # T: typical of mid latitudes, north being away from the viewer
