"""A pattern at full size on one large sheet, for a plotter or a copy shop."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.drawing.style import PRINT, Look
from clothwright.errors import BadInput
from clothwright.geometry.vec import Vec
from clothwright.outputs.fonts import shortened
from clothwright.outputs.marks import SQUARE_MM, measuring_square
from clothwright.outputs.paper import LONGEST_PAGE_MM, Paper
from clothwright.outputs.pdf_canvas import PagePart, PdfPage, pdf_of_pages
from clothwright.outputs.tiled_pdf import PrintSetting, pattern_pages, plan_pages
from clothwright.picture.picture import Item, Picture, Text
from clothwright.units import Unit
from clothwright.words import show_length

MARGIN_MM = 15.0
STRIP_MM = SQUARE_MM + 8.0
"""Height of the strip under the pattern with its title and the test square."""

LEAST_WIDTH_MM = 190.0
SPLIT_OVERLAP_MM = 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSetting:
    """margin: clear paper round everything, mm. widest: of the paper or roll, mm; None: any."""

    margin: float = MARGIN_MM
    widest: float | None = None
    unit: Unit = Unit.cm


def sheet_pdf(picture: Picture, setting: SheetSetting | None = None, look: Look = PRINT) -> bytes:
    """Return a PDF with the picture at full size on a page just large enough, test square below.

    A page side may be 5080 mm at most; a longer or, for a roll, wider picture is split into as few
    large pages as it takes, each with test square and joining marks. Raises BadInput, CannotDo.
    """
    setting = setting or SheetSetting()
    if not picture.items:
        raise BadInput(
            what="there is nothing to print", where=picture.title, expected="at least one piece"
        )
    wide, tall = picture.bounds().size
    width = max(wide, LEAST_WIDTH_MM) + 2 * setting.margin
    height = tall + STRIP_MM + 2 * setting.margin
    title = picture.title or "Pattern"
    if width <= (setting.widest or LONGEST_PAGE_MM) and height <= LONGEST_PAGE_MM:
        return pdf_of_pages((_sheet(picture, setting, Vec(width, height), look),), title)
    return pdf_of_pages(_split(picture, setting, look), title)


def _sheet(picture: Picture, setting: SheetSetting, size: Vec, look: Look) -> PdfPage:
    margin = setting.margin
    origin = Vec(margin, margin + STRIP_MM) - picture.bounds().low
    below = _strip(picture, setting, Vec(margin, margin))
    parts = (PagePart(below, PRINT), PagePart(picture, look, origin))
    return PdfPage(size.x, size.y, "1", parts)


def _strip(picture: Picture, setting: SheetSetting, corner: Vec) -> Picture:
    wide = picture.bounds().size
    size = " × ".join(show_length(x, setting.unit) for x in wide)
    beside = corner + Vec(SQUARE_MM + 6.0, SQUARE_MM - 6.0)
    room = max(wide.x, LEAST_WIDTH_MM) - SQUARE_MM - 6.0
    lines = (
        (picture.title or "Pattern", 6.0),
        (f"Full size, {size}", 3.4),
        ("The square is 100 mm both ways: measure it first.", 2.7),
        ("Print at 100 %, never “fit to page”. For paper only:", 2.7),
        ("keep fingers off the ruler’s edge, close the blade", 2.7),
        ("whenever you put it down.", 2.7),
    )
    items: list[Item] = []
    y = beside.y
    for words, type_size in lines:
        text = shortened(words, type_size, room)
        items.append(Text(words=text, at=Vec(beside.x, y), size=type_size))
        y -= type_size * 1.8
    return measuring_square(corner, SQUARE_MM).plus(Picture(items=tuple(items)))


def _split(picture: Picture, setting: SheetSetting, look: Look) -> tuple[PdfPage, ...]:
    wide, tall = picture.bounds().size
    edge = 2 * setting.margin + 2.0
    widest = min(setting.widest or LONGEST_PAGE_MM, LONGEST_PAGE_MM)
    width = min(widest, max(wide, LEAST_WIDTH_MM) + edge)
    height = min(LONGEST_PAGE_MM, max(tall, LEAST_WIDTH_MM) + edge)
    paper = Paper(name="sheet", width=width, height=height)
    pages = PrintSetting(
        paper=paper, margin=setting.margin, overlap=SPLIT_OVERLAP_MM, unit=setting.unit
    )
    return pattern_pages(picture, plan_pages(picture, pages), look)
