"""One piece as an SVG that any browser shows; `data-` attributes make the round trip exact.

Units are mm; SVG counts y downward, so y changes its sign and nothing else. Everything that is
read back stands in elements with a `data-` attribute of ours (docs/file-format.md); the cutting
line and the words are drawn for the eye and made anew at each save.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from typing import TypeVar
from xml.etree import ElementTree as ET
from xml.sax.saxutils import escape, quoteattr

from clothwright.errors import BadInput, did_you_mean
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Cubic, Line, Segment
from clothwright.geometry.vec import Vec
from clothwright.intake.safe_xml import safe_xml
from clothwright.pattern.outline import cutting_line
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

FORMAT = "1"
MARGIN_MM = 20.0
STYLE = """
.cut{fill:#f7eed8;stroke:#1c1a18;stroke-width:.7}
.edge{fill:none;stroke:#4a4744;stroke-width:.5;stroke-dasharray:4 2}
.fold{stroke-dasharray:12 2 2 2;stroke-width:.7}
.dart,.grain,.mark{fill:none;stroke:#4a4744;stroke-width:.5}
.notch,.level{fill:#4a4744}
text{font:8px sans-serif;fill:#1c1a18}
"""


def piece_to_svg(piece: Piece) -> str:
    """Return the piece as SVG text (mm, true size)."""
    outline = cutting_line(piece).outline
    low, high = outline.bounds()
    low, high = low - Vec(MARGIN_MM, MARGIN_MM), high + Vec(MARGIN_MM, MARGIN_MM)
    wide, tall = high.x - low.x, high.y - low.y
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        '<svg xmlns="http://www.w3.org/2000/svg"'
        f' width="{wide:.2f}mm" height="{tall:.2f}mm"'
        f' viewBox="{low.x:.2f} {-high.y:.2f} {wide:.2f} {tall:.2f}"'
        f' data-clothwright-piece={quoteattr(piece.name)} data-format="{FORMAT}">',
        f"<title>{escape(piece.name)}</title>",
    ]
    if piece.note:
        lines.append(f'<desc data-note="note">{escape(piece.note)}</desc>')
    lines += [
        f"<style>{STYLE}</style>",
        f'<path class="cut" d="{path_text(outline)} Z"/>',
        *(_cut(c) for c in piece.cuts),
        *(line for e in piece.edges for line in _edge(e)),
        *(_dart(piece, d) for d in piece.darts),
        *_grain(piece),
        *(
            f'<circle class="level" r="1.5" data-level={quoteattr(lv.name)} {_xy("c", lv.at)}/>'
            for lv in piece.levels
        ),
        *(_mark(m) for m in piece.marks),
        f'<text x="{(low.x + high.x) / 2:.1f}" y="{-(low.y + high.y) / 2:.1f}"'
        f' text-anchor="middle">{escape(piece.name)}</text>',
        "</svg>",
        "",
    ]
    return "\n".join(lines)


def path_text(path: Path) -> str:
    """Return SVG path data with every digit kept, y downward."""
    words = [f"M {_n(path.start.x)} {_n(-path.start.y)}"]
    for s in path.segments:
        points = s.controls()[1:]
        letter = "L" if isinstance(s, Line) else "C"
        words.append(letter + " " + " ".join(f"{_n(p.x)} {_n(-p.y)}" for p in points))
    return " ".join(words)


def _n(value: float) -> str:
    return repr(value + 0.0).removesuffix(".0")


def _xy(prefix: str, p: Vec, suffix: str = "") -> str:
    return f'{prefix}x{suffix}="{_n(p.x)}" {prefix}y{suffix}="{_n(-p.y)}"'


def _cut(cut: Cut) -> str:
    return f'<g data-cut={quoteattr(cut.material)} data-how="{cut.how}" data-count="{cut.count}"/>'


def _edge(edge: Edge) -> list[str]:
    kind = "edge fold" if edge.role is Role.FOLD else "edge"
    attributes = [
        f"data-edge={quoteattr(edge.name)}",
        f'data-role="{edge.role.value}"',
        f'data-allowance="{_n(edge.allowance)}"',
        f'data-join="{edge.join.value}"',
    ]
    if edge.corner:
        attributes.append(f"data-corner={quoteattr(edge.corner)}")
    out = [f'<path class="{kind}" {" ".join(attributes)} d="{path_text(edge.path)}"/>']
    for notch in edge.notches:
        name = f" data-name={quoteattr(notch.name)}" if notch.name else ""
        p = edge.path.point_at(notch.at)
        out.append(
            f'<circle class="notch" r="1.5" cx="{p.x:.3f}" cy="{-p.y:.3f}"'
            f' data-notch={quoteattr(edge.name)} data-kind="{notch.kind.value}"'
            f' data-at="{_n(notch.at)}"{name}/>'
        )
    return out


def _dart(piece: Piece, dart: Dart) -> str:
    path = piece.edge(dart.edge).path
    a, b = path.point_at(dart.a), path.point_at(dart.b)
    return (
        f'<path class="dart" data-dart={quoteattr(dart.name)} data-on={quoteattr(dart.edge)}'
        f' data-a="{_n(dart.a)}" data-b="{_n(dart.b)}" data-pressed="{dart.pressed}"'
        f' data-x="{_n(dart.point.x)}" data-y="{_n(-dart.point.y)}"'
        f' d="M {a.x:.3f} {-a.y:.3f} L {dart.point.x:.3f} {-dart.point.y:.3f}'
        f' L {b.x:.3f} {-b.y:.3f}"/>'
    )


def _grain(piece: Piece) -> list[str]:
    if piece.grain is None:
        return []
    ends = f"{_xy('', piece.grain.start, '1')} {_xy('', piece.grain.end, '2')}"
    return [f'<line class="grain" data-grain="up" {ends}/>']


def _mark(mark: Mark) -> str:
    note = f" data-words={quoteattr(mark.note)}" if mark.note else ""
    name = f"data-mark={quoteattr(mark.name)}{note}"
    if mark.path is not None:
        at = "" if mark.at is None else f' data-x="{_n(mark.at.x)}" data-y="{_n(-mark.at.y)}"'
        return f'<path class="mark" {name}{at} d="{path_text(mark.path)}"/>'
    if mark.at is None:
        return f"<g {name}/>"
    return f'<circle class="mark" r="3" {name} {_xy("c", mark.at)}/>'


def piece_from_svg(data: bytes, where: str) -> Piece:
    """Return the piece of an annotated SVG. Raises BadInput that names file and element."""
    root = safe_xml(data, where)
    name = root.get("data-clothwright-piece")
    if name is None:
        raise BadInput(
            where=where,
            what="the drawing is not annotated as a piece",
            expected='data-clothwright-piece="NAME" on its svg element',
            try_="clothwright add, which asks what it needs to know",
        )
    if root.get("data-format") != FORMAT:
        raise BadInput(
            where=where,
            what=f"its piece format is {root.get('data-format')!r}",
            expected=f'data-format="{FORMAT}"',
        )
    reader = _Reader(root, where)
    return reader.piece(name)


T = TypeVar("T")


class _Reader:
    """Gathers the annotated elements of one drawing."""

    def __init__(self, root: ET.Element, where: str) -> None:
        self.elements = list(root.iter())
        self.where = where

    def having(self, attribute: str) -> list[ET.Element]:
        """Return the elements with an attribute, in document order."""
        return [e for e in self.elements if e.get(attribute) is not None]

    def piece(self, name: str) -> Piece:
        """Put the piece together. Raises BadInput."""
        notches = self._notches()
        edges = tuple(self._edge(e, notches) for e in self.having("data-edge"))
        for edge_name in notches:
            self._known(edge_name, [e.name for e in edges], "a notch")
        note = next((e.text or "" for e in self.having("data-note")), "")
        try:
            return Piece(
                name=name,
                edges=edges,
                darts=tuple(self._dart(e) for e in self.having("data-dart")),
                grain=next((self._grain(e) for e in self.having("data-grain")), None),
                levels=tuple(
                    Level(name=e.get("data-level", ""), at=self._point(e, "cx", "cy"))
                    for e in self.having("data-level")
                ),
                marks=tuple(self._mark(e) for e in self.having("data-mark")),
                cuts=tuple(self._cut(e) for e in self.having("data-cut")),
                note=note,
            )
        except BadInput as error:
            raise error if error.where.startswith(self.where) else error.at(self.where) from None

    def _known(self, name: str, known: list[str], what: str) -> None:
        if name not in known:
            raise BadInput(
                where=self.where,
                what=f'{what} lies on an edge "{name}" that is not there.'
                + did_you_mean(name, known),
                expected="one of " + ", ".join(known),
            )

    def _fault(self, element: ET.Element, what: str, expected: str) -> BadInput:
        label = next(
            (f"{k[5:]} {v!r}" for k, v in element.attrib.items() if k.startswith("data-")), ""
        )
        return BadInput(where=f"{self.where}, {label}", what=what, expected=expected)

    def _number(self, element: ET.Element, attribute: str) -> float:
        text = element.get(attribute)
        try:
            value = float(text if text is not None else "")
        except ValueError:
            value = math.nan
        if not math.isfinite(value) or abs(value) > 1e6:
            raise self._fault(element, f"{attribute} is {text!r}", "a number of mm")
        return value

    def _point(self, element: ET.Element, x: str, y: str) -> Vec:
        return Vec(self._number(element, x), -self._number(element, y))

    def _one_of(
        self, element: ET.Element, attribute: str, kind: Callable[[str], T], known: str
    ) -> T:
        text = element.get(attribute, "")
        try:
            return kind(text)
        except ValueError:
            raise self._fault(element, f"{attribute} is {text!r}", f"one of {known}") from None

    def _notches(self) -> dict[str, list[Notch]]:
        found: dict[str, list[Notch]] = {}
        for e in self.having("data-notch"):
            kind = self._one_of(e, "data-kind", NotchKind, "single, double")
            notch = Notch(at=self._number(e, "data-at"), kind=kind, name=e.get("data-name", ""))
            found.setdefault(e.get("data-notch", ""), []).append(notch)
        return found

    def _edge(self, e: ET.Element, notches: dict[str, list[Notch]]) -> Edge:
        name = e.get("data-edge", "")
        allowance = self._number(e, "data-allowance")
        if allowance < 0:
            raise self._fault(e, f"the allowance is {allowance:g}", "0 mm or more")
        return Edge(
            name=name,
            path=self._path(e),
            role=self._one_of(e, "data-role", Role, ", ".join(r.value for r in Role)),
            allowance=allowance,
            notches=tuple(notches.get(name, ())),
            corner=e.get("data-corner", ""),
            join=self._one_of(e, "data-join", Join, ", ".join(j.value for j in Join)),
        )

    def _path(self, e: ET.Element) -> Path:
        if e.get("transform"):
            raise self._fault(
                e, "the line has a transform", "a line whose transform has been applied"
            )
        try:
            return path_from_text(e.get("d", ""))
        except ValueError as error:
            raise self._fault(e, str(error), "path data of M, L and C with numbers") from None

    def _dart(self, e: ET.Element) -> Dart:
        pressed = e.get("data-pressed", "start")
        if pressed not in ("start", "end"):
            raise self._fault(e, f"data-pressed is {pressed!r}", "start or end")
        return Dart(
            name=e.get("data-dart", ""),
            edge=e.get("data-on", ""),
            a=self._number(e, "data-a"),
            b=self._number(e, "data-b"),
            point=self._point(e, "data-x", "data-y"),
            pressed=pressed,
        )

    def _grain(self, e: ET.Element) -> Grain:
        start, end = self._point(e, "x1", "y1"), self._point(e, "x2", "y2")
        if start.distance(end) < 1.0:
            raise self._fault(e, "the grain line has no length", "a line from tail to head")
        return Grain(start=start, end=end)

    def _mark(self, e: ET.Element) -> Mark:
        at = None
        if e.get("data-x") is not None:
            at = self._point(e, "data-x", "data-y")
        elif e.get("cx") is not None:
            at = self._point(e, "cx", "cy")
        path = self._path(e) if e.get("d") is not None else None
        return Mark(name=e.get("data-mark", ""), at=at, path=path, note=e.get("data-words", ""))

    def _cut(self, e: ET.Element) -> Cut:
        how, count = e.get("data-how", "once"), self._number(e, "data-count")
        if how not in ("once", "pair", "fold") or count != int(count) or not 0 < count < 100:
            raise self._fault(
                e, f"how is {how!r}, count is {count:g}", "once, pair or fold, and a small number"
            )
        return Cut(material=e.get("data-cut", ""), how=how, count=int(count))


_TOKEN = re.compile(r"([MLCZmlczHhVvSsQqTtAa])|([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)|(\S)")


def path_from_text(text: str) -> Path:
    """Read path data of one open line made of M, L and C (absolute or relative; H and V too).

    Raises ValueError in words.
    """
    tokens = [m.groups() for m in _TOKEN.finditer(text.replace(",", " "))]
    if any(bad for _, _, bad in tokens):
        raise ValueError("the path data has a sign that is no number and no command")
    segments: list[Segment] = []
    at, letter, i = Vec(0.0, 0.0), "", 0

    def take(n: int) -> list[float]:
        nonlocal i
        values = [float(v) for _, v, _ in tokens[i : i + n] if v]
        if len(values) != n or not all(math.isfinite(v) and abs(v) < 1e6 for v in values):
            raise ValueError(f"the command {letter} in the path data lacks numbers")
        i += n
        return values

    while i < len(tokens):
        if tokens[i][0]:
            letter, i = tokens[i][0], i + 1
        elif not letter:
            raise ValueError("the path data starts with a number")
        at, made = _step(letter, at, take, first=not segments)
        segments.extend(made)
        if letter in "Mm":
            letter = "L" if letter == "M" else "l"
    if not segments:
        raise ValueError("the path data draws nothing")
    return Path(tuple(segments))


def _step(
    letter: str, at: Vec, take: Callable[[int], list[float]], *, first: bool
) -> tuple[Vec, list[Segment]]:
    back = at if letter.islower() else Vec(0.0, 0.0)
    kind = letter.upper()
    if kind in "ML":
        x, y = take(2)
        to = Vec(back.x + x, back.y - y)
        if kind == "M":
            if not first:
                raise ValueError("the path data starts a second line")
            return to, []
        return to, [Line(at, to)]
    if kind in "HV":
        (v,) = take(1)
        to = Vec(back.x + v, at.y) if kind == "H" else Vec(at.x, back.y - v)
        return to, [Line(at, to)]
    if kind == "C":
        n = take(6)
        p = [Vec(back.x + n[k], back.y - n[k + 1]) for k in (0, 2, 4)]
        return p[2], [Cubic(at, p[0], p[1], p[2])]
    raise ValueError(f"the command {letter} in the path data is not read here")
