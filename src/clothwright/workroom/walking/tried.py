"""What mends a finding: of the changes that were tried on a copy, the one that leaves least."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import reduce
from itertools import chain, islice

from clothwright.checks.check import CheckSettings
from clothwright.pattern.companions import companion_names
from clothwright.pattern.finding import Finding, Mend, Severity
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.words import edge_name, within
from clothwright.workroom.editing.mending import Mending
from clothwright.workroom.walking.by_hand import unmended
from clothwright.workroom.walking.checking import checked
from clothwright.workroom.walking.companions import handed_on, left_as_bought
from clothwright.workroom.walking.slips import slips
from clothwright.workroom.walking.trial import (
    BEHIND,
    GONE,
    LESS,
    TAKES_BACK,
    Attempt,
    piece_of,
    pieces_at,
    tried,
)

MORE = 8
"""How many that mend it are weighed against each other at the most; our own figure."""

MOST = 6
"""How many are tried to put back what a band would follow; our own figure."""


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
    good: list[Attempt] = []
    failed: list[Attempt] = []
    rest, more = iter((*known, *_ways(f, pattern, settings))), MORE
    for mend in rest:
        it = tried(mend, f, pattern, settings, unit)
        (failed if it.mending.trouble else good).append(it)
        more -= 0 if it.mending.trouble else 1
        if not more:
            break
    if all(t.back and not _shifts_edge(t.mending.mend) for t in good):
        on = [t.mending for t in failed if t.mending.mend in known and _is_partners(t.new)]
        late = left_as_bought(settings.bought, pattern, pieces_at(f, pattern))
        on += [t.mending for t in failed if handed_on(t.new, piece_of(t.mending.mend), late)]
        if on:
            return replace(on[0], trouble="", after=f"{GONE}, but {on[0].trouble}")
    undone = (tried(m, f, pattern, settings, unit) for m in _slips_at(f, pattern, settings))
    good += [t for t in undone if not t.mending.trouble and (t.cleared > 1 or not good)]
    if not good:
        return _failed(failed, f, pattern) if failed else None
    best = reduce(lambda one, other: other if other.beats(one) else one, good)
    others = (tried(m, f, pattern, settings, unit) for m in islice(rest, MOST))
    other = _other(best, chain(good, others), pattern)
    said = f" {TAKES_BACK}" if best.back else ""
    return replace(best.mending, after=f"{best.mending.after}{said}", other=other)


def _slips_at(f: Finding, pattern: Pattern, settings: CheckSettings) -> Iterator[Mend]:
    """Yield what would undo one slip on a piece of a finding."""
    there = pieces_at(f, pattern) if f.mends else set[str]()
    yield from (m for m in slips(pattern, settings) if piece_of(m) in there) if there else ()


def _shifts_edge(mend: Mend) -> bool:
    """Tell whether a whole edge is put back, such as a front edge without its button stand."""
    return mend.params.get("neighbour") == "parallel"


def _is_partners(new: Sequence[Finding]) -> bool:
    """Tell whether all that is new is small, or that what is sewn to a piece has to follow it."""
    return bool(new) and all(x.code == "seam-length" or x.severity is Severity.NOTICE for x in new)


def _other(best: Attempt, tries: Iterable[Attempt], pattern: Pattern) -> Mending | None:
    """Return what mends a finding if another piece was the one that was changed; None for nothing.

    Nobody can tell which of two it was that agree with all else about as well. What a band, a
    facing or a lining follows is named whatever it leaves.
    """
    follow = companion_names(pattern)
    own = piece_of(best.mending.mend)
    for it in tries:
        piece = piece_of(it.mending.mend)
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


def _failed(failed: list[Attempt], f: Finding, pattern: Pattern) -> Mending:
    """Return what was tried first, with the trouble of the first that has one near the place."""
    it = next((t for t in failed if t.near), None)
    tried = ""
    if it is not None:
        tried = f"Tried: {within(it.mending.title)}, but {within(it.mending.trouble)}"
    trouble = unmended(f, pattern)
    return replace((it or failed[0]).mending, trouble=trouble, tried=tried)


def _ways(f: Finding, pattern: Pattern, settings: CheckSettings) -> Iterator[Mend]:
    """Yield what may mend a finding; after it what would put right a companion of its pieces."""
    yield from f.mends
    if not f.mends or f.code == BEHIND:
        return
    pieces = pieces_at(f, pattern)
    for other in checked(pattern, settings):
        if other.code == BEHIND:
            yield from (m for m in other.mends if piece_of(m) in pieces)
