"""Colours, red-green-blue 0..1. The five of the arrows are told apart with any colour vision (Okabe and Ito's set of
2008, an open recommendation); every one of them also stands beside its letter."""

from __future__ import annotations


def rgb(hexadecimal: str) -> tuple[float, float, float]:
    """A colour such as "#8a4b1f" as red-green-blue 0..1."""
    red, green, blue = (int(hexadecimal[i : i + 2], 16) / 255 for i in (1, 3, 5))
    return red, green, blue


def hexadecimal(colour) -> str:
    """Red-green-blue 0..1 as "#8a4b1f"."""
    return "#" + "".join(f"{round(255 * float(part)):02x}" for part in colour)


HEX = {
    "field": "#0072b2",
    "current": "#c77700",
    "force": "#00795a",
    "motion": "#a8487f",
    "emf": "#c2410c",
}

FIELD, CURRENT, FORCE, MOTION, EMF = (rgb(HEX[name]) for name in ("field", "current", "force", "motion", "emf"))

INK = rgb("#17262b")
PAPER = rgb("#ffffff")
NORTH = rgb("#b4443c")
SOUTH = rgb("#4e6f80")
WRONG = rgb("#9c2f1b")
COPPER = rgb("#c98a5b")
BRASS = rgb("#c9a94f")
IRON = rgb("#7c8488")
STEEL = rgb("#aab2b6")
WOOD = rgb("#b99b72")
SLATE = rgb("#39484e")
CORD = rgb("#5b4636")


def contrast(one, other) -> float:
    """The contrast ratio of two colours, 1 to 21 (WCAG 2.2, definition of contrast ratio and relative luminance)."""
    low, high = sorted(_luminance(colour) for colour in (one, other))
    return (high + 0.05) / (low + 0.05)


def readable(ink, ground) -> tuple[float, float, float]:
    """The ink where it can be read on that ground (4.5 : 1, WCAG 2.2 AA), else white or black, whichever reads better."""
    if contrast(ink, ground) >= 4.5:
        return tuple(ink)
    return max((PAPER, (0.0, 0.0, 0.0)), key=lambda other: contrast(other, ground))


def _luminance(colour) -> float:
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in colour]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
