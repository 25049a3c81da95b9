"""What the names of edges and pieces say about seams (trade words; scores are our own choice)."""

from __future__ import annotations

from collections.abc import Sequence

from clothwright.intake.seams.runs import EdgeRun
from clothwright.pattern.piece import Piece

PARTNERS = (
    ("armhole", "cap"),
    ("front seam", "back seam"),
    ("inseam", "inseam"),
    ("waist", "waistband"),
    ("left", "right"),
)
"""Words of edges that meet although they differ."""
CROSS = (
    "hem",
    "side",
    "shoulder",
    "armhole",
    "neck",
    "waist",
    "cap",
    "inner",
    "front edge",
    "pleat",
)
"""Words of edges that meet only their own kind (and the partners above)."""
PLACES = frozenset({"top", "bottom", "left", "right"})
"""What an edge is called that nobody has named: it says nothing about seams."""


def name_score(a: EdgeRun, b: EdgeRun, *, alone: bool) -> tuple[float, str, str] | None:
    """Return how well names go together (0 to 1), the seam's kind, and what decides its ease.

    None when they cannot be sewn together.
    """
    if alone:
        return 0.85, "plain", ""
    na, nb = plain_name(a.name), plain_name(b.name)
    same_piece = bool({p.name for p in a.pieces} & {p.name for p in b.pieces})
    both = len(a.refs) + len(b.refs) == 3
    pieces = (*a.pieces, *b.pieces)
    if {na, nb} & PLACES:
        return None if same_piece else (0.5, "plain", "")
    if {na, nb} == {"armhole", "cap"}:
        return None if same_piece else ((1.0 if both else 0.35), "cap", "cap")
    cuffed = bool({na, nb} & {"wrist", "hem"}) and _cuffed(a, b)
    if cuffed or ("waist" in (na, nb) and any("waistband" in p.name for p in pieces)):
        return (0.9 if both or cuffed else 0.3), "plain", ""
    kind, mixed = _kind(pieces, (na, nb))
    if same_piece:
        return _within_piece(na, nb, kind)
    return _across(a, b, kind, mixed=mixed)


def _cuffed(a: EdgeRun, b: EdgeRun) -> bool:
    """Tell whether one run is of a cuff and the other of a sleeve."""
    words = [{w for p in run.pieces for w in p.name.lower().split()} for run in (a, b)]
    return any("cuff" in one and "sleeve" in other for one, other in (words, words[::-1]))


def _named_for(a: EdgeRun, b: EdgeRun) -> bool:
    """Tell whether an edge is called after the piece it is to be sewn to: "yoke seam"."""
    piece = {w for p in b.pieces for w in p.name.lower().split()} - set(a.pieces[0].name.split())
    return bool(piece & set(plain_name(a.name).split()))


def _kind(pieces: Sequence[Piece], names: tuple[str, str]) -> tuple[str, bool]:
    """Return the kind of seam, and whether a facing is sewn to what it faces."""
    facing = ["facing" in p.name for p in pieces]
    lining = [_is_lining(p) for p in pieces]
    mixed = any(facing) and not all(facing)
    if any(facing) and any(lining) and "inner" in names:
        return "lining", mixed
    return ("facing" if mixed and not any(lining) else "plain"), mixed


def _across(a: EdgeRun, b: EdgeRun, kind: str, *, mixed: bool) -> tuple[float, str, str] | None:
    """Return the score of edges of different pieces."""
    na, nb = plain_name(a.name), plain_name(b.name)
    if na == nb:
        return _alike(a, b, na, kind, mixed=mixed)
    if any({na, nb} == {x, y} for x, y in PARTNERS):
        return 0.7, kind, ""
    called = _named_for(a, b) + _named_for(b, a)
    if called == 2 or (called and not {na, nb} & set(CROSS)):
        return (0.9 if called == 2 else 0.6), kind, ""
    return None if na in CROSS and nb in CROSS else (0.2, kind, "")


def _within_piece(na: str, nb: str, kind: str) -> tuple[float, str, str] | None:
    if {na, nb} == {"front seam", "back seam"}:
        return 1.0, "plain", "elbow"
    if any({na, nb} == {x, y} for x, y in PARTNERS) and "left" in (na, nb):
        return 0.4, kind, ""
    return None


def _alike(
    a: EdgeRun, b: EdgeRun, name: str, kind: str, *, mixed: bool
) -> tuple[float, str, str] | None:
    """Return the score of two edges of one name on two pieces."""
    fronts = [_half(r.pieces[0]) for r in (a, b)]
    if mixed:  # a facing and what it faces: the same half, the same names
        bodies = "" in fronts or fronts[0] == fronts[1]
        return ((0.95 if bodies else 0.3), kind, "") if name != "hem" else None
    if name in ("armhole", "neck", "waist", "hem", "cap", "centre"):
        return 0.3 if name in ("waist", "neck") else 0.1, kind, ""
    if "" in fronts or fronts[0] != fronts[1]:
        return 1.0, kind, "shoulder" if name == "shoulder" else ""
    return 0.25, kind, ""


def _half(piece: Piece) -> str:
    words = piece.name.lower().split()
    return "front" if "front" in words else "back" if "back" in words else ""


def _is_lining(piece: Piece) -> bool:
    materials = {c.material for c in piece.cuts}
    return "lining" in piece.name or materials == {"lining"}


def plain_name(name: str) -> str:
    """Return an edge's name without its number, centre lines as one word."""
    words = [w for w in name.lower().replace("center", "centre").split() if not w.isdigit()]
    plain = " ".join(words)
    return {"left half": "waistband", "right half": "waistband"}.get(plain, plain)


def seam_name(a: EdgeRun, b: EdgeRun, kind: str, *, alone: bool) -> str:
    """Return a name for the seam: what is sewn, and of what."""
    if alone:
        return f"{a.pieces[0].name} {a.name}"
    first = [p.name.split() for p in (*a.pieces, *b.pieces)]
    shared = [w for w in first[0] if all(w in f for f in first[1:])]
    lead = " ".join(shared)
    if kind == "cap":
        what = "armhole"
    elif kind == "facing":
        return next(p.name for p in (*a.pieces, *b.pieces) if "facing" in p.name)
    elif kind == "lining":
        facing = next(p.name for p in (*a.pieces, *b.pieces) if "facing" in p.name)
        return f"lining to {facing}"
    elif a.name == b.name:
        what = a.name
    elif {plain_name(a.name), plain_name(b.name)} == {"front seam", "back seam"}:
        what = "seam"
    elif "waistband" in (plain_name(a.name), plain_name(b.name)):
        band = a if plain_name(a.name) == "waistband" else b
        what = f"waist {band.name.split()[0]}"
    else:
        what = f"{a.name} to {b.name}"
    return f"{lead} {what}".strip()
