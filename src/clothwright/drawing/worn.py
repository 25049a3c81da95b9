"""The print on the garment, so that its cloth can be pushed under each piece as it is shown.

The print of a cloth is drawn once. Every piece is its stitching line as a clip over that print:
what changes in a drag is where the cloth lies under the clip, nothing else.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from clothwright.drawing.assembled import assembled
from clothwright.drawing.cloth import cloth_ring
from clothwright.drawing.cloth_print import print_notes, worn_inside
from clothwright.drawing.flat import Garment, Part, View
from clothwright.drawing.garment import meeting_words, view_words
from clothwright.drawing.wearing import has_print
from clothwright.geometry.path import ring_path
from clothwright.geometry.region import thinned_ring
from clothwright.lay.result import Placement
from clothwright.picture.paths import decimal, matrix
from clothwright.picture.picture import DrawnRole, Fill, Picture
from clothwright.rules.weighing.laid import Laid
from clothwright.units import Unit
from clothwright.words import begun

MARGIN_MM = 6.0
ROUGH_MM = 0.4
WIDE_EM, TALL_EM = 94.0, 45.0
"""em: the views of a garment side by side are no wider and no taller than this."""
MORE_MM = 600.0
"""mm of cloth drawn beyond the lay, for a piece that is dragged there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothDrawn:
    """A cloth with its print, `long` mm of it, in its own frame; under the pieces by its id.

    notes: what of its print is not drawn in full.
    """

    id: str
    long: float
    picture: Picture
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PartShown:
    """A piece of a view. line: its stitching line; move: where it lies; both as SVG writes them.

    cloth, under: the id of the cloth it is cut from, and the move that brings that cloth under
    it; "" for a piece that is not laid. key: tells it from all other pieces on the page.
    """

    shape: str
    key: str
    line: str
    move: str
    cloth: str
    under: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ViewShown:
    """One view of a garment. x, y, wide, tall: what is shown, mm, y turned down.

    words: its name; alt: what it shows, for who cannot see it.
    """

    words: str
    alt: str
    x: float
    y: float
    wide: float
    tall: float
    parts: tuple[PartShown, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class GarmentShown:
    """One garment. meets: "good" or "notice" and a sentence a seam. notes: what is not known."""

    name: str
    views: tuple[ViewShown, ...]
    meets: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Worn:
    """What is cut for one plan, put together. printed: anything is printed on its cloths."""

    cloths: tuple[ClothDrawn, ...]
    printed: bool
    garments: tuple[GarmentShown, ...]

    @property
    def em_mm(self) -> float:
        """The one scale of all its views: mm that are shown as 1 em."""
        wide = (sum(v.wide for v in g.views) / WIDE_EM for g in self.garments)
        tall = (v.tall / TALL_EM for g in self.garments for v in g.views)
        return max((*wide, *tall), default=1.0)


def worn(laid: Laid, unit: Unit, *, key: str, prints: str = "print") -> Worn:
    """Return the garments of a lay, front and back, differences of the print told in `unit`.

    key: letters that tell these drawings from others on the page, for their ids. prints: how the
    ids of its cloths begin; drawings that share cloths have one.
    """
    placed = {p.shape: p for p in laid.lay.placements}
    garments = assembled(laid.pattern, laid.compiled)
    shown = {p.shape for g in garments for v in g.views for p in v.parts} & set(placed)
    names = dict.fromkeys(placed[s].region for s in sorted(shown))
    order = [c.name for c in laid.compiled.cloths]
    ids = {name: f"{prints}-{order.index(name)}" for name in names}
    cloths = tuple(_cloth(laid, name, ids[name]) for name in names)
    unseen = tuple(words for cloth in cloths for words in cloth.notes)
    return Worn(
        printed=has_print(laid),
        cloths=cloths,
        garments=tuple(
            GarmentShown(
                name=garment.name,
                views=tuple(
                    _view(garment, view, placed, ids, f"{key}-{n}-{view.name}")
                    for view in garment.views
                ),
                meets=meeting_words(garment, laid, unit),
                notes=(*garment.notes, *unseen),
            )
            for n, garment in enumerate(garments)
        ),
    )


def longest(several: Iterable[Worn]) -> tuple[ClothDrawn, ...]:
    """Return every cloth of several plans once, the longest drawing of each."""
    out: dict[str, ClothDrawn] = {}
    for one in several:
        for cloth in one.cloths:
            if cloth.id not in out or cloth.long > out[cloth.id].long:
                out[cloth.id] = cloth
    return tuple(out.values())


def _cloth(laid: Laid, name: str, id_: str) -> ClothDrawn:
    """Return a whole cloth with its print."""
    cloth = laid.compiled.cloth(name)
    long = max(laid.lay.used.get(name, 0.0), cloth.length or 0.0) + MORE_MM
    ring = cloth_ring(cloth, long)
    ground = Fill(path=ring_path(ring), role=DrawnRole.CLOTH)
    drawn = (ground, *worn_inside(ring, cloth))
    picture = Picture(items=drawn, title=name)
    return ClothDrawn(id=id_, long=long, picture=picture, notes=print_notes(ring, cloth))


def _view(
    garment: Garment,
    view: View,
    placed: Mapping[str, Placement],
    ids: Mapping[str, str],
    key: str,
) -> ViewShown:
    """Return one view; front and back of a garment are shown equally high."""
    x0, y0, x1, y1 = view.box
    if view.name in ("front", "back"):
        heights = [v.box for v in garment.views if v.name in ("front", "back")]
        y0, y1 = min(b[1] for b in heights), max(b[3] for b in heights)
    words = view_words(garment, view)
    names = ", ".join(dict.fromkeys(p.shape for p in view.parts))
    return ViewShown(
        words=begun(words),
        alt=f"The {words} with its print, put together from {names}.",
        x=x0 - MARGIN_MM,
        y=-y1 - MARGIN_MM,
        wide=x1 - x0 + 2 * MARGIN_MM,
        tall=y1 - y0 + 2 * MARGIN_MM,
        parts=tuple(
            _part(part, placed.get(part.shape), ids, f"{key}-{n}")
            for n, part in enumerate(view.parts)
        ),
    )


def _part(part: Part, at: Placement | None, ids: Mapping[str, str], key: str) -> PartShown:
    ring = thinned_ring(part.ring, ROUGH_MM)
    return PartShown(
        shape=part.shape,
        key=key,
        line="M" + "L".join(f"{decimal(x)} {decimal(-y)}" for x, y in ring) + "Z",
        move=matrix(part.move),
        cloth=ids[at.region] if at else "",
        under=under(at.x, at.y, at.turn_deg) if at else "",
    )


def under(x: float, y: float, turn_deg: float) -> str:
    """Return the move that brings the cloth at a placement under the piece, as SVG writes it.

    x, y: mm; turn_deg: counter-clockwise. The same sum stands in the page's script (under.js), for
    a piece that is being dragged.
    """
    return f"rotate({decimal(turn_deg)}) translate({decimal(-x)} {decimal(y)})"
