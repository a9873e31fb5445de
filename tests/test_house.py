"""Who may know whom, and what may stand on the top level."""

from __future__ import annotations

import ast
import os
import re
import shutil
import sys
import sysconfig
import zipfile
from collections import Counter
from functools import cache, partial
from pathlib import Path

import pytest

from tests import programs

ROOT = Path(__file__).parent.parent
MOST_FILES = 15  # of ours in one folder
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "visual", "physics", "tests", "scenes"}
LONGEST_CLASS = 120  # lines, unless the reason stands above it
MAY_IMPORT = {
    "physics": {"physics", "numpy"},
    "visual": {"visual", "vpython", "numpy", "tornado"},
    "scenes": {"scenes", "visual", "physics", "numpy"},
}


@cache
def nodes(file: Path) -> list[ast.AST]:
    """All that stands in a file of ours."""
    return list(ast.walk(ast.parse(file.read_text("utf-8"))))


def imported(file: Path) -> set[str]:
    """The top-level packages that a file imports, wherever in the file."""
    names = set()
    for node in nodes(file):
        if isinstance(node, ast.Import):
            names |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{file}: relative import"
            names.add(node.module.split(".")[0])
    return names


def is_standard(name: str) -> bool:
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


def sources(*endings: str) -> list[Path]:
    return [file for package in (*MAY_IMPORT, "tests") for file in (ROOT / package).rglob("*") if file.suffix in endings]


def test_a_folder_can_be_taken_in_at_a_glance():
    counted = Counter(file.parent for file in sources(".py", ".js", ".css", ".html") if file.name != "__init__.py")
    crowded = {str(folder.relative_to(ROOT)): count for folder, count in counted.items() if count > MOST_FILES}
    assert not crowded


def test_a_long_class_has_its_reason_beside_it():
    for file in (file for package in MAY_IMPORT for file in (ROOT / package).rglob("*.py")):
        lines = file.read_text("utf-8").splitlines()
        for node in (node for node in nodes(file) if isinstance(node, ast.ClassDef)):
            above = lines[min([node.lineno, *(each.lineno for each in node.decorator_list)]) - 2]
            assert node.end_lineno - node.lineno < LONGEST_CLASS or above.startswith("# Long, "), f"{file.relative_to(ROOT)}: {node.name}"


def test_nothing_is_set_on_a_scene_from_outside():
    """What is seen of a scene is asked for with arguments; a flag left on it would hold for whoever asks next."""
    for room in ("bench", "lesson", "exhibit", "practice", "picture", "commands"):
        for file in (ROOT / "scenes" / room).rglob("*.py"):
            for node in nodes(file):
                targets = node.targets if isinstance(node, ast.Assign) else [node.target] if isinstance(node, ast.AugAssign) else []
                for target in targets:
                    owner = target.value if isinstance(target, ast.Attribute) else None
                    assert "scene" not in (getattr(owner, "id", ""), getattr(owner, "attr", "")), f"{file}:{node.lineno}"


def modules_imported() -> dict[str, set[str]]:
    """For each module of ours the modules of ours that it imports, when it is loaded or later."""
    files = {name_of(file): file for package in MAY_IMPORT for file in (ROOT / package).rglob("*.py")}
    found: dict[str, set[str]] = {}
    for module, file in files.items():
        for node in nodes(file):
            if isinstance(node, ast.ImportFrom):
                for alias in node.names:
                    full = f"{node.module}.{alias.name}"
                    found.setdefault(module, set()).update({full if full in files else node.module} & set(files))
    return found


def name_of(file: Path) -> str:
    return ".".join(file.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")


def test_no_module_imports_itself_in_the_end():
    imports = modules_imported()
    assert len(imports) > 100

    def reached(start: str) -> set[str]:
        seen, waiting = set(), [start]
        while waiting:
            for other in imports.get(waiting.pop(), ()):
                if other not in seen:
                    seen.add(other)
                    waiting.append(other)
        return seen

    assert [module for module in imports if module in reached(module)] == []


IN_IT = """
from scenes.__main__ import main
assert not main(["scenes", "--json"])
assert not main(["lesson", "--notes"])
assert not main(["state", "alternator", "--json"])
assert not main(["worksheet", "--out", "sheet.html", "--seed", "1"])
assert not main(["exhibit", "--write", "tour.toml"])
"""  # files that the program reads of its own, and folders that nothing imports at the start


def test_a_wheel_holds_all_that_the_program_needs(tmp_path):
    """Installed into an empty folder and run from elsewhere: a folder or a page that is not packed is missed."""
    site = Path(sysconfig.get_path("purelib"))
    run = partial(programs.run, capture_output=True, text=True, cwd=tmp_path, timeout=300)
    source = tmp_path / "source"
    for part in ("physics", "visual", "scenes"):
        shutil.copytree(ROOT / part, source / part, ignore=shutil.ignore_patterns("__pycache__"))
    for part in ("pyproject.toml", "README.md"):
        shutil.copy(ROOT / part, source / part)
    built = run([sys.executable, "-c", "from setuptools import build_meta; build_meta.build_wheel('..')"], cwd=source)
    assert built.returncode == 0, built.stderr
    shutil.rmtree(source)
    (wheel,) = tmp_path.glob("*-py3-none-any.whl")
    zipfile.ZipFile(wheel).extractall(tmp_path / "installed")  # all that installing does to one without programs of its own
    # packages in a folder of PYTHONPATH are found, but what makes the checkout importable is not run from there
    outside = {"PYTHONPATH": f"{tmp_path / 'installed'}{os.pathsep}{site}", "PATH": os.environ["PATH"], "HOME": str(tmp_path)}
    ran = run([sys.executable, "-c", IN_IT], env=outside)
    assert ran.returncode == 0, ran.stderr
    for file in (ROOT / "visual" / "page").rglob("*.*"):
        if "__pycache__" not in file.parts:
            assert (tmp_path / "installed" / file.relative_to(ROOT)).exists(), file.name
    assert (tmp_path / "installed" / "scenes" / "commands" / "jupyter_launcher.svg").exists()


def test_the_speed_of_a_field_is_written_in_one_way_everywhere():
    """With the number of poles, as on the bench; pole pairs stand in words only."""
    for file in [*ROOT.glob("scenes/**/*.py"), *ROOT.glob("scenes/**/*.toml")]:
        other = re.search(r"60 f / p|\bf / p\b|f = p n|60 f / pole pairs|= pole pairs", file.read_text("utf-8"))
        assert other is None, (file, other)
