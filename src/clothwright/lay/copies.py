"""The copies to cut: each piece in each material, unfolded or turned over, and who meets whom."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from clothwright.geometry.transform import Transform, reflection, rotation_deg, translation
from clothwright.geometry.vec import Vec
from clothwright.pattern.patches import PatchPlace
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.pattern.whole import TWIN

INNER = ("lining", "interfacing", "interlining")
"""Materials that are not seen when the garment is worn."""
MOST_KEPT = 512
"""Points of copies remembered between one lay problem and the next."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Copy:
    """One thing to cut, and how its piece's own frame becomes the lay's frame.

    to_frame: piece coordinates -> shape frame (grain along +x). fold: mirror in the fold line for
    the twin half (None when the piece has no fold).
    """

    id: str
    piece: Piece
    copy: int
    material: str
    turned_over: bool
    to_frame: Transform
    fold: Transform | None

    def frame_point(self, p: tuple[float, float], *, twin: bool = False) -> Vec:
        """Return a point of the piece as drawn (or its mirrored half) in the shape's frame, mm."""
        q = self.fold.apply(p) if twin and self.fold is not None else Vec(*p)
        return self.to_frame.apply(q)


def is_outside(pattern: Pattern, copy: Copy) -> bool:
    """Tell whether a copy is seen when the garment is worn: no lining, interfacing or facing."""
    name = copy.piece.name
    words = name.lower().split()
    if copy.material in INNER or any(w in words for w in ("facing", *INNER)):
        return False
    first = next(c.material for c in copy.piece.cuts if c.material not in INNER)
    if copy.material != first:
        return False
    return not any(r.piece == name for s in pattern.seams if s.kind == "facing" for r in s.b)


def copies_to_cut(
    pattern: Pattern, home: Callable[[str, str], tuple[str, ...]]
) -> tuple[tuple[Copy, ...], dict[str, tuple[str, ...]], tuple[str, ...]]:
    """Return every copy, the cloths each may be cut from, and what has no cloth (in words).

    home: the names of the cloths that a piece in a material may be cut from.
    """
    copies: list[Copy] = []
    homes: dict[str, tuple[str, ...]] = {}
    notes: list[str] = []
    for piece in pattern.pieces:
        materials = [c.material for c in piece.cuts]
        for cut in piece.cuts:
            mine = home(piece.name, cut.material)
            if not mine:
                notes.append(
                    f"No cloth is named for {piece.name} in {cut.material}, so it is not laid."
                )
                continue
            number = cut.count * (2 if cut.how == "pair" else 1)
            label = piece.name if len(materials) == 1 else f"{piece.name} {cut.material}"
            for k in range(1, number + 1):
                copy = copy_of(
                    piece,
                    f"{label} {k}" if number > 1 else label,
                    k,
                    cut.material,
                    turned_over=cut.how == "pair" and k % 2 == 0,
                )
                copies.append(copy)
                homes[copy.id] = mine
    return tuple(copies), homes, tuple(notes)


def copy_of(piece: Piece, id_: str, k: int, material: str, *, turned_over: bool) -> Copy:
    """Return a copy of a piece by its name in the lay; k: which, from 1."""
    turn = rotation_deg(-piece.up.angle_deg)
    lower, upper = piece.outline.transformed(turn).bounds()
    fold = piece.fold
    return Copy(
        id=id_,
        piece=piece,
        copy=k,
        material=material,
        turned_over=turned_over,
        to_frame=turn.then(translation(-((lower + upper) / 2))),
        fold=None if fold is None else reflection(fold.path.start, fold.path.end),
    )


@lru_cache(maxsize=MOST_KEPT)
def points_of(copy: Copy) -> Mapping[str, tuple[float, float]]:
    """Return the named points of a copy in its frame (mm), those of its mirrored half too."""
    found: dict[str, tuple[float, float]] = {}
    for name, p in copy.piece.points().items():
        q = copy.frame_point(p)
        found[name] = (q.x, q.y)
        if copy.fold is not None:
            r = copy.frame_point(p, twin=True)
            found[name + TWIN] = (r.x, r.y)
    return found


@dataclass(frozen=True, slots=True)
class Half:
    """One side of the body in a join: a shape, and whether its mirrored half is meant."""

    shape: str
    twin: bool


def same_hand(pattern: Pattern, piece_a: str, piece_b: str) -> bool:
    """Tell whether two pieces are drawn for the same half of the body.

    Read from the seams that join them (one edge forward, the other reversed); pieces that no seam
    joins are taken to be drawn for the same half.
    """
    for seam in pattern.seams:
        for x, y in ((seam.a, seam.b), (seam.b, seam.a)):
            for ra in x:
                for rb in y:
                    if (ra.piece, rb.piece) == (piece_a, piece_b):
                        return ra.reversed != rb.reversed
    return True


def halves(copies: Sequence[Copy], piece: str, material: str = "") -> dict[int, Half]:
    """Return which shape is the drawn half (0) and which the mirrored half (1) of a piece."""
    mine = [c for c in copies if c.piece.name == piece and material in ("", c.material)]
    if not mine:
        return {}
    material = mine[0].material
    mine = [c for c in mine if c.material == material]
    if mine[0].fold is not None:
        return {0: Half(mine[0].id, False), 1: Half(mine[0].id, True)}
    found = {0: Half(mine[0].id, False)}
    over = next((c for c in mine if c.turned_over), None)
    if over is not None:
        found[1] = Half(over.id, False)
    return found


def joined_halves(
    pattern: Pattern, copies: Sequence[Copy], piece_a: str, piece_b: str
) -> list[tuple[Half, Half]]:
    """Return the pairs of halves of two pieces that meet when sewn, one or two of them."""
    a = halves(copies, piece_a)
    b = halves(copies, piece_b, _material(copies, piece_a))
    b = b or halves(copies, piece_b)
    same = same_hand(pattern, piece_a, piece_b)
    pairs = []
    for h in (0, 1):
        other = h if same else 1 - h
        if h in a and other in b:
            pairs.append((a[h], b[other]))
    return pairs


def patch_halves(copies: Sequence[Copy], place: PatchPlace) -> dict[int, tuple[Half, Half]]:
    """Return, for each half of the body, a patch's copy and what it lies on there, that first.

    Of several places of one patch, each has copies of its own.
    """
    under = halves(copies, place.on)
    mine = [c for c in copies if c.piece.name == place.piece]
    mine = [c for c in mine if c.material == mine[0].material]
    by_half = [[c for c in mine if c.turned_over is over] for over in (False, True)]
    return {
        h: (under[h], Half(found[place.nth].id, twin=False))
        for h, found in enumerate(by_half)
        if h in under and len(found) > place.nth
    }


def _material(copies: Sequence[Copy], piece: str) -> str:
    return next((c.material for c in copies if c.piece.name == piece), "")


def seam_halves(
    copies: Sequence[Copy], seam: Seam
) -> dict[int, tuple[tuple[Half, ...], tuple[Half, ...]]]:
    """Return, for each side of the body a seam is sewn on, the halves along its sides a and b.

    By 0 for the side of the body the pieces are drawn for, 1 for the other.
    """
    out = {}
    lead = seam.a[0].reversed
    for h in (0, 1):
        sides = []
        for refs in (seam.a, seam.b):
            row = []
            for ref in refs:
                same = ref.reversed == lead if refs is seam.a else ref.reversed != lead
                half = halves(copies, ref.piece).get(h if same else 1 - h)
                if half is None:
                    break
                row.append(half)
            sides.append(tuple(row))
        if len(sides[0]) == len(seam.a) and len(sides[1]) == len(seam.b):
            out[h] = (sides[0], sides[1])
    return out
