"""Who may know whom, and what may stand on the top level."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from tests import programs

ROOT = Path(__file__).parent.parent
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "visual", "physics", "tests", "scenes"}
MAY_IMPORT = {
    "physics": {"physics", "numpy"},
    "visual": {"visual", "vpython", "numpy", "tornado"},
    "scenes": {"scenes", "visual", "physics", "numpy"},
}


def imported(file: Path) -> set[str]:
    """The top-level packages that a file imports, wherever in the file."""
    names = set()
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{file}: relative import"
            names.add(node.module.split(".")[0])
    return names


def is_standard(name: str) -> bool:
    import sys

    return name in sys.stdlib_module_names


@pytest.mark.parametrize("package", MAY_IMPORT)
def test_a_package_imports_only_what_it_may_know(package):
    files = list((ROOT / package).rglob("*.py"))
    assert files
    for file in files:
        strangers = {name for name in imported(file) if not is_standard(name)} - MAY_IMPORT[package]
        assert not strangers, f"{file.relative_to(ROOT)} imports {', '.join(sorted(strangers))}"


def test_only_the_bridge_knows_vpython():
    for file in (ROOT / "visual").rglob("*.py"):
        if file.name != "bridge.py":
            assert "vpython" not in imported(file), file


def test_the_top_level_holds_nothing_else():
    listed = programs.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True)
    if listed.returncode:
        pytest.fail("this test needs the repository's git checkout")
    names = {line.split("/")[0] for line in listed.stdout.splitlines()}
    assert {name for name in names if not name.startswith(".")} <= TOP


def test_every_file_of_the_page_is_packed():
    import tomllib

    packed = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["setuptools"]["package-data"]["visual.page"]
    endings = {pattern.removeprefix("*") for pattern in packed}
    for file in (ROOT / "visual" / "page").iterdir():
        if file.is_file():
            assert file.suffix in endings | {".py"}, file.name
