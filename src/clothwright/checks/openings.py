"""Do zips and plackets fit the openings that they are set in?"""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.weigh import each, length_band, of_mark
from clothwright.geometry.path import Path
from clothwright.pattern.buttons import button_marks
from clothwright.pattern.companions import LAID, companions
from clothwright.pattern.finding import Finding, Severity, Where
from clothwright.pattern.measure import net_at, net_length, side
from clothwright.pattern.patches import held_by_seams
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Mark, Piece
from clothwright.pattern.places import size_along
from clothwright.pattern.together import kind_of
from clothwright.words import Sentence, begun, counted, edge_name, listed

ID = "openings"

STOP_MM = 3.175
"""mm by which a zip may be shorter than its opening: the top stop lies 1/8 in below the seam line
(docs/sources.md: openings)."""
SLITS = ("slit", "placket", "opening")
"""Words that name a line along which a piece is cut open (trade words)."""


def openings(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Compare each zip with its opening, each slit with its edge, each placket with its slit."""
    zips = tuple(s for s in pattern.seams if s.zip and opening_of(pattern, s) is not None)
    yield from each(ID, zips, lambda s: Where(seam=s.name), lambda s: _zip(pattern, s, settings))
    cut = tuple(p for p in pattern.pieces if any(slits_of(p)) and kind_of(pattern, p) not in LAID)
    yield from each(ID, cut, lambda p: Where(piece=p.name), lambda p: _slits(p, settings))
    yield from each(
        ID,
        tuple(_plackets(pattern)),
        lambda pair: Where(piece=pair[0].name, other=pair[1].name),
        lambda pair: _placket(*pair, settings),
    )


def opening_of(pattern: Pattern, seam: Seam) -> float | None:
    """Return how long an opening is, mm, darts folded out: None where nothing shows its end.

    Of a closing its shorter side; else from the notch for the end of a zip to the edge's upper end.
    """
    if seam.kind == "closure":
        return min(side(pattern, run).length for run in (seam.a, seam.b))
    return next(
        (it for r in seam.refs for it in _above_notch(pattern.piece(r.piece), r.edge)), None
    )


def _above_notch(piece: Piece, name: str) -> Iterator[float]:
    """Yield how far the notch for the end of a zip is from the upper end of an edge, mm."""
    edge = piece.edge(name)
    for notch in edge.notches:
        if "zip" in notch.name.lower().split():
            at = net_at(piece, name, notch.at)
            yield net_length(piece, name) - at if piece.rises(name) else at


def _zip(pattern: Pattern, seam: Seam, settings: CheckSettings) -> Iterator[Finding]:
    opening = opening_of(pattern, seam) or 0.0
    over = seam.zip - opening
    weight = length_band(over if over > 0.0 else min(over + STOP_MM, 0.0), settings)
    if weight is None:
        return
    what, way = (
        ("too long", "Buy a shorter one, or leave more of the seam open")
        if over > 0.0
        else ("shorter than that", "Buy a longer one, or sew the seam up to its end")
    )
    ref = seam.a[0]
    yield Finding(
        code="zip-not-its-opening",
        severity=weight if over > 0.0 else Severity.NOTICE,
        where=Where(seam=seam.name, piece=ref.piece, edge=ref.edge),
        measured=seam.zip,
        expected=opening,
        unit="mm",
        words=(
            f'The opening "{seam.name}" is ', opening, " long, and the zip is ", abs(over),
            f" {what}. {way}.",
        ),
    )  # fmt: skip


def slits_of(piece: Piece) -> Iterator[tuple[Mark, Path]]:
    """Yield the lines along which a piece is cut open."""
    for mark in piece.marks:
        if mark.path is not None and any(w in mark.name.lower().split() for w in SLITS):
            yield mark, mark.path


def _slits(piece: Piece, settings: CheckSettings) -> Iterator[Finding]:
    for mark, line in slits_of(piece):
        off = min(piece.outline.nearest(p)[1] for p in line.ends)
        weight = length_band(off, settings)
        if weight:
            words: Sentence = (
                f"The {mark.name} marked on {piece.name} ends ", off,
                " from the edge that it is cut from. Mark it up to the edge.",
            )  # fmt: skip
            yield of_mark(
                piece, mark.name, words, code="slit-off-edge", weight=weight, measured=off
            )


def _plackets(pattern: Pattern) -> Iterator[tuple[Piece, Piece]]:
    """Yield each placket that no seam holds with the piece whose slit it is for."""
    held = held_by_seams(pattern)
    told = {c.piece: {a.piece for a in c.of} for c in companions(pattern)}
    for piece in pattern.pieces:
        if "placket" not in piece.name.lower().split() or piece.name in held:
            continue
        slit = [p for p in pattern.pieces if p is not piece and any(slits_of(p))]
        named = [p for p in slit if p.name in told.get(piece.name, ())]
        named = named or [p for p in slit if set(p.name.split()) & set(piece.name.split())]
        found = named or slit
        if len(found) == 1:
            yield piece, found[0]


def _placket(placket: Piece, on: Piece, settings: CheckSettings) -> Iterator[Finding]:
    length = max(size_along(placket.outline, placket.up))
    slit = max(line.length for _, line in slits_of(on))
    if length_band(min(length - slit, 0.0), settings):
        words: Sentence = (
            f"{begun(placket.name)} is ", slit - length, f" shorter than the slit of {on.name} "
            "that it is for. Cut it at least as long; a strip all round it is twice as long.",
        )  # fmt: skip
        yield Finding(
            code="placket-too-short",
            severity=Severity.FAULT,
            where=Where(piece=placket.name, other=on.name),
            measured=length,
            expected=slit,
            unit="mm",
            words=words,
        )


BARE = "Whether the zip is as long as its opening, because nobody has said how long it is"
LOST = "Whether the zip is as long as its opening, because no notch shows where that ends"


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count zips and slits; name the openings of which nobody knows how they are closed."""
    del settings
    opens = {s.name: opening_of(pattern, s) for s in pattern.seams}
    zips = [s for s in pattern.seams if s.zip and opens[s.name] is not None]
    slits = sum(1 for p in pattern.pieces for _ in slits_of(p))
    bare = [
        s.name
        for s in pattern.seams
        if not s.zip and opens[s.name] is not None and not _is_buttoned(pattern, s)
    ]
    bare += [e for p in pattern.pieces for e in _unsewn(pattern, p)]
    lost = [s.name for s in pattern.seams if s.zip and opens[s.name] is None]
    unlooked = [
        f"{text}: {listed(names)}." for text, names in ((BARE, bare), (LOST, lost)) if names
    ]
    count = len(zips) + slits
    return LookedAt(count, counted(count, "opening"), tuple(unlooked))


def _is_buttoned(pattern: Pattern, seam: Seam) -> bool:
    return any(any(button_marks(pattern.piece(r.piece))) for r in seam.refs)


def _unsewn(pattern: Pattern, piece: Piece) -> Iterator[str]:
    """Yield the edges of no seam on which the end of a zip is notched."""
    for edge in piece.edges:
        if any(_above_notch(piece, edge.name)) and not pattern.seams_of(piece.name, edge.name):
            yield edge_name(piece.name, edge.name)


CHECK = Check(
    id=ID,
    title="Do zips and plackets fit their openings?",
    why="A zip that is longer than its opening cannot be set in; a shorter one leaves a hole.",
    source="The top stop lies 1/8 in below the seam line; a strip is as long as its slit, or twice "
    "(docs/sources.md: openings). Bands as for seam lengths.",
    codes=("zip-not-its-opening", "slit-off-edge", "placket-too-short", f"{ID}-skipped"),
    run=openings,
    looked=looked,
)
