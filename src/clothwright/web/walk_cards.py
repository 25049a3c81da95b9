"""Findings as the walk page shows them: drawn, and with what mends them."""

from __future__ import annotations

from dataclasses import dataclass, replace

from markupsafe import Markup

from clothwright.checks.walk import Walk, walk_seam
from clothwright.drawing.piece import piece_picture
from clothwright.drawing.walked import walked_picture
from clothwright.errors import ClothwrightError
from clothwright.pattern.finding import Finding, Mend
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.picture.picture import Picture, Role, Stroke, Text
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.web.page import Asked
from clothwright.web.svg import inline
from clothwright.words import say, show_length
from clothwright.workbook import change_of, check_settings
from clothwright.workroom.walking.checking import checked

MUCH = 8.0
"""A difference is looked at closely when the seam is more than this many times as long."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mending:
    """A change that mends a finding. fields: what its form sends. after: what is then found."""

    title: str
    fields: tuple[tuple[str, str], ...]
    does: str
    after: str
    whole: bool
    trouble: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """One finding as the page shows it."""

    key: str
    head: str
    words: str
    kind: str
    drawing: Markup
    close: Markup
    caption: str
    mending: Mending | None


def finding_card(asked: Asked, found: tuple[Finding, ...], n: int, kind: str) -> Card:
    """Return finding number n: its words, its drawing, and what mends it."""
    pattern, f = asked.replayed.pattern, found[n]
    unit, where = asked.book.unit, f.where
    place = where.seam or ", ".join(p for p in (where.piece, where.edge) if p) or "the workbook"
    drawing, close, caption = _drawn(asked, pattern, f)
    return Card(
        key=f"finding-{n}",
        head=f"{place}" + (f": {where.point}" if where.point and not where.seam else ""),
        words=say(f.words, unit),
        kind=kind,
        drawing=drawing,
        close=close,
        caption=caption,
        mending=_mending(asked, pattern, f, f.mend, found) if f.mend else None,
    )


def _drawn(asked: Asked, pattern: Pattern, f: Finding) -> tuple[Markup, Markup, str]:
    """Return the seam walked and a close look at its end, or the piece with the edge marked."""
    where, none = f.where, Markup("")
    try:
        if where.seam:
            return walked_drawings(asked, pattern, pattern.seam(where.seam))
        if where.piece:
            picture = _marked(pattern.piece(where.piece), where.edge)
            alt = f"{where.piece}" + (f", its edge {where.edge} marked" if where.edge else "")
            return inline(picture, alt=alt, to_scale=False, extra="marked"), none, ""
    except ClothwrightError:
        pass  # the finding itself says what is wrong with it
    return none, none, ""


def walked_drawings(asked: Asked, pattern: Pattern, seam: Seam) -> tuple[Markup, Markup, str]:
    """Return a seam's two sides laid along each other, drawn for its whole length and close."""
    unit, agree = asked.book.unit, check_settings(asked.book).agree
    walk = walk_seam(pattern, seam)
    picture = walked_picture(pattern, seam, unit, agree=agree)
    alt = f"Seam {seam.name}: {_off_words(walk, unit)}"
    drawing = inline(picture, alt=alt, to_scale=False, extra="walked")
    close, caption = Markup(""), "Both stitching lines straightened, darts folded out, to scale."
    if walk.meant != (0.0, 0.0):
        caption += " The part in green is the ease that is meant."
    longest = max(walk.a.length, walk.b.length)
    if abs(walk.off) > agree and longest > MUCH * abs(walk.off):
        near = walked_picture(pattern, seam, unit, agree=agree, close=True)
        close = inline(near, alt=f"{alt}, seen close", to_scale=False, extra="walked")
    return drawing, close, caption


def _off_words(walk: Walk, unit: Unit) -> str:
    a, b = show_length(walk.a.length, unit), show_length(walk.b.length, unit)
    return f"first side {a}, second side {b}, {difference_words(walk, unit)}"


def difference_words(walk: Walk, unit: Unit) -> str:
    """Say by how much the second side is off, ease allowed for."""
    if abs(walk.off) < 0.05:
        return "no difference"
    longer = "too long" if walk.off > 0 else "too short"
    return f"second side {show_length(abs(walk.off), unit)} {longer}"


def _marked(piece: Piece, edge: str) -> Picture:
    picture = piece_picture(piece, Unit.mm, words=False, fill=True)
    items = tuple(i for i in picture.items if not isinstance(i, Text))
    if any(e.name == edge for e in piece.edges):
        items += (Stroke(path=piece.edge(edge).path, role=Role.FAULT),)
    return replace(picture, items=items)


def _mending(
    asked: Asked, pattern: Pattern, f: Finding, mend: Mend, found: tuple[Finding, ...]
) -> Mending:
    """Say what the change would do to the pieces, and what the checks would then find."""
    book = asked.book
    change = change_of(mend.change)
    params = {name: _entry(value) for name, value in mend.params.items()}
    fields = [("kind", mend.change), ("why", f"mends {f.where.seam or f.where.piece}")]
    for name, value in params.items():
        many = value if isinstance(value, list) else [value]
        suffix = "[]" if isinstance(value, list) else ""
        fields += [(f"params.{name}{suffix}", str(v)) for v in many]
    try:
        read = read_params(change.params, params, unit=book.unit, where=mend.change)
        outcome = change.apply(pattern, read)
    except ClothwrightError as error:
        return Mending(
            title=change.title, fields=(), does="", after="", whole=False, trouble=str(error)
        )
    then = checked(outcome.pattern, check_settings(book))
    before = {_mark(x) for x in found}
    fresh = [say(x.words, book.unit) for x in then if _mark(x) not in before]
    gone = _mark(f) not in {_mark(x) for x in then}
    said = "this finding is gone" if gone else "this finding stays"
    said += f". New would be: {' '.join(fresh)}" if fresh else ", nothing new."
    return Mending(
        title=change.title,
        fields=tuple(fields),
        does=say(outcome.said, book.unit),
        after=f"After it {said}",
        whole=gone and not fresh,
    )


def _entry(value: object) -> object:
    """Return a parameter as a workbook has it: lengths (mm) as text with their unit."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return f"{value:.4f} mm"
    return [str(v) for v in value] if isinstance(value, tuple | list) else str(value)


def _mark(f: Finding) -> tuple[str, str, str, str, str]:
    return f.code, f.where.seam, f.where.piece, f.where.edge, f.where.point


def count_words(n: int, word: str) -> str:
    """Return "1 fault", "2 faults"."""
    return f"{n} {word}" + ("" if n == 1 else "s")
