"""A piece as it will be cut, the print of the cloth on it, turned the way it is worn."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import picture_spots
from clothwright.drawing.cloth_print import print_inside
from clothwright.drawing.piece import stitching_lines
from clothwright.geometry.path import ring_path
from clothwright.geometry.transform import rotation_deg
from clothwright.lay.compiled import Compiled
from clothwright.lay.result import Placement
from clothwright.lay.sewn import placement_move
from clothwright.pattern.whole import unfolded
from clothwright.picture.picture import DrawnRole, Fill, Item, Picture, Stroke


def printed_piece(compiled: Compiled, placement: Placement) -> Picture:
    """Return one laid piece with the print of its cloth inside its cutting line, right side up.

    The picture is in mm, true to scale, its way up the body upward; it is never mirrored: what is
    seen is the right side of the cloth, so the two of a pair are each other's mirror image.
    """
    cloth = compiled.cloth(placement.region)
    copy = compiled.copy(placement.shape)
    move = placement_move(copy, placement)
    ring, group = placement.outline, placement.shape
    items: list[Item] = [Fill(path=ring_path(ring), role=DrawnRole.CLOTH, group=group)]
    items += print_inside(ring, cloth)
    items += stitching_lines(unfolded(copy.piece), group, move)
    items.append(Stroke(path=ring_path(ring), role=DrawnRole.CUT, closed=True, group=group))
    turn_deg = 90.0 - move.apply_direction(copy.piece.up).angle_deg
    return Picture(items=tuple(items), title=placement.shape).transformed(rotation_deg(turn_deg))


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoOn:
    """A photo on its cloth. file: its name in the workbook; wide, tall: mm of one copy.

    spots: the upper left corner of every copy, mm, y turned down.
    """

    file: str
    wide: float
    tall: float
    spots: tuple[tuple[float, float], ...]


def photo_on(cloth: Cloth, long: float) -> PhotoOn | None:
    """Return the photo of a cloth wherever it comes again on `long` mm of it; None without one."""
    shown = cloth.print.picture
    spots = picture_spots(cloth.print, long, cloth.width)
    if shown is None or not spots:
        return None
    return PhotoOn(
        file=shown.file,
        wide=shown.width,
        tall=shown.height,
        spots=tuple((x, -y - shown.height) for x, y in spots),
    )
