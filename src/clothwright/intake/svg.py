"""SVG drawings made elsewhere: all shapes, transforms, `use`, pages within pages and units.

What lines are painted with tells sizes apart, and the paper from a piece. What is not shown by a
browser (definitions, clip paths, hidden layers) is not read. An annotation of our own is
looked for first (`is_annotated`): such a drawing is read exactly, by the store.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from xml.etree import ElementTree as ET

from clothwright.errors import BadInput
from clothwright.geometry.box import Box
from clothwright.geometry.path import Path
from clothwright.geometry.path_data import FARTHEST, DataLine
from clothwright.geometry.segment import Line, Segment
from clothwright.geometry.transform import IDENTITY, Transform
from clothwright.geometry.vec import Vec
from clothwright.intake import svg_told
from clothwright.intake.answers import Answers
from clothwright.intake.drawing import Drawing, DrawnLine, DrawnText, Reader
from clothwright.intake.pen import DrawnPen
from clothwright.intake.shapes import SHAPES, Lengths, lines_of
from clothwright.intake.size_names import size_in
from clothwright.intake.svg_names import label_of, labels_of
from clothwright.intake.svg_paint import Paint
from clothwright.intake.svg_text import LETTERS, MOST_WORDS, size_of, texts_of
from clothwright.picture.css import StyleRule, rules_of, style_of
from clothwright.picture.frames import (
    PageFrame,
    PageSize,
    corner_of,
    fitted,
    inner_length,
    page,
    transform_of,
    upright,
)
from clothwright.picture.safe_xml import PlacedXml, placed_xml

Painted = tuple[DrawnLine, DrawnPen]
"""A line and what it is drawn with."""
CLOSE_MM = 1e-3
"""mm: a line whose ends are nearer than this is closed."""
MOST_LINES = 20_000
GROUPS = frozenset({"svg", "g", "a", "switch", "use", "symbol"})
WORDLESS = {"image": "picture", "foreignObject": "insert"}
HIDDEN = "hidden part"
MISSING = "use of something that is not in this file"
_HREF = ("href", "{http://www.w3.org/1999/xlink}href")


def is_annotated(data: bytes) -> bool:
    """Tell whether an SVG carries our own annotation (docs/file-format.md)."""
    return b"data-clothwright-piece" in data


def read_svg(data: bytes, name: str, answers: Answers = Answers()) -> Drawing:  # noqa: B008
    """Return the lines of an SVG drawing in mm, y up. Raises BadInput that names file and line.

    Every transform, `use` and inner unit is applied. Lines are exact; arcs become cubics (see
    `arcs.STEP`). What was left out is counted in the drawing's notes. When the page names no
    physical size, lengths are in the drawing's own units and `scale_known` is False.
    """
    found = placed_xml(data, name)
    if _tag(found.root) != "svg":
        raise BadInput(
            where=name,
            what=f'the file holds "{_tag(found.root)}", not a drawing',
            expected="an svg element at the top",
        )
    here = page(found.root, name)
    walk = _Walk(found, name)
    state = _State(
        frame=here.frame, box=here.box, paint=Paint().styled(style_of(found.root, walk.rules))
    )
    lines = [line for child in found.root for line in walk.lines(child, state)]
    return svg_told.drawn(
        name,
        lines,
        walk.texts,
        _sheet(found.root, here),
        notes=walk.notes(),
        scale_known=here.known,
        alike=answers.alike,
    )


def _sheet(root: ET.Element, here: PageFrame) -> Box:
    """Return the page, mm."""
    x, y = corner_of(root)
    low, high = Vec(x, -y - here.box.tall), Vec(x + here.box.wide, -y)
    return Box(here.frame.apply(low), here.frame.apply(high))


def _tag(element: ET.Element) -> str:
    return element.tag.rsplit("}", 1)[-1]


@dataclass(frozen=True, slots=True, kw_only=True)
class _State:
    """What an element inherits. frame: from its coordinates (y up) to mm. box: for percents.

    layer: the name of the innermost group that is called by a size.
    """

    frame: Transform
    box: PageSize
    label: str = ""
    shown: bool = True
    used: tuple[ET.Element, ...] = ()
    size: tuple[str, str] | None = None
    letters: float = LETTERS
    anchor: str = "start"
    paint: Paint = Paint()  # noqa: RUF009
    layer: str = ""


class _Walk:
    """One walk through a drawing, counting what is left out."""

    def __init__(self, found: PlacedXml, where: str) -> None:
        self.lines_at = found.lines
        self.where = where
        self.rules: tuple[StyleRule, ...] = rules_of(found.root)
        self.by_id = {e.get("id", ""): e for e in found.root.iter() if e.get("id")}
        self.left_out: Counter[str] = Counter()
        self.texts: list[DrawnText] = []
        self.made = 0

    def notes(self) -> tuple[str, ...]:
        """What was left out, in words."""
        return tuple(
            f"left out: {count} {what.replace(' ', 's ', 1) if ' of ' in what else what + 's'}"
            if count > 1
            else f"left out: 1 {what}"
            for what, count in sorted(self.left_out.items())
        )

    def lines(self, element: ET.Element, state: _State) -> Iterator[Painted]:
        """Yield the lines of an element and all it holds."""
        tag = _tag(element)
        if tag in WORDLESS:
            self.left_out[WORDLESS[tag]] += 1
            return
        if tag not in GROUPS and tag not in SHAPES and tag != "text":
            return
        style = style_of(element, self.rules)
        if style.get("display") == "none":
            self.left_out[HIDDEN] += 1
            return
        state = self._inside(element, style, state)
        if tag == "text":
            self._text(element, state)
        elif tag in SHAPES:
            yield from self._shape(element, tag, state)
        elif tag == "use":
            yield from self._use(element, state)
        elif tag == "svg":
            inner = self._nested(element, state)
            for child in element if inner else ():
                yield from self.lines(child, inner or state)
        elif tag != "symbol":
            for child in element:
                yield from self.lines(child, state)

    def _inside(self, element: ET.Element, style: dict[str, str], state: _State) -> _State:
        shown = state.shown
        if "visibility" in style and style["visibility"] != "inherit":
            shown = style["visibility"] == "visible"
        return replace(
            state,
            frame=self._moved(element, style.get("transform", ""), state.frame),
            shown=shown,
            label=label_of(element) or state.label,
            letters=size_of(style, state.letters),
            paint=state.paint.styled(style),
            layer=next((n for n in labels_of(element) if size_in(n)), state.layer),
            anchor=style.get("text-anchor") or state.anchor,
        )

    def _moved(self, element: ET.Element, text: str, frame: Transform) -> Transform:
        if not text or text == "none":
            return frame
        try:
            return upright(transform_of(re.sub(r"(?<=\d)(px|deg)", "", text))).then(frame)
        except ValueError as error:
            raise self._fault(
                element,
                f"its transform cannot be read: {error}",
                "translate, scale, rotate or matrix with numbers",
            ) from None

    def _fault(self, element: ET.Element, what: str, expected: str) -> BadInput:
        name = element.get("id")
        place = f"{self.where}, line {self.lines_at[element]}"
        return BadInput(
            where=f'{place}, {_tag(element)} "{name}"' if name else f"{place}, {_tag(element)}",
            what=what,
            expected=expected,
        )

    def _use(self, element: ET.Element, state: _State) -> Iterator[Painted]:
        target = next((v for k in _HREF if (v := element.get(k)) is not None), "")
        used = self.by_id.get(target[1:]) if target.startswith("#") else None
        if used is None:
            self.left_out[MISSING] += 1
            return
        if used in state.used:
            raise self._fault(element, f'"{target}" uses itself', "a drawing without circles")
        x, y = self._length(element, "x", state), self._length(element, "y", state)
        size = (element.get("width", "100%"), element.get("height", "100%"))
        inner = replace(
            state,
            frame=Transform(e=x, f=-y).then(state.frame),
            used=(*state.used, used),
            size=size if element.get("width") or element.get("height") else None,
        )
        if _tag(used) != "symbol":
            yield from self.lines(used, inner)
            return
        style = style_of(used, self.rules)
        nested = self._nested(used, self._inside(used, style, inner))
        for child in used if nested else ():
            yield from self.lines(child, nested or inner)

    def _nested(self, element: ET.Element, state: _State) -> _State | None:
        """The state inside a page within the page; None when it has no size to be seen at."""
        wide, tall = state.size or (element.get("width", "100%"), element.get("height", "100%"))
        try:
            size = PageSize(inner_length(wide, state.box.wide), inner_length(tall, state.box.tall))
            frame, box = fitted(element, size)
        except ValueError as error:
            raise self._fault(element, str(error), "a size and a viewBox of numbers") from None
        if frame is None:
            self.left_out[HIDDEN] += 1
            return None
        x = self._length(element, "x", state) if _tag(element) == "svg" else 0.0
        y = self._length(element, "y", state) if _tag(element) == "svg" else 0.0
        move = upright(frame.then(Transform(e=x, f=y)))
        return replace(state, frame=move.then(state.frame), box=box, size=None)

    def _length(self, element: ET.Element, name: str, state: _State) -> float:
        whole = state.box.tall if name == "y" else state.box.wide
        try:
            return inner_length(element.get(name, "0"), whole)
        except ValueError as error:
            raise self._fault(element, f"{name}: {error}", "a number or a length") from None

    def _text(self, element: ET.Element, state: _State) -> None:
        if state.shown and len(self.texts) < MOST_WORDS:
            found = texts_of(element, state.frame, state.letters, state.anchor)
            self.texts += (t for t in found if max(map(abs, t.at)) <= FARTHEST)

    def _shape(self, element: ET.Element, tag: str, state: _State) -> Iterator[Painted]:
        if not state.shown:
            self.left_out[HIDDEN] += 1
            return
        try:
            found = lines_of(tag, Lengths(element, state.box))
        except ValueError as error:
            raise self._fault(element, str(error), "plain numbers") from None
        for data in found:
            line = self._line(element, data, state)
            if line is not None:
                self.made += 1
                if self.made > MOST_LINES:
                    raise BadInput(
                        where=self.where,
                        what=f"the drawing has more than {MOST_LINES} lines",
                        expected="the lines of a pattern",
                        try_="leaving shadings and pictures out of it",
                    )
                scale = abs(state.frame.determinant) ** 0.5
                yield line, state.paint.pen(scale, state.layer)

    def _line(self, element: ET.Element, data: DataLine, state: _State) -> DrawnLine | None:
        path = data.path if state.frame == IDENTITY else data.path.transformed(state.frame)
        segments = tuple(s for s in path.segments if not _is_point(s))
        if not segments:
            return None
        for p in (q for s in segments for q in s.controls()):
            if not (math.isfinite(p.x) and math.isfinite(p.y)) or max(map(abs, p)) > FARTHEST:
                raise self._fault(element, "a point lies nowhere on a table", "plain numbers")
        path = Path(segments)
        closed = data.closed or path.start.distance(path.end) < CLOSE_MM
        if closed and len(segments) == 1 and isinstance(segments[0], Line):
            return None
        return DrawnLine(path=path, closed=closed, label=state.label)


def _is_point(segment: Segment) -> bool:
    first, *rest = segment.controls()
    return all(first.distance(p) < 1e-9 for p in rest)


READER = Reader(id="svg", title="SVG drawing", suffixes=(".svg",), read=read_svg, read_as=read_svg)
