"""In what order is it sewn? The steps to tick, and the whole guide with its pictures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from markupsafe import Markup
from starlette.responses import JSONResponse, Response

from clothwright.errors import garbled
from clothwright.picture.document import (
    Block,
    Caution,
    Document,
    Illustration,
    Para,
    Points,
    Table,
)
from clothwright.picture.photo_svg import Address, no_photos
from clothwright.picture.picture import Text
from clothwright.web.cloth_pictures import photos_of
from clothwright.web.page import Asked, Door, PageFile, handed_over, post
from clothwright.web.svg import inline
from clothwright.workroom.cutting.documents import pdf_file, text_file
from clothwright.workroom.sewing.guiding import cuts_file
from clothwright.workroom.sewing.reading import (
    PrintedPiece,
    guide_of,
    reading_of,
    tick_step,
    without_names,
)

ROUGH_MM = 0.5
PIXELS = 2500.0
"""A line may stray this far on the screen, or by this part of a picture's width: half a pixel."""
FINE = 400.0
"""Words lower than this part of a picture's width are left out: nobody could read them."""
WIDE_MM = 420.0
"""A piece wider than this takes a whole row on a phone."""


def render(asked: Asked) -> Mapping[str, object]:
    """Return the steps with their ticks, and the guide as blocks of HTML."""
    reading = reading_of(asked.lays, asked.seen)
    photos = photos_of(asked.opened.name)
    return {
        "reading": reading,
        "guide": _guide(reading.guide, photos),
        "printed": asked.opened.once(
            "printed drawn",
            asked.revision,
            lambda: tuple(_drawn(p, photos) for p in reading.printed),
            of=reading.printed,
        ),
    }


def _drawn(piece: PrintedPiece, photos: Address) -> Mapping[str, object]:
    """Return a piece with its print as a drawing, all of them to one scale."""
    drawing = inline(piece.picture, alt="", margin=3.0, rough=ROUGH_MM, photos=photos)
    return {"name": piece.name, "drawing": drawing, "wide": piece.picture.bounds().size.x > WIDE_MM}


def _guide(document: Document, photos: Address) -> tuple[Mapping[str, object], ...]:
    """Return the guide's sections with their depth, title and blocks as HTML, in reading order."""
    first = {"depth": 0, "title": "", "blocks": _blocks(document.blocks, photos)}
    return (
        first,
        *(
            {"depth": depth, "title": s.title, "blocks": _blocks(s.blocks, photos)}
            for depth, s in document.walk()
        ),
    )


def _blocks(blocks: Sequence[Block], photos: Address) -> tuple[Markup, ...]:
    return tuple(block_html(block, photos) for block in blocks)


def block_html(block: Block, photos: Address = no_photos) -> Markup:
    """Return one block of a document as HTML."""
    match block:
        case Para():
            return Markup("<p>{}</p>").format(block.words)
        case Caution():
            return Markup('<p class="words notice caution"><b>Take care.</b> {}</p>').format(
                block.words
            )
        case Points():
            tag = Markup("ol" if block.numbered else "ul")
            items = Markup("").join(Markup("<li>{}</li>").format(i) for i in block.items)
            return Markup("<{0}>{1}</{0}>").format(tag, items)
        case Table():
            return _table(block)
        case Illustration():
            return _figure(block, photos)


def _table(table: Table) -> Markup:
    def cells(row: tuple[str, ...], tag: str, scope: str) -> Markup:
        out = []
        for n, words in enumerate(row):
            kind = Markup(' class="figure"') if n in table.figures else Markup("")
            name = tag if n or scope == "col" else "th"
            name = name if words else "td"
            mark = Markup(f' scope="{scope}"') if name == "th" else Markup("")
            out.append(Markup("<{0}{1}{2}>{3}</{0}>").format(Markup(name), mark, kind, words))
        return Markup("").join(out)

    body = Markup("").join(
        Markup("<tr>{}</tr>").format(cells(row, "td", "row")) for row in table.rows
    )
    caption = Markup("<caption>{}</caption>").format(table.caption) if table.caption else ""
    return Markup(
        '<div class="wide-table" tabindex="0" role="group" aria-label="{}"><table>{}<thead><tr>{}'
        "</tr></thead><tbody>{}</tbody></table></div>"
    ).format(table.caption or "Table", caption, cells(table.head, "th", "col"), body)


def _figure(figure: Illustration, photos: Address) -> Markup:
    if not figure.picture.items:
        return Markup("")
    wide = figure.picture.bounds().size.x
    seen = (i for i in figure.picture.items if not (isinstance(i, Text) and i.size < wide / FINE))
    picture = without_names(replace(figure.picture, items=tuple(seen)))
    rough = max(ROUGH_MM, wide / PIXELS)
    drawing = inline(picture, alt=figure.alt, to_scale=False, rough=rough, photos=photos)
    words = Markup("<figcaption>{}</figcaption>").format(figure.caption) if figure.caption else ""
    return Markup(
        '<figure class="guide-figure"><div class="wide-figure" tabindex="0" role="group" '
        'aria-label="{}">{}</div>{}</figure>'
    ).format(f"Picture: {figure.alt}", drawing, words)


def _pdf(asked: Asked) -> Response:
    """GET guide.pdf."""
    file = pdf_file(guide_of(asked.lays, asked.seen), asked.book, "guide")
    return handed_over(file.content, file.name)


def _text(asked: Asked) -> Response:
    """GET guide.zip: the text with its pictures beside it."""
    file = text_file(guide_of(asked.lays, asked.seen), "guide")
    return handed_over(file.content, file.name)


def _cuts(asked: Asked) -> Response:
    """GET cuts.csv."""
    file = cuts_file(asked.replayed.pattern)
    return handed_over(file.content, file.name)


def _tick(asked: Asked) -> Response:
    """POST {"key": "sew seam side", "done": true, "at": ""}."""
    sent = asked.json
    if not isinstance(sent.get("done"), bool):
        raise garbled()
    when, done = sent.get("at", ""), sent["done"]
    step = tick_step(
        asked.lays,
        asked.seen,
        sent.get("key"),
        done=done,
        when=when if isinstance(when, str) else "",
    )
    return JSONResponse({"key": step.key, "done": done})


PAGE = PageFile(
    render=render,
    doors=(
        Door("guide.pdf", _pdf),
        Door("guide.zip", _text),
        Door("cuts.csv", _cuts),
        post("tick", _tick),
    ),
    modules=("sew.js",),
)
