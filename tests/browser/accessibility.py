"""What axe finds wrong on a page. Its script is half a megabyte, so a page is given it once."""

from __future__ import annotations

import json

from axe_playwright_python.base import AXE_SCRIPT

LOOK = """async options => (await window.axe.run(document, {resultTypes: ['violations'], ...options})).violations
    .map(({id, nodes}) => [id, nodes.map(({target}) => target)])"""


def violations(tab, but: tuple[str, ...] = (), **options) -> str:
    """Each rule that is broken and where, as text; "" if there is none. `but`: rules that are broken on purpose; `options`: axe's own."""
    if tab.evaluate("() => window.axe === undefined"):
        tab.evaluate(AXE_SCRIPT)
    found = [one for one in tab.evaluate(LOOK, options) if one[0] not in but]
    return json.dumps(found) if found else ""
