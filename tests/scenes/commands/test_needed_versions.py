"""The program beside another VPython, none, or without what VPython itself needs: one sentence with the command that mends it."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from tests import programs
from visual.host.bridge import VPYTHON_NEEDED

ROOT = Path(__file__).parents[3]
PIP = f"{sys.executable} -m pip install"


def installed(folder: Path, name: str, version: str) -> None:
    """What pip leaves behind of a package of that name and version."""
    info = folder / f"{name}-{version}.dist-info"
    info.mkdir()
    (info / "METADATA").write_text(f"Metadata-Version: 2.1\nName: {name}\nVersion: {version}\n")


def said_at_the_start(before: Path, *program: str) -> str:
    """What the program says on stderr when `before` is looked through for packages before all others."""
    ran = programs.run(
        [sys.executable, *program], cwd=ROOT, capture_output=True, text=True, timeout=60,
        env=os.environ | {"PYTHONPATH": str(before)},
    )  # fmt: skip
    assert (ran.returncode, ran.stdout) == (1, "")
    return ran.stderr


@pytest.mark.parametrize("command", [(), ("scenes",), ("ask", "pushed-conductor"), ("exhibit",)])
def test_another_vpython_is_told_with_the_command_that_mends_it(tmp_path, command):
    installed(tmp_path, "vpython", "7.6.4")
    assert said_at_the_start(tmp_path, "-m", "scenes", *command) == (
        f'thumbwise: Thumbwise needs vpython {VPYTHON_NEEDED}, and 7.6.4 is installed; mend it with: {PIP} "vpython=={VPYTHON_NEEDED}"\n'
    )


def test_no_vpython_at_all(tmp_path):
    installed_nowhere = (
        "import importlib.metadata as m, runpy\n"
        "def version(name): raise m.PackageNotFoundError(name)\n"
        "m.version = version\n"
        "runpy.run_module('scenes', run_name='__main__')"
    )
    assert said_at_the_start(tmp_path, "-c", installed_nowhere) == (
        f'thumbwise: Thumbwise needs vpython {VPYTHON_NEEDED}, and none is installed; mend it with: {PIP} "vpython=={VPYTHON_NEEDED}"\n'
    )


def test_a_setuptools_that_took_out_what_vpython_imports(tmp_path):
    installed(tmp_path, "setuptools", "82.0.0")
    (tmp_path / "pkg_resources.py").write_text("raise ModuleNotFoundError('No module named it', name='pkg_resources')\n")
    assert said_at_the_start(tmp_path, "-m", "scenes") == (
        f'thumbwise: Thumbwise needs setuptools below 82, and 82.0.0 is installed; mend it with: {PIP} "setuptools<82"\n'
    )


def test_the_version_in_the_code_is_the_one_in_the_package():
    assert f'"vpython=={VPYTHON_NEEDED}"' in (ROOT / "pyproject.toml").read_text("utf-8")
