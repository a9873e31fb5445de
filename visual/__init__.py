"""How the bench looks and how it reaches the browser. Draws the vectors and shows the figures it is handed.

Importing this package puts VPython's own page server out of the way (see host/bridge.py) before anything else can
import VPython.
"""

from visual.host import bridge as _bridge  # noqa: F401  (first of all)
