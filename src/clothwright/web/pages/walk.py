"""Does it still sew together? Findings beside both edges of the seam, and what mends them."""

from __future__ import annotations

from collections.abc import Mapping

from starlette.responses import Response

from clothwright.picture.document import Document
from clothwright.web.page import Asked, Door, PageFile, handed_over
from clothwright.workroom.cutting.documents import pdf_file, text_file
from clothwright.workroom.walking.checking import seam_table
from clothwright.workroom.walking.findings import AllFound, all_found
from clothwright.workroom.walking.paper import STEM, toile_document


def render(asked: Asked) -> Mapping[str, object]:
    """Return the findings in groups, every seam, and the chosen seam section by section."""
    return {
        "found": _found(asked),
        "seams": seam_table(asked.book, asked.replayed, asked.query.get("seam", "")),
        "stem": STEM,
    }


def _found(asked: Asked) -> AllFound:
    book, done = asked.book, asked.replayed
    return asked.opened.once("walk", asked.revision, lambda: all_found(book, done))


def _document(asked: Asked) -> Document:
    return toile_document(asked.book, asked.replayed, _found(asked))


def _pdf(asked: Asked) -> Response:
    """GET the toile on paper as a PDF."""
    file = pdf_file(_document(asked), asked.book, STEM)
    return handed_over(file.content, file.name)


def _text(asked: Asked) -> Response:
    """GET it as text with its pictures beside it, in a zip file."""
    file = text_file(_document(asked), STEM)
    return handed_over(file.content, file.name)


PAGE = PageFile(
    render=render,
    doors=(Door(f"{STEM}.pdf", _pdf), Door(f"{STEM}.zip", _text)),
    modules=("walk.js",),
)
