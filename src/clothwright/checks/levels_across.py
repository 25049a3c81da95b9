"""Do waist, bust and hip lines meet where pieces are sewn together?"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.weigh import each, length_band
from clothwright.pattern.finding import Finding, Mend, Severity, Where
from clothwright.pattern.level_spots import LevelSpot, dart_slack, level_spot, notches_on
from clothwright.pattern.measure import run_length
from clothwright.pattern.middle import GRAIN_DEG, grain_along, off_middle_deg
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import walk_seam
from clothwright.words import Sentence, counted

ID = "levels-across-seams"

ALONG_DEG = 30.0
"""degrees: an edge that leans less against a level runs along it, as a waist seam along the waist
line, and is crossed nowhere: where the two touch says nothing. Our own figure."""

SLIPPED_MM = 50.0
"""mm: a line that lies farther off did not slip where it was drawn: something else was changed, and
moving the line would only hide it. Our own figure."""


class LevelMet(NamedTuple):
    """A level that both sides of a seam have. off: mm by which it lies farther along on side b.

    nearer: the end of the seam, "start" or "end", from which it is counted so.
    """

    seam: Seam
    level: str
    a: LevelSpot
    b: LevelSpot
    off: float
    nearer: str


def levels_across(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Compare where each level meets the two sides of every seam that it runs across."""
    found: list[LevelMet] = []

    def look(seam: Seam) -> Iterator[Finding]:
        apart = (m for m in meetings(pattern, seam) if length_band(m.off, settings))
        found.extend(m for m in apart if not (_is_tilted(pattern, m.a) or _is_tilted(pattern, m.b)))
        yield from ()

    yield from each(ID, pattern.seams, lambda s: Where(seam=s.name), look)
    odd = Counter((r.piece, m.level) for m in found for r in (m.a.ref, m.b.ref))
    for meeting in found:
        yield from _apart(pattern, meeting, odd, settings)


def meetings(pattern: Pattern, seam: Seam) -> Iterator[LevelMet]:
    """Yield the levels that both sides of a seam have, with how far apart they meet it.

    They are counted from both ends of the seam: between the two lies whatever one side is longer,
    and what is meant to be eased lies on either side of the level.
    Where a level runs into a dart, it is drawn on one side of its fold or on the other, so that it
    may lie off by as much as the dart takes.
    """
    if seam.kind == "cap" or seam.a == seam.b:
        return
    sides = [_levels(pattern, run) for run in (seam.a, seam.b)]
    more = run_length(pattern, seam.b) - run_length(pattern, seam.a)
    for level in sorted(sides[0] & sides[1]):
        a, b = level_spot(pattern, seam.a, level), level_spot(pattern, seam.b, level)
        if a and b and not (_runs_along(pattern, a) or _runs_along(pattern, b)):
            from_start = b.distance - a.distance
            from_end = from_start - more
            ways = (from_start, from_start - seam.ease, from_end, from_end + seam.ease)
            off = 0.0 if min(ways) <= 0.0 <= max(ways) else min(ways, key=abs)
            slack = sum(
                s.slack + dart_slack(pattern.piece(s.ref.piece), s.ref.edge, level) for s in (a, b)
            )
            off = math.copysign(max(0.0, abs(off) - slack), off)
            nearer = "start" if abs(from_start) <= abs(from_end) else "end"
            yield LevelMet(seam, level, a, b, off, nearer)


def _levels(pattern: Pattern, run: tuple[EdgeRef, ...]) -> set[str]:
    return {lv.name for r in run for lv in pattern.piece(r.piece).levels}


def _runs_along(pattern: Pattern, spot: LevelSpot) -> bool:
    """Tell whether an edge runs more along a level than across it where the two meet."""
    path = pattern.edge(spot.ref).path
    way = path.tangent_at(path.nearest(spot.point)[0])
    return abs(pattern.piece(spot.ref.piece).up.dot(way)) < math.sin(math.radians(ALONG_DEG))


def _is_tilted(pattern: Pattern, spot: LevelSpot) -> bool:
    """Tell whether a piece's grain leans, which tilts its levels and is told."""
    return off_middle_deg(pattern.piece(spot.ref.piece)) > GRAIN_DEG


def _apart(
    pattern: Pattern, m: LevelMet, odd: Counter[tuple[str, str]], settings: CheckSettings
) -> Iterator[Finding]:
    weight = length_band(m.off, settings)
    if weight is None:
        return
    first, second = m.a.ref.piece, m.b.ref.piece
    own = first == second
    swung = None if own else _swung(pattern, m, settings)
    odder = first if odd[first, m.level] > odd[second, m.level] else second
    moves = swung[0] if swung else odder
    is_off = length_band(walk_seam(pattern, m.seam).off, settings) is not None
    slipped = not is_off and abs(m.off) <= SLIPPED_MM
    lines = line_mends(pattern, m, odder) if slipped else ()
    mends = () if own else (*(swung or ())[1:], *lines)
    yield Finding(
        code="levels-apart",
        severity=Severity.NOTICE if own else weight,
        where=Where(
            seam=m.seam.name, piece=moves, edge=(m.a if moves == first else m.b).ref.edge,
            point=m.level,
        ),
        measured=abs(m.off),
        expected=0.0,
        unit="mm",
        words=(
            _own_words(m) if own else (*_words(m), _more_words(m, moves if swung else "", is_off))
        ),
        mend=next(iter(mends), None),
        others=mends[1:],
    )  # fmt: skip


def _swung(pattern: Pattern, m: LevelMet, settings: CheckSettings) -> tuple[str, Mend] | None:
    """Return the piece whose grain slipped, and its turning onto a straight centre line.

    Its levels are square to the grain and slipped with it: turned back, they meet the others.
    """
    for name in (m.a.ref.piece, m.b.ref.piece):
        piece = pattern.piece(name)
        for edge in piece.edges:
            turned = grain_along(piece, edge)
            if turned is None:
                continue
            then = meetings(pattern.with_piece(turned), m.seam)
            if all(length_band(n.off, settings) is None for n in then):
                edge_of = {"piece": name, "edge": f"{name}.{edge.name}"}
                return name, Mend(change="turn-grain", params=edge_of)
    return None


def line_mends(pattern: Pattern, m: LevelMet, odder: str) -> tuple[Mend, ...]:
    """Return the line's moving on either piece, as far from the end that it is nearer right from.

    The notches on it go along, or else stay. odder: the piece that is the likelier to have slipped.
    """
    pieces = dict.fromkeys((odder, m.a.ref.piece, m.b.ref.piece))
    params = {"level": m.level, "seam": m.seam.name, "at": m.nearer}
    return tuple(
        Mend(change="match-level", params={**params, "piece": piece, "how": how})
        for piece in pieces
        for how in ("marks", "line")
        if how == "line" or notches_on(pattern.piece(piece), m.level)
    )


def _more_words(m: LevelMet, leans: str, is_off: bool) -> str:
    """Say what is to be seen to before the line is moved. leans: the piece whose grain does."""
    if leans:
        return (
            f" The grain line of {leans} leans against its straight centre line, and what is "
            "square to it lies slanting."
        )
    first = f' Mend the length of seam "{m.seam.name}" first: the line is measured along it.'
    return first if is_off else ""


def _words(m: LevelMet) -> Sentence:
    level, first, second = m.level, m.a.ref.piece, m.b.ref.piece
    return (
        f'Along seam "{m.seam.name}" the {level} line of {first} lies ', abs(m.off),
        f" from the {level} line of {second}: what is shaped for the {level} on one would be sewn "
        "above or below it on the other.",
    )  # fmt: skip


def _own_words(m: LevelMet) -> Sentence:
    """Say it of one piece whose two edges are sewn together, such as a sleeve."""
    return (
        f'Sewn together along seam "{m.seam.name}", the two ends of the {m.level} line of '
        f"{m.a.ref.piece} lie ", abs(m.off), " apart: the piece would hang twisted.",
    )  # fmt: skip


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count the lines that cross seams."""
    del settings
    met = sum(1 for s in pattern.seams for _ in meetings(pattern, s))
    return LookedAt(met, counted(met, "line that crosses a seam", "lines that cross seams"))


CHECK = Check(
    id=ID,
    title="Do waist, bust and hip lines meet across the seams?",
    why="Two sides can be equally long and still have their waists at different heights: made "
    "longer above the waist on one piece, below it on the other.",
    source="Every detail below a lengthened line moves by the same amount, on shell and lining "
    "(docs/sources.md, lengthening). Bands as for seam lengths.",
    codes=("levels-apart", f"{ID}-skipped"),
    run=levels_across,
    looked=looked,
)
