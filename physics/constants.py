"""Constants of nature, SI."""

VACUUM_PERMEABILITY = 1.25663706127e-6  # N/A^2, CODATA 2022
STANDARD_GRAVITY = 9.80665  # m/s^2, exact by convention (CGPM 1901)
