"""What lies on a typed outline: notches, darts, grain, levels, marks, and how often it is cut."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, cast

from clothwright.geometry.box import box_of_all
from clothwright.geometry.fit import smooth_through
from clothwright.geometry.vec import Vec, unit_at
from clothwright.intake.typed.lines import (
    LENGTH,
    Note,
    clauses,
    found_in,
    known_name,
    length_in,
    new_name,
)
from clothwright.intake.typed.points import placed, spot_of
from clothwright.pattern.piece import Cut, Dart, Edge, Grain, Level, Mark, Notch, NotchKind
from clothwright.units import Unit, parse_angle_deg
from clothwright.words import show_length

ON_EDGE_MM = 2.0
"""mm: a point this near to an edge lies on it."""
_I = re.IGNORECASE
_NOTCH = re.compile(r"(?:(?P<kind>single|double) )?notch(?P<rest>.*)", _I)
_ON = re.compile(
    r"(?P<before>.*?)\b(?:on|in) (?:the )?(?P<edge>.+?)(?P<after>(?: (?:at|from)\b.*| "
    rf"{LENGTH}.*)?)",
    _I,
)
_ALONG = re.compile(
    rf"(?:at )?(?P<a>{LENGTH}) (?:along )?from (?P<p>.+?)(?: towards (?P<q>.+))?", _I
)
_AT = re.compile(r"at (?:the )?(?P<p>.+)", _I)
_CALLED = re.compile(r"(?:called|named) (?P<name>.+)", _I)
_DART = re.compile(r"dart(?P<name>.*?) (?:on|in) (?:the )?(?P<edge>.+?)", _I)
_MOUTH = re.compile(r"from (?P<p>.+?) to (?P<q>.+)", _I)
_MIDDLE = re.compile(rf"(?:its )?(?:middle|centre) (?:at |is )?(?P<a>{LENGTH}) from (?P<p>.+)", _I)
_LEGS = re.compile(rf"(?:its )?legs (?:at )?(?P<a>{LENGTH}) and (?P<b>{LENGTH}) from (?P<p>.+)", _I)
_WIDE = re.compile(rf"(?:width )?(?P<a>{LENGTH})(?: wide)?", _I)
_LONG = re.compile(rf"(?:(?P<a>{LENGTH}) (?:long|deep)|(?:length|depth) (?P<b>{LENGTH}))", _I)
_POINT = re.compile(r"(?:its )?(?:point|tip)(?: at| is)? (?P<rest>.+)", _I)
_PRESSED = re.compile(r"(?:pressed|turned) (?:to|towards) (?P<p>.+)", _I)
_GRAIN = re.compile(r"(?:straight )?grain(?:line)?:?(?P<rest>.*)", _I)
_FROM_TO = re.compile(r"from (?P<p>.+?)(?: through (?P<via>.+?))? to (?P<q>.+)", _I)
_PARALLEL = re.compile(r"(?:along|parallel (?:to|with)|with) (?:the )?(?P<edge>.+)", _I)
_LEVEL = re.compile(r"level(?: line)? (?P<name>.+?) (?:at (?P<at>.+)|is (?P<is>.+))", _I)
_MARK = re.compile(r"mark (?P<name>.+?)(?: (?P<how>at|is|from) (?P<rest>.+))", _I)
_CUT = re.compile(r"cut:? (?P<n>\d{1,2}|one|two|three|four)\b(?P<rest>.*)", _I)
_COUNT = {"one": 1, "two": 2, "three": 3, "four": 4}


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredOn:
    """What details are measured on: the piece's points, its edges going round, its unit."""

    at: Mapping[str, Vec]
    edges: Mapping[str, Edge]
    inward: str
    unit: Unit

    def edge(self, note: Note, name: str) -> Edge:
        """Return an edge. Raises BadInput."""
        return self.edges[known_name(note, self.edges, name, "edge")]

    def place(self, note: Note, text: str, first: int = 200) -> Vec:
        """Return a point, by its name or by where it lies. Raises BadInput."""
        name = found_in(self.at, text)
        if name:
            return self.at[name]
        if re.fullmatch(r"[^\W\d_][\w' ]*", text) and len(text.split()) < 3:
            known_name(note, self.at, text)
        spot = spot_of("", text, note, self.unit, self.at, first=first)
        return placed(spot, self.at, self.inward, self.unit)

    def on(self, note: Note, edge: Edge, name: str) -> float:
        """Return how far along an edge a point of it lies, mm. Raises BadInput."""
        point = known_name(note, self.at, name)
        at, away = edge.path.nearest(self.at[point])
        if away > ON_EDGE_MM:
            raise note.fault(
                f"{point} lies {show_length(away, self.unit)} away from the edge {edge.name}",
                f"a point on {edge.name}",
            )
        return at

    def along(self, note: Note, edge: Edge, amount: str, name: str, towards: str = "") -> float:
        """Return the place a measured length along an edge from a point of it. Raises BadInput."""
        start = self.on(note, edge, name)
        far = length_in(note, amount, self.unit, least=0.0)
        whole = edge.length
        if towards:
            sign = 1.0 if self.on(note, edge, towards) > start else -1.0
        elif start < ON_EDGE_MM:
            sign = 1.0
        elif start > whole - ON_EDGE_MM:
            sign = -1.0
        else:
            raise note.fault(
                f"{name.strip()} lies inside the edge {edge.name}, so two ways lead from it",
                f"towards one of its ends: {amount} from {name.strip()} towards ...",
            )
        at = start + sign * far
        if not -1e-6 <= at <= whole + 1e-6:
            raise note.fault(
                f"the edge {edge.name} is only {show_length(whole, self.unit)} long",
                "a place on it",
            )
        return min(whole, max(0.0, at))


def notch_of(note: Note, ground: MeasuredOn) -> tuple[str, Notch]:
    """Read "double notch on side 21 cm from C, called hip". Raises BadInput."""
    shown = 'for example "notch on side 21 cm from C", "double notch on waist at P, called hip"'
    parts = clauses(note.text)
    m = _NOTCH.fullmatch(parts[0])
    called = next((c for p in parts[1:] if (c := _CALLED.fullmatch(p))), None)
    rest = [p for p in parts[1:] if not _CALLED.fullmatch(p)]
    if m is None or len(rest) > 1:
        raise note.fault("it does not say where the notch is", shown)
    text = " ".join((m["rest"].strip(), *rest))
    on = _ON.fullmatch(text)
    if on is None:
        raise note.fault("it does not say on which edge the notch is", shown)
    edge = ground.edge(note, on["edge"])
    where = (on["before"] + on["after"]).strip()
    if a := _ALONG.fullmatch(where):
        at = ground.along(note, edge, a["a"], a["p"], a["q"] or "")
    elif (p := _AT.fullmatch(where)) and p["p"].lower() in ("middle", "its middle", "halfway"):
        at = edge.length / 2
    elif p:
        at = ground.on(note, edge, p["p"])
    else:
        raise note.fault("it does not say how far along the edge the notch is", shown)
    kind = NotchKind.DOUBLE if (m["kind"] or "").lower() == "double" else NotchKind.SINGLE
    return edge.name, Notch(at=at, kind=kind, name=called["name"].strip() if called else "")


DART_SHOWN = (
    "for example: dart front dart on waist, middle 8,2 cm from A, 2 cm wide, 9 cm long; "
    "or: dart front dart on waist from P to Q, point R"
)


@dataclass(slots=True)
class _DartParts:
    """What has been said of a dart. mouth, middle: mm along its edge; 0 and None: not said."""

    note: Note
    ground: MeasuredOn
    edge: Edge
    mouth: tuple[float, float] | None = None
    middle: float | None = None
    wide: float = 0.0
    deep: float = 0.0
    point: Vec | None = None
    pressed: str = "start"

    def take(self, part: str) -> None:
        """Read one clause. Raises BadInput."""
        note, ground, edge, unit = self.note, self.ground, self.edge, self.ground.unit
        if m := _MOUTH.fullmatch(part):
            self.mouth = (ground.on(note, edge, m["p"]), ground.on(note, edge, m["q"]))
        elif m := _LEGS.fullmatch(part):
            one, other = (ground.along(note, edge, m[k], m["p"]) for k in "ab")
            self.mouth = (one, other)
        elif m := _MIDDLE.fullmatch(part):
            self.middle = ground.along(note, edge, m["a"], m["p"])
        elif m := _LONG.fullmatch(part):
            self.deep = length_in(note, m["a"] or m["b"], unit, least=1.0)
        elif m := _POINT.fullmatch(part):
            self.point = ground.place(note, m["rest"])
        elif m := _PRESSED.fullmatch(part):
            self.pressed = "end" if ground.on(note, edge, m["p"]) > edge.length / 2 else "start"
        elif m := _WIDE.fullmatch(part):
            self.wide = length_in(note, m["a"], unit, least=0.5)
        else:
            raise note.fault(f'"{part[:60]}" says nothing of a dart', DART_SHOWN)

    def made(self, name: str) -> Dart:
        """Return the dart. Raises BadInput: what has not been said."""
        mouth = self.mouth
        if mouth is None and self.middle is not None and self.wide:
            mouth = (self.middle - self.wide / 2, self.middle + self.wide / 2)
        if mouth is None or abs(mouth[1] - mouth[0]) < 0.5:
            raise self.note.fault("it does not say where both legs of the dart end", DART_SHOWN)
        a, b = sorted(mouth)
        if a < -1e-6 or b > self.edge.length + 1e-6:
            where = f"the edge {self.edge.name}"
            raise self.note.fault(f"the dart reaches beyond {where}", f"both legs on {where}")
        point = self.point
        if point is None and not self.deep:
            raise self.note.fault("it does not say how long the dart is", DART_SHOWN)
        if point is None:
            p, q = self.edge.path.point_at(a), self.edge.path.point_at(b)
            point = p.lerp(q, 0.5) + (q - p).unit.perp * self.deep
        return Dart(name=name, edge=self.edge.name, a=a, b=b, point=point, pressed=self.pressed)


def dart_of(note: Note, ground: MeasuredOn, known: Sequence[str]) -> Dart:
    """Read a dart: its mouth on an edge, and its point. Raises BadInput."""
    parts = clauses(note.text)
    parts = [*clauses(re.sub(r" (from .+? to .+)$", r", \1", parts[0], flags=_I)), *parts[1:]]
    m = _DART.fullmatch(parts[0])
    if m is None:
        raise note.fault("it does not say on which edge the dart is", DART_SHOWN)
    edge = ground.edge(note, m["edge"])
    name = new_name(note, m["name"].strip() or f"{edge.name} dart", known, "dart")
    said = _DartParts(note=note, ground=ground, edge=edge)
    for part in parts[1:]:
        said.take(part)
    return said.made(name)


def grain_of(note: Note, ground: MeasuredOn) -> Grain:
    """Read "grain up", "grain along centre", "grain from G to H", "grain 45 deg". BadInput."""
    m = _GRAIN.fullmatch(note.text)
    rest = m["rest"].strip(" ,") if m else ""
    if found := _FROM_TO.fullmatch(rest):
        start, end = (ground.place(note, found[k]) for k in ("p", "q"))
        if start.distance(end) < 1.0:
            raise note.fault("the grain line has no length", "two points apart")
        return Grain(start=start, end=end)
    low = rest.lower().removeprefix("straight ")
    turns = {"up": 90.0, "upwards": 90.0, "down": -90.0, "across": 0.0, "bias": 45.0}
    if low in turns:
        return grain_through(ground, unit_at(turns[low]))
    if found := _PARALLEL.fullmatch(rest):
        path = ground.edge(note, found["edge"]).path
        along = (path.end - path.start).unit
        return grain_through(ground, -along if along.y < -1e-9 else along)
    if re.match(r"[-\d]", rest):
        return grain_through(ground, unit_at(parse_angle_deg(rest, where=note.where)))
    raise note.fault(
        "it does not say how the grain runs",
        '"grain up", "grain along centre", "grain from G to H" or "grain 45 deg"',
    )


def grain_through(ground: MeasuredOn, way: Vec) -> Grain:
    """Return a grain line through the middle of the piece, half as long as the piece that way."""
    box, u = box_of_all(e.path.bounds() for e in ground.edges.values()), way.unit
    reach = (abs(u.x) * box.size.x + abs(u.y) * box.size.y) / 4
    return Grain(start=box.middle - u * reach, end=box.middle + u * reach)


def level_of(note: Note, ground: MeasuredOn) -> Level:
    """Read "level hip at H" or "level hip is 20 cm below A". Raises BadInput."""
    m = _LEVEL.fullmatch(note.text)
    if m is None:
        raise note.fault("it does not say where the level is", 'for example "level hip at H"')
    return Level(name=m["name"].strip(" ,:"), at=ground.place(note, m["at"] or m["is"]))


def mark_of(note: Note, ground: MeasuredOn, known: Sequence[str]) -> Mark:
    """Read "mark button at M" or "mark pocket from P to Q". Raises BadInput."""
    m = _MARK.fullmatch(note.text)
    shown = 'for example "mark button at M" or "mark pocket from P through Q to R"'
    if m is None:
        raise note.fault("it does not say where the mark is", shown)
    name = new_name(note, m["name"].strip(" ,:"), known, "mark")
    if m["how"].lower() != "from":
        return Mark(name=name, at=ground.place(note, m["rest"]))
    line = _FROM_TO.fullmatch("from " + m["rest"])
    if line is None:
        return Mark(name=name, at=ground.place(note, "from " + m["rest"]))
    via = re.split(r", | and ", line["via"]) if line["via"] else []
    points = [ground.place(note, n) for n in (line["p"], *via, line["q"])]
    if any(p.is_near(q, 0.1) for p, q in pairwise(points)):
        raise note.fault("two points of the mark are at one place", shown)
    return Mark(name=name, path=smooth_through(points))


def cut_of(note: Note) -> tuple[Cut, str]:
    """Read "cut 2 shell, pair"; return also what was taken for granted, "" when nothing was.

    Two with nothing further said are a mirrored pair (common practice).
    """
    m = _CUT.fullmatch(note.text)
    count = (_COUNT.get(m["n"].lower()) or int(m["n"])) if m else 0
    if m is None or not count:
        raise note.fault(
            "it does not say how many", 'for example "cut 2 shell, pair" or "cut 1 lining, fold"'
        )
    low = m["rest"].lower()
    words = re.findall(r"[^\W\d_]+", low)
    how = _how_cut(note, low, words, count)
    material = " ".join(w for w in words if w not in _CUT_WORDS) or "shell"
    if how:
        whole = "pairs" in words or how != "pair"
        return Cut(material=material, how=how, count=count if whole else max(1, count // 2)), ""
    if count % 2 == 0:
        said = f'"{note.text}" taken as mirrored: say alike if all lie the same way'
        return Cut(material=material, how="pair", count=count // 2), said
    return Cut(material=material, how="once", count=count), ""


def _how_cut(
    note: Note, low: str, words: Sequence[str], count: int
) -> Literal["once", "pair", "fold", ""]:
    """Return what the words say, "" when nothing. Raises BadInput for what two could read apart."""
    shown = 'for example "cut 2 shell, pair", and another line for each other cloth'
    if {"not", "no", "without"} & set(words):
        raise note.fault("it says how it is not cut", 'what it is: "pair", "alike" or "fold"')
    if re.search(r"\d", low) or any(
        w not in _CUT_WORDS for part in low.split(",")[1:] for w in re.findall(r"[^\W\d_]+", part)
    ):
        raise note.fault("it says more than one cloth and one number", shown)
    said = [
        how
        for how, known in (
            ("fold", {"fold"}),
            ("pair", {"pair", "pairs", "mirrored"}),
            ("once", {"once", "single", "alike", "same"}),
        )
        if known & set(words)
    ]
    if len(said) > 1:
        raise note.fault("it says two ways of cutting at once", 'one of "pair", "alike" or "fold"')
    uneven = count % 2 == 1 and (count > 1 or "mirrored" in words)
    if said == ["pair"] and "pairs" not in words and uneven:
        raise note.fault(
            f"{count} cannot be mirrored pairs", 'an even number, or for example "cut 3 pairs"'
        )
    return cast(Literal["once", "pair", "fold"], said[0]) if said else ""


_CUT_WORDS = frozenset(
    ("of", "the", "in", "from", "as", "a", "on", "fold", "pair", "pairs", "once", "single")
) | {"alike", "same", "way", "mirrored", "pieces", "piece", "times", "one"}
