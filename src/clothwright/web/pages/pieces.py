"""What have I got? Every piece to one scale on the table, and one of them edge by edge."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from urllib.parse import urlencode

from markupsafe import Markup

from clothwright.drawing.piece import cut_words, piece_picture
from clothwright.drawing.words import CHAR, upright
from clothwright.pattern.measure import net_length
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, NotchKind, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.whole import levels_at
from clothwright.picture.paths import path_data
from clothwright.picture.picture import Picture, Text
from clothwright.picture.picture import Role as PictureRole
from clothwright.units import Unit
from clothwright.web.page import Asked, Page
from clothwright.web.svg import inline
from clothwright.web.tape import tape
from clothwright.words import say, show_length

TAPE_MM = 6000.0
"""Longer than any table is shown; what hangs over is cut off."""
WIDE_MM = 420.0
"""A piece wider than this takes a whole row on a phone."""
NAME_SHARE = 0.028
"""Size of an edge's name on the drawing, as a share of the drawing's longer side."""
ROLES = {
    Role.SEAM: "seam",
    Role.HEM: "hem",
    Role.FOLD: "fold",
    Role.CENTRE: "centre",
    Role.BOUND: "bound",
    Role.RAW: "raw edge",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """A piece on the table: its drawing, its words, its address on this page."""

    name: str
    href: str
    drawing: Markup
    cuts: tuple[str, ...]
    grain: str
    wide: bool
    chosen: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Partner:
    """What an edge is sewn to. other: the edges of the other side."""

    seam: str
    other: tuple[EdgeRef, ...]
    ease: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeLine:
    """One edge in the table of a piece."""

    name: str
    role: str
    href: str
    length: str
    allowance: str
    partners: tuple[Partner, ...]
    notches: str
    chosen: bool


def render(asked: Asked) -> Mapping[str, object]:
    """Return the pieces as bought or as changed, the chosen piece and the chosen edge."""
    book, done = asked.book, asked.replayed
    changed = asked.query.get("as", "changed" if book.steps else "bought") == "changed"
    pattern = done.pattern if changed else book.bought
    names = [p.name for p in pattern.pieces]
    wanted = asked.query.get("piece", "")
    chosen = wanted if wanted in names else (names[0] if names else "")
    edge = asked.query.get("edge", "")
    state = "changed" if changed else "bought"
    return {
        "state": state,
        "how_many_changes": sum(1 for t in done.told if t.step.on and not t.error),
        "laid": tuple(_laid(p, chosen, state) for p in pattern.pieces),
        "tape": tape(book.unit, TAPE_MM),
        "total": _total_words(pattern),
        "one": _one(pattern, pattern.piece(chosen), edge, book.unit, state) if chosen else None,
        "missing": wanted if wanted and wanted not in names else "",
        "hrefs": {s: _href(state=s, piece=wanted) for s in ("bought", "changed")},
    }


def _href(**query: str) -> str:
    if "state" in query:
        query["as"] = query.pop("state")
    return "?" + urlencode({k: v for k, v in query.items() if v})


def _laid(piece: Piece, chosen: str, state: str) -> Laid:
    drawing, wide = _drawn(piece)
    return Laid(
        name=piece.name,
        href=_href(state=state, piece=piece.name),
        drawing=drawing,
        cuts=tuple(cut_words(c) for c in piece.cuts) or ("not said how often to cut",),
        grain="grain marked" if piece.grain else "no grain line yet",
        wide=wide,
        chosen=piece.name == chosen,
    )


@lru_cache(maxsize=512)
def _drawn(piece: Piece) -> tuple[Markup, bool]:
    """Return a piece for the table, and whether it is a wide one; pieces that stay are kept."""
    picture = _wordless(piece)
    low, high = picture.bounds()
    return inline(picture, alt="", margin=2.0), high.x - low.x > WIDE_MM


def _total_words(pattern: Pattern) -> str:
    """Say how many shapes are cut of each material."""
    counts: dict[str, int] = {}
    for piece in pattern.pieces:
        for cut in piece.cuts:
            n = cut.count * (2 if cut.how == "pair" else 1)
            counts[cut.material] = counts.get(cut.material, 0) + n
    return ", ".join(f"{n} in {material}" for material, n in counts.items())


def _one(pattern: Pattern, piece: Piece, edge: str, unit: Unit, state: str) -> Mapping[str, object]:
    """Return everything about one piece: its drawing with edges to take hold of, its edges."""
    lines = tuple(
        _edge_line(pattern, piece, e, unit, chosen=edge, state=state) for e in piece.edges
    )
    low, high = piece.outline.bounds()
    letters = NAME_SHARE * max(high.x - low.x, high.y - low.y)
    picture = _wordless(piece).plus(_names(piece, letters), _levels(piece, 0.85 * letters))
    size = f"{show_length(high.x - low.x, unit)} × {show_length(high.y - low.y, unit)}"
    sizes = f"{size} over the stitching line"
    drawing = inline(
        picture,
        alt=f"{piece.name}, {sizes}; its edges follow",
        over=_handles(piece, lines),
        margin=8.0,
        to_scale=False,
        extra="one-piece",
    )
    return {
        "name": piece.name,
        "note": piece.note,
        "size": sizes,
        "cuts": tuple(cut_words(c) for c in piece.cuts),
        "grain": _grain_words(piece),
        "levels": ", ".join(lv.name for lv in piece.levels),
        "darts": ", ".join(d.name for d in piece.darts),
        "drawing": drawing,
        "tall": high.y - low.y > (high.x - low.x) * 1.15,
        "lines": lines,
        "edge": next((line for line in lines if line.chosen), None),
    }


def _wordless(piece: Piece) -> Picture:
    """Return the lines and the inside of a piece alone; words made for paper are too small here."""
    picture = piece_picture(piece, Unit.mm, words=False, fill=True)
    return replace(picture, items=tuple(i for i in picture.items if not isinstance(i, Text)))


def _levels(piece: Piece, size: float) -> Picture:
    """Return each level's name over its line, a third of the way in, clear of edges and grain."""
    out = []
    for level in piece.levels:
        line = levels_at(piece, level)
        if line is not None:
            at = line.point_at(line.length * 0.32) + piece.up * size * 0.3
            angle_deg = upright(piece.up.perp.angle_deg + 180.0)
            text = Text(
                words=level.name,
                at=at,
                size=size,
                role=PictureRole.LEVEL,
                anchor="middle",
                angle_deg=angle_deg,
                group=piece.name,
            )
            out.append(text)
    return Picture(items=tuple(out))


def _names(piece: Piece, size: float) -> Picture:
    """Return each edge's name, written inside along it; an edge too short for it stays bare."""
    out = []
    for edge in piece.edges:
        if CHAR * size * len(edge.name) > 0.9 * edge.length:
            continue
        at, along = edge.path.point_at(edge.length / 2), edge.path.tangent_at(edge.length / 2)
        angle_deg = upright(along.angle_deg)
        turned = abs((angle_deg - along.angle_deg + 180.0) % 360.0 - 180.0) > 90.0
        text = Text(
            words=edge.name,
            at=at + along.perp * size * (1.25 if turned else 0.5),
            size=size,
            anchor="middle",
            angle_deg=angle_deg,
            group=piece.name,
        )
        out.append(text)
    return Picture(items=tuple(out))


def _grain_words(piece: Piece) -> str:
    if piece.grain is None:
        return "no grain line yet"
    fold = piece.fold
    if fold is not None and abs(piece.grain.direction.cross(fold.path.start_tangent)) < 0.01:
        return "along the fold"
    if abs(piece.grain.direction.x) < 0.01:
        return "up and down as drawn"
    if abs(piece.grain.direction.y) < 0.01:
        return "across as drawn"
    return "aslant as drawn"


def _edge_line(
    pattern: Pattern, piece: Piece, edge: Edge, unit: Unit, *, chosen: str, state: str
) -> EdgeLine:
    return EdgeLine(
        name=edge.name,
        role=ROLES[edge.role],
        href=_href(state=state, piece=piece.name, edge=edge.name),
        length=show_length(net_length(piece, edge.name), unit),
        allowance=show_length(edge.allowance, unit) if edge.role is not Role.FOLD else "none",
        partners=_partners(pattern, piece, edge, unit),
        notches=_notch_words(edge),
        chosen=edge.name == chosen,
    )


def _partners(pattern: Pattern, piece: Piece, edge: Edge, unit: Unit) -> tuple[Partner, ...]:
    out = []
    for seam in pattern.seams_of(piece.name, edge.name):
        mine = any((r.piece, r.edge) == (piece.name, edge.name) for r in seam.a)
        here, other = (seam.a, seam.b) if mine else (seam.b, seam.a)
        if len(here) == len(other):  # edge for edge: only the one that this edge meets
            at = [(r.piece, r.edge) for r in here].index((piece.name, edge.name))
            other = other[at : at + 1]
        ease = ""
        if seam.ease:
            longer = "the other side" if mine else "this side"
            ease = say((f"{longer} is ", seam.ease, " longer, eased in"), unit)
        out.append(Partner(seam=seam.name, other=other, ease=ease))
    return tuple(out)


def _notch_words(edge: Edge) -> str:
    single = sum(1 for n in edge.notches if n.kind is NotchKind.SINGLE)
    double = len(edge.notches) - single
    parts = [f"{single} single"] if single else []
    parts += [f"{double} double"] if double else []
    return ", ".join(parts)


def _handles(piece: Piece, lines: Sequence[EdgeLine]) -> Markup:
    """Return a link over every edge, wide enough for a finger; it follows the stitching line."""
    cut = cutting_line(piece)
    out = []
    for line in lines:
        edge = piece.edge(line.name)
        words = f"{line.name}, {line.role}, {line.length}"
        mark = Markup(' aria-current="true"') if line.chosen else Markup("")
        out.append(
            Markup(
                '<a class="edge" href="{}" data-swap="piece" aria-label="{}" data-edge="{}"{}>'
                '<path class="reach" d="{}"/><path class="shown" d="{}"/></a>'
            ).format(
                line.href,
                words,
                line.name,
                mark,
                path_data(cut.edge(line.name)) + path_data(edge.path),
                path_data(edge.path),
            )
        )
    return Markup("").join(out)


PAGE = Page(
    name="pieces",
    path="/b/{book}/pieces",
    question="What have I got?",
    render=render,
)
