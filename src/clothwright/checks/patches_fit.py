"""Do pockets and flaps fit the places marked for them, and can they lie there?"""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.weigh import each, length_band, of_mark
from clothwright.geometry.intersect import crossings
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.region import all_inside, inside
from clothwright.geometry.vec import Vec
from clothwright.pattern.finding import Finding, Mend, Severity, Where
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Mark, Piece, Role
from clothwright.pattern.places import (
    MarkedPlace,
    PatchSize,
    corners_of,
    drawn_places,
    goes_round,
    loose_patches,
    lying_kind,
    middle_along,
    parting,
    places,
    too_large,
)
from clothwright.pattern.sides import how_apart, twins
from clothwright.words import Sentence, begun, counted, listed

ID = "patches-fit"

SAGITTA_MM = 0.5
"""mm: how far a chord of a marked line may lie from it; a third of what agrees."""
UPRIGHT = 0.7
"""An edge runs up a patch at 45 degrees or less to its grain. Our own bound."""
TWINS_MM = 2.0
"""mm: left and right are mirrored to within so much (trade facts: pockets)."""
TWIN_NEAR_MM = 60.0
"""mm: two places farther from each other's mirror image are not meant as left and right; ours."""


ALIKE = "Make the two alike, so that it lies where it is marked."
"""What is to be done where a patch and its place differ."""


def patches_fit(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Compare each patch with its place, then look where each place lies on its piece."""
    yield from each(
        ID,
        places(pattern),
        lambda p: Where(piece=p.patch.name, other=p.on.name),
        lambda p: _size(p, settings),
    )
    yield from each(
        ID,
        tuple(p for p in pattern.pieces if _marked(p)),
        lambda p: Where(piece=p.name),
        lambda p: _lying(p, settings),
    )
    yield from _twins(pattern)


def _marked(piece: Piece) -> bool:
    return any(lying_kind(m.name) for m in piece.marks)


def _size(place: MarkedPlace, settings: CheckSettings) -> Iterator[Finding]:
    off = too_large(place)
    worst = max(off, key=abs)
    weight = length_band(worst, settings)
    if weight is None:
        yield from _shape(place, settings)
        return
    told: list[str | float] = []
    for by, more, less in ((off.wide, "wider", "narrower"), (off.long, "longer", "shorter")):
        if length_band(by, settings):
            told += [" and " if told else "", abs(by), f" {more if by > 0 else less}"]
    words: Sentence = (
        f"{begun(place.patch.name)} is ", *told, " than the place marked for it on "
        f"{place.on.name}. {ALIKE}",
    )  # fmt: skip
    ways = tuple(_mends(place.patch, off, settings))
    yield _unlike(
        place, words, code="patch-not-its-place", weight=weight, measured=worst, ways=ways
    )


def _shape(place: MarkedPlace, settings: CheckSettings) -> Iterator[Finding]:
    """Look whether a patch as wide and as long as its place is as long on both sides."""
    off = parting(place)
    weight = length_band(off, settings)
    if weight is not None:
        words: Sentence = (
            f"{begun(place.patch.name)} is as wide and as long as the place marked for it on "
            f"{place.on.name}, but at a corner the two part by ", off,
            f": one side is shorter than the other. {ALIKE}",
        )  # fmt: skip
        yield _unlike(place, words, code="patch-not-its-shape", weight=weight, measured=off)


def _unlike(
    place: MarkedPlace,
    words: Sentence,
    *,
    code: str,
    weight: Severity,
    measured: float,
    ways: tuple[Mend, ...] = (),
) -> Finding:
    """Return the finding that a patch differs from its place by so many mm."""
    return Finding(
        code=code,
        severity=weight,
        where=Where(piece=place.patch.name, other=place.on.name),
        measured=measured,
        expected=0.0,
        unit="mm",
        words=words,
        mend=ways[0] if ways else None,
        others=ways[1:],
    )


def _mends(patch: Piece, off: PatchSize, settings: CheckSettings) -> Iterator[Mend]:
    """Yield how one straight edge of a patch may be moved where that is all; its hem the last."""
    by, across = max((off.wide, True), (off.long, False), key=lambda o: abs(o[0]))
    if length_band(min(off, key=abs), settings):
        return
    for edge in sorted(patch.edges, key=lambda e: (e.role is Role.HEM, e.name)):
        way = (edge.path.end - edge.path.start).unit
        if edge.path.is_straight and (abs(way.dot(patch.up)) > UPRIGHT) is across:
            yield Mend(
                change="move-edge",
                params={"edge": f"{patch.name}.{edge.name}", "by": round(-by, 3)},
            )


def _lying(piece: Piece, settings: CheckSettings) -> Iterator[Finding]:
    """Look at the places drawn on one piece."""
    lines = tuple(drawn_places(piece))
    for mark, line in lines:
        found = _off_piece(piece, mark, line, settings) or _over_dart(piece, mark, line)
        found = found or _in_hem(piece, mark, line, settings)
        if found:
            yield found
    for mark in piece.marks:
        yield from _corner(piece, mark, [line for _, line in lines if goes_round(line)], settings)


def _off_piece(piece: Piece, mark: Mark, line: Path, settings: CheckSettings) -> Finding | None:
    off = beyond(piece, line.flatten(SAGITTA_MM))
    weight = length_band(off, settings)
    if weight is None:
        return None
    words: Sentence = (
        f"The place of the {mark.name} on {piece.name} runs over the edge of the piece by ", off,
        ". Mark it farther in.",
    )  # fmt: skip
    return of_mark(piece, mark.name, words, code="place-off-piece", weight=weight, measured=off)


def beyond(piece: Piece, points: tuple[Vec, ...]) -> float:
    """Return how far the farthest of some points lies outside a piece, mm; 0 for none."""
    ring = piece.outline.flatten(SAGITTA_MM)
    if all_inside([points], ring)[0]:
        return 0.0
    return max((piece.outline.nearest(p)[1] for p in points if not inside(p, ring)), default=0.0)


def _over_dart(piece: Piece, mark: Mark, line: Path) -> Finding | None:
    """Look whether a patch's place lies over a dart: it is not as drawn once that is sewn."""
    if not goes_round(line):
        return None
    ring = line.flatten(SAGITTA_MM)
    for dart in piece.darts:
        path = piece.edge(dart.edge).path
        legs = polyline((path.point_at(dart.a), dart.point, path.point_at(dart.b)))
        if inside(dart.point, ring) or crossings(line, legs):
            words: Sentence = (
                f'The place of the {mark.name} on {piece.name} lies over the dart "{dart.name}": '
                "once that is sewn, the place is smaller than drawn. Mark it clear of the dart, "
                "or mark it anew when the dart is sewn.",
            )
            return of_mark(
                piece,
                mark.name,
                words,
                code="place-over-dart",
                weight=Severity.NOTICE,
                measured=0.0,
            )
    return None


def _in_hem(piece: Piece, mark: Mark, line: Path, settings: CheckSettings) -> Finding | None:
    """Look whether a patch's place reaches into what is turned up at a hem."""
    for edge in piece.edges:
        if edge.role is not Role.HEM or not goes_round(line):
            continue
        clear = min(edge.path.nearest(p)[1] for p in line.flatten(SAGITTA_MM))
        into = edge.allowance - clear
        if into > settings.agree:
            words: Sentence = (
                f"The place of the {mark.name} on {piece.name} reaches ", into,
                f" into what is turned in at its {edge.name}. Mark it farther in, or turn in less.",
            )  # fmt: skip
            return of_mark(
                piece, mark.name, words, code="place-in-hem", weight=Severity.NOTICE, measured=into
            )
    return None


def _corner(
    piece: Piece, mark: Mark, lines: list[Path], settings: CheckSettings
) -> Iterator[Finding]:
    """Look whether a marked corner lies on a corner of a place."""
    if mark.at is None or "corner" not in mark.name.lower() or not lying_kind(mark.name):
        return
    off = min((mark.at.distance(c) for line in lines for c in corners_of(line)), default=0.0)
    weight = length_band(off, settings)
    if weight is not None:
        words: Sentence = (
            f"The {mark.name} marked on {piece.name} lies ", off,
            " from the nearest corner of the place drawn there. One of the two is wrong.",
        )  # fmt: skip
        yield of_mark(piece, mark.name, words, code="place-corner-off", weight=weight, measured=off)


def _twins(pattern: Pattern) -> Iterator[Finding]:
    """Look whether places on the left and on the right are level, and equally far out."""
    for twin in twins(pattern, _middles):
        worst = max(abs(twin.rise), abs(twin.out))
        if not TWINS_MM < worst <= TWIN_NEAR_MM:
            continue
        there = "" if twin.left == twin.right else f" on {twin.right}"
        yield Finding(
            code="places-not-alike",
            severity=Severity.NOTICE,
            where=Where(piece=twin.left, point=twin.mark, other=twin.right),
            measured=worst,
            expected=0.0,
            unit="mm",
            words=(
                f"The place of the {twin.mark} on {twin.left} lies ", *how_apart(twin, TWINS_MM),
                f" than that of the {twin.twin}{there}. Where that is not meant, mark one like the "
                "other.",
            ),
        )  # fmt: skip


def _middles(piece: Piece) -> Iterator[tuple[str, Vec]]:
    for mark, line in drawn_places(piece):
        yield mark.name, middle_along(line, piece.up) if goes_round(line) else line.middle


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count the marked places; name what lies nobody knows where, and places of nothing."""
    del settings
    count = sum(1 for p in pattern.pieces for _ in drawn_places(p))
    placed = {it.patch.name for it in places(pattern)}
    lost = [p.name for p in loose_patches(pattern) if p.name not in placed]
    never = "Whether these fit their place, because no outline of it is marked"
    unlooked = (f"{never}: {listed(lost)}.",) if lost else ()
    return LookedAt(count, counted(count, "marked place", "marked places"), unlooked)


CHECK = Check(
    id=ID,
    title="Do pockets and flaps fit the places marked for them?",
    why="A pocket that is wider than its place lies crooked, or nearer to the centre on one side.",
    source="Left mirrors right to 2 mm, a pocket stays inside hem and edge (docs/sources.md: "
    "pockets). Bands as for seam lengths.",
    codes=(
        *("patch-not-its-place", "patch-not-its-shape", "place-off-piece", "place-over-dart"),
        *("place-in-hem", "place-corner-off", "places-not-alike", f"{ID}-skipped"),
    ),
    run=patches_fit,
    looked=looked,
)
