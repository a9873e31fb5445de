"""How fine the picture is: never coarser than the page while it moves, twice as fine when it has come to rest."""

from __future__ import annotations

import pytest


@pytest.fixture(scope="module")
def pixels():
    return True


FINE = "() => { const canvas = document.querySelector('#picture canvas'); return canvas.width / canvas.clientWidth > 1.9 }"
AS_THE_PAGE = (
    "() => { const canvas = document.querySelector('#picture canvas'); return Math.abs(canvas.width / canvas.clientWidth - 1) < 0.01 }"
)


def test_a_picture_at_rest_is_drawn_twice_as_fine_until_it_moves_again(page):
    page.tab.set_viewport_size({"width": 700, "height": 500})
    page.send(do="scene", name="turning-field")
    page.wait_for("() => window.bench.socket.told.scene.name === 'turning-field'")
    page.wait_for(AS_THE_PAGE)  # on a machine with much to do even a moving picture rests at times
    page.send(do="run", on=False)
    page.wait_for(FINE)
    page.send(do="run", on=True)
    page.wait_for(AS_THE_PAGE)


def test_the_light_is_worked_out_at_the_corners_of_triangles(page):
    """VPython's programs were found and changed: with another VPython they would be drawn as they are, three times as slowly."""
    assert page.tab.evaluate("() => window.picture.quality.plain") is True
    shades = page.tab.evaluate("""() => {
        const canvas = document.querySelector('#picture canvas'), sheet = document.createElement('canvas')
        sheet.width = canvas.width; sheet.height = canvas.height
        window.picture.redraw(); window.picture.drawNow()
        const pen = sheet.getContext('2d'); pen.drawImage(canvas, 0, 0)
        const data = pen.getImageData(0, 0, sheet.width, sheet.height).data, seen = new Set()
        for (let k = 0; k < data.length; k += 40) seen.add(`${data[k] >> 3} ${data[k + 1] >> 3} ${data[k + 2] >> 3}`)
        return seen.size
    }""")
    assert shades > 60  # a lit picture has many shades, one that is not drawn a single one
