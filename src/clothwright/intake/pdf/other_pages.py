"""Pages of a file that have no place among its tiles: covers, lone pages, blank ones.

None that carries lines is dropped without a word. A cover's sizes and test square are read.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import Sheet
from clothwright.intake.pdf.drawn import DrawnPage
from clothwright.intake.pdf.laid_pages import APART_MM, Joined, left_out
from clothwright.intake.sizes_by_pen import legend_of
from clothwright.intake.true_size import checked
from clothwright.words import counted, listed


def with_others(
    joined: Joined, pages: Sequence[DrawnPage], tiles: Sequence[DrawnPage], *, marked: bool
) -> Joined:
    """Return the drawing with the other pages of the file, told.

    tiles: without what stands on all of them; those that found no place are laid beside the
    drawing. marked: tiles have a frame, or are said, so that any other page is a cover: of it the
    legend and the test square are read. Else it is laid beside too.
    """
    if joined.pages is None:
        return joined
    placed = {s.number for s in joined.pages.sheets}
    bare = {p.number: p for p in tiles}
    lines, texts, notes = list(joined.lines), list(joined.texts), list(joined.notes)
    sheets = list(joined.pages.sheets)
    x, y = max(s.high.x for s in sheets) + APART_MM, min(s.low.y for s in sheets)
    blank: list[int] = []
    covers: list[int] = []
    read: list[int] = []
    beside: list[int] = []
    for whole in (p for p in pages if p.number not in placed):
        page = bare.get(whole.number, whole)
        cover = marked and whole.number not in bare
        known = _said_by(page) if cover else frozenset(range(len(page.lines)))
        if not page.lines:
            blank.append(page.number)
            continue
        move = translation(Vec(x, y))
        x += page.width + APART_MM
        lines += [
            replace(line, path=line.path.transformed(move))
            for k, line in enumerate(page.lines)
            if k in known
        ]
        texts += [replace(t, at=move.apply(t.at)) for t in page.texts if known]
        if cover:
            gone = len(page.lines) - len(known)
            (covers if gone else read).append(page.number)
            notes.append(_cover_note(page, gone))
        else:
            beside.append(page.number)
            low = move.apply(Vec(0.0, 0.0))
            sheets.append(Sheet(page.number, low, low + Vec(page.width, page.height)))
    if beside:
        some = listed([str(n) for n in beside])
        notes.append(
            f"laid beside the others, {counted(len(beside), 'page')} of which no line runs on to "
            f"another: {some} (when they belong among them, say how all pages lie)"
        )
    notes += left_out(blank, "nothing is drawn on them")
    return Joined(
        tuple(lines),
        tuple(texts),
        tuple(notes),
        replace(
            joined.pages,
            sheets=tuple(sheets),
            beside=tuple(sorted((*joined.pages.beside, *beside))),
            covers=tuple(covers),
            left=tuple(sorted((*blank, *covers, *read))),
        ),
    )


def _said_by(page: DrawnPage) -> frozenset[int]:
    """Return the numbers of the lines of a cover that say something: test squares, a legend."""
    squares = checked(page.lines, page.texts).of_square
    return squares | frozenset(legend_of(page.lines, page.texts))


def _cover_note(page: DrawnPage, gone: int) -> str:
    if not gone:
        return f"page {page.number} is a cover: only its test square and legend were read"
    return (
        f"left out, page {page.number} with {counted(gone, 'line')}: it is a cover, for it has no "
        "frame as the others have (when it belongs among them, say how all pages lie)"
    )
