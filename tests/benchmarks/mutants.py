"""Breaks the program in one place at a time and runs the tests that should notice: prints the breaks that no test noticed.

    python tests/benchmarks/mutants.py [WORD ...] [--jobs 2]

Each line of the tables in `mutations/` is one break: the file, the text that stands there once, what is put in its place, and
the tests that should fail. With words, only the breaks whose file or text holds one of them. Works on a copy; the tree stays as
it is. Ends with 1 when something survived.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from tests import programs  # noqa: E402
from tests.benchmarks.mutations import MUTATIONS, Mutation  # noqa: E402

PARTS = ("physics", "visual", "scenes", "tests", "pyproject.toml", "README.md")
PATIENCE = 600  # s for the tests of one mutation


def copied(to: Path) -> Path:
    for part in PARTS:
        source = ROOT / part
        if source.is_dir():
            shutil.copytree(source, to / part, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy(source, to / part)
    return to


def tests_pass(tree: Path, tests: tuple[str, ...]) -> bool:
    """Whether the tests pass in that tree; a run that never ends has noticed something too."""
    try:
        ran = programs.run(
            [sys.executable, "-B", "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", *tests],
            cwd=tree,
            capture_output=True,
            text=True,
            timeout=PATIENCE,
            env=os.environ | {"PYTHONDONTWRITEBYTECODE": "1"},
        )
    except subprocess.TimeoutExpired:
        return False
    if ran.returncode not in (0, 1):
        sys.exit(f"these tests could not be run: {' '.join(tests)}\n{ran.stdout[-2000:]}{ran.stderr[-2000:]}")
    return ran.returncode == 0


def survives(mutation: Mutation, tree: Path) -> bool:
    """Whether no test notices the break, made in `tree` and mended afterwards."""
    file = tree / mutation.file
    text = file.read_text("utf-8")
    if text.count(mutation.old) != 1:
        sys.exit(f"{mutation.file} holds this {text.count(mutation.old)} times, not once: {mutation.old!r}")
    file.write_text(text.replace(mutation.old, mutation.new), "utf-8")
    try:
        return tests_pass(tree, mutation.tests)
    finally:
        file.write_text(text, "utf-8")


def run_some(mutations: list[Mutation]) -> list[Mutation]:
    """Those of `mutations` that survive, tried in a copy of the tree of their own."""
    with tempfile.TemporaryDirectory(prefix="thumbwise-mutants-") as folder:
        tree = copied(Path(folder))
        survivors = []
        for mutation in mutations:
            alive = survives(mutation, tree)
            print(
                f"{'SURVIVED' if alive else 'caught':<9} {mutation.file}: {mutation.old.strip()!r} -> {mutation.new.strip()!r}", flush=True
            )
            survivors += [mutation] if alive else []
        return survivors


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("words", nargs="*", help="only the breaks whose file or text holds one of these")
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1)
    wanted = parser.parse_args()
    chosen = [m for m in MUTATIONS if not wanted.words or any(word in m.file + m.old for word in wanted.words)]
    with ThreadPoolExecutor(wanted.jobs) as pool:
        survivors = [each for some in pool.map(run_some, [chosen[k :: wanted.jobs] for k in range(wanted.jobs)]) for each in some]
    print(f"\n{len(chosen)} breaks, {len(survivors)} survivors")
    for survivor in survivors:
        print(f"  {survivor.file}: {survivor.old.strip()!r} -> {survivor.new.strip()!r}")
    return 1 if survivors else 0


if __name__ == "__main__":
    sys.exit(main())
