"""What a maker finds a place of a seam by: its ends, notches, joints and darts, in her words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from clothwright.lay.meeting.values import SeamMark
from clothwright.lay.sewn import Marks
from clothwright.pattern.closing import Closing
from clothwright.pattern.measure import Station, net_at, net_length
from clothwright.pattern.parts import ON_LINE_MM, along_grain
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Role
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import corner_index

ORDER = ("first", "second", "third", "fourth", "next")
SAME_MM = 3.0
"""mm: landmarks nearer to each other than this are one."""


def landmarks_of(pattern: Pattern, seam: Seam, marks: Marks) -> tuple[SeamMark, ...]:
    """Return the landmarks of a seam in order, from its start to its end, mm on side a.

    Darts of either side count, where their legs meet; of two at one place the first found stays.
    """
    ends = (
        SeamMark(at=0.0, name=_end_name(pattern, seam, at_end=False)),
        SeamMark(at=float(marks.a[-1]), name=_end_name(pattern, seam, at_end=True)),
    )
    found = _one_a_place((*ends, *_notches(marks), *_darts(pattern, seam, marks)))
    return tuple(_told_apart(pattern, seam, found))


def closing_marks(closing: Closing) -> tuple[SeamMark, ...]:
    """Return the landmarks of where a garment opens: the line's ends, marks on it and levels."""
    return _one_a_place((*_ends_of(closing), *_marks_on(closing)))


def _one_a_place(marks: Iterable[SeamMark]) -> tuple[SeamMark, ...]:
    found: list[SeamMark] = []
    for each in marks:
        if all(abs(each.at - old.at) > SAME_MM for old in found):
            found.append(each)
    return tuple(sorted(found, key=lambda m: m.at))


def _ends_of(closing: Closing) -> Iterator[SeamMark]:
    """Yield both ends of the line on which a garment closes, by the edges they lie on."""
    for at, point in ((0.0, closing.line.start), (closing.line.length, closing.line.end)):
        near = [e for e in closing.piece.edges if e.path.nearest(point)[1] <= ON_LINE_MM]
        across = [e for e in near if not along_grain(closing.piece, e.path)] or near
        hem = any(e.role is Role.HEM for e in across)
        name = "the hem" if hem or not across else f"the {across[0].name}"
        yield SeamMark(at=at, name=name)


def _marks_on(closing: Closing) -> Iterator[SeamMark]:
    """Yield the levels that the line crosses, and the buttons and other points marked on it."""
    piece, line = closing.piece, closing.line
    levels = ((f"the {level.name}", level.at) for level in piece.levels)
    points = ((mark.name, mark.at) for mark in piece.marks if mark.at is not None)
    on_line = ((n, at) for n, at in points if line.nearest(at)[1] <= ON_LINE_MM)
    for name, place in (*levels, *on_line):
        at = piece.up.dot(place - line.start)
        if 0.0 < at < line.length:
            yield SeamMark(at=at, name=name)


def _told_apart(pattern: Pattern, seam: Seam, marks: Sequence[SeamMark]) -> Iterator[SeamMark]:
    """Yield the marks; those of one name by the piece on side a, or by their order on one piece."""
    for mark in marks:
        alike = [m for m in marks if m.name == mark.name]
        pieces = [_piece_at(pattern, seam, m.at) for m in alike]
        if len(alike) == 1:
            yield mark
        elif len(set(pieces)) == len(alike):
            yield replace(mark, name=f"{mark.name} of {_piece_at(pattern, seam, mark.at)}")
        else:
            order = ORDER[min(alike.index(mark), len(ORDER) - 1)]
            yield replace(mark, name=f"the {order} {mark.name.removeprefix('the ')}")


def _piece_at(pattern: Pattern, seam: Seam, at: float) -> str:
    """Return the piece of side a that has the place `at` mm from the seam's start."""
    run = 0.0
    for ref in seam.a:
        run += net_length(pattern.piece(ref.piece), ref.edge)
        if at < run:
            return ref.piece
    return seam.a[-1].piece


def _end_name(pattern: Pattern, seam: Seam, *, at_end: bool) -> str:
    """Say one end of a seam: the hem where there is one, else its corner or the edge it meets."""
    other, corner = "", ""
    for refs in (seam.a, seam.b):
        name, index = corner_index(pattern, refs, at_end=at_end)
        edges = pattern.piece(name).edges
        mine = refs[-1 if at_end else 0].edge
        meets = next((e for e in (edges[index - 1], edges[index]) if e.name != mine), edges[index])
        if meets.role is Role.HEM:
            return "the hem"
        corner = corner or edges[index].corner
        other = other or meets.name
    return f"the {corner or other}"


def _notches(marks: Marks) -> Iterator[SeamMark]:
    """Yield the notches and joints of both sides: those that meet, then those of one side only."""
    walk = marks.walk
    for a, b in walk.pairs:
        yield SeamMark(at=a.at, name=_mark_name(a, b))
    met = {id(station) for pair in walk.pairs for station in pair}
    for side, to_a in ((walk.a, float), (walk.b, marks.to_a)):
        for station in side.stations:
            if id(station) not in met:
                yield SeamMark(at=to_a(station.at), name=_mark_name(station, station))


def _mark_name(a: Station, b: Station) -> str:
    """Say two marks that meet: "the front notch"; a joint by its corner."""
    joint = next((s for s in (a, b) if s.kind is None), None)
    if joint is not None:
        return f"the {joint.name or a.name or b.name or 'joint'}"
    name = a.name or b.name or (a.kind.value if a.kind else "")
    return f"the {name}" if name.casefold().endswith("notch") else f"the {name} notch"


def _darts(pattern: Pattern, seam: Seam, marks: Marks) -> Iterator[SeamMark]:
    for at, name in _darts_along(pattern, seam.a):
        yield SeamMark(at=at, name=name)
    for at, name in _darts_along(pattern, seam.b):
        yield SeamMark(at=marks.to_a(at), name=name)


def _darts_along(pattern: Pattern, refs: tuple[EdgeRef, ...]) -> Iterator[tuple[float, str]]:
    run = 0.0
    for ref in refs:
        piece = pattern.piece(ref.piece)
        length = net_length(piece, ref.edge)
        for dart in piece.darts_on(ref.edge):
            at = net_at(piece, ref.edge, dart.a)
            name = dart.name if dart.name.casefold().endswith("dart") else f"{dart.name} dart"
            yield run + (length - at if ref.reversed else at), f"the {name}"
        run += length
