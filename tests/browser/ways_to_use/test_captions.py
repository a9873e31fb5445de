"""No caption parts a figure from its unit at the end of a line, however wide the window is."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

from scenes.exhibit import tour_file
from scenes.exhibit.tours import TOURS
from tests.scenes.lesson.built_in_lesson import GIVEN

UNITS = re.compile(
    r"\d (?=(?:V|A|W|kW|Hz|Hertz|hertz|°|%|degrees|Grad|mm|cm|m|s|N m|N|mT|T|Ω|r/min|volts|Volt|amperes|Ampere|newtons)(?!\w))"
)
BESIDE = """([texts, widths]) => import(new URL('page/common/dom.js', document.baseURI)).then(({ writeSentence }) => {
    const strip = document.createElement('p')
    strip.className = 'words'
    document.body.append(strip)
    const top = (node, at) => {
        const range = document.createRange()
        range.setStart(node, at)
        range.setEnd(node, at + 1)
        return range.getBoundingClientRect().top
    }
    const at = (place) => { // of the sentence, whatever elements it stands in
        const nodes = document.createTreeWalker(strip, NodeFilter.SHOW_TEXT)
        while (nodes.nextNode()) {
            if (place < nodes.currentNode.length) return top(nodes.currentNode, place)
            place -= nodes.currentNode.length
        }
    }
    const parted = []
    for (const [text, places] of texts) {
        writeSentence(strip, text)
        if (strip.textContent !== text) parted.push(text)
        for (const width of widths) {
            strip.style.width = `${width}px`
            for (const place of places) if (at(place) !== at(place + 2)) parted.push(`${text} at ${width}`)
        }
    }
    strip.remove()
    return parted
})"""


def words_of(told: object) -> list[str]:
    if isinstance(told, dict | list):
        return [text for each in (told.values() if isinstance(told, dict) else told) for text in words_of(each)]
    return [told] if isinstance(told, str) else []


def test_a_figure_and_its_unit_stay_on_one_line(page):
    tours = [tomllib.loads(file.read_text("utf-8")) for file in Path(tour_file.__file__).parent.glob("*.toml")]
    captions = [step["caption"] for step in GIVEN] + [stop.caption for stops in TOURS.values() for stop in stops] + words_of(tours)
    held = [(text, [found.start() for found in UNITS.finditer(text)]) for text in dict.fromkeys(captions)]
    with_units = [(text, places) for text, places in held if places]
    assert len(with_units) >= 8
    assert page.tab.evaluate(BESIDE, [with_units, list(range(60, 420, 5))]) == []
