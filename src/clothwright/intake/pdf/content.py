"""The lines that a page's content draws: paths, transforms, forms, pens, layers.

Source: ISO 32000-2, 8.3 (coordinates), 8.4 (graphics state), 8.5 (paths), 8.10 (forms), 8.11
(layers).
Clips, shadings, patterns and pictures are not read; words are read elsewhere (`words`).
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import pikepdf

from clothwright.errors import BadInput
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Cubic, Line, Segment
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from clothwright.intake.pdf.colours import BLACK, from_numbers
from clothwright.intake.pdf.layers import NO_LAYER, Layer, Layers
from clothwright.intake.pdf.weigh import weigh
from clothwright.intake.pen import DrawnPen, PenLine

DEEPEST = 24
"""Forms within forms."""
MOST_OPERATORS = 1_000_000
MOST_SEGMENTS = 1_000_000
KEPT_OPERATORS = 100_000
"""Operators of forms that are kept for when they are drawn again, on the next page."""
FARTHEST_MM = 100_000.0
"""mm: what lies farther from the page than this is nothing drawn."""
TINY_MM = 1e-6

PAINTED = {
    "S": (True, False, False),
    "s": (True, False, True),
    "f": (False, True, True),
    "F": (False, True, True),
    "f*": (False, True, True),
    "B": (True, True, False),
    "B*": (True, True, False),
    "b": (True, True, True),
    "b*": (True, True, True),
}
"""Operator: drawn with a pen, filled, closed first."""


PEN_COLOURS = frozenset({"G", "RG", "K", "SC", "SCN", "CS"})
INK_COLOURS = frozenset({"g", "rg", "k", "sc", "scn", "cs"})
NUMBERED = PEN_COLOURS | INK_COLOURS | {"cm", "w"}
MOST_KEPT = 1000
"""States that q may keep."""


@dataclass(frozen=True, slots=True)
class _State:
    """What q keeps and Q brings back. width: in user units."""

    move: Transform
    width: float = 1.0
    dash: tuple[float, ...] = ()
    pen: str = BLACK
    ink: str = BLACK


@dataclass(slots=True)
class Budget:
    """What reading one file may still cost. left_out: kinds of content that were not read."""

    where: str
    operators: int = MOST_OPERATORS
    segments: int = MOST_SEGMENTS
    left_out: Counter[str] = field(default_factory=Counter)
    kept: dict[tuple[int, int], list[tuple[Any, Any]]] = field(default_factory=dict)

    def spend(self, operators: int = 0, segments: int = 0) -> None:
        """Take away from what is left. Raises BadInput when nothing is."""
        self.operators -= operators
        self.segments -= segments
        if self.operators < 0 or self.segments < 0:
            raise BadInput(
                where=self.where,
                what="it holds more lines than a pattern has",
                expected=f"at most {MOST_SEGMENTS} of them",
                try_="a file with fewer pages or pictures",
            )


NO_KEY = (0, 0)


class Content:
    """One walk through the content of a page."""

    def __init__(self, layers: Layers, budget: Budget) -> None:
        self.layers, self.budget = layers, budget
        self.lines: list[PenLine] = []
        self._stack: list[_State] = []
        self._marked: list[Layer | None] = []

    def draw(self, content: Any, resources: Any, move: Transform, deep: int = 0) -> None:
        """Read a page or a form. move: from its coordinates to mm on the page, y up."""
        if deep > DEEPEST:
            self.budget.left_out["drawing nested too deeply"] += 1
            return
        self._stack, kept = [], self._stack
        marks = len(self._marked)
        state, path = _State(move), _PathMaker()
        for operands, operator in _parsed(content, self.budget):
            name = str(operator)
            if name in PAINTED:
                self._paint(path, state, name)
            elif name == "n":
                path.clear()
            elif name in _PathMaker.OPERATORS:
                path.take(name, operands, self.budget)
            elif name == "Do":
                self._form(operands, resources, state, deep)
            elif name in ("BDC", "BMC"):
                self._marked.append(self._mark(operands, resources))
            elif name == "EMC":
                if len(self._marked) > marks:
                    self._marked.pop()
            else:
                state = self._changed(state, name, operands, resources)
        del self._marked[marks:]
        self._stack = kept

    def _changed(self, state: _State, name: str, operands: Sequence[Any], res: Any) -> _State:
        if name == "q":
            if len(self._stack) < MOST_KEPT:
                self._stack.append(state)
        elif name == "Q":
            state = self._stack.pop() if self._stack else state
        elif name == "gs" and operands:
            state = _with_gs(state, _named(res, "/ExtGState", operands[0]))
        elif name == "d" and operands:
            state = replace(state, dash=_dash(operands[0]))
        elif name == "sh":
            self.budget.left_out["shading"] += 1
        elif name in NUMBERED:
            numbers = [float(o) for o in operands if _is_number(o)]
            state = _numbered(state, name, numbers)
        return state

    def _mark(self, operands: Sequence[Any], resources: Any) -> Layer | None:
        if len(operands) < 2 or str(operands[0]) != "/OC":
            return None
        entry = operands[1]
        if isinstance(entry, pikepdf.Name):
            entry = _named(resources, "/Properties", entry)
        return self.layers.of(entry)

    def _layer(self) -> Layer:
        named = [m for m in self._marked if m is not None and m.name]
        if not named:
            return NO_LAYER
        return Layer(named[-1].name, all(m.shown for m in named))

    def _form(self, operands: Sequence[Any], resources: Any, state: _State, deep: int) -> None:
        form = _named(resources, "/XObject", operands[0]) if operands else None
        if not isinstance(form, pikepdf.Stream):
            return
        if str(form.get("/Subtype", "")) != "/Form":
            self.budget.left_out["picture"] += 1
            return
        self.budget.spend(operators=20)
        numbers = [float(n) for n in form.get("/Matrix", ()) if _is_number(n)]
        move = Transform(*numbers).then(state.move) if len(numbers) == 6 else state.move
        layer = self.layers.of(form.get("/OC"))
        self._marked.append(layer if layer.name else None)
        own = form.get("/Resources")
        self.draw(form, own if own is not None else resources, move, deep + 1)
        self._marked.pop()

    def _paint(self, path: _PathMaker, state: _State, name: str) -> None:
        stroked, filled, closing = PAINTED[name]
        scale = abs(state.move.determinant) ** 0.5
        layer = self._layer()
        parts = path.parts(closing=closing)
        path.clear()
        for points, closed in parts:
            made = _moved(points, state.move)
            if made is None:
                continue
            whole = closed or made.start.distance(made.end) <= TINY_MM
            self.lines.append(
                PenLine(
                    path=made,
                    closed=whole and len(made.segments) > 1,
                    pen=DrawnPen(
                        width=state.width * scale if stroked else 0.0,
                        dash=tuple(round(d * scale, 4) for d in state.dash) if stroked else (),
                        colour=state.pen if stroked else state.ink,
                        layer=layer.name,
                        shown=layer.shown,
                        filled=filled and not stroked,
                    ),
                )
            )


class _PathMaker:
    """A path under construction, in user units. Broken operators are passed over."""

    OPERATORS = frozenset({"m", "l", "c", "v", "y", "h", "re"})

    def __init__(self) -> None:
        self._parts: list[tuple[list[tuple[tuple[float, float], ...]], bool]] = []

    def clear(self) -> None:
        """Begin anew."""
        self._parts = []

    def take(self, name: str, operands: Sequence[Any], budget: Budget) -> None:
        """Add what one operator draws."""
        n = [float(o) for o in operands if _is_number(o)]
        budget.spend(segments=1)
        if name == "m" and len(n) == 2:
            self._parts.append(([((n[0], n[1]),)], False))
        elif name == "re" and len(n) == 4:
            x, y, w, h = n
            corners = ((x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y))
            self._parts.append(([(p,) for p in corners], True))
        elif self._parts:
            self._on(name, n)

    def _on(self, name: str, n: Sequence[float]) -> None:
        points, closed = self._parts[-1]
        here, start = points[-1][-1], points[0][-1]
        if name == "h":
            if here != start:
                points.append((start,))
            self._parts[-1] = (points, True)
            return
        if closed:  # a path goes on from where it was closed
            points = [(start,)]
            self._parts.append((points, False))
            here = start
        if name == "l" and len(n) == 2:
            points.append(((n[0], n[1]),))
        elif name == "c" and len(n) == 6:
            points.append(((n[0], n[1]), (n[2], n[3]), (n[4], n[5])))
        elif name == "v" and len(n) == 4:
            points.append((here, (n[0], n[1]), (n[2], n[3])))
        elif name == "y" and len(n) == 4:
            points.append(((n[0], n[1]), (n[2], n[3]), (n[2], n[3])))

    def parts(self, *, closing: bool) -> list[tuple[list[tuple[tuple[float, float], ...]], bool]]:
        """Return each line as its points, and whether it is closed."""
        out = []
        for points, closed in self._parts:
            close = closing and not closed and len(points) > 2
            if close and points[-1][-1] != points[0][-1]:
                points.append((points[0][-1],))
            if len(points) > 1:
                out.append((points, closed or close))
        return out


def _moved(points: Sequence[tuple[tuple[float, float], ...]], move: Transform) -> Path | None:
    """Return points as a path in mm, without steps of no length; None when nothing is left."""
    here = move.apply(Vec(*points[0][-1]))
    segments: list[Segment] = []
    for step in points[1:]:
        at = [move.apply(Vec(*p)) for p in step]
        if not all(abs(p.x) < FARTHEST_MM and abs(p.y) < FARTHEST_MM for p in (here, *at)):
            return None
        if len(at) == 1:
            if here.distance(at[0]) > TINY_MM:
                segments.append(Line(here, at[0]))
                here = at[0]
        elif max(here.distance(p) for p in at) > TINY_MM:
            segments.append(Cubic(here, *at))
            here = at[-1]
    return Path(tuple(segments)) if segments else None


def _parsed(content: Any, budget: Budget) -> list[tuple[Any, Any]]:
    """Return the operators of a page or form. Raises BadInput when they cannot be read."""
    known = budget.kept.get(_key(content))
    if known is not None:
        budget.spend(operators=len(known))
        return known
    if isinstance(content, pikepdf.Stream):
        weigh(content, budget.where)
    try:
        found = [
            (i.operands, i.operator)
            for i in pikepdf.parse_content_stream(content)
            if isinstance(i, pikepdf.ContentStreamInstruction)
        ]
    except (pikepdf.PdfError, ValueError, TypeError, RuntimeError) as error:
        raise BadInput(
            where=budget.where,
            what=f"what is drawn on a page cannot be read ({said(error)})",
            expected="a whole PDF file",
        ) from None
    budget.spend(operators=len(found))
    key, kept = _key(content), sum(map(len, budget.kept.values()))
    if key != NO_KEY and kept + len(found) <= KEPT_OPERATORS:
        budget.kept[key] = found
    return found


def _key(content: Any) -> tuple[int, int]:
    """Return what tells a form from all others of its file."""
    if isinstance(content, pikepdf.Stream) and content.is_indirect:
        return content.objgen
    return NO_KEY


def said(error: Exception) -> str:
    """Return what a library said, in one short line, without the names it gives to things."""
    line = re.sub(r"(content )?stream [<(].*?[>)](\s*\([^)]*\))?\)?: ", "", str(error), count=1)
    return " ".join(line.split())[:90] or type(error).__name__


def _numbered(state: _State, name: str, numbers: Sequence[float]) -> _State:
    if name == "cm":
        return (
            replace(state, move=Transform(*numbers).then(state.move))
            if len(numbers) == 6
            else state
        )
    if name == "w":
        return replace(state, width=abs(numbers[0])) if numbers else state
    if name in PEN_COLOURS:
        return replace(state, pen=from_numbers(numbers, state.pen))
    return replace(state, ink=from_numbers(numbers, state.ink))


def _named(resources: Any, kind: str, name: Any) -> Any:
    if not isinstance(resources, pikepdf.Dictionary) or not isinstance(name, pikepdf.Name):
        return None
    group = resources.get(kind)
    return group.get(str(name)) if isinstance(group, pikepdf.Dictionary) else None


def _is_number(value: Any) -> bool:
    if isinstance(value, bool):
        return False
    try:
        return abs(float(value)) < 1e12
    except (TypeError, ValueError, OverflowError):
        return False


def _dash(array: Any) -> tuple[float, ...]:
    if not isinstance(array, pikepdf.Array | list):
        return ()
    found = [float(n) for n in list(array)[:16] if _is_number(n)]
    return tuple(found) if any(n > 0 for n in found) else ()


def _with_gs(state: _State, gs: Any) -> _State:
    if not isinstance(gs, pikepdf.Dictionary):
        return state
    width, dash = gs.get("/LW"), gs.get("/D")
    if width is not None and _is_number(width):
        state = replace(state, width=abs(float(width)))
    if isinstance(dash, pikepdf.Array) and len(dash) > 0:
        state = replace(state, dash=_dash(dash[0]))
    return state
