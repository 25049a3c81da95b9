"""Drawings of the intake: all outlines to scale, and one of them with its corners to press."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from markupsafe import Markup

from clothwright.drawing.piece import piece_picture
from clothwright.drawing.words import CHAR, upright
from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Piece
from clothwright.picture.paths import path_data
from clothwright.picture.picture import Fill, Item, Picture, Role, Stroke, Text
from clothwright.units import Unit
from clothwright.web.svg import inline
from clothwright.workroom.pieces.sitting import Look, Outline
from clothwright.workroom.pieces.sitting_edges import Corner, corners_of, settled

NAME_SHARE = 0.028
"""Size of an edge's name, as a share of the drawing's longer side."""


def whole_drawing(one: Look, chosen: int, hrefs: Sequence[str]) -> Markup:
    """Return every outline as drawn, to scale; each is a link that chooses it."""
    items: list[Item] = []
    over = Markup("")
    for outline, href in zip(one.outlines, hrefs, strict=True):
        candidate = outline.candidate
        if candidate is None:
            continue
        path = candidate.outline.path
        if outline.wanted:
            items.append(Fill(path=path, role=Role.PIECE, group=outline.name))
        items.append(Stroke(path=path, role=Role.CUT, closed=True, group=outline.name))
        inner = (*candidate.nested, *candidate.inner)
        items += [Stroke(path=x.path, role=Role.LEVEL, closed=x.closed) for x in inner]
        current = Markup(' aria-current="true"') if outline.number == chosen else Markup("")
        said = outline.name if outline.wanted else f"{outline.name}, said to be no piece"
        over += Markup(
            '<a class="edge" href="{}" data-swap="table sitting" aria-label="{}" data-edge="o{}"{}>'
            '<path class="reach" d="{}"/><path class="shown" d="{}"/></a>'
        ).format(href, said, outline.number, current, *[path_data(path, closed=True)] * 2)
    if not items:
        return Markup("")
    alt = f"{one.waiting.file}: {len(one.outlines)} outlines; press one"
    return inline(Picture(items=tuple(items)), alt=alt, over=over, margin=12.0)


def preview(outline: Outline) -> Markup:
    """Return what an outline becomes as answered so far, with its corners to press."""
    items: list[Item] = []
    corners: tuple[Corner, ...] = ()
    if outline.candidate is not None:
        drawn = outline.candidate.outline.path
        if outline.piece is None:
            items.append(Fill(path=drawn, role=Role.PIECE))
        items.append(Stroke(path=drawn, role=Role.PIECE, closed=True, group="as drawn"))
        corners = corners_of(outline)
    over = Markup("")
    if outline.piece is not None:
        items = [*_wordless(outline.piece).items, *items]
        items += _names(outline.piece)
    if corners:
        _, base, parts, names = settled(outline)
        over += Markup('<path class="base" data-base="" d="{}"/>').format(
            path_data(base, closed=True)
        )
        over += _handles(corners, [p.start for p in parts], names)
    if not items:
        return Markup("")
    alt = f"{outline.name} as answered so far"
    return inline(
        Picture(items=tuple(items)), alt=alt, over=over, margin=14.0, to_scale=False, extra="intake"
    )


def _wordless(piece: Piece) -> Picture:
    picture = piece_picture(piece, Unit.mm, words=False, fill=True)
    return replace(picture, items=tuple(i for i in picture.items if not isinstance(i, Text)))


def _names(piece: Piece) -> list[Item]:
    """Return each edge's name along it, inside; an edge too short for it stays bare."""
    low, high = piece.outline.bounds()
    size = NAME_SHARE * max(high.x - low.x, high.y - low.y)
    out: list[Item] = []
    for edge in piece.edges:
        if CHAR * size * len(edge.name) > 0.95 * edge.length:
            continue
        at, along = edge.path.point_at(edge.length / 2), edge.path.tangent_at(edge.length / 2)
        angle = upright(along.angle_deg)
        turned = abs((angle - along.angle_deg + 180.0) % 360.0 - 180.0) > 90.0
        out.append(
            Text(
                words=edge.name,
                at=at + along.perp * size * (1.25 if turned else 0.5),
                size=size,
                anchor="middle",
                angle_deg=angle,
            )
        )
    return out


def _handles(corners: Sequence[Corner], starts: Sequence[Vec], names: Sequence[str]) -> Markup:
    """Return a button on every corner, and on every bend that is none."""
    out = Markup("")
    for n, corner in enumerate(corners, start=1):
        if corner.on:
            k = min(range(len(starts)), key=lambda i: starts[i].distance(corner.at))
            words = f"corner between {names[k - 1]} and {names[k]}"
        else:
            words = f"bend {n}, no corner"
        place = f"M {corner.at.x:.2f} {-corner.at.y:.2f} h 0.01"
        out += Markup(
            '<a class="corner" role="button" href="#q-corners" aria-pressed="{}" data-edge="k{}"'
            ' data-corner="{}" aria-label="{}"><path class="reach" d="{}"/>'
            '<path class="shown" d="{}"/><path class="hole" d="{}"/></a>'
        ).format(
            "true" if corner.on else "false",
            f"{corner.at.x:.0f}-{corner.at.y:.0f}",
            f"{corner.at.x:.3f},{corner.at.y:.3f}",
            words,
            *[place] * 3,
        )
    return out
