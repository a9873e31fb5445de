"""The lines on which a TOML text's tables and keys stand, so that an error in a value can be reported with its line."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator

DEEPEST = 20  # names of a key whose line is kept
Path = tuple[str | int, ...]  # as ("step", 2, "settings", "current"): the names of tables and keys, the places in arrays

TOKEN = re.compile(
    r'"""(?:\\.|[^\\])*?"""+|\'\'\'.*?\'\'\'+|"(?:\\.|[^"\\])*"|\'[^\']*\'|#[^\n]*|.', re.DOTALL
)  # a string, a comment, or a single character


class TomlLines:
    """The lines of a text that `tomllib` has read, by path."""

    def __init__(self, text: str):
        self._lines: dict[Path, int] = {(): 1}
        places: dict[Path, int] = {}
        table: Path = ()
        for line, _, head in statements(text):
            names = names_in(head)[:DEEPEST]
            if head.startswith("["):
                table = ()
                for name in names:
                    table += (name,) if (table + (name,)) not in places else (name, places[table + (name,)])
                if head.startswith("[["):
                    array = table if isinstance(table[-1], str) else table[:-1]
                    places[array] = places.get(array, -1) + 1
                    table = (*array, places[array])
                self._lines.setdefault(table, line)
                self._lines.setdefault(table[:1], line)
            else:
                for count in range(1, len(names) + 1):
                    self._lines.setdefault(table + names[:count], line)

    def of(self, *path: str | int) -> int:
        """The line of that path, or of the nearest enclosing one that has a line."""
        while path not in self._lines:
            path = path[:-1]
        return self._lines[path]


def statements(text: str) -> Iterator[tuple[int, int, str]]:
    """Each header and each key (the part before `=`), with the lines it begins and ends on."""
    line, begun, head, depth, in_value = 1, 0, "", 0, False
    for token in TOKEN.findall(text + "\n"):
        if token == "\n" and depth == 0:
            if begun:
                yield begun, line, head.strip()
            begun, head, in_value = 0, "", False
        elif in_value:
            depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(token, 0)
        elif token == "=":
            in_value = True
        elif not token.startswith("#") and (begun or not token.isspace()):
            begun = begun or line
            head += token
        line += token.count("\n")


def names_in(head: str) -> tuple[str, ...]:
    """The names in a header or a key as written, dotted or quoted."""
    table = tomllib.loads(f"{head.strip('[] ' + chr(9))} = 0")
    names = []
    while isinstance(table, dict):
        ((name, table),) = table.items()
        names.append(name)
    return tuple(names)
