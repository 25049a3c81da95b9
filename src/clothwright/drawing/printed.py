"""A piece as it will be cut, the print of the cloth on it, turned the way it is worn."""

from __future__ import annotations

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
