"""The print on the garment: front and back put together flat, each piece with its own print."""

from __future__ import annotations

from clothwright.drawing.cloth_print import worn_inside
from clothwright.drawing.flat import Garment, Part, View
from clothwright.geometry.path import ring_path
from clothwright.geometry.transform import Transform, rotation_deg, translation
from clothwright.geometry.vec import Vec
from clothwright.lay.compiled import Compiled
from clothwright.lay.meeting.say import is_best, is_good, meeting_sentence
from clothwright.lay.meeting.values import worse_of_each
from clothwright.lay.result import Lay, Placement
from clothwright.picture.picture import DrawnRole, Fill, Item, Picture, Stroke, Text
from clothwright.rules.weighing.laid import Laid
from clothwright.rules.weighing.print_facts import TWO_CLOTHS
from clothwright.units import Unit
from clothwright.words import begun

ROOM_MM = 90.0
"""mm between the front and the back in one picture."""
LETTERS_MM = 34.0


def place_on_cloth(placement: Placement) -> Transform:
    """Return the move from a copy right side up in its frame to the cloth."""
    return rotation_deg(placement.turn_deg).then(translation((placement.x, placement.y)))


def cloth_to_view(part: Part, placement: Placement) -> Transform:
    """Return the move that carries the cloth under a copy to where it lies on the garment.

    Never a mirroring one: the right side of the cloth is what is seen.
    """
    return place_on_cloth(placement).inverse().then(part.move)


def view_picture(view: View, compiled: Compiled, lay: Lay) -> Picture:
    """Return one view of a garment true to scale, mm, y up the body.

    Copies that are not laid are drawn without cloth, as an outline.
    """
    placed = {p.shape: p for p in lay.placements}
    items: list[Item] = []
    for part in view.parts:
        items += _part(part, compiled, placed.get(part.shape))
    return Picture(items=tuple(items), title=view.name)


def _part(part: Part, compiled: Compiled, placement: Placement | None) -> list[Item]:
    line = Stroke(
        path=ring_path(part.outline),
        role=DrawnRole.CUT if placement else DrawnRole.STITCH,
        closed=True,
        group=part.shape,
    )
    if placement is None:
        return [line]
    move = place_on_cloth(placement)
    ring = tuple((q.x, q.y) for q in (move.apply(p) for p in part.ring))
    printed = Picture(items=worn_inside(ring, compiled.cloth(placement.region)))
    ground = Fill(path=ring_path(part.outline), role=DrawnRole.CLOTH, group=part.shape)
    return [ground, *printed.transformed(cloth_to_view(part, placement)).items, line]


def garment_picture(garment: Garment, compiled: Compiled, lay: Lay) -> Picture:
    """Return every view of a garment side by side, front first, the name of each below it."""
    items: list[Item] = []
    x, low = 0.0, min(v.box[1] for v in garment.views)
    for view in garment.views:
        x0, y0, x1, _ = view.box
        drop = Vec(x - x0, low - y0 if view.name not in ("front", "back") else 0.0)
        items += view_picture(view, compiled, lay).transformed(translation(drop)).items
        items.append(
            Text(
                words=view_words(garment, view),
                at=Vec(x + (x1 - x0) / 2, low - 2.0 * LETTERS_MM),
                size=LETTERS_MM,
                anchor="middle",
            )
        )
        x += x1 - x0 + ROOM_MM
    return Picture(items=tuple(items), title=f"The print on the {garment.name}")


def view_words(garment: Garment, view: View) -> str:
    """Return the name of a view for the reader: "coat front", "beside the coat"."""
    if view.name not in ("front", "back"):
        return f"beside the {garment.name}" if len(garment.views) > 1 else garment.name
    return f"{garment.name} {view.name}"


def meeting_words(garment: Garment, laid: Laid, unit: Unit) -> tuple[tuple[str, str], ...]:
    """Return what the print does at every seam of a garment: "good" or "notice", and sentences.

    The worse of both sides of the body is told, in `unit`, at the stitching line.
    """
    shapes = {p.shape for v in garment.views for p in v.parts}
    mine = worse_of_each(m for m in laid.meetings if set(m.shapes) <= shapes)
    others = (n for n, joined in laid.between_cloths.items() if set(joined) <= shapes)
    return (
        *(
            ("good" if is_good(m) or is_best(m) else "notice", meeting_sentence(m, unit))
            for m in mine
        ),
        *(("notice", f"{begun(n)}: the print is not compared, for {TWO_CLOTHS}.") for n in others),
    )
