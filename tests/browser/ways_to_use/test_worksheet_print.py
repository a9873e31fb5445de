"""The worksheet as a browser prints it: pages, their size, and no question cut by the end of one."""

from __future__ import annotations

import pytest

from scenes.__main__ import main
from tests.browser.accessibility import violations
from tests.browser.pdf import MILLIMETRES, Pdf, pdf_of


def printed(browser, file, questions: int, seed: int, *more: str) -> Pdf:
    assert main(["worksheet", "--out", str(file), "--questions", str(questions), "--seed", str(seed), *more]) == 0
    return pdf_of(browser, file)


EMPTY = 45  # mm at the foot of a page, besides its margin


def assert_full(sheet: Pdf, kind: str, count: int, version: str = "") -> None:
    """Each page but the last is filled with questions to near its foot."""
    ends = [sheet.marks[f"{kind}-{version}{number}/bottom"] for number in range(1, count + 1)]
    pages = {page: min(place for each, place in ends if each == page) for page, _ in ends}
    for page, foot in pages.items():
        if page != max(pages):
            assert foot / 72 * 25.4 < 17 + EMPTY, f"page {page + 1} is empty from {foot / 72 * 25.4:.0f} mm above its edge down"


@pytest.mark.parametrize("paper", MILLIMETRES)
@pytest.mark.parametrize("seed", [7, 21])
def test_no_question_and_no_answer_is_cut(browser, tmp_path, paper, seed):
    sheet = printed(browser, tmp_path / "sheet.html", 19, seed, "--paper", paper)
    for kind in ("question", "answer"):
        for number in range(1, 20):
            (top_page, top), (bottom_page, bottom) = (sheet.marks[f"{kind}-{number}/{end}"] for end in ("top", "bottom"))
            assert top_page == bottom_page and top > bottom, f"{kind} {number} is cut"
    for size in sheet.sizes:
        assert size == pytest.approx([mm / 25.4 * 72 for mm in MILLIMETRES[paper]], abs=1)
    assert_full(sheet, "question", 19)
    last_question = max(page for mark, (page, _) in sheet.marks.items() if mark.startswith("question"))
    first_answer = min(page for mark, (page, _) in sheet.marks.items() if mark.startswith("answer"))
    assert first_answer == last_question + 1, "the key begins on a page of its own"


def test_twelve_questions_are_three_or_four_sheets_of_paper_and_a_key_of_two_or_three_in_each_version(browser, tmp_path):
    assert main(["worksheet", "--out", str(tmp_path / "sheet.html"), "--questions", "12", "--seed", "2", "--versions", "A", "B"]) == 0
    for letter in "AB":
        sheet = pdf_of(browser, tmp_path / f"sheet-{letter}.html")
        on = [{page for mark, (page, _) in sheet.marks.items() if mark.startswith(f"{kind}-{letter}")} for kind in ("question", "answer")]
        assert 3 <= len(on[0]) <= 4 and 2 <= len(on[1]) <= 4
        assert [page for pages in on for page in sorted(pages)] == list(range(len(sheet.pages))), "the key begins on a page of its own"
        assert_full(sheet, "question", 12, letter)


def test_on_a_screen_nothing_is_wider_than_it_and_all_can_use_it(browser, tmp_path):
    """Sheet and key, by day on a wide screen and at night on a telephone."""
    assert main(["worksheet", "--out", str(tmp_path / "sheet.html"), "--questions", "19", "--seed", "7"]) == 0
    tab = browser.new_page()
    errors = []
    tab.on("pageerror", lambda error: errors.append(str(error)))
    tab.on("requestfailed", lambda request: errors.append(request.url))
    tab.goto((tmp_path / "sheet.html").as_uri())
    for scheme, width in (("light", 1366), ("dark", 390)):
        tab.emulate_media(color_scheme=scheme)
        tab.set_viewport_size({"width": width, "height": 800})
        assert tab.evaluate("() => document.documentElement.scrollWidth") <= width
        assert violations(tab) == "", (scheme, width)
    assert errors == []
    tab.close()
