"""Strokes, fills and texts in mm (y up), each with a role; style is decided by the writer."""

from __future__ import annotations

import enum
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from clothwright.geometry.box import Box, box_round
from clothwright.geometry.path import Path
from clothwright.geometry.transform import IDENTITY, Transform
from clothwright.geometry.vec import Vec, unit_at


class DrawnRole(enum.Enum):
    """What a line, an area or a text means. A role is also a layer's name in SVG, PDF and DXF."""

    CUT = "cut"
    STITCH = "stitch"
    FOLD = "fold"
    HEM = "hem"
    GRAIN = "grain"
    NOTCH = "notch"
    DART = "dart"
    LEVEL = "level"
    MARK = "mark"
    LABEL = "label"
    PIECE = "piece"
    """the inside of a piece (fill)"""
    CLOTH = "cloth"
    SELVEDGE = "selvedge"
    BORDER = "border"
    MOTIF = "motif"
    FLAW = "flaw"
    MEASURE = "measure"
    """dimension lines and their figures"""
    LEFTOVER = "leftover"
    FAULT = "fault"
    PAGE = "page"
    """joining lines and marks, page map, page names"""
    TRIM = "trim"
    """where a printed page is cut before it is joined to the next"""
    TEST = "test"
    """test squares"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A line along a path. `group` names what it belongs to (a piece, a seam)."""

    path: Path
    role: DrawnRole
    closed: bool = False
    group: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fill:
    """An area inside a closed path. holes: more closed paths, cut out of it or apart from it.

    What an odd number of them lies about is filled.
    """

    path: Path
    role: DrawnRole
    holes: tuple[Path, ...] = ()
    group: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """Words at a point on their base line; anchor: start, middle or end.

    size: type size (em) in mm, of which a capital is about 0.73 high. angle_deg: direction of
    the line of text, counter-clockwise from +x.
    """

    words: str
    at: Vec
    size: float
    role: DrawnRole = DrawnRole.LABEL
    anchor: str = "start"
    angle_deg: float = 0.0
    group: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPhoto:
    """A photo wherever it comes again, seen through a closed path.

    file: its name; data: what is in the file, JPEG or PNG, b"" where it is not at hand (a page
    fetches it, a file is drawn without it). wide, tall: mm of one copy; spots: the lower left
    corner of each, in a frame of its own. move: from that frame into the picture; clip: the path,
    in the picture.
    """

    file: str
    wide: float
    tall: float
    spots: tuple[Vec, ...]
    clip: Path
    move: Transform = IDENTITY
    data: bytes = b""
    role: DrawnRole = DrawnRole.CLOTH
    group: str = ""


PhotoFiles = Callable[[str], bytes]
"""What is in a photo's file, by its name; b"" where there is none."""
Item = Stroke | Fill | Text | DrawnPhoto


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """Items in drawing order (first is undermost), mm, y up; title for the reader."""

    items: tuple[Item, ...] = ()
    title: str = ""

    def plus(self, *others: Picture) -> Picture:
        """Return this picture with the others drawn over it."""
        return replace(self, items=self.items + tuple(i for o in others for i in o.items))

    def transformed(self, move: Transform) -> Picture:
        """Return the moved picture; texts are scaled with it, mirrored ones stay legible."""
        return replace(self, items=tuple(_moved(i, move) for i in self.items))

    def only(self, roles: Iterable[DrawnRole]) -> Picture:
        """Return only the items of these roles."""
        keep = set(roles)
        return replace(self, items=tuple(i for i in self.items if i.role in keep))

    def with_photos(self, photos: PhotoFiles) -> Picture:
        """Return the picture whose photos have what is in their files, without those of none."""
        filled = (
            replace(i, data=photos(i.file)) if isinstance(i, DrawnPhoto) else i for i in self.items
        )
        kept = (i for i in filled if not isinstance(i, DrawnPhoto) or i.data)
        return replace(self, items=tuple(kept))

    def bounds(self) -> Box:
        """Return the box round everything drawn (texts by a rough box).

        Raises ValueError when the picture is empty.
        """
        corners = [c for item in self.items for c in _item_bounds(item)]
        if not corners:
            raise ValueError("an empty picture has no bounds")
        return box_round(corners)


def _moved(item: Item, move: Transform) -> Item:
    if isinstance(item, Text):
        along = move.apply_direction(unit_at(item.angle_deg))
        scale = abs(move.determinant) ** 0.5
        angle = along.angle_deg
        anchor = item.anchor
        if move.mirrors and abs(angle) > 90 + 1e-9:
            angle += 180.0
            anchor = {"start": "end", "end": "start"}.get(anchor, anchor)
        return replace(
            item, at=move.apply(item.at), size=item.size * scale, angle_deg=angle, anchor=anchor
        )
    if isinstance(item, Fill):
        return replace(
            item,
            path=item.path.transformed(move),
            holes=tuple(h.transformed(move) for h in item.holes),
        )
    if isinstance(item, DrawnPhoto):
        return replace(item, clip=item.clip.transformed(move), move=item.move.then(move))
    return replace(item, path=item.path.transformed(move))


def _item_bounds(item: Item) -> tuple[Vec, ...]:
    if isinstance(item, Fill):
        return tuple(c for path in (item.path, *item.holes) for c in path.bounds())
    if not isinstance(item, Text):
        return (item.clip if isinstance(item, DrawnPhoto) else item.path).bounds()
    along = unit_at(item.angle_deg)
    width = 0.6 * item.size * len(item.words)
    back = {"start": 0.0, "middle": 0.5, "end": 1.0}[item.anchor] * width
    p = item.at - along * back
    up = along.perp * item.size
    return (p, p + along * width, p + up, p + along * width + up)
