"""An annotated SVG -> Piece. The drawing may have been through any drawing program since.

Geometry is read where it is drawn, under the transforms and the size that the file now has; how
far along an edge something lies, and allowances, are read from their attributes in mm.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import lru_cache
from xml.etree import ElementTree as ET

from clothwright.errors import BadInput, did_you_mean, one_of
from clothwright.geometry.transform import reflection
from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import (
    Cut,
    Dart,
    Edge,
    Grain,
    Join,
    Level,
    Mark,
    Notch,
    NotchKind,
    Piece,
    Role,
)
from clothwright.pattern.whole import moved
from clothwright.picture.safe_xml import placed_xml
from clothwright.store.book.chain import Drawn, chained, drawn_area
from clothwright.store.book.piece_svg import FORMAT, PIECE
from clothwright.store.book.placed import Placed

MIRROR = reflection((0.0, 0.0), (0.0, 1.0))
MOST_KEPT = 256
"""Drawings remembered as pieces."""


@lru_cache(maxsize=MOST_KEPT)
def piece_from_svg(data: bytes, where: str) -> Piece:
    """Return the piece of an annotated SVG. Raises BadInput that names file, line and element.

    What `piece_to_svg` wrote comes back exactly. Edges may stand in any order and be drawn either
    way round; a drawing that was moved, turned, scaled or turned over is read as it now lies.
    The drawings read last are remembered: an edit touches few of a workbook's pieces.
    """
    found = placed_xml(data, where)
    name = found.root.get(PIECE)
    if name is None:
        raise BadInput(
            where=where,
            what="the drawing is not annotated as a piece",
            expected=f'{PIECE}="NAME" on its svg element',
            try_="clothwright add, which asks what it needs to know",
        )
    if found.root.get("data-format") != FORMAT:
        raise BadInput(
            where=where,
            what=f"its piece format is {found.root.get('data-format')!r}",
            expected=f'data-format="{FORMAT}"',
        )
    return _Reader(found, where).piece(name)


class _Reader(Placed):
    """Gathers the annotated elements of one drawing."""

    def having(self, attribute: str) -> list[ET.Element]:
        """Return the elements with an attribute, in document order."""
        return [e for e in self.elements if e.get(attribute) is not None]

    def piece(self, name: str) -> Piece:
        """Put the piece together. Raises BadInput."""
        edges = self._edges()
        if len(edges) < 2:
            raise BadInput(
                where=self.where,
                what="it has fewer than two edges",
                expected='lines with data-edge="NAME" round the piece',
            )
        first = edges[0].edge.name
        turned_over = drawn_area(edges) < 0
        if turned_over:
            self.frames = {e: f.then(MIRROR) for e, f in self.frames.items()}
            edges = self._edges()
        darts, edges = self._darts(edges), self._with_notches(edges)
        edges, darts = chained(edges, darts, self.where)
        note = next((e.text or "" for e in self.having("data-note")), "")
        try:
            piece = Piece(
                name=name,
                edges=tuple(e.edge for e in edges),
                darts=darts,
                grain=next((self._grain(e) for e in self.having("data-grain")), None),
                levels=tuple(self._level(e) for e in self.having("data-level")),
                marks=tuple(self._mark(e) for e in self.having("data-mark")),
                cuts=tuple(self._cut(e) for e in self.having("data-cut")),
                note=note,
            )
        except BadInput as error:
            raise error if error.where.startswith(self.where) else error.at(self.where) from None
        return _starting(moved(piece, MIRROR), first) if turned_over else piece

    # --- edges and what lies on them -------------------------------------------------------------

    def _edges(self) -> tuple[Drawn, ...]:
        return tuple(self._edge(e) for e in self.having("data-edge"))

    def _edge(self, e: ET.Element) -> Drawn:
        allowance = self.length(e, "data-allowance") if e.get("data-allowance") else 0.0
        if allowance < 0:
            raise self.fault(e, ("the allowance is ", allowance), "0 or more")
        role = self.one_of(e, "data-role", Role, [r.value for r in Role], Role.SEAM)
        join = self.one_of(e, "data-join", Join, [j.value for j in Join], Join.EXTENDED)
        edge = Edge(
            name=e.get("data-edge", ""),
            path=self.path(e),
            role=role,
            allowance=allowance,
            corner=e.get("data-corner", ""),
            join=join,
        )
        return Drawn(edge=edge, line=self.lines[e])

    def _with_notches(self, edges: tuple[Drawn, ...]) -> tuple[Drawn, ...]:
        found: dict[str, list[Notch]] = {}
        for e in self.having("data-notch"):
            edge = self._on(e, "data-notch", edges)
            kinds = [k.value for k in NotchKind]
            kind = self.one_of(e, "data-kind", NotchKind, kinds, NotchKind.SINGLE)
            drawn = self._middle(e) if e.get("data-at") is None else edge.path.start
            at = self._at(e, "data-at", edge, drawn)
            found.setdefault(edge.name, []).append(
                Notch(at=at, kind=kind, name=e.get("data-name", ""))
            )
        return tuple(
            d._replace(edge=replace(d.edge, notches=tuple(found.get(d.edge.name, ()))))
            for d in edges
        )

    def _darts(self, edges: tuple[Drawn, ...]) -> tuple[Dart, ...]:
        out = []
        for e in self.having("data-dart"):
            edge = self._on(e, "data-on", edges)
            path = self.path(e)
            if len(path.segments) < 2:
                raise self.fault(e, "a dart needs two legs", "a line from leg end to point to leg")
            a = self._at(e, "data-a", edge, path.start)
            b = self._at(e, "data-b", edge, path.end)
            pressed = self.one_of(e, "data-pressed", _pressed, ["start", "end"], "start")
            first, last = sorted((a, b))
            out.append(
                Dart(
                    name=e.get("data-dart", ""),
                    edge=edge.name,
                    a=first,
                    b=last,
                    point=path.segments[0].end,
                    pressed=pressed,
                )
            )
        return tuple(out)

    def _on(self, e: ET.Element, attribute: str, edges: tuple[Drawn, ...]) -> Edge:
        name, known = e.get(attribute, ""), [d.edge.name for d in edges]
        for d in edges:
            if d.edge.name == name:
                return d.edge
        raise self.fault(
            e,
            f'it lies on an edge "{name}" that is not there.{did_you_mean(name, known)}',
            one_of(known),
        )

    def _at(self, e: ET.Element, attribute: str, edge: Edge, drawn: Vec) -> float:
        """How far along an edge: as the attribute says, or the place nearest to what is drawn."""
        if e.get(attribute) is None:
            return edge.path.nearest(drawn)[0]
        at = self.length(e, attribute)
        if not -1e-6 <= at <= edge.length + 1e-6:
            raise self.fault(
                e,
                (f"{attribute} is ", at, ", and the edge is ", edge.length, " long"),
                "a place on the edge",
            )
        return at

    # --- what lies inside ------------------------------------------------------------------------

    def _grain(self, e: ET.Element) -> Grain:
        if e.get("d") is not None:
            path = self.path(e)
            start, end = path.start, path.end
        else:
            start, end = self.point(e, "x1", "y1"), self.point(e, "x2", "y2")
        if start.distance(end) < 1.0:
            raise self.fault(e, "the grain line has no length", "a line from tail to head")
        return Grain(start=start, end=end)

    def _level(self, e: ET.Element) -> Level:
        return Level(name=e.get("data-level", ""), at=self._first(e))

    def _mark(self, e: ET.Element) -> Mark:
        parts = [e, *e]
        at = next((self.point(p, "cx", "cy") for p in parts if p.get("cx") is not None), None)
        path = next((self.path(p) for p in parts if p.get("d") is not None), None)
        return Mark(name=e.get("data-mark", ""), at=at, path=path, note=e.get("data-words", ""))

    def _cut(self, e: ET.Element) -> Cut:
        how, count = e.get("data-how", "once"), e.get("data-count", "1")
        if how not in ("once", "pair", "fold") or not re.fullmatch("[1-9][0-9]?", count):
            raise self.fault(
                e, f'how is "{how}", count is "{count}"', "once, pair or fold, and 1 to 99"
            )
        return Cut(material=e.get("data-cut", ""), how=how, count=int(count))

    def _first(self, e: ET.Element) -> Vec:
        if e.get("d") is not None:
            return self._start(e)
        if e.get("x1") is not None:
            return self.point(e, "x1", "y1")
        return self.point(e, "cx", "cy")

    def _start(self, e: ET.Element) -> Vec:
        """Where the first line of path data starts, whatever follows."""
        parts = re.split(r"(?<!^)(?=[Mm])", e.get("d", "").strip(), maxsplit=1)
        return self.path(e, parts[0]).start

    def _middle(self, e: ET.Element) -> Vec:
        if e.get("d") is not None:
            return self.path(e).middle
        if e.get("x1") is not None:
            return self.point(e, "x1", "y1").lerp(self.point(e, "x2", "y2"), 0.5)
        return self.point(e, "cx", "cy")


def _starting(piece: Piece, name: str) -> Piece:
    """The same piece, its edges listed from the named one on."""
    at = piece.index(name)
    return replace(piece, edges=(*piece.edges[at:], *piece.edges[:at]))


def _pressed(text: str) -> str:
    if text not in ("start", "end"):
        raise ValueError(text)
    return text
