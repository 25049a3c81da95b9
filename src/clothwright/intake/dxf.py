"""Lines of a DXF file, by ezdxf: blocks, bulges, arcs, splines and words, in mm.

A file names its unit ($INSUNITS), or it does not (R12, or unit 0): then the size is asked. With
numbers for layers, as the withdrawn ASTM D6673 lists them, some layers say what a line is; that
table is from memory (docs/intake-dxf.md).
"""

from __future__ import annotations

import io
import struct
from collections import Counter
from collections.abc import Iterator
from typing import Any

from ezdxf import recover
from ezdxf.disassemble import recursive_decompose
from ezdxf.lldxf.const import DXFError
from ezdxf.path import Command, make_path

from clothwright.errors import BadInput
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Cubic, Line, Segment
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.vec import Vec, unit_at
from clothwright.intake.drawing import Drawing, DrawnLine, DrawnText, Reader

MOST_BYTES = 20_000_000
MOST_ENTITIES = 60_000
MOST_POINTS = 400_000
ARCS = 16
"""Curves that a whole circle is made of: a circle of 1 m then strays by less than 0.001 mm."""
FARTHEST = 1e7
"""A coordinate farther off than this, in the file's unit, is a broken file's."""
UNIT_MM = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0, 10: 914.4, 14: 100.0}
"""$INSUNITS to mm: inch, foot, mm, cm, m, yard, decimetre (DXF reference)."""
NOT_DRAWN = {"2": "turn points", "3": "curve points", "5": "grade reference lines"}
"""Numbered layers whose entities are no lines of the piece (ASTM D6673, from memory)."""
WORDS = {"TEXT", "MTEXT", "ATTRIB"}
LINES = {"LINE", "LWPOLYLINE", "POLYLINE", "SPLINE", "ELLIPSE", "ARC", "CIRCLE"}
_FALLS = (
    DXFError,
    ValueError,
    KeyError,
    IndexError,
    TypeError,
    AttributeError,
    ArithmeticError,
    RecursionError,
    StopIteration,
    RuntimeError,
    AssertionError,
    UnicodeError,
    EOFError,
    struct.error,
)
"""What ezdxf raises for files that are broken (seen, with mutated files)."""


def read_dxf(data: bytes, name: str) -> Drawing:
    """Return the lines and words of a DXF file in mm, y up. Raises BadInput, never anything else.

    Curves come out within 0.01 mm; arcs and bulges as cubics. Entities on layers that are off or
    frozen are left out, and told.
    """
    if len(data) > MOST_BYTES:
        raise BadInput(
            where=name,
            what=f"it has {len(data) / 1e6:.0f} MB",
            expected=f"at most {MOST_BYTES / 1e6:.0f} MB",
        )
    file = _opened(data, name)
    walk = _Walk(file, name)
    try:
        lines, texts = walk.all()
    except BadInput:
        raise
    except _FALLS as error:
        raise _broken(name, error) from None
    if not lines:
        raise BadInput(
            where=name,
            what="there are no lines in it",
            expected="a DXF file with pieces drawn as lines",
            try_="saving it again; a file that was cut off may open as an empty one",
        )
    unit = UNIT_MM.get(walk.unit)
    return Drawing(
        name=name,
        lines=tuple(lines),
        scale_known=unit is not None,
        notes=tuple(walk.notes()),
        texts=tuple(texts),
    )


def _broken(name: str, error: BaseException) -> BadInput:
    said = (str(error).splitlines() or [""])[0][:80]
    return BadInput(
        where=name,
        what=f"it is no readable DXF file ({said or type(error).__name__})",
        expected="a whole DXF file",
        try_="saving it again, as text (ASCII) DXF",
    )


def _opened(data: bytes, name: str) -> Any:
    try:
        file, auditor = recover.read(io.BytesIO(data))
    except _FALLS as error:
        raise _broken(name, error) from None
    del auditor
    return file


class _Walk:
    """One walk through the entities of a file."""

    def __init__(self, file: Any, where: str) -> None:
        self.file, self.where = file, where
        self.left = Counter[str]()
        self.points = 0
        version = str(file.dxfversion)
        units = file.header.get("$INSUNITS", 0)
        known = isinstance(units, int) and version > "AC1009"
        self.unit = units if known else 0
        self.scale = UNIT_MM.get(self.unit, 1.0)

    def notes(self) -> Iterator[str]:
        """Yield what was left out, in words."""
        for kind, count in sorted(self.left.items()):
            yield f"left out, {kind}: {count}"

    def all(self) -> tuple[list[DrawnLine], list[DrawnText]]:
        """Return every line and text of the model space."""
        lines: list[DrawnLine] = []
        texts: list[DrawnText] = []
        for count, entity in enumerate(recursive_decompose(self.file.modelspace())):
            if count > MOST_ENTITIES:
                raise self._too_much(f"more than {MOST_ENTITIES} entities")
            kind, layer = entity.dxftype(), str(entity.dxf.get("layer", "0"))
            if self._hidden(layer):
                self.left["on layers that the file hides"] += 1
            elif layer in NOT_DRAWN:
                self.left[NOT_DRAWN[layer]] += 1
            elif kind in WORDS:
                text = self._text(entity)
                texts += [text] if text else []
            elif kind in LINES:
                lines += self._lines(entity)
            elif kind != "POINT":
                self.left[f"entities of kind {kind[:20]}"] += 1
        return lines, texts

    def _too_much(self, what: str) -> BadInput:
        return BadInput(
            where=self.where,
            what=f"it holds {what}",
            expected="a pattern's pieces",
            try_="a file without pictures and hatching",
        )

    def _hidden(self, layer: str) -> bool:
        if layer not in self.file.layers:
            return False
        found = self.file.layers.get(layer)
        return bool(found.is_off() or found.is_frozen())

    def _lines(self, entity: Any) -> Iterator[DrawnLine]:
        if entity.dxftype() == "SPLINE" and entity.control_point_count() > 5_000:
            raise self._too_much("a spline of more points than any pattern has")
        path = make_path(entity, segments=ARCS, level=8)
        for part in path.sub_paths() if path.has_sub_paths else (path,):
            segments = self._segments(part)
            if segments:
                made = Path(tuple(segments))
                closed = len(segments) > 1 and made.start.distance(made.end) <= 10 * JOIN_MM
                made = made.with_ends(end=made.start) if closed else made
                yield DrawnLine(path=made, closed=closed, label=self._label(entity))

    def _label(self, entity: Any) -> str:
        """Return the name of the block a boundary stands in, when somebody chose it."""
        source = (
            entity.source_block_reference if hasattr(entity, "source_block_reference") else None
        )
        name = str(source.dxf.get("name", "")) if source is not None else ""
        return "" if name.startswith("*") else name

    def _segments(self, part: Any) -> list[Segment]:
        here = self._at(part.start)
        out: list[Segment] = []
        for command in part.commands():
            self.points += 1
            if self.points > MOST_POINTS:
                raise self._too_much(f"more than {MOST_POINTS} points")
            end = self._at(command.end)
            if command.type == Command.LINE_TO:
                made: Segment = Line(here, end)
            elif command.type == Command.CURVE4_TO:
                made = Cubic(here, self._at(command.ctrl1), self._at(command.ctrl2), end)
            elif command.type == Command.CURVE3_TO:
                c = self._at(command.ctrl)
                made = Cubic(here, here.lerp(c, 2 / 3), end.lerp(c, 2 / 3), end)
            else:
                here = end
                continue
            if max(here.distance(p) for p in made.controls()[1:]) > 1e-9:
                out.append(made)
                here = end
        return out

    def _at(self, p: Any) -> Vec:
        x, y = float(p.x), float(p.y)
        if not (abs(x) < FARTHEST and abs(y) < FARTHEST):  # also what is no number
            raise BadInput(
                where=self.where,
                what="a point lies beyond any table, or is no number",
                expected="a whole DXF file",
            )
        return Vec(x * self.scale, y * self.scale)

    def _text(self, entity: Any) -> DrawnText | None:
        if entity.dxftype() == "MTEXT":
            words, height = entity.plain_text(), entity.dxf.get("char_height", 0.0)
        else:
            words, height = entity.dxf.get("text", ""), entity.dxf.get("height", 0.0)
        words = " ".join(str(words).split())[:400]
        if not words:
            return None
        tall = float(height) * self.scale
        turn = float(entity.dxf.get("rotation", 0.0))
        start = self._at(entity.dxf.insert)
        centred = entity.dxftype() == "MTEXT" and entity.dxf.get("attachment_point", 1) in (2, 5, 8)
        at = start if centred else start + unit_at(turn) * (0.3 * tall * len(words))
        return DrawnText(words=words, at=at, height=tall, turn_deg=turn)


READER = Reader(id="dxf", title="DXF drawing", suffixes=(".dxf",), read=read_dxf)
