"""Every sign of a toile, and what a note of one says."""

from __future__ import annotations

from clothwright.body.toile import ToileNote
from clothwright.errors import not_known
from clothwright.words import Sentence, ref_name, show_day
from clothwright.workbook import Step, Workbook
from clothwright.workroom.toile.at_a_place import AT_A_PLACE
from clothwright.workroom.toile.lower import LOWER
from clothwright.workroom.toile.sign import Sign
from clothwright.workroom.toile.upper import UPPER

SIGNS: tuple[Sign, ...] = (*AT_A_PLACE, *UPPER, *LOWER)
"""Every sign, in the order of the form."""


def sign_of(name: str, *, where: str = "") -> Sign:
    """Return a sign by its id. Raises BadInput with the nearest known one."""
    for sign in SIGNS:
        if sign.id == name:
            return sign
    raise not_known(
        f'"{name}" is nothing a toile is known to show', name, [s.id for s in SIGNS], where=where
    )


def reason_of(book: Workbook, step: Step) -> Sentence:
    """Return why a change of the list was made: what she typed, and what the toile showed."""
    shown = next((note_said(n) for n in book.toile if step.toile and n.name == step.toile), ())
    return (
        (step.why, " ", *shown)
        if step.why and shown
        else shown or ((step.why,) if step.why else ())
    )


def note_said(note: ToileNote) -> Sentence:
    """Return what a toile showed, as a sentence for the record."""
    day = f" of {show_day(note.day)}" if note.day else ""
    side = "" if note.side == "both" else f", {note.side} side"
    known = next((s.said for s in SIGNS if s.id == note.seen), "something of a kind nobody knows")
    more = f" Your words: “{note.words}”." if note.words else ""
    return (
        f"The toile{day} showed at {ref_name(note.where)}{side}: {known}, by ",
        note.by,
        f".{more}",
    )
