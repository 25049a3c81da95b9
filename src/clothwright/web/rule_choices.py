"""What a placing rule can name in a workbook: edges, points, seams, borders, mirror lines, ..."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.plan import CutFrom, Plan
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.store.book.plain import length_text
from clothwright.units import Unit
from clothwright.words import show_length


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One thing to choose. key: how a form names it; values: the entries of the rule it stands for.

    group: what it is listed under, "" for nothing.
    """

    key: str
    words: str
    values: Mapping[str, object]
    group: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sources:
    """What is chosen from: the pieces as changed, the cloths, and the plan the rule is for."""

    pattern: Pattern
    cloths: Sequence[Cloth]
    unit: Unit
    plan: Plan = field(default_factory=lambda: Plan(name="-"))

    @property
    def laid(self) -> tuple[Piece, ...]:
        """The pieces that are cut from a cloth of the workbook."""
        return tuple(p for p in self.pattern.pieces if self._homes(p))

    @property
    def printed(self) -> tuple[Piece, ...]:
        """The pieces that are cut from a cloth with a print."""
        return tuple(
            p for p in self.pattern.pieces if any(c.print.has_design for c in self._homes(p))
        )

    def _homes(self, piece: Piece) -> list[Cloth]:
        moved = {
            r.material: r.cloth
            for r in self.plan.rules
            if isinstance(r, CutFrom) and r.piece == piece.name
        }
        return [
            c
            for c in self.cloths
            for cut in piece.cuts
            if c.name == moved.get(cut.material, "")
            or (cut.material not in moved and c.material == cut.material)
        ]


# --- edges and points -----------------------------------------------------------------------------


def _edges(src: Sources) -> Iterator[Choice]:
    for piece in src.printed:
        for edge in sorted(piece.edges, key=lambda e: e.role is not Role.HEM):
            yield Choice(
                key=f"{piece.name}.{edge.name}",
                words=f"{piece.name}, {edge.name}",
                values={"piece": piece.name, "edge": edge.name},
                group=piece.name,
            )


def _points(pieces: Sequence[Piece], of: str = "") -> Iterator[Choice]:
    """Yield the points of pieces. of: ending of the entries they fill ("_a": piece_a, point_a)."""
    for piece in pieces:
        for name in piece.named_points():
            yield Choice(
                key=f"{piece.name}.{name}",
                words=f"{piece.name}, {name}",
                values={f"piece{of}": piece.name, f"point{of}": name},
                group=piece.name,
            )


def _pairs(src: Sources) -> tuple[Piece, ...]:
    return tuple(p for p in src.printed if any(c.how == "pair" or c.count > 1 for c in p.cuts))


# --- along a seam ---------------------------------------------------------------------------------


def _seam_points(src: Sources) -> Iterator[Choice]:
    printed = {p.name for p in src.printed}
    for seam in src.pattern.seams:
        pieces = ({r.piece for r in seam.a}, {r.piece for r in seam.b})
        if pieces[0] & pieces[1] or not (pieces[0] | pieces[1]) <= printed:
            continue
        for (a, at_a), (b, at_b) in meeting(src.pattern, seam):
            yield Choice(
                key=f"{seam.name}: {a}.{at_a} = {b}.{at_b}",
                words=f"{a}, {at_a}, and {b}, {at_b}",
                values={"piece_a": a, "point_a": at_a, "piece_b": b, "point_b": at_b},
                group=seam.name,
            )


Named = tuple[str, str]


def meeting(pattern: Pattern, seam: Seam) -> tuple[tuple[Named, Named], ...]:
    """Return the points of both sides that meet when a seam is sewn: its ends, and its notches.

    A point is (piece, name). Notches of one name meet; those without meet in order, where both
    sides have as many of them.
    """
    ends = [
        (_end(pattern, seam.a[0], first=True), _end(pattern, seam.b[0], first=True)),
        (_end(pattern, seam.a[-1], first=False), _end(pattern, seam.b[-1], first=False)),
    ]
    a, b = _notches(pattern, seam.a), _notches(pattern, seam.b)
    named_b = {name: at for name, at in b if name}
    notches = [(at, named_b[name]) for name, at in a if name in named_b]
    plain_a, plain_b = [at for name, at in a if not name], [at for name, at in b if not name]
    if len(plain_a) == len(plain_b):
        notches += list(zip(plain_a, plain_b, strict=True))
    return tuple(dict.fromkeys((*ends, *notches)))


def _end(pattern: Pattern, ref: EdgeRef, *, first: bool) -> Named:
    """Return the point at the first or last end of a run, by the corner's name if it has one."""
    piece, edge = pattern.piece(ref.piece), pattern.edge(ref)
    at_start = first != ref.reversed
    following = piece.edges[(piece.index(edge.name) + 1) % len(piece.edges)]
    corner = edge.corner if at_start else following.corner
    return piece.name, corner or f"{edge.name} {'start' if at_start else 'end'}"


def _notches(pattern: Pattern, side: Sequence[EdgeRef]) -> list[tuple[str, Named]]:
    """Return the notches of one side in the order of the seam: (own name or "", point)."""
    found = []
    for ref in side:
        edge = pattern.edge(ref)
        mine = [
            (n.name, (ref.piece, f"{edge.name} notch {n.name or k}"))
            for k, n in enumerate(edge.notches, start=1)
        ]
        found += mine[::-1] if ref.reversed else mine
    return found


# --- the cloth ------------------------------------------------------------------------------------


def _axes(src: Sources) -> Iterator[Choice]:
    for cloth in src.cloths:
        for way, lies, axes in (
            ("along", "across", cloth.print.axes_along),
            ("across", "along", cloth.print.axes_across),
        ):
            other = "across" if way == "along" else "along"
            for mm in axes if cloth.print.repeat(way) else ():
                place = f"{show_length(mm, src.unit)} into" if mm else "at the start of"
                yield Choice(
                    key=f"{cloth.name} {way} {mm:g}",
                    words=f"the one that runs {lies} the cloth, {place} the repeat",
                    values={way: length_text(mm, src.unit), other: None},
                    group=cloth.name,
                )


def _borders(src: Sources) -> Iterator[Choice]:
    for cloth in src.cloths:
        for b in cloth.print.borders:
            yield Choice(key=b.name, words=b.name, values={"border": b.name}, group=cloth.name)


def _figures(src: Sources) -> Iterator[Choice]:
    for cloth in src.cloths:
        for f in cloth.print.figures:
            yield Choice(key=f.name, words=f.name, values={"figure": f.name}, group=cloth.name)


def _cuts(src: Sources) -> Iterator[Choice]:
    for p in src.pattern.pieces:
        for cut in p.cuts:
            yield Choice(
                key=f"{p.name}.{cut.material}",
                words=f"{p.name}, meant for {cut.material}",
                values={"piece": p.name, "material": cut.material},
            )


def _ways(src: Sources) -> Iterator[Choice]:
    """Yield on which axis a pair can lie mirrored: where a cloth has such a mirror line."""
    prints = [c.print for c in src.cloths]
    if any(p.axes_along and p.repeat("along") for p in prints):
        words = "a mirror line that runs across the cloth"
        yield Choice(key="along", words=words, values={"way": "along"})
    if any(p.axes_across and p.repeat("across") for p in prints):
        words = "a mirror line that runs along the cloth"
        yield Choice(key="across", words=words, values={"way": "across"})


def _named(name: str, *pairs: tuple[str, str]) -> Callable[[Sources], Iterator[Choice]]:
    """Return a list that is the same for every workbook."""
    return lambda _: iter([Choice(key=k, words=w, values={name: k}) for k, w in pairs])


def _pieces(src: Sources) -> Iterator[Choice]:
    for p in src.laid:
        yield Choice(key=p.name, words=p.name, values={"piece": p.name})


CHOICES: Mapping[str, Callable[[Sources], Iterator[Choice]]] = {
    "edge": _edges,
    "point": lambda src: _points(src.printed),
    "point a": lambda src: _points(src.printed, "_a"),
    "point b": lambda src: _points(src.printed, "_b"),
    "point of a pair": lambda src: _points(_pairs(src)),
    "seam point": _seam_points,
    "piece": _pieces,
    "printed piece": lambda src: (
        c for c in _pieces(src) if c.key in {p.name for p in src.printed}
    ),
    "cut": _cuts,
    "axis": _axes,
    "border": _borders,
    "figure": _figures,
    "cloth": lambda src: (
        Choice(key=c.name, words=c.name, values={"cloth": c.name}) for c in src.cloths
    ),
    "way": _ways,
    "match": _named(
        "match",
        ("level", "in height: bars that run round the body"),
        ("upright", "to the side: bars that run up the body"),
        ("both", "both ways"),
    ),
    "grain": _named(
        "grain",
        ("along", "along the selvedge, the usual grain"),
        ("across", "across, from selvedge to selvedge"),
        ("bias", "on the true bias"),
    ),
    "copies": _named("copies", ("all", "every copy"), ("first", "the first of a pair only")),
}
"""What each kind of field is chosen from."""

NONE = {
    "edge": "no piece is cut from a cloth with a print",
    "point": "no piece is cut from a cloth with a print",
    "point a": "no piece is cut from a cloth with a print",
    "point b": "no piece is cut from a cloth with a print",
    "point of a pair": "no pair is cut from a cloth with a print",
    "seam point": "no seam joins two pieces that are cut from a cloth with a print",
    "piece": "no piece is cut from a cloth of this workbook",
    "printed piece": "no piece is cut from a cloth with a print",
    "cut": "no piece says what it is cut from",
    "axis": "no cloth has a mirror line in its repeat yet",
    "border": "no cloth has a border yet",
    "figure": "no cloth has a figure to keep clear of yet",
    "cloth": "there is no cloth yet",
    "way": "no cloth has a mirror line in its repeat yet",
}
"""What is said when there is nothing to choose."""
