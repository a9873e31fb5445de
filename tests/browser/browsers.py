"""The browsers that the tests look through."""

from __future__ import annotations

import re
import shutil

from tests import flags, programs
from tests.browser.unseen import COARSE, FEW_PICTURES, UNFILLED

FLAGS = [
    *flags.FLAGS,
    "--host-resolver-rules=MAP *.example 127.0.0.1",  # names that are not this machine's (RFC 2606), for tests of who is let in
    # The first two take a fifth of a second for each page, in which nobody sees them: a process ready for a next page, and a page of
    # the browser's own beneath its address bar. The others Playwright leaves out too, but of two such lists the last one counts.
    "--disable-features=SpareRendererForSitePerProcess,WebUIOmniboxAimPopup,"
    "AvoidUnnecessaryBeforeUnloadCheckSync,DestroyProfileOnBrowserClose,HttpsUpgrades,HttpsFirstBalancedModeAutoEnable,LensOverlay,"
    "MediaRouter,PaintHolding,ThirdPartyStoragePartitioning,AvoidCorsURLLoaderRestartOnRedirect,OptimizationHints,"
    "NetworkTimeServiceQuerying,AimEnabled,PreconnectToSearch",
]
PATIENCE = 60  # s: what a slow machine may take


def version(path: str) -> list[str]:
    return re.findall(r"\d+\.[\d.]+", programs.run([path, "--version"], capture_output=True, text=True).stdout)[:1]


def without_its_windows() -> str:
    """Chromium's pages without its own windows, bars and menus, which take a fifth of the time; where that is not installed, or is of
    another version, the whole Chromium."""
    whole, pages = flags.chromium(), shutil.which("chromium-headless-shell")
    return pages if pages and version(pages) == version(whole) else whole


def launch(playwright, path: str, *more_flags: str):
    return playwright.chromium.launch(executable_path=path, args=[*FLAGS, *more_flags])


class Browser:
    """A browser as Playwright has it, but for what its pages draw, and how often, where `pixels` says that nobody looks at it."""

    def __init__(self, started, pixels: float):
        self.started, self.pixels = started, pixels
        self.opened: list = []

    def __getattr__(self, name):
        return getattr(self.started, name)

    def new_context(self, every_picture: bool = False, **options):
        """`every_picture`: pages show as many as they can, for tests that count them."""
        made = self.started.new_context(**{"device_scale_factor": float(self.pixels or COARSE)} | options)
        made.set_default_timeout(PATIENCE * 1000)
        if not self.pixels:
            made.add_init_script(f"{{{UNFILLED}}}")
            if not every_picture:
                made.add_init_script(f"{{{FEW_PICTURES}}}")
        self.opened.append(made)
        return made

    def new_page(self, **options):
        return self.new_context(**options).new_page()

    def close_what_was_opened(self) -> None:
        """Or else it goes on drawing."""
        for context in self.opened:
            context.close()
