"""Print marker sheets: what lies round a piece when it is photographed."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path as FilePath

from clothwright.drawing.style import PRINT
from clothwright.errors import BadInput
from clothwright.geometry.vec import Vec
from clothwright.outputs.paper import Paper, parse_paper
from clothwright.outputs.pdf_canvas import PagePart, PdfPage, pdf_of_pages
from clothwright.photo.sheet import HEIGHT_MM, SHEETS, WIDTH_MM, sheet_picture, sheet_words
from clothwright.store.disk import write_whole
from clothwright.units import is_count

PAPERS = "A4 or Letter, upright"
CLEAR_MM = 5.0
"""mm: no printer is trusted nearer to the edge of the paper than this."""


def sheets_pdf(sheets: Sequence[int], paper: Paper) -> bytes:
    """Return a PDF with one marker sheet a page. sheets: their numbers from 0.

    Raises BadInput: no such sheet, or a paper too small for one.
    """
    if not sheets or min(sheets) < 0 or max(sheets) >= SHEETS:
        raise BadInput(what=f"there are {SHEETS} sheets, one to {sheet_words(SHEETS - 1)}")
    spare = Vec(paper.width - WIDTH_MM, paper.height - HEIGHT_MM)
    if min(spare.x, spare.y) < 2 * CLEAR_MM or paper.is_roll:
        raise BadInput(
            where="paper",
            what=f"a marker sheet does not fit on {paper.name}",
            expected=PAPERS,
        )
    pages = [
        PdfPage(
            paper.width,
            paper.height,
            sheet_words(sheet),
            (PagePart(sheet_picture(sheet), PRINT, spare * 0.5),),
        )
        for sheet in sheets
    ]
    return pdf_of_pages(pages, "Marker sheets")


def sheets_file(count: str, paper: str) -> tuple[str, bytes]:
    """Return the first marker sheets as a file: its name, and a PDF. Raises BadInput.

    count: how many, as typed. paper: its name, as typed.
    """
    if not is_count(count) or not 1 <= int(count) <= SHEETS:
        raise BadInput(
            where="how many sheets", what=f'"{count[:20]}"', expected=f"a number from 1 to {SHEETS}"
        )
    try:
        page = parse_paper(paper)
    except BadInput:
        raise BadInput(
            where="paper", what=f'"{paper[:20]}" is no paper for a marker sheet', expected=PAPERS
        ) from None
    return f"marker-sheets-{page.slug}.pdf", sheets_pdf(range(int(count)), page)


def write_sheets(out: FilePath, *, count: int, paper: str = "A4") -> FilePath:
    """Write the first `count` marker sheets as one PDF; return the file. Raises BadInput."""
    name, data = sheets_file(str(count), paper)
    write_whole(out / name, data)
    return out / name
