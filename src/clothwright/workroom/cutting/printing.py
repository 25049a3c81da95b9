"""Full-size output: pieces on many pages, on one sheet, as drawings of their own, for cutters."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path as FilePath
from typing import NamedTuple

from clothwright.drawing.arrange import side_by_side
from clothwright.drawing.style import PRINT
from clothwright.drawing.worked import piece_in
from clothwright.errors import not_known
from clothwright.outputs import sheet_pdf, svg, tiled_pdf
from clothwright.outputs.paper import parse_paper
from clothwright.outputs.trace import carrying
from clothwright.outputs.writer import OutFile
from clothwright.pattern.pattern import Pattern
from clothwright.picture.picture import Picture
from clothwright.store.disk import write_whole
from clothwright.workbook import Workbook, replay

SHEET_MM = 1500.0
"""mm: a large sheet is no wider than this unless a roll is named."""
SHEET_EDGE_MM = 40.0
ROWS = (4, 5, 6, 7, 8)
"""How many pages wide the rows of pieces are tried, to find the arrangement of fewest pages."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Job:
    """What is to be printed: the chosen pieces drawn once each, in their order."""

    book: Workbook
    pictures: tuple[tuple[str, Picture], ...]
    paper: str
    roll: float | None

    def in_rows(self, widest: float) -> Picture:
        """Return the pieces side by side in rows no wider than so many mm."""
        return replace(
            side_by_side((p for _, p in self.pictures), widest=widest, title=self.book.title),
            title=self.book.title,
        )


class PrintKind(NamedTuple):
    """One kind of print. kind: as a command names it. name: of its file, or of a zip of several.

    words: what it is, for a link. make: its files, given that name.
    """

    kind: str
    name: str
    words: str
    make: Callable[[_Job, str], Iterator[OutFile]]

    @property
    def is_zip(self) -> bool:
        """True when it is handed over as a zip file of several."""
        return self.name.endswith(".zip")


def _pages(job: _Job, _: str) -> Iterator[OutFile]:
    """Yield the pages of the arrangement, among a few row widths, that takes the fewest."""
    page = parse_paper(job.paper or job.book.settings.paper, unit=job.book.unit)
    setting = tiled_pdf.PrintSetting(paper=page, unit=job.book.unit)
    wide = setting.paper.width - 2 * setting.margin - setting.overlap
    tries = [job.in_rows(k * wide) for k in ROWS]
    grids = [(picture, tiled_pdf.page_grid(picture, setting)) for picture in tries]
    picture, grid = min(grids, key=lambda one: len(carrying(*one)))
    plan = tiled_pdf.plan_pages(picture, setting, grid)
    yield OutFile(f"pieces-{page.slug}.pdf", tiled_pdf.tiled_pdf(picture, setting, plan=plan))


def _sheet(job: _Job, name: str) -> Iterator[OutFile]:
    picture = job.in_rows((job.roll or SHEET_MM) - SHEET_EDGE_MM)
    setting = sheet_pdf.SheetSetting(widest=job.roll, unit=job.book.unit)
    yield OutFile(name, sheet_pdf.sheet_pdf(picture, setting))


def _drawings(job: _Job, _: str) -> Iterator[OutFile]:
    for piece, picture in job.pictures:
        yield OutFile(f"pieces/{piece}.svg", svg.svg(picture, look=PRINT, alt=piece).encode())


def _dxf(job: _Job, name: str, *, numbered: bool = False) -> Iterator[OutFile]:
    from clothwright.outputs.dxf import dxf  # noqa: PLC0415  (0.3 s the other prints save)

    yield OutFile(name, dxf([p for _, p in job.pictures], numbered=numbered))


PRINTS = (
    PrintKind("pages", "pages.pdf", "The pieces at full size, on pages to join (PDF)", _pages),
    PrintKind(
        "sheet", "pieces-sheet.pdf", "The pieces at full size on one large sheet (PDF)", _sheet
    ),
    PrintKind(
        "drawings",
        "pieces-svg.zip",
        "A drawing of each piece at full size (SVG, in a zip file)",
        _drawings,
    ),
    PrintKind(
        "dxf",
        "pieces.dxf",
        "The pieces for other programs and cutters (DXF, layers by name)",
        _dxf,
    ),
    PrintKind(
        "dxf-numbered",
        "pieces-numbered.dxf",
        "The same with numbers for layers (DXF)",
        partial(_dxf, numbered=True),
    ),
)
KINDS = ("pages", "sheet", "drawings")
"""What is printed unless it is told otherwise."""


def chosen_pieces(
    pattern: Pattern, names: Sequence[str] = (), material: str = ""
) -> tuple[str, ...]:
    """Return the names of the pieces to print. Raises BadInput for a name that is not there."""
    for name in names:
        pattern.piece(name)
    materials = sorted({c.material for p in pattern.pieces for c in p.cuts})
    if material and material not in materials:
        raise not_known(f'no piece is cut in "{material}"', material, materials)
    return tuple(
        p.name
        for p in pattern.pieces
        if (not names or p.name in names)
        and (not material or any(c.material == material for c in p.cuts))
    )


def printed_pieces(
    book: Workbook,
    *,
    kinds: Sequence[str] = KINDS,
    paper: str = "",
    names: Sequence[str] = (),
    material: str = "",
    roll: float | None = None,
    pattern: Pattern | None = None,
) -> tuple[OutFile, ...]:
    """Return the pieces as changed, at full size, as files.

    kinds: of `PRINTS`: "pages" (a PDF of many pages of `paper`), "sheet" (a PDF of one large sheet,
    or of strips for a roll `roll` mm wide), "drawings" (one SVG a piece), "dxf" (one DXF of all;
    "dxf-numbered": its layers numbered). pattern: the pieces as changed, where they are at hand.
    Raises BadInput, CannotDo.
    """
    known = {p.kind: p for p in PRINTS}
    for kind in kinds:
        if kind not in known:
            raise not_known(f'"{kind}" is nothing that can be printed', kind, known)
    pattern = pattern or replay(book).pattern
    chosen = chosen_pieces(pattern, names, material)
    job = _Job(
        book=book,
        pictures=tuple((n, piece_in(pattern, pattern.piece(n), book.unit)) for n in chosen),
        paper=paper,
        roll=roll,
    )
    return tuple(f for p in PRINTS if p.kind in kinds for f in p.make(job, p.name))


def written(folder: FilePath, files: Sequence[OutFile]) -> tuple[FilePath, ...]:
    """Write files into a folder, each whole or not at all; return where they are."""
    for file in files:
        write_whole(folder / file.name, file.content)
    return tuple(folder / file.name for file in files)


def zipped(files: Sequence[OutFile], *, flat: bool = False) -> bytes:
    """Return several files as one zip file. flat: without their folders."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as held:
        for file in files:
            held.writestr(FilePath(file.name).name if flat else file.name, file.content)
    return out.getvalue()
