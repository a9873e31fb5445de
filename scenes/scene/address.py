"""A set-up as an address: scene, settings, view and open question, in the query of the page's URL."""

from __future__ import annotations

from collections.abc import Iterable
from urllib.parse import parse_qsl, urlencode

from scenes.scene.scene import Scene

LONGEST = 2000  # characters


def written(scene: Scene, seed: int | None = None, more: Iterable[tuple[str, str]] = ()) -> str:
    """The address of the present set-up, with `more` names and values."""
    pairs = [("scene", scene.name)]
    pairs += [(control.name, control.text(scene[control.name])) for control in scene.controls]
    if scene.view != scene.views[0].name:
        pairs.append(("view", scene.view))
    if seed is not None:
        pairs.append(("ask", str(seed)))
    return urlencode([*pairs, *more])


def read(query: str) -> tuple[str | None, dict[str, str], str | None]:
    """The scene's name, the settings and the question's seed in an address; `None` for whatever is missing."""
    if len(query) > LONGEST:
        raise ValueError(f"An address holds at most {LONGEST} characters.")
    values = dict(parse_qsl(query, keep_blank_values=True))
    scene = values.pop("scene", None)
    seed = values.pop("ask", None)
    return scene, values, seed
