"""Lines of a DXF file, by ezdxf: blocks, bulges, arcs, splines and words, in mm.

A file names its unit ($INSUNITS), or it does not (R12, or unit 0): then the size is asked. Where
layers are numbers, these may say what a line is (`dxf_layers`): proposed, or as it is answered.
"""

from __future__ import annotations

import io
import struct
from collections import Counter
from collections.abc import Iterator, Sequence
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
from clothwright.intake.answers import Answers
from clothwright.intake.drawing import (
    INNER,
    NOTCH,
    NOTCH_POINT,
    POINT,
    Drawing,
    DrawnLine,
    DrawnText,
    Reader,
)
from clothwright.intake.dxf_layers import (
    CALLED,
    MEANINGS,
    NAMES,
    NOT_DRAWN,
    NUMBERED,
    layers_taken,
)
from clothwright.intake.dxf_mended import mended
from clothwright.intake.spots import ring_round

MOST_BYTES = 20_000_000
MOST_ENTITIES = 60_000
MOST_POINTS = 400_000
ARCS = 16
"""Curves that a whole circle is made of: a circle of 1 m then strays by less than 0.001 mm."""
FARTHEST = 1e7
"""A coordinate farther off than this, in the file's unit, is a broken file's."""
UNIT_MM = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0, 10: 914.4, 14: 100.0}
"""$INSUNITS to mm: inch, foot, mm, cm, m, yard, decimetre (DXF reference)."""
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


def read_dxf(data: bytes, name: str, answers: Answers = Answers()) -> Drawing:  # noqa: B008
    """Return the lines and words of a DXF file in mm, y up. Raises BadInput, never anything else.

    Curves come out within 0.01 mm; arcs and bulges as cubics; points as small rings. Entities on
    layers that are off or frozen are left out, and told; so is what ezdxf mended. answers.layers
    says whether numbers of layers have a meaning; unanswered it is proposed by the file's looks.
    """
    if len(data) > MOST_BYTES:
        raise BadInput(
            where=name,
            what=f"it has {len(data) / 1e6:.0f} MB",
            expected=f"at most {MOST_BYTES / 1e6:.0f} MB",
        )
    file, notes = _opened(data, name)
    walk = _Walk(file, name)
    try:
        lines, texts = walk.all(answers.layers)
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
        notes=(*notes, *walk.notes(said=bool(answers.layers))),
        texts=tuple(texts),
        layers=walk.layers,
    )


def _broken(name: str, error: BaseException) -> BadInput:
    said = (str(error).splitlines() or [""])[0][:80]
    return BadInput(
        where=name,
        what=f"it could not be read as a DXF file ({said or type(error).__name__})",
        expected="a whole DXF file",
        try_="saving it again, as text (ASCII) DXF",
    )


def _opened(data: bytes, name: str) -> tuple[Any, tuple[str, ...]]:
    """Return the file, and what was mended in it."""
    try:
        file, auditor = recover.read(io.BytesIO(data))
    except _FALLS as error:
        raise _broken(name, error) from None
    return file, mended(auditor)


class _Walk:
    """One walk through the entities of a file."""

    def __init__(self, file: Any, where: str) -> None:
        self.file, self.where = file, where
        self.left = Counter[str]()
        self.layers = ""
        self.points = 0
        version = str(file.dxfversion)
        units = file.header.get("$INSUNITS", 0)
        known = isinstance(units, int) and version > "AC1009"
        self.unit = units if known else 0
        self.scale = UNIT_MM.get(self.unit, 1.0)

    def notes(self, *, said: bool) -> Iterator[str]:
        """Yield how layers were taken and what was left out, in words. said: the maker said how."""
        if self.layers == NUMBERED:
            yield (
                "numbers of layers taken for what they mean in ASTM D6673 (1 boundary, 4 notches, "
                "7 grain, 14 sew lines; the table is from memory)"
                + ("" if said else f"; --layers {NAMES} if they mean nothing")
            )
        for kind, count in sorted(self.left.items()):
            yield f"left out, {kind}: {count}"

    def all(self, said: str) -> tuple[list[DrawnLine], list[DrawnText]]:
        """Return every line and text of the model space. said: what numbers of layers mean."""
        found, blocks = self._entities()
        self.layers = layers_taken(said, {layer for _, layer in found}, blocks=blocks)
        lines: list[DrawnLine] = []
        texts: list[DrawnText] = []
        points: list[tuple[Any, str]] = []
        for entity, layer in found:
            kind = entity.dxftype()
            if self.layers == NUMBERED and layer in NOT_DRAWN:
                self.left[NOT_DRAWN[layer]] += 1
            elif kind in WORDS:
                text = self._text(entity)
                texts += [text] if text else []
            elif kind in LINES:
                lines += self._lines(entity, layer)
            elif kind == "POINT":
                points.append((entity, layer))
            else:
                self.left[f"entities of kind {kind[:20]}"] += 1
        return [*lines, *self._spots(points, lines)], texts

    def _entities(self) -> tuple[list[tuple[Any, str]], bool]:
        """Return what is shown, with its layer; and whether some of it stands in a block."""
        out: list[tuple[Any, str]] = []
        blocks = False
        for count, entity in enumerate(recursive_decompose(self.file.modelspace())):
            if count > MOST_ENTITIES:
                raise self._too_much(f"more than {MOST_ENTITIES} entities")
            layer = self._layer(entity)
            if self._hidden(layer):
                self.left["on layers that the file hides"] += 1
                continue
            out.append((entity, layer))
            blocks = blocks or bool(self._block(entity))
        return out, blocks

    def _spots(
        self, points: Sequence[tuple[Any, str]], lines: Sequence[DrawnLine]
    ) -> Iterator[DrawnLine]:
        """Yield a ring for each point that says something of its own.

        A point at an end or a corner of a line says nothing, unless its layer does; it is told.
        """
        ends = {_cell(p) for x in lines for s in x.path.segments for p in (s.start, s.end)}
        for entity, layer in points:
            at = self._at(entity.dxf.location)
            kind = self._kind(layer)
            notch = kind == NOTCH or (not kind and "notch" in layer.lower())
            if not notch and (kind not in ("", INNER) or (not kind and _cell(at) in ends)):
                self.left["points at the ends and corners of lines"] += 1
                continue
            yield DrawnLine(
                path=ring_round(at),
                closed=True,
                label=self._label(entity, layer),
                kind=NOTCH_POINT if notch else POINT,
            )

    def _kind(self, layer: str) -> str:
        """Return what the layer says that a line is; "" when layers say nothing."""
        return MEANINGS.get(layer, INNER) if self.layers == NUMBERED else ""

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

    def _lines(self, entity: Any, layer: str) -> Iterator[DrawnLine]:
        if entity.dxftype() == "SPLINE" and entity.control_point_count() > 5_000:
            raise self._too_much("a spline of more points than any pattern has")
        path = make_path(entity, segments=ARCS, level=8)
        for part in path.sub_paths() if path.has_sub_paths else (path,):
            segments = self._segments(part)
            if segments:
                made = Path(tuple(segments))
                closed = len(segments) > 1 and made.start.distance(made.end) <= 10 * JOIN_MM
                made = made.with_ends(end=made.start) if closed else made
                yield DrawnLine(
                    path=made,
                    closed=closed,
                    label=self._label(entity, layer),
                    kind=self._kind(layer),
                )

    def _label(self, entity: Any, layer: str) -> str:
        """Return what a mark of a numbered layer is called, else the name of its block."""
        called = CALLED.get(layer) if self.layers == NUMBERED else None
        return called or self._block(entity)

    @staticmethod
    def _layer(entity: Any) -> str:
        """Return the layer something lies on: in a block, layer 0 is that of the insert."""
        layer = str(entity.dxf.get("layer", "0"))
        source = getattr(entity, "source_block_reference", None)
        if layer == "0" and source is not None:
            return str(source.dxf.get("layer", "0"))
        return layer

    @staticmethod
    def _block(entity: Any) -> str:
        """Return the name of the block something stands in, when somebody chose it."""
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


def _cell(p: Vec) -> tuple[int, int]:
    """Return a place to a tenth of a mm."""
    return round(10 * p.x), round(10 * p.y)


READER = Reader(id="dxf", title="DXF drawing", suffixes=(".dxf",), read=read_dxf, read_as=read_dxf)
