"""A page to print: self-contained HTML in black and grey, for A4 or Letter.

The page is also well-formed XML, so other tools can read it.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from html import escape

# the space between a figure and its unit, and within newton metres
TOGETHER = re.compile(
    r"(?<=\d) (?=(?:%|°|Ω|r/min|rev/s|(?:degrees|hertz|volts|amperes|newtons)\b|(?:[µmk]?(?:A|V|W|Hz|T|N|Wb|J|m|s|Ω))(?![\w])))"
    r"|(?<=\bN) (?=m\b)"
)
SUBSCRIPT = re.compile("(?<=[A-Za-z])[\u2080-\u2089\u2090-\u209c\u1d62-\u1d65\u2c7c]+")
MARGINS = {"top": 14.0, "side": 15.0, "bottom": 17.0}  # mm
LINE = 8.5  # mm, to write on
GENERATOR = '<meta name="generator" content="Thumbwise, page to print 1"/>'  # with the version of such a file
PAPERS = {"a4": "A4", "letter": "letter"}

STYLE = (
    f"""
.lines i {{ height: {LINE}mm; }}
"""
    + """
* { box-sizing: border-box; margin: 0; padding: 0; }
html { font: 11pt/1.35 "Liberation Sans", Arial, Helvetica, sans-serif; color: #000; background: #fff; }
body { max-width: 180mm; margin: 8mm auto; }
svg { display: block; max-width: 100%; font-family: inherit; }
h1 { font-size: 17pt; line-height: 1.2; }
.head { border-bottom: 0.6mm solid #000; padding-bottom: 3mm; margin-bottom: 2mm; }
.fields { display: flex; gap: 6mm; margin-top: 6mm; }
.fields span { flex: 1; border-bottom: 0.25mm solid #000; white-space: nowrap; }
.fields span:first-child { flex: 2.4; }
sub { font-size: 0.72em; line-height: 0; }
.lines i { display: block; border-bottom: 0.2mm solid #777; }
.choices { list-style: none; display: grid; grid-template-columns: 1fr 1fr; gap: 1.5mm 4mm; }
.choices li { padding-left: 6mm; text-indent: -6mm; }
.choices li::before { content: ""; display: inline-block; width: 3.4mm; height: 3.4mm; margin-right: 2.6mm;
  border: 0.3mm solid #000; vertical-align: -0.4mm; text-indent: 0; }
.key { break-before: page; }
.key .answer { font-weight: 700; }
@media screen { .key { border-top: 1mm dashed #777; margin-top: 12mm; padding-top: 8mm; } }
@media screen and (max-width: 150mm) { body { padding: 0 4mm; } }
@media print { body { max-width: none; margin: 0; } }
"""
)


def printed(title: str, body: str, paper: str, style: str) -> str:
    """The whole page: `body` is XML, and `style` comes after the style that all pages share."""
    margins = f"{MARGINS['top']:g}mm {MARGINS['side']:g}mm {MARGINS['bottom']:g}mm"
    return (
        '<!DOCTYPE html>\n<html lang="en" xmlns="http://www.w3.org/1999/xhtml">\n<head>\n<meta charset="utf-8"/>\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1"/>\n'
        f"{GENERATOR}\n<title>{escape(title)}</title>\n<style>{STYLE}{style}"
        f"@page {{ size: {PAPERS[paper]} portrait; margin: {margins}; }}\n"
        f"</style>\n</head>\n<body>\n<main>\n{body}</main>\n</body>\n</html>\n"
    )


def foot(said: str, of: str = "") -> str:
    """The style of the foot of each page, with its number after what is said there; `of`: the pages of that name alone."""
    content = f'"{_in_style(said)}, page " counter(page) " of " counter(pages)'
    return f'@page {of} {{ @bottom-right {{ font: 8.5pt "Liberation Sans", Arial, sans-serif; content: {content}; }} }}\n'


def unparted(text: str) -> str:
    """The text with no figure parted from its unit at the end of a line."""
    return TOGETHER.sub("\N{NO-BREAK SPACE}", text)


def worded(text: str) -> str:
    """The same as HTML, with subscripts, as in n_s or nₛ."""
    kept = SUBSCRIPT.sub(lambda small: f"_{unicodedata.normalize('NFKC', small[0])}", unparted(text))
    return re.sub(r"\b([A-Za-z])_([A-Za-z0-9]+)", r"\1<sub>\2</sub>", escape(kept, quote=False))


def choices(words: Iterable[str]) -> str:
    """A list of choices, each with a box to tick."""
    listed = "".join(f"<li>{worded(choice)}</li>" for choice in words)
    return f'<ul class="choices">{listed}</ul>' if listed else ""


def ruled(lines: int) -> str:
    """So many lines to write on."""
    return f'<div class="lines">{"<i></i>" * lines}</div>' if lines else ""


def _in_style(text: str) -> str:
    """Text between the quotes of a style sheet."""
    return re.sub(r"[^\w ]", lambda sign: f"\\{ord(sign[0]):x} ", text)
