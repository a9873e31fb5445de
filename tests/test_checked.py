"""The tools that read the code: style and layout (ruff) and types (mypy), set up in pyproject.toml."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from tests import programs

ROOT = Path(__file__).parent.parent


@pytest.mark.parametrize("words", [("ruff", "check"), ("ruff", "format", "--check"), ("mypy",)], ids=" ".join)
def test_nothing_is_found(words):
    ran = programs.run([sys.executable, "-m", *words], cwd=ROOT, capture_output=True, text=True, timeout=300)
    assert ran.returncode == 0, ran.stdout + ran.stderr


def test_types_are_asked_for_in_physics_and_in_the_host(tmp_path):
    """A function without types there is a finding: the setting that says so reaches both."""
    for package in ("physics", "visual/host"):
        folder = tmp_path / package
        folder.mkdir(parents=True)
        for parent in (folder, *folder.relative_to(tmp_path).parents):
            place = tmp_path / parent
            if place != tmp_path:
                (place / "__init__.py").touch()
        (folder / "untyped.py").write_text("def twice(number):\n    return 2 * number\n")
    words = ["-m", "mypy", "--config-file", str(ROOT / "pyproject.toml"), "physics", "visual"]
    ran = programs.run([sys.executable, *words], cwd=tmp_path, capture_output=True, text=True, timeout=300)
    assert ran.stdout.count("[no-untyped-def]") == 2, ran.stdout + ran.stderr
