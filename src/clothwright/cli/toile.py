"""clothwright toile: what the trial garment showed, and the changes that would answer it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from clothwright.cli.saying import lines, open_book, out, table
from clothwright.workroom.editing.edits.toile import NoteToile, RemoveToile, SetToile
from clothwright.workroom.toile.noting import form_of_toile, today
from clothwright.workroom.toile.proposed import NoteShown, notes_shown, take_proposed
from clothwright.workroom.toile.signs import SIGNS


def toile(
    workbook: Path,
    where: str = "",
    *,
    seen: str = "",
    by: Annotated[str, Parameter(allow_leading_hyphen=True)] = "",
    side: str = "both",
    day: str | None = None,
    words: str = "",
    take: tuple[int, int] | None = None,
    leave: int | None = None,
    remove: int | None = None,
) -> None:
    """Note what the trial garment showed, and take the changes that would answer it.

    Without more, every note is shown with its proposals, numbered. `clothwright toile WORKBOOK
    signs` shows what can be seen, and what to measure; `clothwright toile WORKBOOK places` where.
    Each call is one step, which `clothwright undo` takes back.

    Parameters
    ----------
    workbook
        The workbook's folder.
    where
        The place: PIECE.EDGE, PIECE.LINE, PIECE.POINT or a piece; or "signs", or "places".
    seen
        What you see there, one of the signs.
    by
        How much, measured on the body.
    side
        On which side of the body: both, left or right.
    day
        The day, such as 2026-11-30; without it today.
    words
        What you add in your own words.
    take
        Take a proposal: the number of its note, and its own.
    leave
        Leave the note of this number as it is.
    remove
        Remove the note of this number.
    """
    if where == "signs":
        table(
            ("sign", "what you see", "what to measure"), [(s.id, s.said, s.measure) for s in SIGNS]
        )
        return
    book = open_book(workbook)
    if where == "places":
        at = book.look()
        lines(
            key for _, found in form_of_toile(book.replayed(at).pattern).places for key, _ in found
        )
        return
    base = book.read().revision if where or leave is not None or remove is not None else 0
    if where:
        on = today() if day is None else day
        given = {"where": where, "seen": seen, "by": by, "side": side, "day": on, "words": words}
        note = NoteToile(values={k: v for k, v in given.items() if v})
        out.print(book.edit(note, base=base).words)
    if leave is not None:
        out.print(book.edit(SetToile(note=str(leave), values={"answer": "left"}), base=base).words)
    if remove is not None:
        out.print(book.edit(RemoveToile(note=str(remove)), base=base).words)
    if take is not None:
        out.print(f"Taken: {take_proposed(book, *take)}")
    now = book.look()
    shown = notes_shown(now.book, book.replayed(now))
    lines(_told(shown))


def _told(notes: tuple[NoteShown, ...]) -> Iterator[str]:
    if not notes:
        yield "Nothing is noted yet. What can be seen: clothwright toile WORKBOOK signs"
    for n in notes:
        yield f"{n.number}. {n.said}"
        yield from (f"   Taken: {said}" for said in n.taken)
        for change, words in n.beside:
            there = f"clothwright change WORKBOOK --edit {change} --alike"
            yield f"   With it goes {words}. The same there: {there}"
        if n.left:
            yield "   Left as it is."
            continue
        yield from (f"   {words}" for words in (n.cause, n.trouble) if words)
        if n.caution and n.proposals:
            yield f"   {n.caution}"
        for k, p in enumerate(n.proposals, start=1):
            told = p.trouble and f"cannot be done here: {p.trouble}"
            yield f"   {k}: {p.title}. {told or f'{p.asks} {p.after}'}"
    if any(n.proposals and not n.left for n in notes):
        yield "To take one: clothwright toile WORKBOOK --take NOTE PROPOSAL"
