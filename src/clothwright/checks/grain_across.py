"""Do sleeves hang from a level cap, and lie facings on the grain of what they face?"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.weigh import each
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.finding import Finding, Severity, Where
from clothwright.pattern.mates import mates
from clothwright.pattern.measure import dart_angle_deg
from clothwright.pattern.middle import GRAIN_DEG, off_middle_deg
from clothwright.pattern.overlaid import GrainTurn, grain_turns
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.words import begun, counted, edge_name, show_angle_deg

ID = "grain-across-seams"

CAP_DEG = 2.5
"""degrees off square to the grain that a cap may stand: on a cap 35 cm wide one underarm is then
15 mm higher than the other. Our own figure."""

FACING_DEG = 2.0
"""degrees by which a facing's grain may differ from that of what it faces. Our own figure."""

ALIKE = 0.03
"""Share of a length by which the straight way along a facing's edge may differ from that along what
it faces: a shaped facing has the same shape. Our own figure."""


class Leaning(NamedTuple):
    """An edge of a facing or lining, and by how many degrees its grain leans there."""

    seam: Seam
    faced: EdgeRef
    ref: EdgeRef
    off: float


ACROSS, ALONG = 0.35, 0.9
"""What share of an edge's way runs along the grain where it lies across, or runs up (70 and 25
degrees from it). Our own figures; a piece on the bias is neither."""

MEANT_DEG = 20.0
"""degrees: a grain that differs by more is chosen (a facing or a sleeve cut on the bias)."""


def grain_across(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Look at the grain of sleeves against their caps, of facings against what they face."""
    del settings
    yield from each(
        ID, _of(pattern, "cap"), lambda s: Where(seam=s.name), lambda s: _cap(pattern, s)
    )
    faced: dict[tuple[str, str], list[Leaning]] = {}

    def look(seam: Seam) -> Iterator[Finding]:
        for leaning in _leanings(pattern, seam):
            faced.setdefault((leaning.faced.piece, leaning.ref.piece), []).append(leaning)
        yield from ()

    yield from each(ID, _of(pattern, "facing"), lambda s: Where(seam=s.name), look)
    for found in faced.values():
        yield from _slipped(pattern, found)
    for turn in grain_turns(pattern):
        if FACING_DEG < turn.deg <= MEANT_DEG:
            yield _lying_on(turn)
    told: set[str] = set()
    for seam in (s for s in pattern.seams if s.kind == "plain"):
        for lying, beside in _across(pattern, seam):
            if lying.piece not in told:
                told.add(lying.piece)
                yield _lying(seam, lying, beside)


def _lying_on(turn: GrainTurn) -> Finding:
    over, under = turn.joint
    return Finding(
        code="grain-off-beside",
        severity=Severity.NOTICE,
        where=Where(piece=under.piece, edge=under.edge, other=over.piece),
        measured=turn.deg,
        expected=0.0,
        unit="deg",
        words=(
            f"{begun(edge_name(under.piece, under.edge))} goes on with "
            f"{edge_name(over.piece, over.edge)}, but the grain of the two pieces differs by "
            f"{show_angle_deg(turn.deg)}; on one grain they hang and give alike.",
        ),
    )


def _across(pattern: Pattern, seam: Seam) -> Iterator[tuple[EdgeRef, EdgeRef]]:
    """Yield each edge that runs across its grain where the one it is sewn to runs up along its own.

    Only of two pieces that share a line of the body: bands and cuffs are cut either way.
    """
    for a, b in mates(pattern, seam):
        pieces = pattern.piece(a.piece), pattern.piece(b.piece)
        if a.piece == b.piece or any(p.grain is None for p in pieces):
            continue
        if not {lv.name for lv in pieces[0].levels} & {lv.name for lv in pieces[1].levels}:
            continue
        turns = [abs(pattern.piece(r.piece).up.dot(_chord(pattern, (r,)).unit)) for r in (a, b)]
        for mine, theirs, pair in ((0, 1, (a, b)), (1, 0, (b, a))):
            if turns[mine] < ACROSS and turns[theirs] > ALONG:
                yield pair


def _lying(seam: Seam, lying: EdgeRef, beside: EdgeRef) -> Finding:
    return _finding(
        "grain-lies-across",
        seam,
        lying,
        90.0,
        f"Along seam {seam.name} the grain of {beside.piece} runs up and that of {lying.piece} "
        "lies across: it would hang and give another way. Cut across on purpose, let it be.",
    )


def _of(pattern: Pattern, kind: str) -> tuple[Seam, ...]:
    return tuple(s for s in pattern.seams if s.kind == kind)


def _cap(pattern: Pattern, seam: Seam) -> Iterator[Finding]:
    off = cap_tilt_deg(pattern, seam) or 0.0
    if CAP_DEG < off <= MEANT_DEG:
        name = seam.b[0].piece
        yield _finding(
            "grain-off-cap",
            seam,
            seam.b[0],
            off,
            f"The two ends of the cap of {name} do not lie level across its grain: it leans "
            f"{show_angle_deg(off)}, and the sleeve would hang twisted.",
        )


def cap_tilt_deg(pattern: Pattern, seam: Seam) -> float | None:
    """Return how far a cap's ends are from level across the sleeve's grain, degrees.

    None for another seam, a sleeve in several pieces or one without grain.
    """
    piece = pattern.piece(seam.b[0].piece)
    if seam.kind != "cap" or piece.grain is None or {r.piece for r in seam.b} != {piece.name}:
        return None
    chord = _chord(pattern, seam.b)
    turn = abs(turn_between_deg(piece.up, chord))
    return abs(turn - 90.0) if chord.norm else None


def _chord(pattern: Pattern, refs: tuple[EdgeRef, ...]) -> Vec:
    """Return the straight way from the start of a run on one piece to its end, mm."""
    ends = []
    for ref, at_end in ((refs[0], False), (refs[-1], True)):
        path = pattern.edge(ref).path
        ends.append(path.end if at_end is not ref.reversed else path.start)
    return ends[1] - ends[0]


def _leanings(pattern: Pattern, seam: Seam) -> Iterator[Leaning]:
    """Yield the edges of a facing that have the shape of what they face, and how they lean."""
    for a, b in mates(pattern, seam):
        if pattern.piece(a.piece).grain is None or pattern.piece(b.piece).grain is None:
            continue
        ways = [_chord(pattern, (r,)) for r in (a, b)]
        if abs(ways[0].norm - ways[1].norm) > ALIKE * ways[0].norm:
            continue  # a band that is bent along the edge
        turns = [
            abs(turn_between_deg(pattern.piece(r.piece).up, way))
            for r, way in zip((a, b), ways, strict=True)
        ]
        yield Leaning(seam, a, b, abs(turns[0] - turns[1]))


def _slipped(pattern: Pattern, found: list[Leaning]) -> Iterator[Finding]:
    """Tell of a facing whose grain leans along every edge that it shares with one piece.

    A part of the piece that was turned, as where a dart was moved, leans along its own edges alone,
    and hangs as before once the dart is sewn; so does one edge that leans as a dart of either does.
    """
    first = min(found, key=lambda leaning: leaning.off)
    if not FACING_DEG < first.off <= MEANT_DEG:
        return
    of, facing = pattern.piece(first.faced.piece), pattern.piece(first.ref.piece)
    if off_middle_deg(of) > GRAIN_DEG:
        return  # that its grain leans is told once
    darts = (dart_angle_deg(p, d) for p in (of, facing) for d in p.darts)
    if len(found) == 1 and any(abs(first.off - deg) <= FACING_DEG for deg in darts):
        return
    yield _finding(
        "grain-off-facing",
        first.seam,
        first.ref,
        first.off,
        f"Along {edge_name(of.name, first.faced.edge)} the grain of {facing.name} differs by "
        f"{show_angle_deg(first.off)} from that of {of.name}; on one grain the two stretch alike.",
    )


def _finding(code: str, seam: Seam, ref: EdgeRef, off: float, words: str) -> Finding:
    return Finding(
        code=code,
        severity=Severity.NOTICE,
        where=Where(seam=seam.name, piece=ref.piece, edge=ref.edge),
        measured=off,
        expected=0.0,
        unit="deg",
        words=(words,),
    )


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count the caps and facings."""
    del settings
    seams = len((*_of(pattern, "cap"), *_of(pattern, "facing")))
    return LookedAt(seams, counted(seams, "cap or facing", "caps and facings") if seams else "")


CHECK = Check(
    id=ID,
    title="Do sleeves and facings lie on the grain of what they are sewn to?",
    why="A sleeve whose grain leans a little twists round the arm; a facing cut on another grain "
    "than what it faces gives where the other does not.",
    source="The biceps line is square to the grain, and a facing is cut on the grain of the edge "
    "it faces (docs/sources.md, cap ease and facings); pieces beside each other hang on one grain "
    "unless meant otherwise (common practice). The figures are our own.",
    codes=(
        "grain-off-cap",
        "grain-off-facing",
        "grain-lies-across",
        "grain-off-beside",
        f"{ID}-skipped",
    ),
    run=grain_across,
    looked=looked,
)
