"""A test's file as the tests write it."""

from __future__ import annotations

import json
from pathlib import Path

TERMS = {
    "version": 1, "what": "terms", "when": "2026-03-09T08:00:00Z", "scenes": ["pushed-conductor", "two-wires"], "questions": 3,
    "minutes": 20, "seed": 9, "word": "k7m3qd", "key": "0f" * 32,
}  # fmt: skip
OPENED = {"version": 1, "what": "opened", "when": "2026-03-09T08:00:01Z", "port": 8643}


def begun(trainee: int, name: str, when: str = "08:01:00", visitor: str | None = "aa") -> dict:
    return {"version": 1, "what": "begun", "when": f"2026-03-09T{when}Z", "trainee": trainee, "name": name, "visitor": visitor}


def answered(
    trainee: int, place: int, right: bool, when: str = "08:02:00", mistake: str | None = None, question: str = "Which way?", **more: str
) -> dict:
    return {
        "version": 1, "what": "answered", "when": f"2026-03-09T{when}Z", "trainee": trainee, "place": place, "scene": "two-wires",
        "kind": "forward", "seed": 7, "question": question, "given": "up" if right else "down", "answer": "up", "right": right,
        "mistake": mistake, **more,
    }  # fmt: skip


def written(file: Path, *lines: dict) -> Path:
    file.write_text("".join(json.dumps(line) + "\n" for line in lines), "utf-8")
    return file


def lines_of(file: Path) -> list[dict]:
    return [json.loads(line) for line in file.read_text("utf-8").splitlines()]
