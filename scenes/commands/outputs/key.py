"""The key of what is printed: on its last pages, or in a file of its own."""

from __future__ import annotations

import argparse
import os
from pathlib import Path

from scenes.commands.command_line import Parser, UsageError


def add_key(parser: Parser, what: str) -> None:
    """Add the option for a file of its own; `what` there is in it."""
    parser.add_argument("--key", metavar="FILE", type=Path, help=f"write {what} to this file, instead of on the last pages")


def key_file(wanted: argparse.Namespace) -> Path | None:
    """The file for the key, if it is not to be on the last pages."""
    key: Path | None = wanted.key
    if key is not None and os.path.realpath(key) == os.path.realpath(wanted.out):
        raise UsageError("--key needs a different file from --out.")
    return key
