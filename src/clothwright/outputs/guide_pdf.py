"""A guide as a printable PDF with its pictures as lines, not pixels."""

from __future__ import annotations

import io
from dataclasses import dataclass
from typing import Any

from reportlab.lib import colors
from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import (
    BaseDocTemplate,
    Flowable,
    Frame,
    ListFlowable,
    ListItem,
    PageTemplate,
    Paragraph,
    Spacer,
)
from reportlab.platypus import Table as Rows

from clothwright.drawing.style import INK, PENCIL, TABLE, WALNUT
from clothwright.outputs import fonts
from clothwright.outputs.paper import Paper, parse_paper
from clothwright.outputs.pdf_canvas import POINT_MM, draw
from clothwright.picture.document import (
    Block,
    Caution,
    Chapter,
    Document,
    Illustration,
    Para,
    Points,
    Table,
)
from clothwright.picture.picture import Picture
from clothwright.picture.xml_words import escape

A4 = parse_paper("A4")
MARGIN_MM = 18.0
MM = 1 / POINT_MM
SHADE = colors.HexColor("#f1eee8")
LINE = colors.HexColor("#b9b3aa")


def guide_pdf(document: Document, *, paper: Paper = A4) -> bytes:
    """Return the guide as a PDF: pages numbered, headings in the outline, the same bytes each time.

    Pictures are drawn at the width their figure asks for, or to fit the page; they are for reading,
    not for cutting by.
    """
    fonts.load()
    out = io.BytesIO()
    pages = _Pages(out, document, paper)
    story = _story(document, pages.room)
    pages.build(story)
    return out.getvalue()


class _Pages(BaseDocTemplate):  # type: ignore[misc]
    """Pages with a foot line and an outline of the headings."""

    def __init__(self, out: io.BytesIO, document: Document, paper: Paper) -> None:
        super().__init__(
            out,
            pagesize=(paper.width * MM, paper.height * MM),
            title=document.title,
            author="",
            subject="",
            creator="Clothwright",
            invariant=1,
            pageCompression=1,
            initialFontName=fonts.PLAIN,
            lang="en",
        )
        self._foot = fonts.legible(document.title)
        self.room = PageRoom(paper.width - 2 * MARGIN_MM, paper.height - 2 * MARGIN_MM - 8.0)
        frame = Frame(
            MARGIN_MM * MM,
            (MARGIN_MM + 8.0) * MM,
            self.room.width * MM,
            self.room.height * MM,
            leftPadding=0,
            rightPadding=0,
            topPadding=0,
            bottomPadding=0,
        )
        self.addPageTemplates(PageTemplate(frames=[frame], onPage=self._draw_foot))

    def _draw_foot(self, pdf: Any, _: Any) -> None:
        pdf.saveState()
        pdf.setFillColor(PENCIL)
        pdf.setFont(fonts.PLAIN, 8)
        y = (MARGIN_MM - 4.0) * MM
        pdf.drawString(
            MARGIN_MM * MM, y, fonts.shortened(self._foot, 8, self.room.width * 0.8 * MM)
        )
        pdf.drawRightString((MARGIN_MM + self.room.width) * MM, y, str(pdf.getPageNumber()))
        pdf.restoreState()

    def afterFlowable(self, flowable: Any) -> None:  # noqa: N802
        """Put every heading into the reader's outline."""
        depth = getattr(flowable, "heading_depth", None)
        if depth is None:
            return
        key = f"h{self.canv.getPageNumber()}-{id_of(flowable)}"
        self.canv.bookmarkPage(key)
        self.canv.addOutlineEntry(flowable.getPlainText(), key, depth, closed=depth > 0)


def id_of(flowable: Any) -> int:
    """The heading's place in the guide, given when the story is made."""
    return int(flowable.heading_number)


@dataclass(frozen=True, slots=True)
class PageRoom:
    """What a page holds, mm."""

    width: float
    height: float


def _style(name: str, size: float, **more: Any) -> ParagraphStyle:
    settings = {
        "fontName": fonts.PLAIN,
        "bulletFontName": fonts.PLAIN,
        "fontSize": size,
        "leading": size * 1.4,
        "textColor": colors.HexColor(INK),
        "spaceAfter": size * 0.5,
        **more,
    }
    return ParagraphStyle(name, **settings)


BODY = _style("body", 9.5)
CELL = _style("cell", 8.5, spaceAfter=0)
FIGURE_CELL = _style("figure-cell", 8.5, spaceAfter=0, alignment=TA_RIGHT)
FINE = _style("fine", 8.0, textColor=colors.HexColor(WALNUT), fontName=fonts.SLANTED)
TITLE = _style("title", 22.0, fontName=fonts.BOLD, spaceAfter=4)
SUBTITLE = _style("subtitle", 11.0, textColor=colors.HexColor(WALNUT), spaceAfter=14)
HEADINGS = (
    _style("h1", 15.0, fontName=fonts.BOLD, spaceBefore=16, keepWithNext=1),
    _style("h2", 11.5, fontName=fonts.BOLD, spaceBefore=10, keepWithNext=1),
    _style("h3", 9.5, fontName=fonts.BOLD, spaceBefore=8, keepWithNext=1),
)
CAUTION = _style(
    "caution",
    9.5,
    backColor=SHADE,
    borderColor=colors.HexColor(INK),
    borderWidth=0.8,
    borderPadding=(6, 8, 6, 8),
    leftIndent=9,
    rightIndent=9,
    spaceBefore=10,
    spaceAfter=14,
)


def _story(document: Document, room: PageRoom) -> list[Any]:
    story: list[Any] = [Paragraph(_words(document.title), TITLE)]
    if document.subtitle:
        story.append(Paragraph(_words(document.subtitle), SUBTITLE))
    story += _flow(document.blocks, room)
    for number, (depth, section) in enumerate(document.walk()):
        story += _section(section, depth, number, room)
    return story


def _section(section: Chapter, depth: int, number: int, room: PageRoom) -> list[Any]:
    heading = Paragraph(_words(section.title), HEADINGS[min(depth, len(HEADINGS)) - 1])
    heading.heading_depth = depth - 1
    heading.heading_number = number
    return [heading, *_flow(section.blocks, room)]


def _flow(blocks: tuple[Block, ...], room: PageRoom) -> list[Any]:
    return [flowable for block in blocks for flowable in _flowables(block, room)]


def _flowables(block: Block, room: PageRoom) -> list[Any]:
    if isinstance(block, Para):
        return [Paragraph(_words(block.words), BODY)]
    if isinstance(block, Caution):
        return [Paragraph(f"<b>Take care.</b> {_words(block.words)}", CAUTION)]
    if isinstance(block, Points):
        return [_list(block)] if block.items else []
    if isinstance(block, Table):
        return _table(block, room)
    return _figure(block, room)


def _list(points: Points) -> Any:
    start = {"bulletType": "1", "bulletFormat": "%s."} if points.numbered else {}
    if not points.numbered:
        start = {"bulletType": "bullet", "start": "[ ]" if points.tick else "•"}
    items = [ListItem(Paragraph(_words(item), BODY)) for item in points.items]
    return ListFlowable(
        items,
        leftIndent=18,
        bulletFontName=fonts.PLAIN,
        bulletFontSize=9.5,
        bulletColor=colors.HexColor(INK),
        **start,
    )


def _table(table: Table, room: PageRoom) -> list[Any]:
    head = [Paragraph(f"<b>{_words(cell)}</b>", CELL) for cell in table.head]
    body = [
        [
            Paragraph(_words(cell), FIGURE_CELL if i in table.figures else CELL)
            for i, cell in enumerate(row)
        ]
        for row in table.rows
    ]
    rows = Rows(
        [head, *body],
        colWidths=_column_widths(table, room),
        repeatRows=1,
        hAlign="LEFT",
        style=[
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LINEBELOW", (0, 0), (-1, 0), 0.8, colors.HexColor(INK)),
            ("LINEBELOW", (0, 1), (-1, -1), 0.3, LINE),
            ("TOPPADDING", (0, 0), (-1, -1), 3),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 3),
            ("FONTNAME", (0, 0), (-1, -1), fonts.PLAIN),
        ],
    )
    caption = [Paragraph(_words(table.caption), FINE)] if table.caption else []
    return [*caption, rows, Spacer(1, 8)]


def _column_widths(table: Table, room: PageRoom) -> list[float]:
    """As wide as the longest cell asks, narrowed together when the page is too narrow."""
    asked = [
        max(fonts.width(fonts.legible(cell), CELL.fontSize, fonts.BOLD) for cell in column) + 14
        for column in zip(table.head, *table.rows, strict=True)
    ]
    room_pt = room.width * MM
    if sum(asked) <= room_pt:
        return asked
    fair = room_pt / len(asked)
    spare = sum(max(0.0, fair - each) for each in asked)
    over = sum(max(0.0, each - fair) for each in asked)
    return [each if each <= fair else fair + spare * (each - fair) / over for each in asked]


def _figure(figure: Illustration, room: PageRoom) -> list[Any]:
    if not figure.picture.items:
        return [Paragraph(_words(figure.alt), FINE)]
    drawing = _Drawing(figure.picture, min(figure.width, room.width), room.height * 0.82)
    caption = [Paragraph(_words(figure.caption), FINE)] if figure.caption else []
    together = [Spacer(1, 6), drawing, Spacer(1, 3), *caption]
    for flowable in together[:-1]:
        flowable.keepWithNext = 1
    return [*together, Spacer(1, 6)]


class _Drawing(Flowable):  # type: ignore[misc]
    """A picture as a block in the flow of the page."""

    def __init__(self, picture: Picture, wide: float, tallest: float) -> None:
        super().__init__()
        box = picture.bounds()
        self._picture, self._low = picture, box.low
        self._scale = min(wide / max(box.size.x, 1e-6), tallest / max(box.size.y, 1e-6))
        self.width, self.height = box.size * (self._scale * MM)

    def wrap(self, *_: float) -> tuple[float, float]:
        """The room it takes, in points."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw it with its lower left at the canvas's (0, 0)."""
        unit = self._scale * MM
        self.canv.saveState()
        self.canv.transform(unit, 0, 0, unit, -self._low.x * unit, -self._low.y * unit)
        draw(self.canv, self._picture, TABLE, scale=self._scale, layers=False)
        self.canv.restoreState()


def _words(words: str) -> str:
    return escape(fonts.unbroken(fonts.legible(" ".join(words.split()))))
