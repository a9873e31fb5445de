"""What axe finds wrong on a page. Its script is half a megabyte, so a page is given it once."""

from __future__ import annotations

import json

from axe_playwright_python.base import AXE_SCRIPT

LOOK = """async ([within, options]) => {
    const there = within.filter(one => document.querySelector(one)?.checkVisibility())
    const found = await window.axe.run(within.length ? {include: there} : document, {resultTypes: ['violations'], ...options})
    return found.violations.map(({id, nodes}) => [id, nodes.map(({target}) => target)])
}"""


def violations(tab, but: tuple[str, ...] = (), within: tuple[str, ...] = (), **options) -> str:
    """Each rule that is broken and where, as text; "" if there is none. `but`: rules that are broken on purpose; `within`: selectors of
    the parts that are looked at, those of them that are shown, in place of the whole page; `options`: axe's own."""
    if tab.evaluate("() => window.axe === undefined"):
        tab.evaluate(AXE_SCRIPT)
    found = [one for one in tab.evaluate(LOOK, [list(within), options]) if one[0] not in but]
    return json.dumps(found) if found else ""
