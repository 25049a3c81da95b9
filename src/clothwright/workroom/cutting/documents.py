"""A document as files: text with its pictures beside it, and a PDF."""

from __future__ import annotations

from clothwright.outputs.guide_md import guide_md
from clothwright.outputs.guide_pdf import guide_pdf
from clothwright.outputs.paper import Paper, parse_paper
from clothwright.outputs.writer import OutFile
from clothwright.picture.document import Document
from clothwright.workbook import Workbook
from clothwright.workroom.cutting.printing import zipped


def document_files(
    document: Document, book: Workbook, stem: str, paper: str = ""
) -> tuple[OutFile, ...]:
    """Return a document as text with its pictures and as a PDF. Raises BadInput."""
    return (*guide_md(document, stem), pdf_file(document, book, stem, paper))


def pdf_file(document: Document, book: Workbook, stem: str, paper: str = "") -> OutFile:
    """Return a document as a PDF on the workbook's paper, or another. Raises BadInput."""
    return OutFile(f"{stem}.pdf", guide_pdf(document, paper=paper_of(book, paper)))


def paper_of(book: Workbook, paper: str = "") -> Paper:
    """Return the paper a name means, or the workbook's without one. Raises BadInput."""
    return parse_paper(paper or book.settings.paper, unit=book.unit)


def text_file(document: Document, stem: str) -> OutFile:
    """Return a document as a zip file: its text with the pictures beside it."""
    return OutFile(f"{stem}.zip", zipped(guide_md(document, stem)))
