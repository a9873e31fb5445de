"""How the stand goes, on a page for whoever looks after it: on the machine itself only, at `/status/`."""

from __future__ import annotations

from scenes.exhibit.screen import ExhibitScreen
from scenes.exhibit.tour import ATTRACT
from scenes.service_manager import watchdog_seconds
from visual.host import messages
from visual.host.access.doors import ThisMachine
from visual.host.endpoints import Endpoint

STATUS = "status"
STATUS_PAGE = Endpoint({"": "status.html"}, STATUS, ThisMachine("/status"), hears=frozenset({"status"}))
ENDPOINT = Endpoint({"": "stand.html", "exhibit": "exhibit.html"}, "visitor", beside=(STATUS_PAGE,))
IN_WORDS = {
    "touches": "Touches today",
    "uses": "Visits today",
    "answers": "Questions answered today",
    "right": "Answered rightly today",
    "languages": "Languages chosen today",
    "longest": "Longest visit today",
}
NOBODY = "Nobody has touched the screen in the last {:g} s."
WATCHED = "The system restarts it once no picture has come for {:g} s."
UNWATCHED = "Nothing restarts it. A service with WatchdogSec would; the README has one."


def status_of(bench: ExhibitScreen) -> messages.Status:
    screens, watched = bench.host.count("visitor"), watchdog_seconds()
    today = bench.counts.of(bench.now().date())
    here = f"It shows stop {bench.here + 1} of {len(bench.tour.stops)}: {bench.scene.title}."
    waits = "It is waiting for somebody to touch the screen."
    lines = [
        ("Tour", bench.tour.name),
        ("Running since", bench.began.strftime("%d %B %Y, %H:%M")),
        ("Screens that show it", str(screens)),
        ("Now", "The screen is dark: it is in its hours of sleep." if bench.asleep else waits if bench.here == ATTRACT else here),
        (
            "Visitors",
            f"Somebody has touched the screen in the last {bench.use.quiet:g} s." if bench.use.on else NOBODY.format(bench.use.quiet),
        ),
        ("If the program hangs", WATCHED.format(watched) if watched else UNWATCHED),
        *(_count(name, today[name]) for name in IN_WORDS if name in today),
    ]
    wrong = [] if screens else ["No screen shows the exhibit."]
    if bench.counts.trouble:
        wrong.append(bench.counts.trouble)
    if bench.failures:
        wrong.append(f"A scene has failed {bench.failures} times since the program started; its log says why.")
    return {"lines": lines, "wrong": wrong}


def _count(name: str, value: int | dict[str, int]) -> tuple[str, str]:
    """A count of today, in words."""
    text = ", ".join(f"{code} {number}" for code, number in sorted(value.items())) if isinstance(value, dict) else str(value)
    return IN_WORDS[name], f"{text} s" if name == "longest" else text
