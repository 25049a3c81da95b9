"""What the checks found, each beside a drawing, and with what mends it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Outcome
from clothwright.drawing.named import bare_picture
from clothwright.drawing.seam_walked import Walked, walked
from clothwright.errors import ClothwrightError
from clothwright.pattern.finding import Finding, Mend, Severity
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.picture.picture import DrawnRole, Picture, Stroke
from clothwright.words import edge_name, say
from clothwright.workbook import Replay, Workbook, check_settings
from clothwright.workroom.editing.mending import Mending, mending_of
from clothwright.workroom.walking.checking import checked, findings_of
from clothwright.workroom.walking.verdict import Verdict, unmeasured, verdict

WEIGHTS = (
    (Severity.FAULT, "Faults", "bad", "to mend before cutting"),
    (Severity.NOTICE, "Notices", "notice", "small; look, then decide"),
    (Severity.SKIPPED, "Not looked at", "notice", "could not be checked, so not passed"),
    (Severity.NOTE, "Notes", "", "for your knowledge"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingShown:
    """One finding. place: the seam or piece. kind: "bad", "notice" or "".

    walked: its seam, where it speaks of one; marked: else its piece, the edge marked, and what
    is drawn in words.
    """

    place: str
    words: str
    kind: str
    walked: Walked | None
    marked: tuple[Picture, str] | None
    mending: Mending | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Findings of one weight. why: what to do about them."""

    title: str
    why: str
    found: tuple[FindingShown, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AllFound:
    """What the checks found, and what it comes to.

    unmeasured: nobody's body was measured, so that the room left for it could not be looked at.
    """

    verdict: Verdict
    groups: tuple[Group, ...]
    unmeasured: bool


def all_found(book: Workbook, done: Replay) -> AllFound:
    """Return every finding on the pieces as changed, heaviest first. done: the changes as applied.

    Words and lengths are in the workbook's unit.
    """
    found = findings_of(book, done)
    groups = []
    for weight, title, kind, why in WEIGHTS:
        mine = [_found(book, done.pattern, f, kind, found) for f in found if f.severity is weight]
        if mine:
            groups.append(Group(title=title, why=why, found=tuple(mine)))
    return AllFound(
        verdict=verdict(done.pattern, found, unmeasured(book)),
        groups=tuple(groups),
        unmeasured=bool(unmeasured(book)),
    )


def _found(
    book: Workbook, pattern: Pattern, f: Finding, kind: str, found: tuple[Finding, ...]
) -> FindingShown:
    where = f.where
    place = where.seam or edge_name(where.piece, where.edge) or "the workbook"
    point = f": {where.point}" if where.point and not where.seam else ""
    seam, marked = None, None
    try:
        if where.seam:
            agree = check_settings(book).agree
            seam = walked(pattern, pattern.seam(where.seam), book.unit, agree)
        elif where.piece:
            marked = _marked(pattern.piece(where.piece), where.edge)
    except ClothwrightError:
        pass  # the finding itself says what is wrong with it
    return FindingShown(
        place=place + point,
        words=say(f.words, book.unit),
        kind=kind,
        walked=seam,
        marked=marked,
        mending=_mending(book, pattern, f, f.mend, found) if f.mend else None,
    )


def _marked(piece: Piece, edge: str) -> tuple[Picture, str]:
    """Return a piece with one of its edges marked, and what is drawn in words."""
    here = [e for e in piece.edges if e.name == edge]
    lines = tuple(Stroke(path=e.path, role=DrawnRole.FAULT) for e in here)
    picture = bare_picture(piece).plus(Picture(items=lines))
    words = piece.name + (f", its edge {edge} marked" if edge else "")
    return picture, words


def _mending(
    book: Workbook, pattern: Pattern, f: Finding, mend: Mend, found: tuple[Finding, ...]
) -> Mending:
    """Say what the change would do to the pieces, and what the checks would then find."""
    mending, outcome = mending_of(mend, pattern, book.unit, f.where.seam or f.where.piece)
    if outcome is None:
        return mending
    return replace(mending, after=_after(book, outcome, f, found))


def _after(book: Workbook, outcome: Outcome, f: Finding, found: tuple[Finding, ...]) -> str:
    """Say whether the finding would be gone, and what would be new."""
    then = checked(outcome.pattern, check_settings(book))
    before = {_mark(x) for x in found}
    fresh = [say(x.words, book.unit) for x in then if _mark(x) not in before]
    gone = _mark(f) not in {_mark(x) for x in then}
    words = "After it this finding is gone" if gone else "After it this finding stays"
    return f"{words}. New would be: {' '.join(fresh)}" if fresh else f"{words}, nothing new."


def _mark(f: Finding) -> tuple[str, str, str, str, str]:
    return f.code, f.where.seam, f.where.piece, f.where.edge, f.where.point
