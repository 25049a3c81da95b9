"""What mends a finding, tried on a copy: nothing is offered that upsets something else."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import reduce
from itertools import chain, islice
from typing import NamedTuple

from clothwright.changes.change import Outcome
from clothwright.checks.check import CheckSettings
from clothwright.pattern.companions import companion_names, companions
from clothwright.pattern.finding import Finding, Mend, Severity
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.since import unlike
from clothwright.pattern.trail import UNMOVED
from clothwright.units import Unit
from clothwright.words import edge_name, listed, say, within
from clothwright.workroom.editing.mending import Mending, mending_of
from clothwright.workroom.walking.apart import moved_mm, takes_back, takes_dart
from clothwright.workroom.walking.checking import checked
from clothwright.workroom.walking.companions import handed_on, left_as_bought, with_companions
from clothwright.workroom.walking.slips import slips

SEEN = 0.5
"""mm or degrees by which a finding that stays may grow unseen: half a pencil line; our own."""

MORE = 8
"""How many more are tried once one mends it, for one that leaves less; our own figure."""

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

MOST = 6
"""How many are tried to put back what a band would follow; our own figure."""

NAMES = ("edge", "edges", "corner", "dart", "notch", "piece", "pieces")
"""The parameters of a change that name what it is done to."""

BEHIND = "companion-left-behind"
LIKE = "draw-like"

UNMENDED = "No one change mends it."
GONE = "After it this finding is gone"
CLEAN = f"{GONE}, nothing new."
PARTLY = "After it less of this is left, nothing new."
ALSO = f"{GONE}, nothing new: the same is done to what goes with the piece."
TAKES_BACK = "It takes back a part of what was changed there since the pieces were bought."
"""What is said of a change that is offered."""


class _Try(NamedTuple):
    """A change as tried. near: its trouble is of the place.

    mending: its trouble is "" where the finding is gone and nothing is worse. back: it takes back
    what was changed since the pieces were bought; dart: most of a dart. left: how much more is off
    after it than before, mm and degrees by the fine bands; below 0 for less. moved: how far
    corners have gone, mm. new: what is found after it that was not, or was less: notices alone,
    where it clears two faults at once.
    """

    mending: Mending
    near: bool = True
    back: bool = False
    dart: bool = False
    left: float = 0.0
    moved: float = 0.0
    new: tuple[Finding, ...] = ()

    @property
    def weight(self) -> float:
        """What it leaves, mm and degrees, with what speaks against it: less is better.

        A corner may go two ways and two corners four: what one amount explains is no chance.
        """
        free = len(self.mending.mend.params) if self.mending.change == "fit-corner" else 0
        return self.left + SMALL * len(self.new) + LESS * free

    def beats(self, other: _Try) -> bool:
        """Tell whether it is offered rather than one that was tried before it.

        It leaves less; or as much, by the same kind of change on another piece that moves less.
        """
        if (self.back, self.dart) != (other.back, other.dart):
            return (self.back, self.dart) < (other.back, other.dart)
        one, two = self.mending.mend, other.mending.mend
        alike = one.change == two.change != LIKE and _piece_of(one) != _piece_of(two)
        mine, theirs = (t.weight for t in (self, other))
        if abs(mine - theirs) > LESS or not alike:
            return mine < theirs - LESS
        return self.moved < other.moved - SEEN


def mended_name(f: Finding) -> str:
    """Name what a finding's mend mends, for the record."""
    return f.where.seam or f.where.piece


def tried_mending(
    f: Finding,
    pattern: Pattern,
    settings: CheckSettings,
    unit: Unit,
    known: tuple[Mend, ...] = (),
) -> Mending | None:
    """Return the change that mends a finding and brings no fault, nor a notice that outweighs it.

    known: what is tried before all that the finding itself names, and offered although what the
    piece is sewn to has to follow; lengths in it may be typed. So is what makes a band or a facing
    follow a piece that was changed since it was bought: that change is not taken back first.

    Where several do, the one that leaves least that is off elsewhere, of equal ones the first.
    Where none does, the first that was tried, its trouble what to look at instead, with what it
    would upset or why it cannot be done, if that is near (`Mending.tried`); None where no change is
    known to mend such a finding.
    """
    good: list[_Try] = []
    failed: list[_Try] = []
    rest, more = iter((*known, *_ways(f, pattern, settings))), MORE
    for mend in rest:
        it = _tried(mend, f, pattern, settings, unit)
        (failed if it.mending.trouble else good).append(it)
        more -= 1 if good else 0
        if more < 0:
            break
    if all(t.back and not _shifts_edge(t.mending.mend) for t in good):
        on = [t.mending for t in failed if t.mending.mend in known and _is_partners(t.new)]
        late = left_as_bought(settings.bought, pattern, _pieces(f, pattern))
        on += [t.mending for t in failed if handed_on(t.new, _piece_of(t.mending.mend), late)]
        if on:
            return replace(on[0], trouble="", after=f"{GONE}, but {on[0].trouble}")
    there = _pieces(f, pattern) if f.mends else set[str]()
    near = (m for m in slips(pattern, settings) if _piece_of(m) in there) if there else ()
    undone = (_tried(m, f, pattern, settings, unit) for m in near)
    good += [t for t in undone if not t.mending.trouble]
    if not good:
        return _failed(failed, f, pattern) if failed else None
    best = reduce(lambda one, other: other if other.beats(one) else one, good)
    others = (_tried(m, f, pattern, settings, unit) for m in islice(rest, MOST))
    other = _other(best, chain(good, others), pattern)
    said = f" {TAKES_BACK}" if best.back else ""
    return replace(best.mending, after=f"{best.mending.after}{said}", other=other)


def _shifts_edge(mend: Mend) -> bool:
    """Tell whether a whole edge is put back, such as a front edge without its button stand."""
    return mend.params.get("neighbour") == "parallel"


def _is_partners(new: Sequence[Finding]) -> bool:
    """Tell whether all that is new is small, or that what is sewn to a piece has to follow it."""
    return bool(new) and all(x.code == "seam-length" or x.severity is Severity.NOTICE for x in new)


def _other(best: _Try, tries: Iterable[_Try], pattern: Pattern) -> Mending | None:
    """Return what mends a finding if another piece was the one that was changed; None for nothing.

    Nobody can tell which of two it was that agree with all else about as well. What a band, a
    facing or a lining follows is named whatever it leaves.
    """
    follow = companion_names(pattern)
    own = _piece_of(best.mending.mend)
    for it in tries:
        piece = _piece_of(it.mending.mend)
        notches = _notch_of(it.mending.mend), _notch_of(best.mending.mend)
        partner = all(notches) and notches[0] != notches[1]
        if (
            it.mending.trouble
            or it.back
            or it.dart
            or piece == ""
            or (piece == own and not partner)
        ):
            continue
        if (own in follow and piece not in follow) or it.left <= best.left + 2 * LESS:
            slip = notches[0] if piece == own else piece
            return replace(it.mending, supposed=f"{slip} was changed by mistake")
    return None


def _notch_of(mend: Mend) -> str:
    """Name the edge whose notch a mend moves; "" where it does something else."""
    piece, _, point = str(mend.params.get("notch", "")).partition(".")
    edge = edge_name(piece, point.partition(" notch ")[0])
    return f"the notch of {edge}" if mend.change == "match-notch" else ""


def _failed(failed: list[_Try], f: Finding, pattern: Pattern) -> Mending:
    """Return what was tried first, with the trouble of the first that has one near the place."""
    it = next((t for t in failed if t.near), None)
    tried = ""
    if it is not None:
        tried = f"Tried: {within(it.mending.title)}, but {within(it.mending.trouble)}"
    trouble = UNMENDED + look_at(f, pattern)
    return replace((it or failed[0]).mending, trouble=trouble, tried=tried)


def _ways(f: Finding, pattern: Pattern, settings: CheckSettings) -> Iterator[Mend]:
    """Yield what may mend a finding; after it what would put right a companion of its pieces."""
    yield from f.mends
    if not f.mends or f.code == BEHIND:
        return
    pieces = _pieces(f, pattern)
    for other in checked(pattern, settings):
        if other.code == BEHIND:
            yield from (m for m in other.mends if _piece_of(m) in pieces)


def _piece_of(mend: Mend) -> str:
    """Return the piece that a mend changes, the first of several; "" where it names a seam."""
    named = (v for k, v in mend.params.items() if k in NAMES)
    first = next(named, "")
    return str(first[0] if isinstance(first, tuple) else first).partition(".")[0]


def _pieces(f: Finding, pattern: Pattern) -> set[str]:
    """Return the pieces at a finding's place."""
    sewn = (s for s in pattern.seams if s.name == f.where.seam)
    return {f.where.piece} - {""} | {name for s in sewn for name in s.pieces}


def look_at(f: Finding, pattern: Pattern) -> str:
    """Say what to look at where no change of one thing mends a seam; "" for other findings."""
    seam = next((s for s in pattern.seams if s.name == f.where.seam), None)
    if seam is None:
        return ""
    pieces = list(dict.fromkeys(r.piece for r in seam.refs))
    if len(pieces) == 1:
        return f" Look at what was changed last on {pieces[0]}."
    return f" Lay {listed(pieces)} along each other there and see which of them was changed."


def _tried(mend: Mend, f: Finding, pattern: Pattern, settings: CheckSettings, unit: Unit) -> _Try:
    """Do a change on a copy and say what would be wrong after it."""
    mending, outcome = mending_of(mend, pattern, unit, mended_name(f))
    if outcome is None:
        return _Try(mending)
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
    return all(x.code == BEHIND or _pieces(x, pattern) <= follow for x in new)


def _looked_at(
    mending: Mending,
    f: Finding,
    states: tuple[Pattern, Pattern],
    settings: CheckSettings,
    unit: Unit,
) -> _Try:
    """Say what is wrong after a change, by the pattern without and with it."""
    was, now = states
    before, after = _garments(f, was, now)
    known = {_mark(x): x for x in sorted(checked(before, settings), key=_off)}
    then = checked(after, settings)
    stays = next((x for x in then if _mark(x) == _mark(f)), None)
    if stays and f.code == BEHIND and _off(stays) < _off(f) - SEEN:
        mending = replace(mending, after=PARTLY)
    elif stays:
        return _Try(replace(mending, trouble="this would stay."))
    heavy = [x for x in then if x.severity is not Severity.NOTE]
    new = [x for x in heavy if _is_worse(x, known.get(_mark(x)))]
    stay = set(map(_mark, then))
    cleared = [k for k, x in known.items() if x.severity is Severity.FAULT and k not in stay]
    small = len(cleared) > 1 and all(x.severity is Severity.NOTICE for x in new)
    if not new or small:
        left = _left(after, settings) - _left(before, settings)
        if new:
            then_said = " ".join(say(x.words, unit) for x in new)
            mending = replace(mending, after=f"{GONE}; then {within(then_said)}")
        back, dart = takes_back(settings.bought, was, now), takes_dart(before, after)
        moved = moved_mm(before, after)
        return _Try(mending, back=back, dart=dart, left=left, moved=moved, new=tuple(new))
    pieces = _pieces(f, was)
    near = next((x for x in new if _is_near(x, pieces, was)), None)
    trouble = f"then {within(say((near or new[0]).words, unit))}"
    return _Try(replace(mending, trouble=trouble), near=near is not None, new=tuple(new))


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
    return bool(f.where.seam or f.where.edge) and bool(pieces & _pieces(f, pattern))


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
