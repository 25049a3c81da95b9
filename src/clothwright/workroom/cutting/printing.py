"""Full-size output: pieces on many pages, on one sheet, as drawings of their own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path as FilePath

from clothwright.drawing.piece import piece_picture
from clothwright.drawing.style import PRINT, TABLE
from clothwright.errors import BadInput, did_you_mean, one_of
from clothwright.outputs.arrange import side_by_side
from clothwright.outputs.dxf import dxf
from clothwright.outputs.guide_pdf import guide_pdf
from clothwright.outputs.paper import parse_paper
from clothwright.outputs.sheet_pdf import SheetSetting, sheet_pdf
from clothwright.outputs.svg import svg
from clothwright.outputs.tiled_pdf import PrintSetting, plan_pages, tiled_pdf
from clothwright.pattern.pattern import Pattern
from clothwright.picture.document import Document, Illustration
from clothwright.picture.picture import Picture
from clothwright.store.book.file import write_whole
from clothwright.units import Unit
from clothwright.workbook import Workbook, replay

KINDS = ("pages", "sheet", "drawings")
"""What `print_pieces` makes unless it is told otherwise."""
MORE_KINDS = ("dxf", "dxf-numbered")
"""What it can make besides."""


def chosen_pieces(
    pattern: Pattern, names: Sequence[str] = (), material: str = ""
) -> tuple[str, ...]:
    """Return the names of the pieces to print. Raises BadInput for a name that is not there."""
    for name in names:
        pattern.piece(name)
    materials = sorted({c.material for p in pattern.pieces for c in p.cuts})
    if material and material not in materials:
        raise BadInput(
            what=f'no piece is cut in "{material}".{did_you_mean(material, materials)}',
            expected=one_of(materials),
        )
    return tuple(
        p.name
        for p in pattern.pieces
        if (not names or p.name in names)
        and (not material or any(c.material == material for c in p.cuts))
    )


def all_pieces_picture(
    pattern: Pattern, names: Sequence[str], unit: Unit, *, widest: float, title: str
) -> Picture:
    """Return the named pieces side by side at full size, mm."""
    pictures = [piece_picture(pattern.piece(n), unit) for n in names]
    return replace(side_by_side(pictures, widest=widest, title=title), title=title)


def print_pieces(
    book: Workbook,
    out: FilePath,
    *,
    kinds: Sequence[str] = KINDS,
    paper: str = "",
    names: Sequence[str] = (),
    material: str = "",
    roll: float | None = None,
) -> tuple[FilePath, ...]:
    """Write the pieces as changed, at full size; return the files written.

    kinds: "pages" (a PDF of many pages of `paper`), "sheet" (a PDF of one large sheet, or of strips
    for a roll `roll` mm wide), "drawings" (one SVG a piece), "dxf" (one DXF of all;
    "dxf-numbered": its layers numbered). Raises BadInput, CannotDo.
    """
    known = (*KINDS, *MORE_KINDS)
    for kind in kinds:
        if kind not in known:
            raise BadInput(
                what=f'"{kind}" is nothing that can be printed.{did_you_mean(kind, known)}',
                expected=one_of(known),
            )
    pattern = replay(book).pattern
    chosen = chosen_pieces(pattern, names, material)
    files: list[FilePath] = []

    def write(name: str, data: bytes) -> None:
        write_whole(out / name, data)
        files.append(out / name)

    if "pages" in kinds:
        page = parse_paper(paper or book.settings.paper, unit=book.unit)
        setting = PrintSetting(paper=page, unit=book.unit)
        picture = _on_fewest_pages(pattern, chosen, book, setting)
        write(f"pieces-{page.slug}.pdf", tiled_pdf(picture, setting))
    if "sheet" in kinds:
        widest = roll if roll is not None else 1500.0
        picture = all_pieces_picture(
            pattern, chosen, book.unit, widest=widest - 40.0, title=book.title
        )
        write("pieces-sheet.pdf", sheet_pdf(picture, SheetSetting(widest=roll, unit=book.unit)))
    if "drawings" in kinds:
        for name in chosen:
            drawing = svg(piece_picture(pattern.piece(name), book.unit), look=PRINT, alt=name)
            write(f"pieces/{name}.svg", drawing.encode())
    pictures = [piece_picture(pattern.piece(n), book.unit) for n in chosen]
    if "dxf" in kinds:
        write("pieces.dxf", dxf(pictures))
    if "dxf-numbered" in kinds:
        write("pieces-numbered.dxf", dxf(pictures, numbered=True))
    return tuple(files)


def _on_fewest_pages(
    pattern: Pattern, names: Sequence[str], book: Workbook, setting: PrintSetting
) -> Picture:
    """Return the arrangement, among a few row widths, that takes the fewest pages."""
    wide = setting.paper.width - 2 * setting.margin - setting.overlap
    tries = [
        all_pieces_picture(pattern, names, book.unit, widest=k * wide, title=book.title)
        for k in (4, 5, 6, 7, 8)
    ]
    return min(tries, key=lambda p: len(plan_pages(p, setting).tiles))


def lay_drawing(picture: Picture, width: float = 480.0) -> bytes:
    """Return a lay as an SVG `width` mm wide on the screen or on paper."""
    return svg(picture, look=TABLE, width=width, alt=picture.title).encode()


def lay_pdf(picture: Picture) -> bytes:
    """Return a lay as a one-page PDF, reduced to fit an A3 sheet lengthwise."""
    page = Document(
        title=picture.title, blocks=(Illustration(picture=picture, alt=picture.title, width=390.0),)
    )
    return guide_pdf(page, paper=parse_paper("420 x 297 mm", unit=Unit.mm))
