"""The wearer as a part of the guide, for when she is asked for: measurements, size, room."""

from __future__ import annotations

from clothwright.body.measures import measure_of
from clothwright.body.suggest import KINDS
from clothwright.checks.wearing_ease import rooms_of
from clothwright.pattern.pattern import Pattern
from clothwright.picture.document import Block, Chapter, Para, Points, Table
from clothwright.words import say, show_length
from clothwright.workbook import Workbook
from clothwright.workroom.pieces.sizing import sizing_of


def wearer_sections(book: Workbook, pattern: Pattern) -> tuple[Chapter, ...]:
    """Return what is known of the wearer as a section; none when nobody was measured."""
    body = book.body
    if not body.taken:
        return ()
    rows = tuple(
        (measure_of(m).name, figure.text, show_length(figure.mm, book.unit))
        for m, figure in body.taken
    )
    noted = "; ".join(words for words in (body.day, body.note) if words)
    blocks: list[Block] = [Para(words=f"Measured: {noted}.")] if noted else []
    blocks.append(Table(head=("measurement", "as measured", f"in {book.unit.plural}"), rows=rows))
    said = _said(book, pattern)
    if said:
        blocks.append(Points(items=said))
    return (Chapter(title="The wearer", blocks=tuple(blocks)),)


def _said(book: Workbook, pattern: Pattern) -> tuple[str, ...]:
    sizing = sizing_of(book)
    sizes = [] if sizing is None else [
        f"{KINDS[s.kind].capitalize()}: {say(s.words, book.unit)}" for s in sizing.suggestions
    ]  # fmt: skip
    rooms = [
        f"{' and '.join(r.girth.pieces)}. {say(r.words, book.unit)}"
        for r in rooms_of(pattern, book.body.figures())
    ]
    return (*sizes, *rooms)
