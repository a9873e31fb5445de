"""The terminal box: six studs, three links, three leads, joined in any way."""

from scenes.drives.terminal_box.scene import TerminalBox

__all__ = ["TerminalBox"]
