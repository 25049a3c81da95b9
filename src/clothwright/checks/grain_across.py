"""Do sleeves hang from a level cap, and lie facings on the grain of what they face?"""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.weigh import each
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.finding import Finding, Severity, Where
from clothwright.pattern.mates import mates
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.words import counted, edge_name, show_angle_deg

ID = "grain-across-seams"

CAP_DEG = 2.5
"""degrees off square to the grain that a cap may stand: on a cap 35 cm wide one underarm is then
15 mm higher than the other. Our own figure."""

FACING_DEG = 2.0
"""degrees by which a facing's grain may differ from that of what it faces. Our own figure."""

ALIKE = 0.03
"""Share of a length by which the straight way along a facing's edge may differ from that along what
it faces: a shaped facing has the same shape. Our own figure."""

ACROSS, ALONG = 0.35, 0.9
"""What share of an edge's way runs along the grain where it lies across, or runs up (70 and 25
degrees from it). Our own figures; a piece on the bias is neither."""

MEANT_DEG = 20.0
"""degrees: a grain that differs by more is chosen (a facing or a sleeve cut on the bias)."""


def grain_across(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Look at the grain of sleeves against their caps, of facings against what they face."""
    del settings
    yield from each(ID, _seams(pattern), lambda s: Where(seam=s.name), lambda s: _seam(pattern, s))
    told: set[str] = set()
    for seam in (s for s in pattern.seams if s.kind == "plain"):
        for lying, beside in _across(pattern, seam):
            if lying.piece not in told:
                told.add(lying.piece)
                yield _lying(seam, lying, beside)


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


def _seams(pattern: Pattern) -> tuple[Seam, ...]:
    return tuple(s for s in pattern.seams if s.kind in ("facing", "cap"))


def _seam(pattern: Pattern, seam: Seam) -> Iterator[Finding]:
    if seam.kind == "facing":
        for a, b in mates(pattern, seam):
            yield from _facing(pattern, seam, a, b)
        return
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


def _facing(pattern: Pattern, seam: Seam, a: EdgeRef, b: EdgeRef) -> Iterator[Finding]:
    if pattern.piece(a.piece).grain is None or pattern.piece(b.piece).grain is None:
        return
    ways = [_chord(pattern, (r,)) for r in (a, b)]
    if abs(ways[0].norm - ways[1].norm) > ALIKE * ways[0].norm:
        return  # a band that is bent along the edge
    turns = [
        abs(turn_between_deg(pattern.piece(r.piece).up, way))
        for r, way in zip((a, b), ways, strict=True)
    ]
    off = abs(turns[0] - turns[1])
    if FACING_DEG < off <= MEANT_DEG:
        yield _finding(
            "grain-off-facing",
            seam,
            b,
            off,
            f"Along {edge_name(a.piece, a.edge)} the grain of {b.piece} differs by "
            f"{show_angle_deg(off)} from that of {a.piece}; on one grain the two stretch alike.",
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
    seams = len(_seams(pattern))
    return LookedAt(seams, counted(seams, "cap or facing", "caps and facings") if seams else "")


CHECK = Check(
    id=ID,
    title="Do sleeves and facings lie on the grain of what they are sewn to?",
    why="A sleeve whose grain leans a little twists round the arm; a facing cut on another grain "
    "than what it faces gives where the other does not.",
    source="The biceps line is square to the grain, and a facing is cut on the grain of the edge "
    "it faces (docs/sources.md, cap ease and facings); pieces beside each other hang on one grain "
    "unless meant otherwise (common practice). The figures are our own.",
    codes=("grain-off-cap", "grain-off-facing", "grain-lies-across", f"{ID}-skipped"),
    run=grain_across,
    looked=looked,
)
