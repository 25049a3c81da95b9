"""One walk through the entities of a DXF file: what each use of a block draws, in mm."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterator, Sequence
from dataclasses import replace
from itertools import islice
from typing import Any

from ezdxf.disassemble import recursive_decompose
from ezdxf.path import Command, make_path

from clothwright.errors import BadInput
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Cubic, Line, Segment
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import INNER, NOTCH, NOTCH_POINT, POINT, DrawnLine, DrawnText
from clothwright.intake.dxf_blocks import BlockUse
from clothwright.intake.dxf_layers import (
    CALLED,
    MEANINGS,
    NAMES,
    NOT_DRAWN,
    NUMBERED,
    layers_taken,
)
from clothwright.intake.dxf_pens import pen_of
from clothwright.intake.dxf_words import WORDS, texts_of
from clothwright.intake.pen import DrawnPen
from clothwright.intake.spots import ring_round

MOST_ENTITIES = 60_000
MOST_POINTS = 400_000
ARCS = 16
"""Curves that a whole circle is made of: a circle of 1 m then strays by less than 0.001 mm."""
DEEPEST = 8
"""Blocks in each other that hold nothing but the next."""
FARTHEST = 1e7
"""A coordinate farther off than this, in the file's unit, is a broken file's."""
UNIT_MM = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0, 10: 914.4, 14: 100.0}
"""$INSUNITS to mm: inch, foot, mm, cm, m, yard, decimetre (DXF reference)."""
LINES = {"LINE", "LWPOLYLINE", "POLYLINE", "SPLINE", "ELLIPSE", "ARC", "CIRCLE"}
Placed = tuple[Any, str]
"""An entity, and the layer it lies on."""


class DxfWalk:
    """One walk through the entities of a file."""

    def __init__(self, file: Any, where: str) -> None:
        self.file, self.where = file, where
        self.left = Counter[str]()
        self.layers = ""
        self.points = 0
        units = file.header.get("$INSUNITS", 0)
        self.unit = units if isinstance(units, int) else 0
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

    def all(self, said: str) -> list[BlockUse]:
        """Return what each use of a block draws, and before them what stands in none.

        said: what numbers of layers mean.
        """
        found, names = self._entities()
        used = {layer for here in found.values() for _, layer in here}
        self.layers = layers_taken(said, used, blocks=any(names[k].name for k in found))
        made = [self._group(here, names[k]) for k, here in found.items()]
        ends = {
            _cell(p)
            for group, _ in made
            for x, _ in group.lines
            for s in x.path.segments
            for p in (s.start, s.end)
        }
        return [replace(g, lines=(*g.lines, *self._spots(points, ends))) for g, points in made]

    def _group(
        self, found: Sequence[tuple[Any, str]], use: BlockUse
    ) -> tuple[BlockUse, list[Placed]]:
        """Return the lines and words of one use of a block, and its points with their layers."""
        lines: list[tuple[DrawnLine, DrawnPen]] = []
        texts: list[DrawnText] = []
        points: list[Placed] = []
        for entity, layer in found:
            kind = entity.dxftype()
            if self.layers == NUMBERED and layer in NOT_DRAWN:
                self.left[NOT_DRAWN[layer]] += 1
            elif kind in WORDS:
                texts += texts_of(entity, self._at, self.scale)
            elif kind in LINES:
                pen = self._pen(entity, layer)
                lines += ((line, pen) for line in self._lines(entity, layer))
            elif kind == "POINT":
                points.append((entity, layer))
            else:
                self.left[f"entities of kind {kind[:20]}"] += 1
        return replace(use, lines=tuple(lines), texts=tuple(texts)), points

    def _entities(self) -> tuple[dict[int, list[Placed]], list[BlockUse]]:
        """Return what is shown, with its layer, by the use of a block it stands in; and these."""
        out: dict[int, list[Placed]] = {}
        uses = [BlockUse()]
        count = 0
        for top in self._tops():
            number = 0
            if top.dxftype() == "INSERT":
                zero = self._at(top.matrix44().transform((0.0, 0.0, 0.0)))
                uses.append(BlockUse(name=_chosen(top.dxf.get("name", "")), zero=zero))
                number = len(uses) - 1
            for entity in recursive_decompose([top]):
                count += 1
                if count > MOST_ENTITIES:
                    raise self._too_much(f"more than {MOST_ENTITIES} entities")
                layer = self._layer(entity)
                if self._hidden(layer):
                    self.left["on layers that the file hides"] += 1
                else:
                    out.setdefault(number, []).append((entity, layer))
        return out, uses

    def _tops(self) -> list[Any]:
        """Return what stands in the drawing; of one block that holds blocks, what stands there."""
        tops = list(self.file.modelspace())
        for _ in range(DEEPEST):
            if len(tops) != 1 or tops[0].dxftype() != "INSERT" or tops[0].mcount > 1:
                break
            inner = list(islice(tops[0].virtual_entities(), MOST_ENTITIES))
            if sum(x.dxftype() == "INSERT" for x in inner) < 2:
                break
            tops = [*tops[0].attribs, *inner]
        return tops

    def _spots(
        self, points: Sequence[Placed], ends: Container[tuple[int, int]]
    ) -> Iterator[tuple[DrawnLine, DrawnPen]]:
        """Yield a ring for each point that says something of its own.

        A point at an end or a corner of a line says nothing, unless its layer does; it is told.
        """
        for entity, layer in points:
            at = self._at(entity.dxf.location)
            kind = self._kind(layer)
            notch = kind == NOTCH or (not kind and "notch" in layer.lower())
            if not notch and (kind not in ("", INNER) or (not kind and _cell(at) in ends)):
                self.left["points at the ends and corners of lines"] += 1
                continue
            ring = DrawnLine(
                path=ring_round(at),
                closed=True,
                label=self._label(entity, layer),
                kind=NOTCH_POINT if notch else POINT,
            )
            yield ring, self._pen(entity, layer)

    def _pen(self, entity: Any, layer: str) -> DrawnPen:
        named = self.layers != NUMBERED
        return pen_of(self.file, entity, layer, named=named, scale=self.scale)

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
        source = getattr(entity, "source_block_reference", None)
        return _chosen(source.dxf.get("name", "")) if source is not None else ""

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


def _chosen(name: object) -> str:
    """Return the name of a block when somebody chose it; "" for one that a program made up."""
    return "" if str(name).startswith("*") else str(name)


def _cell(p: Vec) -> tuple[int, int]:
    """Return a place to a tenth of a mm."""
    return round(10 * p.x), round(10 * p.y)
