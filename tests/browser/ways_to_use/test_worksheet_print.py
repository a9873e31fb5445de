"""The worksheet as a browser prints it: pages, their size, and no question cut by the end of one."""

from __future__ import annotations

import pytest

from scenes.__main__ import main
from tests.browser.pdf import MILLIMETRES, Pdf, pdf_of


def printed(browser, file, questions: int, seed: int, *more: str) -> Pdf:
    assert main(["worksheet", "--out", str(file), "--questions", str(questions), "--seed", str(seed), *more]) == 0
    return pdf_of(browser, file)


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
    last_question = max(page for mark, (page, _) in sheet.marks.items() if mark.startswith("question"))
    first_answer = min(page for mark, (page, _) in sheet.marks.items() if mark.startswith("answer"))
    assert first_answer == last_question + 1, "the key begins on a page of its own"


def test_twelve_questions_are_three_or_four_sheets_of_paper_and_a_key_of_two_or_three(browser, tmp_path):
    for seed in (1, 2, 3):
        whole = printed(browser, tmp_path / "whole.html", 12, seed)
        alone = printed(browser, tmp_path / "sheet.html", 12, seed, "--key", str(tmp_path / "key.html"))
        assert 3 <= len(alone.pages) <= 4 and 2 <= len(whole.pages) - len(alone.pages) <= 3


@pytest.mark.parametrize("width", [390, 1366])
def test_on_a_screen_nothing_is_wider_than_it(browser, tmp_path, width):
    assert main(["worksheet", "--out", str(tmp_path / "sheet.html"), "--questions", "19", "--seed", "7"]) == 0
    tab = browser.new_page(viewport={"width": width, "height": 800})
    errors = []
    tab.on("pageerror", lambda error: errors.append(str(error)))
    tab.on("requestfailed", lambda request: errors.append(request.url))
    tab.goto((tmp_path / "sheet.html").as_uri())
    assert tab.evaluate("() => document.documentElement.scrollWidth") <= width
    assert errors == []
    tab.close()


def test_no_accessibility_violations(browser, tmp_path):
    from axe_playwright_python.sync_playwright import Axe

    assert main(["worksheet", "--out", str(tmp_path / "sheet.html"), "--questions", "19", "--seed", "7"]) == 0
    tab = browser.new_page()
    tab.goto((tmp_path / "sheet.html").as_uri())
    found = Axe().run(tab).response["violations"]
    assert found == [], [(one["id"], [node["target"] for node in one["nodes"]]) for one in found]
    tab.close()
