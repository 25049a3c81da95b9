"""Pieces on the table: all of them to one scale, and one edge by edge, in the maker's unit."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from clothwright.drawing.edge_words import ROLES, SewnTo, grain_words, notch_words, sewn_to
from clothwright.drawing.named import bare_picture, name_size, named_picture
from clothwright.drawing.piece import cut_words
from clothwright.drawing.worked import TEXT_MM, worked_items
from clothwright.pattern.measure import net_length
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.picture.picture import DrawnRole, Picture, Stroke
from clothwright.units import Unit
from clothwright.words import show_length, show_size

WIDE_MM = 420.0
"""A piece wider than this takes a whole row on a phone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceCard:
    """A piece among the others. picture: mm, to the same scale. wide: wider than a phone shows."""

    name: str
    picture: Picture
    cuts: tuple[str, ...]
    grain: str
    wide: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeCard:
    """One edge of a piece in words. stitched, cut: its lines (mm), to be pressed.

    id: what an edit calls the edge. length: sewn, darts folded out. corner: where it starts.
    """

    id: str
    name: str
    role: str
    length: str
    allowance: str
    sewn_to: tuple[SewnTo, ...]
    notches: str
    corner: str
    stitched: Stroke
    cut: Stroke


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceView:
    """One piece edge by edge. size: of the stitching line. tall: higher than wide, clearly.

    points: the names of all its points.
    """

    name: str
    note: str
    size: str
    cuts: tuple[str, ...]
    grain: str
    levels: str
    darts: str
    points: tuple[str, ...]
    picture: Picture
    tall: bool
    edges: tuple[EdgeCard, ...]


def piece_cards(pattern: Pattern) -> tuple[PieceCard, ...]:
    """Return every piece as it lies on the table, in the pattern's order."""
    return tuple(map(_card, pattern.pieces))


def total_words(pattern: Pattern) -> str:
    """Say how many shapes are cut of each material: "9 from shell, 4 from lining"."""
    counts: dict[str, int] = {}
    for piece in pattern.pieces:
        for cut in piece.cuts:
            n = cut.count * (2 if cut.how == "pair" else 1)
            counts[cut.material] = counts.get(cut.material, 0) + n
    return ", ".join(f"{n} from {material}" for material, n in counts.items())


def piece_view(pattern: Pattern, name: str, unit: Unit) -> PieceView:
    """Return everything about one piece. Raises BadInput when there is none of that name."""
    piece = pattern.piece(name)
    wide, tall = piece.outline.bounds().size
    return PieceView(
        name=piece.name,
        note=piece.note,
        size=f"{show_size(wide, tall, unit)} over the stitching line",
        cuts=tuple(cut_words(c) for c in piece.cuts),
        grain=grain_words(piece),
        levels=", ".join(lv.name for lv in piece.levels),
        darts=", ".join(d.name for d in piece.darts),
        points=tuple(piece.points()),
        picture=named_picture(piece, levels=True).plus(_worked(pattern, piece, unit)),
        tall=tall > wide * 1.15,
        edges=tuple(_edge(pattern, piece, e, unit) for e in piece.edges),
    )


def _worked(pattern: Pattern, piece: Piece, unit: Unit) -> Picture:
    """Return what is gathered or folded along a piece's edges; words nearly as large as names."""
    scale = 0.8 * name_size(piece) / TEXT_MM
    return Picture(items=tuple(worked_items(pattern, piece, unit, scale)))


@lru_cache(maxsize=512)
def _card(piece: Piece) -> PieceCard:
    """Return a piece for the table; pieces that stay are kept."""
    picture = bare_picture(piece)
    return PieceCard(
        name=piece.name,
        picture=picture,
        cuts=tuple(cut_words(c) for c in piece.cuts) or ("not said how often to cut",),
        grain="grain marked" if piece.grain else "no grain line yet",
        wide=picture.bounds().size.x > WIDE_MM,
    )


def _edge(pattern: Pattern, piece: Piece, edge: Edge, unit: Unit) -> EdgeCard:
    return EdgeCard(
        id=str(EdgeRef(piece.name, edge.name)),
        name=edge.name,
        role=ROLES[edge.role],
        length=show_length(net_length(piece, edge.name), unit),
        allowance=show_length(edge.allowance, unit) if edge.role is not Role.FOLD else "none",
        sewn_to=sewn_to(pattern, piece, edge, unit),
        notches=notch_words(edge),
        corner=edge.corner,
        stitched=Stroke(path=edge.path, role=DrawnRole.STITCH),
        cut=Stroke(path=cutting_line(piece).edge(edge.name), role=DrawnRole.CUT),
    )
