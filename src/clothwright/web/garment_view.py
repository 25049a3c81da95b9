"""The print on the garment as SVG whose cloth can be pushed under each piece by the page itself.

The print of a cloth is drawn once. Every piece is its stitching line as a clip over a <use> of that
print: what the page's own script changes in a drag is where the cloth lies under the clip, nothing
else (static/js/garment.js).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from clothwright.cloth.cloth import Cloth
from clothwright.drawing.assembled import assembled
from clothwright.drawing.cloth import ring_path
from clothwright.drawing.flat import Garment, Part, View
from clothwright.drawing.garment import meeting_words, view_words
from clothwright.drawing.printed import print_inside
from clothwright.geometry.thin import thinned_ring
from clothwright.geometry.transform import Transform
from clothwright.lay.problem import Ring
from clothwright.lay.result import Placement
from clothwright.picture.inline import EM_MM, inner_svg
from clothwright.picture.picture import Fill, Picture, Role
from clothwright.web.cloth_pictures import photo_on
from clothwright.web.cut_lay import lay_mark
from clothwright.web.page import Asked
from clothwright.workroom.searching.laying import Laid
from clothwright.workroom.searching.lays import LayState
from clothwright.workroom.sewing.wearing import has_print

MARGIN_MM = 6.0
ROUGH_MM = 0.4
MORE_MM = 600.0
"""mm of cloth drawn beyond the lay, for a piece that is dragged there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ViewShown:
    """One view: its name and its drawing."""

    words: str
    drawing: Markup


@dataclass(frozen=True, slots=True, kw_only=True)
class GarmentShown:
    """One garment. meets: "good" or "notice" and a sentence a seam. notes: what is not known."""

    name: str
    views: tuple[ViewShown, ...]
    meets: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothDrawn:
    """A cloth with its print, `long` mm of it, to be used under the pieces by its id."""

    id: str
    long: float
    drawing: Markup


@dataclass(frozen=True, slots=True, kw_only=True)
class Worn:
    """What is cut for one plan, put together.

    cloths: the cloths, each drawn once. prints: all of them, to be put into the page before the
    garments. printed: whether anything is printed on them.
    """

    cloths: tuple[ClothDrawn, ...]
    prints: Markup
    printed: bool
    garments: tuple[GarmentShown, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WornPlans:
    """The garments of several plans. prints: every cloth, drawn once for all of them."""

    prints: Markup
    plans: Mapping[str, Worn]


def worn_of(asked: Asked, laid: Laid, key: str) -> Worn:
    """Return `worn` for a page, kept until the next edit. key: as for `worn`."""
    return asked.opened.once(
        f"worn {key}",
        asked.revision,
        lambda: worn(laid, book=asked.opened.name, key=key),
        of=lay_mark(laid.lay),
    )


def worn_by_plan(asked: Asked, states: Sequence[LayState]) -> WornPlans:
    """Return `worn` of every plan that is laid on a printed cloth; each cloth is drawn once."""
    laid = [s.laid for s in states if s.laid is not None and has_print(s.laid)]
    plans = {one.plan.name: worn_of(asked, one, f"plan{n}") for n, one in enumerate(laid)}
    longest: dict[str, ClothDrawn] = {}
    for one in plans.values():
        for cloth in one.cloths:
            if cloth.id not in longest or cloth.long > longest[cloth.id].long:
                longest[cloth.id] = cloth
    return WornPlans(prints=_defs(longest.values()), plans=plans)


def worn(laid: Laid, *, book: str, key: str) -> Worn:
    """Return the garments of a lay, front and back.

    book: the workbook's name in addresses. key: letters that tell these drawings from others on
    the page, for their ids.
    """
    placed = {p.shape: p for p in laid.lay.placements}
    garments = assembled(laid.pattern, laid.compiled)
    shown = {p.shape for g in garments for v in g.views for p in v.parts} & set(placed)
    names = dict.fromkeys(placed[s].region for s in sorted(shown))
    order = [c.name for c in laid.compiled.cloths]
    ids = {name: f"print-{order.index(name)}" for name in names}
    cloths = tuple(_print(laid, name, ids[name], book) for name in names)
    out = []
    for n, garment in enumerate(garments):
        views = tuple(
            ViewShown(
                words=view_words(garment, view),
                drawing=_view(garment, view, placed, ids, f"{key}-{n}-{view.name}"),
            )
            for view in garment.views
        )
        meets = meeting_words(garment, laid.matches)
        out.append(GarmentShown(name=garment.name, views=views, meets=meets, notes=garment.notes))
    return Worn(
        printed=has_print(laid),
        cloths=cloths,
        prints=_defs(cloths),
        garments=tuple(out),
    )


def _defs(cloths: Iterable[ClothDrawn]) -> Markup:
    """Return cloths as what is drawn nowhere itself and used by the pieces."""
    head = '<svg class="prints" width="0" height="0" aria-hidden="true" focusable="false"><defs>'
    return Markup(head) + Markup("").join(c.drawing for c in cloths) + Markup("</defs></svg>")


def _print(laid: Laid, name: str, id_: str, book: str) -> ClothDrawn:
    """Return a whole cloth with its print as a group to be used, in the cloth's own frame."""
    cloth = laid.compiled.cloth(name)
    long = max(laid.lay.used.get(name, 0.0), cloth.length or 0.0) + MORE_MM
    ring = _whole(cloth, long)
    ground = Fill(path=ring_path(ring), role=Role.CLOTH)
    photo = photo_on(cloth, max(x for x, _ in ring), book)
    drawn = (ground,) if photo else (ground, *print_inside(ring, cloth))
    group = Markup('<g id="{}">{}{}</g>').format(
        id_, Markup(inner_svg(Picture(items=drawn))), photo
    )
    return ClothDrawn(id=id_, long=long, drawing=group)


def _whole(cloth: Cloth, long: float) -> Ring:
    if cloth.outline:
        return cloth.outline
    return ((0.0, 0.0), (long, 0.0), (long, cloth.width), (0.0, cloth.width))


def _view(
    garment: Garment,
    view: View,
    placed: dict[str, Placement],
    ids: dict[str, str],
    key: str,
) -> Markup:
    """Return one view as an <svg>; sized in em so that all views have one scale."""
    x0, y0, x1, y1 = view.box
    if view.name in ("front", "back"):
        heights = [v.box for v in garment.views if v.name in ("front", "back")]
        y0, y1 = min(b[1] for b in heights), max(b[3] for b in heights)
    wide, tall = x1 - x0 + 2 * MARGIN_MM, y1 - y0 + 2 * MARGIN_MM
    parts = Markup("").join(
        _part(part, placed.get(part.shape), ids, f"{key}-{n}") for n, part in enumerate(view.parts)
    )
    names = ", ".join(dict.fromkeys(p.shape for p in view.parts))
    return Markup(
        '<svg class="pic worn-view" role="img" aria-label="{}" width="{}em" height="{}em" '
        'viewBox="{} {} {} {}" focusable="false">{}</svg>'
    ).format(
        f"The {view_words(garment, view)} with its print, put together from {names}.",
        _n(wide / EM_MM),
        _n(tall / EM_MM),
        _n(x0 - MARGIN_MM),
        _n(-y1 - MARGIN_MM),
        _n(wide),
        _n(tall),
        parts,
    )


def _part(part: Part, placement: Placement | None, ids: dict[str, str], key: str) -> Markup:
    d = "M" + "L".join(f"{_n(x)} {_n(-y)}" for x, y in thinned_ring(part.ring, ROUGH_MM)) + "Z"
    if placement is None:
        return Markup('<g class="r-stitch" transform="{}"><path class="line" d="{}"/></g>').format(
            matrix(part.move), d
        )
    return Markup(
        '<g class="worn" data-worn="{shape}" data-key="{key}" transform="{move}">'
        '<clipPath id="clip-{key}"><path d="{d}"/></clipPath>'
        '<g clip-path="url(#clip-{key})"><use href="#{of}" transform="{under}"/></g>'
        '<g class="r-cut"><path class="line" d="{d}"/></g></g>'
    ).format(
        shape=part.shape,
        key=key,
        move=matrix(part.move),
        d=d,
        of=ids[placement.region],
        under=under(placement.x, placement.y, placement.turn_deg),
    )


def matrix(move: Transform) -> str:
    """Return a move (y up) as SVG writes it (y down)."""
    a, b, c, d, e, f = move
    turned = ", ".join(f"{v:.6f}" for v in (a, -b, -c, d))
    return f"matrix({turned}, {_n(e)}, {_n(-f)})"


def under(x: float, y: float, turn_deg: float) -> str:
    """Return the move that brings the cloth at a placement under the piece, as SVG writes it.

    The same sum stands in static/js/under.js, for a piece that is being dragged.
    """
    return f"rotate({_n(turn_deg)}) translate({_n(-x)} {_n(y)})"


def _n(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
