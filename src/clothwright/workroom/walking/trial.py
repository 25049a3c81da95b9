"""A change that may mend a finding, done on a copy: what would be wrong after it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from clothwright.changes.change import Outcome
from clothwright.checks.check import CheckSettings
from clothwright.pattern.companions import companion_names, companions
from clothwright.pattern.finding import Finding, Mend, Severity
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.since import unlike
from clothwright.pattern.trail import UNMOVED
from clothwright.units import Unit
from clothwright.words import say, within
from clothwright.workroom.editing.mending import Mending, mending_of
from clothwright.workroom.walking.apart import moved_mm, takes_back, takes_dart
from clothwright.workroom.walking.checking import checked
from clothwright.workroom.walking.companions import with_companions

SEEN = 0.5
"""mm or degrees by which a finding that stays may grow unseen: half a pencil line; our own."""

LESS = 1.5
"""mm and degrees, added up, by which less must be off after a later one for it to be offered; our
own figure."""

FINE_MM, FINE_DEG = 0.3, 1.0
"""mm and degrees: bands by which what is left is reckoned. Pieces that were right agree in more
than what is told: the one that was spoilt, put back, leaves least of all. A pencil line."""

SMALL = 6.0
"""mm and degrees that each notice weighs which a change would bring with it: four times `LESS`."""

FAR = 50.0
"""mm or degrees: more than this counts as this; a heap of one kind outweighs no other."""

NAMES = ("edge", "edges", "corner", "dart", "notch", "piece", "pieces")
"""The parameters of a change that name what it is done to."""

BEHIND = "companion-left-behind"
LIKE = "draw-like"

GONE = "After it this finding is gone"
CLEAN = f"{GONE}, nothing new."
PARTLY = "After it less of this is left, nothing new."
ALSO = f"{GONE}, nothing new: the same is done to what goes with the piece."
TAKES_BACK = "It takes back a part of what was changed there since the pieces were bought."
"""What is said of a change that is offered."""


class Attempt(NamedTuple):
    """A change as tried. near: its trouble is of the place.

    mending: its trouble is "" where the finding is gone and nothing is worse. back: it takes back
    what was changed since the pieces were bought; dart: most of a dart. left: how much more is off
    after it than before, mm and degrees by the fine bands; below 0 for less. moved: how far
    corners have gone, mm. cleared: how many findings it clears, notes apart. new: what is found
    after it that was not, or was less: notices alone, where it clears two faults at once.
    """

    mending: Mending
    near: bool = True
    back: bool = False
    dart: bool = False
    left: float = 0.0
    moved: float = 0.0
    cleared: int = 0
    new: tuple[Finding, ...] = ()

    @property
    def weight(self) -> float:
        """What it leaves, mm and degrees, with what speaks against it: less is better.

        A corner may go two ways and two corners four: what one amount explains is no chance; and
        one piece is spoilt more often than several alike.
        """
        mend = self.mending.mend
        free = len(mend.params) if mend.change == "fit-corner" else 0
        free += len(of) - 1 if isinstance(of := mend.params.get("pieces"), tuple) else 0
        return self.left + SMALL * len(self.new) + LESS * free

    def beats(self, other: Attempt) -> bool:
        """Tell whether it is offered rather than one that was tried before it.

        It leaves less; or as much, by the same kind of change on another piece that moves less.
        """
        if (self.back, self.dart) != (other.back, other.dart):
            return (self.back, self.dart) < (other.back, other.dart)
        one, two = self.mending.mend, other.mending.mend
        alike = one.change == two.change != LIKE and piece_of(one) != piece_of(two)
        mine, theirs = (t.weight for t in (self, other))
        if abs(mine - theirs) > LESS or not alike:
            return mine < theirs - LESS
        return self.moved < other.moved - SEEN


def piece_of(mend: Mend) -> str:
    """Return the piece that a mend changes, the first of several; "" where it names a seam."""
    named = (v for k, v in mend.params.items() if k in NAMES)
    first = next(named, "")
    return str(first[0] if isinstance(first, tuple) else first).partition(".")[0]


def pieces_at(f: Finding, pattern: Pattern) -> set[str]:
    """Return the pieces at a finding's place."""
    sewn = (s for s in pattern.seams if s.name == f.where.seam)
    return {f.where.piece} - {""} | {name for s in sewn for name in s.pieces}


def tried(mend: Mend, f: Finding, pattern: Pattern, settings: CheckSettings, unit: Unit) -> Attempt:
    """Do a change on a copy and say what would be wrong after it."""
    mending, outcome = mending_of(mend, pattern, unit, f.where.seam or f.where.piece)
    if outcome is None:
        return Attempt(mending)
    now = outcome.pattern
    it = _looked_at(replace(mending, after=CLEAN), f, (pattern, now), settings, unit)
    if it.new and _goes_along(it.new, pattern):
        both = with_companions(mending, pattern, now, unit)
        also = _looked_at(
            replace(mending, after=ALSO, alike="yes"), f, (pattern, both), settings, unit
        )
        it = it if also.mending.trouble else also
    return it


def _goes_along(new: Sequence[Finding], pattern: Pattern) -> bool:
    """Tell whether all that is new is of what goes with a piece: it has not followed yet."""
    follow = companion_names(pattern)
    return all(x.code == BEHIND or pieces_at(x, pattern) <= follow for x in new)


def _looked_at(
    mending: Mending,
    f: Finding,
    states: tuple[Pattern, Pattern],
    settings: CheckSettings,
    unit: Unit,
) -> Attempt:
    """Say what is wrong after a change, by the pattern without and with it."""
    was, now = states
    before, after = _garments(f, was, now)
    known = {_mark(x): x for x in sorted(checked(before, settings), key=_off)}
    then = checked(after, settings)
    stays = next((x for x in then if _mark(x) == _mark(f)), None)
    if stays and f.code == BEHIND and _off(stays) < _off(f) - SEEN:
        mending = replace(mending, after=PARTLY)
    elif stays:
        return Attempt(replace(mending, trouble="this would stay.", after=""))
    heavy = [x for x in then if x.severity is not Severity.NOTE]
    new = [x for x in heavy if _is_worse(x, known.get(_mark(x)))]
    stay = set(map(_mark, then))
    gone = [x.severity for k, x in known.items() if k not in stay]
    cleared = len(gone) - gone.count(Severity.NOTE)
    small = gone.count(Severity.FAULT) > 1 and all(x.severity is Severity.NOTICE for x in new)
    if not new or small:
        left = _left(after, settings) - _left(before, settings)
        if new:
            then_said = " ".join(say(x.words, unit) for x in new)
            mending = replace(mending, after=f"{GONE}; then {within(then_said)}")
        back, dart = takes_back(settings.bought, was, now), takes_dart(before, after)
        moved = moved_mm(before, after)
        return Attempt(
            mending, back=back, dart=dart, left=left, moved=moved, cleared=cleared, new=tuple(new)
        )
    pieces = pieces_at(f, was)
    near = next((x for x in new if _is_near(x, pieces, was)), None)
    trouble = f"then {within(say((near or new[0]).words, unit))}"
    mending = replace(mending, trouble=trouble, after="")
    return Attempt(mending, near=near is not None, new=tuple(new))


def _left(pattern: Pattern, settings: CheckSettings) -> float:
    """Return by how much a pattern is off in all, mm and degrees, by the fine bands.

    What linings are off counts, too: whose lining still has another length, that was spoilt.
    """
    fine = replace(settings, agree=FINE_MM, notice=2 * FINE_MM, corner_deg=FINE_DEG)
    found = checked(pattern, fine)
    off = sum(min(_off(f), FAR) for f in found if f.severity is not Severity.NOTE)
    return off + unlike(pattern)


def _is_near(f: Finding, pieces: set[str], pattern: Pattern) -> bool:
    """Tell whether a finding is of an edge or a seam of these pieces, not of the whole figure."""
    return bool(f.where.seam or f.where.edge) and bool(pieces & pieces_at(f, pattern))


def _is_worse(now: Finding, before: Finding | None) -> bool:
    """Tell whether a finding is new, or is further off than it was, by what can be seen."""
    return before is None or _off(now) > _off(before) + SEEN


def _off(f: Finding) -> float:
    known = f.measured is not None and f.expected is not None
    return abs((f.measured or 0.0) - (f.expected or 0.0)) if known else 0.0


def _garments(f: Finding, before: Pattern, after: Pattern) -> tuple[Pattern, Pattern]:
    """Return what a change may upset, before and after: all that hangs together with what it does.

    Everything, where pieces were renamed, added or taken away.
    """
    names = [p.name for p in before.pieces]
    if names != [p.name for p in after.pieces] or not before.trail == after.trail == UNMOVED:
        return before, after
    held = [p.name for p, q in zip(before.pieces, after.pieces, strict=True) if p is not q]
    sewn = (s for s in before.seams if s.name == f.where.seam)
    held += [r.piece for s in sewn for r in s.a] + [p for p in (f.where.piece,) if p in names]
    groups = [s.pieces for s in (*before.seams, *after.seams)]
    groups += [{c.piece, *(along.piece for along in c.of)} for c in companions(before)]
    for name in held:
        held += {n for group in groups if name in group for n in group} - set(held)
    return _part(before, held), _part(after, held)


def _part(pattern: Pattern, names: Sequence[str]) -> Pattern:
    """Return the pieces of these names, and what joins them."""
    if len(names) == len(pattern.pieces):
        return pattern
    return replace(
        pattern,
        pieces=tuple(p for p in pattern.pieces if p.name in names),
        seams=tuple(s for s in pattern.seams if s.pieces <= set(names)),
        companions=tuple(c for c in companions(pattern) if c.piece in names),
    )


def new_words(pattern: Pattern, outcome: Outcome, settings: CheckSettings, unit: Unit) -> str:
    """Say what the walk would find after a change that it does not find before; "" for nothing."""
    known = {_mark(x) for x in checked(pattern, settings)}
    fresh = (x for x in checked(outcome.pattern, settings) if _mark(x) not in known)
    words = " ".join(say(x.words, unit) for x in fresh)
    return f"New would be: {words}" if words else ""


def _mark(f: Finding) -> tuple[str, ...]:
    return f.code, f.where.seam, f.where.piece, f.where.edge, f.where.point
