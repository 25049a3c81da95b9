"""The edges as they are typed: from point to point, straight or curved, what becomes of them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from clothwright.errors import BadInput
from clothwright.intake.typed.lines import (
    LENGTH,
    LineReading,
    Note,
    TypedLength,
    clauses,
    closest_word,
    found_in,
    new_name,
    not_inches,
    width_in,
)
from clothwright.pattern.piece import Role
from clothwright.units import Unit

_I = re.IGNORECASE
FIRST_LENGTH = 100
"""Lengths of an edge are counted from here: those of a point may stand in the same line."""
KINDS = {
    "edge": Role.SEAM,
    "seam": Role.SEAM,
    "hem": Role.HEM,
    "fold": Role.FOLD,
    "centre": Role.CENTRE,
    "center": Role.CENTRE,
    "bound": Role.BOUND,
    "raw": Role.RAW,
}
"""Words a line about an edge begins with, and what becomes of that edge."""
_ROLE = re.compile(r"(?:it is )?(?:a |an |on the |to be |the )?(\w+)(?: edge)?", _I)
_HEAD = re.compile(rf"(?P<kind>{'|'.join(KINDS)})\b[ :]*(?P<rest>.*)", _I)
_PLAIN = re.compile(
    r"(?!from )[^,:]+?(?: from |: (?:from )?)(?P<p>[^,]+?) "
    r"(?:(?:straight|curv(?:ed?|ing)),? )?(?:through .+? )?to ",
    _I,
)
_IS = re.compile(r"[^,:]+ is ", _I)
_TO = r"(?P<steps>(?:(?:straight|curv(?:ed?|ing)),? )?(?:through .+? )?to .+)"
_FROM_TO = re.compile(rf"(?P<name>.*?)[ :]*\bfrom (?P<p>.+?),? {_TO}", _I)
_BARE = re.compile(rf"(?P<name>.*?),? ?{_TO}", _I)
_STEP = re.compile(
    r"(?:then )?(?:(?P<how>straight|curved?|on|curving),? )?(?:through (?P<via>.+?) )?to (?P<q>.+)",
    _I,
)
_AFTER = re.compile(
    rf"(?P<q>.+?) (?P<more>(?:straight|curved?|through|hollow|full|by|in a straight line|{LENGTH})"
    r"(?:$|\b.*))",
    _I,
)
_WHERE = rf"(?:(?:at|in) (?:the |its )?middle|halfway|(?P<at>{LENGTH}) from (?P<from>.+))"
_WAYS = "in|out|inwards?|outwards?|hollow(?:ed)?|full"
_DEPTH = re.compile(
    rf"(?:curv(?:ed?|ing) )?(?:by )?(?:(?P<a>{LENGTH}) (?P<way>{_WAYS})"
    rf"|(?P<way2>{_WAYS})(?: by)? (?P<b>{LENGTH}))(?: {_WHERE})?",
    _I,
)
_HERE = re.compile(_WHERE, _I)
_THROUGH = re.compile(r"(?:curv(?:ed?|ing) )?through (?P<names>.+)", _I)
_RUN = re.compile(
    r"(?:and )?(?:(?:leaving|arriving|starting|ending|it starts|it ends|runs?|running) )?"
    r"(?P<run>square|level|upright|smooth|on)"
    r"(?: (?:to|with|from) (?:the )?(?P<to>.+?))?(?: at (?P<at>.+))?",
    _I,
)
_WIDTH = re.compile(
    rf"(?:with )?(?:seam )?(?:allowance|turn-up|depth) (?:of )?(?P<a>{LENGTH})|"
    rf"(?P<b>{LENGTH}) (?:seam )?(?:allowance|turn-up|deep)|(?P<none>(?:no|without) allowance)",
    _I,
)
_CALLED = re.compile(r"(?:called|named) (.+)", _I)
WORDS = (
    *KINDS,
    *("from", "straight", "curve", "curved", "through", "then", "hollow", "full", "middle"),
    *("square", "level", "upright", "smooth", "allowance", "called", "fold", "inwards", "outwards"),
    *("leaving", "arriving", "with", "the", "and", "deep", "halfway", "line"),
)
SHOWN = (
    '"straight", "curve 6 mm out at the middle", "through P and Q", "square to waist", '
    '"allowance 2 cm" or "then straight to D"'
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Depth:
    """How far a curve stands off the straight line. out: away from the piece.

    at, end: how far from which end of the straight line; None, "": at its middle.
    """

    measure: TypedLength
    out: bool
    at: TypedLength | None = None
    end: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CurveEnd:
    """The way a curve runs at a point. how: square, level, upright, smooth. to: an edge, or ""."""

    how: str
    to: str
    at: str
    note: Note


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeLine:
    """One line of an edge, from a point to the next. straight: said so; curved: said so."""

    start: str
    end: str
    straight: bool = False
    curved: bool = False
    via: tuple[str, ...] = ()
    depths: tuple[Depth, ...] = ()
    runs: tuple[CurveEnd, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedEdge:
    """An edge as typed. allowance: mm of its own, None when it has the piece's."""

    name: str
    note: Note
    role: Role
    steps: tuple[EdgeLine, ...]
    allowance: float | None = None

    @property
    def start(self) -> str:
        """The point it starts at."""
        return self.steps[0].start

    @property
    def end(self) -> str:
        """The point it ends at."""
        return self.steps[-1].end

    @property
    def points(self) -> tuple[str, ...]:
        """The points it goes through, in order."""
        return (self.start, *(p for s in self.steps for p in (*s.via, s.end)))


def is_edge(note: Note, points: Mapping[str, object]) -> bool:
    """Tell whether a line is about an edge: "hem ...", or "side from B to C" with points known."""
    m = _PLAIN.match(note.text)
    if m and (found_in(points, m["p"]) or re.fullmatch(r"[^\W\d_]\w*", m["p"])):
        return True
    return _HEAD.fullmatch(note.text) is not None and not _IS.match(note.text)


@dataclass(slots=True)
class _EdgeReading(LineReading):
    """A line about an edge while it is read, and its steps so far."""

    steps: list[EdgeLine] = field(default_factory=list)

    def bent(self, **more: object) -> None:
        """Say of the last step that it is a curve, and how. Raises BadInput for a straight one."""
        if self.steps[-1].straight:
            raise self.note.fault(
                "it is said to be straight, and then how it curves", "one of the two"
            )
        self.steps[-1] = replace(self.steps[-1], curved=True, **more)  # type: ignore[arg-type]


def edge_of(
    note: Note, unit: Unit, points: Mapping[str, object], known: Mapping[str, object]
) -> TypedEdge:
    """Read a line about an edge. points, known: points and edges said before. Raises BadInput."""
    parts = clauses(note.text)
    m = _HEAD.fullmatch(parts[0])
    kind, rest = (m["kind"].lower(), m["rest"]) if m else ("edge", parts[0])
    read = _EdgeReading(note, unit, points, FIRST_LENGTH)
    while len(parts) > 1 and not re.search(r"\bto\b", rest):
        rest = f"{rest}, {parts.pop(1)}".strip(", ")
    name = _first_step(read, rest)
    role, own, named = KINDS[kind], None, name or (kind if kind not in ("edge", "seam") else "")
    for clause in parts[1:]:
        found = _about(clause)
        if isinstance(found, Role):
            role = found
        elif m := _WIDTH.fullmatch(clause):
            text = m["a"] or m["b"]
            own = width_in(note, text, unit) if text else 0.0
        elif m := _CALLED.fullmatch(clause):
            named = m[1]
        else:
            _shape(read, clause)
    if not named:
        named = f"{read.steps[0].start} to {read.steps[-1].end}"
    named = new_name(note, named, known, "edge")
    if role is Role.SEAM and kind in ("edge", "seam") and "hem" in named.lower().split():
        role = Role.HEM
    if role is Role.FOLD and own:
        raise note.fault(
            "a fold has no allowance: the cloth goes on there",
            "no allowance at a fold",
            "centre, seam or hem instead of fold, if it is cut there",
        )
    return TypedEdge(name=named, note=note, role=role, steps=tuple(read.steps), allowance=own)


def _about(clause: str) -> Role | None:
    m = _ROLE.fullmatch(clause)
    return KINDS.get(m[1].lower()) if m and m[1].lower() != "edge" else None


def _first_step(read: _EdgeReading, rest: str) -> str:
    """Read "NAME from A straight to B"; return the name, "" when there is none."""
    m = _FROM_TO.fullmatch(rest)
    if m:
        name, start, steps = m["name"], read.point(m["p"]), m["steps"]
    else:
        m = _BARE.fullmatch(rest)
        if m is None:
            raise _unread(read.note, rest or read.note.text, read.known)
        words, steps = m["name"].split(), m["steps"]
        for n in range(len(words)):
            start = found_in(read.known, " ".join(words[n:]))
            if start:
                name = " ".join(words[:n])
                break
        else:
            start, name = read.point(m["name"].split(":")[-1]), ""
    read.steps.append(EdgeLine(start=start, end=start))
    _step(read, steps)
    del read.steps[0]
    return name.strip(" :,")


def _step(read: _EdgeReading, text: str) -> None:
    """Read "curve through P to B by 6 mm out": one more step of the edge."""
    m = _STEP.fullmatch(text)
    if m is None:
        raise _unread(read.note, text, read.known)
    how, more = (m["how"] or "").lower(), ""
    end = found_in(read.known, m["q"])
    if not end:
        after = _AFTER.fullmatch(m["q"])
        end, more = (read.point(after["q"]), after["more"]) if after else (read.point(m["q"]), "")
    via = _names(read, m["via"]) if m["via"] else ()
    start = read.steps[-1].end
    if end == start:
        raise read.note.fault(f"it goes from {start} to {start}", "two different points")
    curved = how.startswith("curv") or bool(via)
    straight = how == "straight"
    if straight and via:
        raise read.note.fault("it is said to be straight, and then how it curves", "one of the two")
    read.steps.append(EdgeLine(start=start, end=end, straight=straight, curved=curved, via=via))
    if more:
        _shape(read, more)


def _names(read: _EdgeReading, text: str) -> tuple[str, ...]:
    return tuple(
        read.point(n) for n in re.split(r",| and then | and ", text, flags=_I) if n.strip()
    )


def _shape(read: _EdgeReading, clause: str) -> None:
    """Read what a clause says of the last step. Raises BadInput."""
    step, low = read.steps[-1], clause.lower()
    if low in ("straight", "in a straight line", "a straight line"):
        if step.curved:
            raise read.note.fault("it is said to be curved and straight", "one of them")
        read.steps[-1] = replace(step, straight=True)
    elif low in ("curve", "curved", "a curve"):
        read.bent()
    elif low.startswith("then ") or _STEP.fullmatch(clause):
        _step(read, clause)
    elif m := _DEPTH.fullmatch(clause):
        read.bent(depths=(*step.depths, _depth(read, m)))
    elif m := _THROUGH.fullmatch(clause):
        read.bent(via=(*step.via, *_names(read, m["names"])))
    elif m := _RUN.fullmatch(clause):
        read.bent(runs=(*step.runs, _run(read, m)))
    elif step.via and all(
        found_in(read.known, n) for n in re.split(r" and (?:then )?", clause, flags=_I)
    ):
        read.bent(via=(*step.via, *_names(read, clause)))
    elif step.depths and (m := _HERE.fullmatch(clause)):
        read.bent(depths=(*step.depths[:-1], _put(read, step.depths[-1], m)))
    elif step.curved and (m := re.fullmatch(r"and (.+)", clause, _I)):
        _shape(read, m[1])
    elif m := re.fullmatch(r"curv(?:ed?|ing) (.+)", clause, _I):
        read.bent()
        _shape(read, m[1])
    else:
        raise _unread(read.note, clause, read.known)


def _depth(read: _EdgeReading, m: re.Match[str]) -> Depth:
    way = (m["way"] or m["way2"]).lower()
    if way == "in" and m["way"]:
        not_inches(read.note, m["a"])
    depth = Depth(measure=read.measure(m["a"] or m["b"]), out=way.startswith(("out", "full")))
    return _put(read, depth, m)


def _put(read: _EdgeReading, depth: Depth, m: re.Match[str]) -> Depth:
    """Return a depth at the place that a clause says: so far from an end; else at the middle."""
    if not m["from"]:
        return depth
    end, step = read.point(m["from"]), read.steps[-1]
    if end not in (step.start, step.end):
        raise read.note.fault(
            f"this line runs from {step.start} to {step.end}, and {end} is not its end",
            f"a distance from {step.start} or {step.end}",
        )
    return replace(depth, at=read.measure(m["at"]), end=end)


def _run(read: _EdgeReading, m: re.Match[str]) -> CurveEnd:
    how = "smooth" if m["run"].lower() == "on" else m["run"].lower()
    step = read.steps[-1]
    at = read.point(m["at"]) if m["at"] else ""
    if at and at not in (step.start, step.end):
        raise read.note.fault(
            f"{at} is no end of the line from {step.start} to {step.end}",
            f"at {step.start} or at {step.end}",
        )
    if not at and not m["to"]:
        raise read.note.fault(
            f'"{how}" does not say where', f'"{how} at {step.start}" or "{how} at {step.end}"'
        )
    return CurveEnd(how=how, to=m["to"] or "", at=at, note=read.note)


def _unread(note: Note, text: str, points: Mapping[str, object]) -> BadInput:
    inch = re.fullmatch(rf"(?:curved? )?(?:by )?(?P<a>{LENGTH})(?: (?:at|in) .*)?", text, _I)
    if inch:
        return note.fault(
            f'"{inch["a"]}" says how deep the curve is, and not which way',
            f'"{inch["a"]} in" (into the piece) or "{inch["a"]} out", then: at the middle',
        )
    hint = closest_word(text, WORDS, points)
    if not re.search(r"\bto\b", note.text):
        return note.fault(
            f"it does not say from where to where the edge goes.{hint}",
            "for example: edge side from B to C, straight",
        )
    return note.fault(f'"{text[:60]}" does not say how the edge runs.{hint}', SHOWN)
