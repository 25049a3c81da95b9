"""In what order is it sewn? The steps to tick, and the whole guide with its pictures."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Mapping
from dataclasses import replace

from markupsafe import Markup
from starlette.responses import JSONResponse, Response

from clothwright.drawing.printed import printed_piece
from clothwright.errors import BadInput, ClothwrightError
from clothwright.outputs.guide_md import guide_md
from clothwright.outputs.guide_pdf import guide_pdf
from clothwright.outputs.paper import parse_paper
from clothwright.outputs.table_csv import table_csv
from clothwright.picture.document import (
    Block,
    Caution,
    Document,
    Illustration,
    Para,
    Points,
    Table,
)
from clothwright.picture.picture import Picture, Text
from clothwright.store.beside.places import lay_file
from clothwright.web.page import Asked, Door, Page, handed_over
from clothwright.web.svg import inline
from clothwright.words import told
from clothwright.workroom.cutting.ticks import done_ticks, set_ticks
from clothwright.workroom.searching.laying import Laid, recall
from clothwright.workroom.sewing.guiding import BLADES, cuts_table, guide_document
from clothwright.workroom.sewing.order import sew_steps

SEWING = "sewing"
"""The list of ticks of the sewing: of no plan, so that it stays when the lay is another."""

ROUGH_MM = 0.5
PIXELS = 2500.0
"""A line may stray this far on the screen, or by this part of a picture's width: half a pixel."""
FINE = 400.0
"""Words lower than this part of a picture's width are left out: nobody could read them."""
WIDE_MM = 420.0
"""A piece wider than this takes a whole row on a phone."""


def render(asked: Asked) -> Mapping[str, object]:
    """Return the steps with their ticks, and the guide as blocks of HTML."""
    steps = sew_steps(asked.replayed.pattern, asked.book.unit)
    done = done_ticks(asked.opened.folder, SEWING, SEWING)
    laid, why_not = _laid(asked)
    return {
        "steps": tuple({"step": s, "done": s.key in done} for s in steps),
        "left": sum(1 for s in steps if s.key not in done),
        "guide": _guide(asked, laid),
        "plan": asked.book.chosen_plan,
        "has_lay": laid is not None,
        "why_not": why_not,
        "blades": BLADES,
        "printed": _printed(asked, laid),
    }


def _laid(asked: Asked) -> tuple[Laid | None, str]:
    """Return the kept lay of the chosen plan, or None and a sentence that says why there is none.

    It is made once for a revision and for the kept lay's file as it is.
    """
    book, folder = asked.book, asked.opened.folder
    if not book.plans:
        return None, "There is no plan yet."
    try:
        plan = book.plan("").name
        file = lay_file(folder, plan)
        stamp = file.stat().st_mtime_ns if file.exists() else 0
        found = asked.opened.once(
            "kept lay",
            asked.revision,
            lambda: recall(folder, book, plan, _start(asked, plan)),
            of=(plan, stamp),
        )
    except ClothwrightError as error:
        return None, told(error, book.unit)
    if found is None:
        return None, f"The plan “{plan}” is not laid yet, or the pieces have changed since."
    return found, ""


def _start(asked: Asked, plan: str) -> Laid:
    return asked.lays.start_of(asked.at or asked.opened.read(), plan)


def _printed(asked: Asked, laid: Laid | None) -> tuple[Mapping[str, object], ...]:
    """Return each laid piece of a printed cloth with the print on it, all to one scale."""
    if laid is None:
        return ()
    designed = {c.name for c in laid.compiled.cloths if c.print.has_design}

    def make() -> tuple[Mapping[str, object], ...]:
        out = []
        for placement in sorted(laid.lay.placements, key=lambda p: p.shape):
            if placement.region in designed:
                picture = _bare(printed_piece(laid.compiled, placement))
                low, high = picture.bounds()
                drawing = inline(picture, alt="", margin=3.0, rough=ROUGH_MM)
                wide = high.x - low.x > WIDE_MM
                out.append({"name": placement.shape, "drawing": drawing, "wide": wide})
        return tuple(out)

    return asked.opened.once("printed", asked.revision, make, of=laid.lay.placements)


def _document(asked: Asked, laid: Laid | None) -> Document:
    return asked.opened.once(
        "guide",
        asked.revision,
        lambda: guide_document(asked.book, [laid] if laid else [], asked.replayed),
        of=laid and laid.lay.placements,
    )


def _guide(asked: Asked, laid: Laid | None) -> tuple[Mapping[str, object], ...]:
    """Return the guide's sections with their depth, title and blocks as HTML, in reading order."""
    document = _document(asked, laid)
    first = [{"depth": 0, "title": "", "blocks": tuple(map(block_html, document.blocks))}]
    return (
        *first,
        *(
            {"depth": depth, "title": s.title, "blocks": tuple(map(block_html, s.blocks))}
            for depth, s in document.walk()
        ),
    )


def block_html(block: Block) -> Markup:
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
            return _figure(block)


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


def _figure(figure: Illustration) -> Markup:
    if not figure.picture.items:
        return Markup("")
    low, high = figure.picture.bounds()
    wide = high.x - low.x
    seen = (i for i in figure.picture.items if not (isinstance(i, Text) and i.size < wide / FINE))
    picture = _bare(replace(figure.picture, items=tuple(seen)))
    rough = max(ROUGH_MM, wide / PIXELS)
    drawing = inline(picture, alt=figure.alt, to_scale=False, rough=rough)
    words = Markup("<figcaption>{}</figcaption>").format(figure.caption) if figure.caption else ""
    return Markup(
        '<figure class="guide-figure"><div class="wide-figure" tabindex="0" role="group" '
        'aria-label="{}">{}</div>{}</figure>'
    ).format(f"Picture: {figure.alt}", drawing, words)


def _bare(picture: Picture) -> Picture:
    """Return a picture whose parts nothing takes hold of: without the names of their pieces."""
    return replace(picture, items=tuple(replace(i, group="") for i in picture.items))


def _pdf(asked: Asked) -> Response:
    """GET guide.pdf."""
    book = asked.book
    page = parse_paper(book.settings.paper, unit=book.unit)
    document = _document(asked, _laid(asked)[0])
    return handed_over(guide_pdf(document, paper=page), "application/pdf", "guide.pdf")


def _text(asked: Asked) -> Response:
    """GET guide.zip: the text with its pictures beside it."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as box:
        for file in guide_md(_document(asked, _laid(asked)[0])):
            box.writestr(file.name, file.content)
    return handed_over(out.getvalue(), "application/zip", "guide.zip")


def _cuts(asked: Asked) -> Response:
    """GET cuts.csv."""
    content = table_csv(cuts_table(asked.replayed.pattern))
    return handed_over(content, "text/csv; charset=utf-8", "cuts.csv")


def _tick(asked: Asked) -> Response:
    """POST {"key": "sew seam side", "done": true, "at": ""}."""
    try:
        sent = json.loads(asked.sent or b"null")
    except ValueError:
        sent = None
    if not isinstance(sent, dict) or not isinstance(sent.get("done"), bool):
        raise BadInput(where="tick", what="this is no tick", expected="a key, and done or not")
    key, at = sent.get("key"), sent.get("at", "")
    steps = sew_steps(asked.replayed.pattern, asked.book.unit)
    step = next((s for s in steps if s.key == key), None)
    if step is None:
        raise BadInput(where="tick", what="there is no such step", expected="a step of the list")
    set_ticks(
        asked.opened.folder,
        SEWING,
        SEWING,
        {step.key: sent["done"]},
        at=at if isinstance(at, str) else "",
    )
    asked.opened.tell("ticks")
    return JSONResponse({"key": step.key, "done": sent["done"]})


PAGE = Page(
    name="sew",
    path="/b/{book}/sew",
    question="In what order is it sewn?",
    render=render,
    doors=(
        Door(path="/b/{book}/sew/guide.pdf", answer=_pdf),
        Door(path="/b/{book}/sew/guide.zip", answer=_text),
        Door(path="/b/{book}/sew/cuts.csv", answer=_cuts),
        Door(path="/b/{book}/sew/tick", answer=_tick, methods=("POST",)),
    ),
    modules=("sew.js",),
)
