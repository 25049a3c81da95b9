"""When one of two edges is much longer: is it gathered, laid in folds, or drawn in by elastic?"""

from __future__ import annotations

from clothwright.intake.seams.runs import EdgeRun
from clothwright.pattern.piece import Piece

HOLDS = frozenset({"yoke", "waistband", "band", "cuff", "cuffs", "neckband", "stand", "binding"})
"""Words of pieces that hold in what is sewn to them (trade words)."""
RATIO = (1.08, 3.5)
"""Least and most that the longer is to the shorter: from slightly full to three and a half times,
beyond what even sheer cloth is gathered to (common practice: 1.5 to 3)."""
STRETCH_MOST = 1.3
"""A neckline longer than this many times its band is none (common practice: up to a quarter)."""
FIT = 0.75
"""What such lengths speak for a pair, between 0 and 1: our own choice."""
MARKED = (
    ("pleat", "pleated"),
    ("tuck", "tucked"),
    ("elastic", "elasticated"),
    ("gather", "gathered"),
)
"""Words of marks and notes on the longer piece, and how its edge is then sewn."""


def full_join(shorter: EdgeRun, longer: EdgeRun, kind: str) -> str:
    """Return how a much longer edge is brought to length, "" where nothing speaks for it.

    A sleeve's cap, or what is sewn along a band, a cuff or a yoke; or a piece whose marks say so. A
    neckline is not gathered: its band is stretched.
    """
    ratio = longer.length / max(shorter.length, 1.0)
    if not RATIO[0] <= ratio <= RATIO[1] or {*shorter.pieces} & {*longer.pieces}:
        return ""
    if _held(longer) or not (kind == "cap" or (_held(shorter) and _along(shorter))):
        return ""
    marked = next((join for p in longer.pieces if (join := _marked(p))), "")
    if longer.name == "neck":
        return "stretched" if ratio <= STRETCH_MOST else ""
    return marked or "gathered"


def _held(run: EdgeRun) -> bool:
    return any(HOLDS & set(p.name.lower().split()) for p in run.pieces)


def _along(run: EdgeRun) -> bool:
    """Tell whether a run goes along its pieces, and not over the end of a band."""
    most = max(e.length for p in run.pieces for e in p.edges)
    return all(e.length >= 0.5 * most for e in run.edges)


def folds_marked(longer: EdgeRun, join: str) -> int:
    """Return how many lines of the longer pieces are marked as pleats or tucks."""
    word = next((w for w, j in MARKED if j == join), "")
    folded = join in ("pleated", "tucked")
    lines = (m for p in longer.pieces for m in p.marks if m.path is not None)
    return sum(1 for m in lines if word in m.name.lower()) if folded else 0


def _marked(piece: Piece) -> str:
    said = " ".join((*(f"{m.name} {m.note}" for m in piece.marks), piece.note)).lower()
    return next((join for word, join in MARKED if word in said), "")
