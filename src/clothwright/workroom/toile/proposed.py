"""The notes of the toile, each with the changes that would answer it, done on the pieces as now."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TypeVar

from clothwright.body.toile import ToileNote
from clothwright.drawing.marked import marked_picture
from clothwright.errors import BadInput, CannotDo
from clothwright.pattern.names import Ref, is_there, later
from clothwright.pattern.pattern import Pattern
from clothwright.picture.picture import Picture
from clothwright.store.book.shapes import settled
from clothwright.words import ref_name, say, split_ref, told
from clothwright.workbook import Replay, Workbook, check_settings
from clothwright.workroom.changing.alike import said_alike
from clothwright.workroom.editing.edits.changes import AddChange
from clothwright.workroom.editing.mending import Mending, mending_of
from clothwright.workroom.editing.opened import OpenBook
from clothwright.workroom.toile.sign import SeenAt, Sign, kind_of_place
from clothwright.workroom.toile.signs import SIGNS, note_said
from clothwright.workroom.toile.told import answers
from clothwright.workroom.walking.trial import new_words

T = TypeVar("T")
ONE_SIDE = (
    "It was seen on one side only; the piece stands for both, and both are changed alike. Look "
    "at the other side before you take one."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteShown:
    """One thing the toile showed, in the workbook's unit. number: from 1, as it is typed.

    cause: its likely cause and the correction, sentences, with their source. proposals: the changes
    that would answer it and are not taken; taken: what those did that were; beside: the number of
    each that was not done to what goes with its pieces, and what that is. trouble: why there are no
    proposals; caution: what to mind with them. marked: the piece with the place marked, and what is
    drawn in words; None where it is not there.
    """

    number: int
    name: str
    said: str
    cause: str
    source: str
    proposals: tuple[Mending, ...]
    taken: tuple[str, ...]
    beside: tuple[tuple[str, str], ...]
    left: bool
    trouble: str
    caution: str
    marked: tuple[Picture, str] | None


def notes_shown(book: Workbook, done: Replay) -> tuple[NoteShown, ...]:
    """Return every note of the toile. done: the changes as applied."""
    return tuple(_shown(book, done, n, note) for n, note in enumerate(book.toile, start=1))


def take_proposed(opened: OpenBook, number: int, proposal: int) -> str:
    """Add a proposed change, by its note's number and its own; return what it did.

    One step of the history. Raises BadInput for a number that is not there, CannotDo for a change
    that cannot be done.
    """
    at = opened.read()
    shown = notes_shown(at.book, opened.replayed(at))
    note = _numbered(shown, number, "note of the toile")
    if not note.proposals:
        raise CannotDo(
            what=f"there is nothing to take for note {number} of the toile",
            why="its change is taken already" if note.taken else "no one change answers it",
            nearest="to take a proposal of another note",
        )
    taken = _numbered(note.proposals, proposal, f"proposal for note {number}")
    change = AddChange(kind=taken.change, params=taken.params, toile=note.name)
    return opened.edit(change, base=at.revision).words


def _numbered(rows: tuple[T, ...], number: int, what: str) -> T:
    if not 1 <= number <= len(rows):
        known = f"a number from 1 to {len(rows)}" if rows else f"a {what} first"
        raise BadInput(what=f"there is no {what} {number}", expected=known)
    return rows[number - 1]


def _shown(book: Workbook, done: Replay, number: int, note: ToileNote) -> NoteShown:
    sign = next((s for s in SIGNS if s.id == note.seen), None)
    seen, trouble = None, "" if sign else "What was seen is of a kind that is not known here."
    try:
        seen = seen_at(done.pattern, note, sign) if sign else None
    except (BadInput, CannotDo) as error:
        trouble = told(error, book.unit)
    mine = [s for s in book.steps if s.toile == note.name and s.on]
    proposals = tuple(_proposed(book, done, sign, seen)) if sign and seen else ()
    known = [(s.change, settled(s.params)) for s in mine]
    proposals = tuple(p for p in proposals if (p.change, settled(p.params)) not in known)
    if sign and not trouble and not proposals and not mine:
        trouble = f"No change of the list does it in one step: {sign.correction}."
    return NoteShown(
        number=number,
        name=note.name,
        said=say(note_said(note), book.unit),
        cause=f"Likely cause: {sign.cause}. The correction: {sign.correction}." if sign else "",
        source=sign.source if sign else "",
        proposals=proposals,
        taken=answers(book, done, note),
        beside=tuple(_beside(book, done, note)),
        left=note.answer == "left",
        trouble=trouble,
        marked=_marked(seen) if seen else None,
        caution=ONE_SIDE if note.side != "both" and _twofold(seen) else "",
    )


def _beside(book: Workbook, done: Replay, note: ToileNote) -> Iterator[tuple[str, str]]:
    mine = [n for n, s in enumerate(book.steps, start=1) if s.toile == note.name and s.on]
    told_of = ((str(n), said_alike(book, n, done)) for n in mine)
    yield from ((n, words) for n, words in told_of if words)


def _marked(seen: SeenAt) -> tuple[Picture, str]:
    edge = seen.place if seen.kind == "edge" else ""
    picture, _ = marked_picture(seen.pattern, [(seen.piece.name, edge)], seen.place)
    return picture, f"{ref_name(seen.ref)} marked"


def seen_at(pattern: Pattern, note: ToileNote, sign: Sign) -> SeenAt:
    """Return what was seen, on the pieces as they are. Raises BadInput, CannotDo."""
    name, place = _now(pattern, *split_ref(note.where))
    piece = pattern.piece(name)
    kind = kind_of_place(piece, place)
    if not kind:
        raise CannotDo(
            what=f"{ref_name(note.where)} cannot be found",
            why="it is no edge, line or point of the piece any more",
            nearest="to note it again at what is there now",
        )
    if kind not in sign.at:
        raise CannotDo(
            what=f"nothing is proposed at {ref_name(note.where)}",
            why=f"this is noted at {' or '.join(_KINDS[k] for k in sign.at)}",
            nearest="to note it there",
        )
    return SeenAt(pattern=pattern, piece=piece, place=place, kind=kind, by=note.by)


def _now(pattern: Pattern, piece: str, place: str) -> tuple[str, str]:
    """Return what a place is called now, where a change has renamed it or divided its piece."""
    kinds = ("edge", "point") if place else ("piece",)
    if not any(is_there(pattern, Ref(kind, piece, place)) for kind in (*kinds, "line")):
        found = {r for kind in kinds for r in later(pattern.trail, Ref(kind, piece, place))}
        places = {(r.piece, r.name) for r in found if is_there(pattern, r)}
        if len(places) == 1:
            return places.pop()
    return piece, place


_KINDS = {"edge": "an edge", "level": "a line", "point": "a point", "piece": "a piece"}


def _proposed(book: Workbook, done: Replay, sign: Sign, seen: SeenAt) -> Iterator[Mending]:
    """Yield the changes that would correct it, with what each would do and what would be new."""
    settings = check_settings(book)
    for mend in sign.ways(seen):
        mending, outcome = mending_of(mend, done.pattern, book.unit, seen.piece.name)
        after = ""
        if outcome is not None:
            fresh = new_words(done.pattern, outcome, settings, book.unit)
            after = fresh or "The walk would find nothing new."
        yield replace(mending, why="", after=after)


def _twofold(seen: SeenAt | None) -> bool:
    """Tell whether a piece stands for both sides of the body."""
    if seen is None:
        return False
    return seen.piece.fold is not None or any(c.how != "once" for c in seen.piece.cuts)
