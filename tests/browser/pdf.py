"""A page as a browser prints it, read back from the PDF: its pages, their size, and where each section begins and ends."""

from __future__ import annotations

import re

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


class Pdf:
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


def pdf_of(browser, file) -> Pdf:
    """The file at that path as it is printed, its sections marked."""
    tab = browser.new_page()
    tab.goto(file.as_uri())
    tab.evaluate(MARK_THE_ENDS)
    pdf = tab.pdf(prefer_css_page_size=True)
    tab.close()
    return Pdf(pdf)
