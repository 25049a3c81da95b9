"""What the checks found, each beside a drawing, and with what mends it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from clothwright.drawing.marked import marked_picture
from clothwright.drawing.seam_walked import Walked, walked
from clothwright.errors import ClothwrightError
from clothwright.pattern.finding import Finding, Severity
from clothwright.picture.picture import Picture
from clothwright.words import edge_name, say
from clothwright.workbook import Replay, Workbook, check_settings
from clothwright.workroom.editing.mending import Mending
from clothwright.workroom.walking.checking import findings_of
from clothwright.workroom.walking.telling import OF_LENGTHS, FindingTold, told_of
from clothwright.workroom.walking.verdict import Verdict, unmeasured, verdict

WEIGHTS = (
    (Severity.FAULT, "Faults", "bad", "to mend before cutting"),
    (Severity.NOTICE, "Notices", "notice", "small; look, then decide"),
    (Severity.SKIPPED, "Not looked at", "notice", "could not be checked, so not passed"),
    (Severity.NOTE, "Notes", "", "for your knowledge"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingShown:
    """One finding. place: the seam or piece. told: it with its number and what mends it.

    kind: "bad", "notice" or "". walked: its seam, where it speaks of its lengths or marks. marked:
    the pieces with the edges marked, and what is drawn in words; None for the whole workbook.
    drawn: the number of the finding beside which its seam is drawn already, 0 for none.
    """

    place: str
    words: str
    kind: str
    walked: Walked | None
    marked: tuple[Picture, str] | None
    told: FindingTold
    drawn: int

    @property
    def number(self) -> int:
        """Its place among all, from 1."""
        return self.told.number

    @property
    def mending(self) -> Mending | None:
        """What mends it, unless that is told of another finding already."""
        return None if self.told.same else self.told.mending


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

    @property
    def mends(self) -> bool:
        """Tell whether any of it is mended by a change."""
        shown = (f.mending for group in self.groups for f in group.found)
        return any(m is not None and not m.trouble for m in shown)


def all_found(book: Workbook, done: Replay) -> AllFound:
    """Return every finding on the pieces as changed, heaviest first. done: the changes as applied.

    Words and lengths are in the workbook's unit.
    """
    found = findings_of(book, done)
    told = told_of(found, book, done)
    first: dict[str, int] = {}
    for it in told:
        if it.finding.code in OF_LENGTHS:
            first.setdefault(it.finding.where.seam, it.number)
    groups = []
    for weight, title, kind, why in WEIGHTS:
        mine = [_found(book, done, it, kind, first) for it in told if it.finding.severity is weight]
        if mine:
            groups.append(Group(title=title, why=why, found=tuple(mine)))
    return AllFound(
        verdict=verdict(done.pattern, found, unmeasured(book), check_settings(book)),
        groups=tuple(groups),
        unmeasured=bool(unmeasured(book)),
    )


def _found(
    book: Workbook, done: Replay, it: FindingTold, kind: str, first: Mapping[str, int]
) -> FindingShown:
    """Show one finding. first: the number of the finding beside which each seam is drawn."""
    f, pattern = it.finding, done.pattern
    seam = next((s for s in pattern.seams if s.name == f.where.seam), None)
    beside = first.get(f.where.seam, 0) if f.code in OF_LENGTHS else 0
    drawn = None
    try:
        if seam is not None and beside == it.number:
            drawn = walked(pattern, seam, book.unit, check_settings(book).agree)
    except ClothwrightError:
        pass  # the finding itself says what is wrong with it
    of_grain = f.code.startswith("grain-")
    refs = [(r.piece, "" if of_grain else r.edge) for r in seam.refs] if seam else []
    refs = refs or [(f.where.piece, f.where.edge)]
    turned = f.mend is not None and f.mend.change == "turn-grain"
    marked = marked_picture(pattern, refs, f.where.point, grain=of_grain or turned)
    return FindingShown(
        place=place_of(f),
        words=say(f.words, book.unit),
        kind=kind,
        walked=drawn,
        marked=marked if marked[0].items else None,
        told=it,
        drawn=beside if beside != it.number else 0,
    )


def place_of(f: Finding) -> str:
    """Say where a finding is: its seam, or the edge and point of its piece."""
    where = f.where
    place = where.seam or edge_name(where.piece, where.edge) or "the workbook"
    return f"{place}: {where.point}" if where.point and not where.seam else place
