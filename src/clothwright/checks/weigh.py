"""How much a difference weighs, and what becomes of a check that cannot run."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TypeVar

from clothwright.checks.check import CheckSettings, LookedAt
from clothwright.errors import ClothwrightError, joined
from clothwright.pattern.finding import Finding, Mend, Severity, Where
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import INTERFACING, Piece
from clothwright.words import Said, Sentence, counted, edge_name

T = TypeVar("T")

_DUST = 1e-6
"""mm or degrees: a difference this little over a band is rounding, not cloth."""

FAILURES = (ClothwrightError, ValueError, ZeroDivisionError)
"""What impossible shapes raise below; anything else is a fault of ours and must be seen."""


def band(difference: float, agree: float, notice: float) -> Severity | None:
    """Return None up to `agree`, NOTICE up to `notice`, FAULT above (all mm, without sign).

    >>> band(-1.5, 1.5, 3.0), band(3.0, 1.5, 3.0), band(3.2, 1.5, 3.0)
    (None, <Severity.NOTICE: 'notice'>, <Severity.FAULT: 'fault'>)
    """
    size = abs(difference)
    if size <= agree + _DUST:
        return None
    return Severity.NOTICE if size <= notice + _DUST else Severity.FAULT


def length_band(difference: float, settings: CheckSettings) -> Severity | None:
    """Return the band of a difference in length, mm."""
    return band(difference, settings.agree, settings.notice)


def each(
    check: str,
    items: tuple[T, ...],
    where: Callable[[T], Where],
    find: Callable[[T], Iterator[Finding]],
) -> Iterator[Finding]:
    """Look at every item; one that cannot be looked at is reported as skipped, the rest go on."""
    for item in items:
        try:
            yield from find(item)
        except FAILURES as error:
            yield skipped(check, where(item), reason_of(error))


def pieces_looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count the pieces: what a check has looked at that looks at each of them."""
    del settings
    return LookedAt(len(pattern.pieces), counted(len(pattern.pieces), "piece"))


def of_mark(
    piece: Piece,
    mark: str,
    words: Sentence,
    *,
    code: str,
    weight: Severity,
    measured: float,
    expected: float = 0.0,
    unit: str = "mm",
    mend: Mend | None = None,
) -> Finding:
    """Return a finding about a mark on a piece, measured in mm where no other unit is named."""
    return Finding(
        code=code,
        severity=weight,
        where=Where(piece=piece.name, point=mark),
        measured=measured,
        expected=expected,
        unit=unit,
        words=words,
        mend=mend,
    )


def cut_as(piece: Piece, how: str, count: int = 0) -> Mend:
    """Return what says anew how a piece is cut, so many times; 0 for as often as before."""
    before = next((c.count for c in piece.cuts if c.material != INTERFACING), 1)
    params = {"pieces": (piece.name,), "how": how, "count": str(count or before)}  # no length
    return Mend(change="set-cut", params=params)


def reason_of(error: Exception) -> Said:
    """Return what an error says, the lengths (mm) of our own kept as numbers."""
    return error.sentence() if isinstance(error, ClothwrightError) else str(error)


def skipped(check: str, where: Where, reason: Said, what: str = "") -> Finding:
    """Return the finding that says: this could not be checked, and why.

    what: what could not be checked, in words, when it is less than the whole place.
    """
    return Finding(
        code=f"{check}-skipped",
        severity=Severity.SKIPPED,
        where=where,
        words=_ended(joined(f"{what or _place(where)} could not be checked: ", reason)),
    )


def _ended(words: Sentence) -> Sentence:
    """Return the words with one full stop at the end."""
    last = words[-1]
    return (*words[:-1], last.rstrip(".") + ".") if isinstance(last, str) else (*words, ".")


def _place(where: Where) -> str:
    if where.seam:
        return f'Seam "{where.seam}"'
    if where.edge:
        return edge_name(where.piece, where.edge)
    return where.piece or "The pattern"
