"""The worksheet as a browser prints it: pages, their size, and no question cut by the end of one."""

from __future__ import annotations

import re

import pytest

from scenes.__main__ import main

MILLIMETRES = {"a4": (210, 297), "letter": (215.9, 279.4)}  # ISO 216; ANSI Y14.1, size A

# Chromium writes a link as an annotation of the page it stands on: links at both ends of a question tell its page.
MARK_THE_ENDS = """() => {
  for (const section of document.querySelectorAll("section")) {
    section.style.position = "relative";
    for (const end of ["top", "bottom"]) {
      const link = document.createElement("a");
      link.href = `https://mark.invalid/${section.id}/${end}`;
      link.textContent = ".";
      link.style = `position: absolute; left: 0; ${end}: 0; font-size: 1px; line-height: 1`;
      section.append(link);
    }
  }
}"""


class Printed:
    """What a PDF of Chromium's tells of its pages, read from its plain objects."""

    def __init__(self, pdf: bytes):
        objects = dict(re.findall(rb"(?s)(?:^|\n)(\d+) 0 obj\s(.*?)\sendobj", pdf))
        tree = next(body for body in objects.values() if re.search(rb"/Type\s*/Pages\b", body) and b"/Parent" not in body)
        self.pages = list(self._leaves(tree, objects))
        self.sizes = [tuple(float(n) for n in re.search(rb"/MediaBox\s*\[([^\]]*)\]", page)[1].split()[2:]) for page in self.pages]
        self.marks: dict[str, tuple[int, float]] = {}
        for number, page in enumerate(self.pages):
            listed = re.search(rb"(?s)/Annots\s*\[(.*?)\]", page)
            for reference in re.findall(rb"(\d+) 0 R", listed[1] if listed else b""):
                mark = re.search(rb"https://mark\.invalid/([\w/-]+)", objects[reference])
                height = float(re.search(rb"/Rect\s*\[([^\]]*)\]", objects[reference])[1].split()[1])
                self.marks[mark[1].decode()] = (number, height)

    def _leaves(self, node: bytes, objects: dict):
        for kid in re.findall(rb"(\d+) 0 R", re.search(rb"(?s)/Kids\s*\[(.*?)\]", node)[1]):
            if re.search(rb"/Type\s*/Pages\b", objects[kid]):
                yield from self._leaves(objects[kid], objects)
            else:
                yield objects[kid]


def printed(browser, file, questions: int, seed: int, *more: str) -> Printed:
    assert main(["worksheet", "--out", str(file), "--questions", str(questions), "--seed", str(seed), *more]) == 0
    tab = browser.new_page()
    tab.goto(file.as_uri())
    tab.evaluate(MARK_THE_ENDS)
    pdf = tab.pdf(prefer_css_page_size=True)
    tab.close()
    return Printed(pdf)


EMPTY = 45  # mm at the foot of a page, besides its margin


def assert_full(sheet: Printed, kind: str, count: int, version: str = "") -> None:
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
    sheet = printed(browser, tmp_path / "sheet.html", 12, 2, "--versions", "A", "B")
    on = {name: {page for mark, (page, _) in sheet.marks.items() if mark.startswith(name)}
          for name in ("question-A", "question-B", "answer-A", "answer-B")}  # fmt: skip
    assert all(3 <= len(on[f"question-{letter}"]) <= 4 and 2 <= len(on[f"answer-{letter}"]) <= 4 for letter in "AB")
    assert [page for pages in on.values() for page in sorted(pages)] == list(range(len(sheet.pages))), "each begins on a page of its own"
    for letter in "AB":
        assert_full(sheet, "question", 12, letter)


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
