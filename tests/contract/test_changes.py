"""All changes × all promises, from the table in changes_table.py."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any

import pytest
from tests.contract.changes_table import ROWS, Row
from tests.specimens import bodice
from tests.words.walker import strays

from clothwright.changes import CHANGES
from clothwright.changes.change import TOPICS
from clothwright.errors import BadInput, CannotDo, ClothwrightError
from clothwright.geometry.intersect import self_crossings
from clothwright.geometry.path import Path
from clothwright.geometry.transform import Transform, reflection, rotation_deg, translation
from clothwright.geometry.vec import Vec
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Mark, Piece, Role
from clothwright.pattern.whole import moved
from clothwright.store.book.format import reading_in, writing_in
from clothwright.units import Unit
from clothwright.units.params import declared, param
from clothwright.words import say, told
from clothwright.workbook import Step
from clothwright.workroom.changing.forms import BY_TOPIC

MOVES = {
    "turned": rotation_deg(37.0, (12.0, -5.0)).then(translation((310.0, -77.0))),
    "shifted": translation((-1000.0, 250.0)),
    "mirrored": reflection((20.0, 0.0), (50.0, 90.0)),
    "upside down": rotation_deg(180.0),
}


def by(rows: list[Row]) -> pytest.MarkDecorator:
    return pytest.mark.parametrize("row", rows, ids=[row.label for row in rows])


BY_ROW = by(list(ROWS))


def moved_pattern(pattern: Pattern, move: Transform) -> Pattern:
    """Every piece moved; a mirror turns every edge round, and every seam travels it so."""
    pieces = tuple(moved(p, move) for p in pattern.pieces)
    seams = pattern.seams
    if move.mirrors:
        seams = tuple(
            replace(
                s,
                a=tuple(replace(r, reversed=not r.reversed) for r in s.a),
                b=tuple(replace(r, reversed=not r.reversed) for r in s.b),
            )
            for s in seams
        )
    sizes = pattern.sizes and replace(
        pattern.sizes,
        pieces=tuple(tuple(moved(p, move) for p in set_) for set_ in pattern.sizes.pieces),
    )
    return Pattern(pieces=pieces, seams=seams, sizes=sizes, companions=pattern.companions)


def differences(a: Pattern, b: Pattern, tol: float) -> list[str]:
    """Where two patterns differ by more than tol mm."""
    names_a, names_b = [p.name for p in a.pieces], [p.name for p in b.pieces]
    if names_a != names_b:
        return [f"pieces {names_a} and {names_b}"]
    found = [] if a.seams == b.seams else ["seams differ"]
    for p, q in zip(a.pieces, b.pieces, strict=True):
        found += [f"{p.name}: {each}" for each in piece_differences(p, q, tol)]
    return found


def piece_differences(p: Piece, q: Piece, tol: float) -> Iterator[str]:
    if {e.name for e in p.edges} != {e.name for e in q.edges}:
        yield f"edges {[e.name for e in p.edges]} and {[e.name for e in q.edges]}"
        return
    for e in p.edges:
        f = q.edge(e.name)
        off = path_distance(e.path, f.path)
        if off > tol:
            yield f"edge {e.name} is off by {off:.2g} mm"
        plain = [(x.role, x.corner, x.join) for x in (e, f)]
        if plain[0] != plain[1] or abs(e.allowance - f.allowance) > tol:
            yield f"edge {e.name}: {plain}, {e.allowance}, {f.allowance}"
        notches = [[(n.kind, n.name) for n in x.notches] for x in (e, f)]
        if notches[0] != notches[1]:
            yield f"notches of {e.name}: {notches}"
        else:
            for m, n in zip(e.notches, f.notches, strict=True):
                if abs(m.at - n.at) > tol:
                    yield f"a notch of {e.name} at {m.at} and {n.at}"
    yield from inner_differences(p, q, tol)


def inner_differences(p: Piece, q: Piece, tol: float) -> Iterator[str]:
    darts = [{d.name: d for d in x.darts} for x in (p, q)]
    if darts[0].keys() != darts[1].keys():
        yield f"darts {list(darts[0])} and {list(darts[1])}"
        return
    for d in p.darts:
        f = darts[1][d.name]
        off = max(abs(d.a - f.a), abs(d.b - f.b), d.point.distance(f.point))
        if off > tol or (d.edge, d.pressed) != (f.edge, f.pressed):
            yield f"dart {d.name}: {d} and {f}"
    points = [grain_and_levels(x) for x in (p, q)]
    if points[0].keys() != points[1].keys():
        yield f"grain, levels or marks: {list(points[0])} and {list(points[1])}"
        return
    for name, at in points[0].items():
        if at.distance(points[1][name]) > tol:
            yield f"{name} at {at} and {points[1][name]}"
    if (p.cuts, p.note) != (q.cuts, q.note):
        yield "cuts or note"


def grain_and_levels(piece: Piece) -> dict[str, Vec]:
    found = {}
    if piece.grain:
        found["grain start"], found["grain end"] = piece.grain.start, piece.grain.end
    for level in piece.levels:
        # a level is a line square to the grain: only its height counts
        found[f"level {level.name}"] = piece.up * piece.up.dot(level.at)
    for mark in piece.marks:
        found |= mark_points(mark)
    return found


def mark_points(mark: Mark) -> dict[str, Vec]:
    found = {} if mark.at is None else {f"mark {mark.name}": mark.at}
    if mark.path is not None:
        found[f"mark {mark.name} start"] = mark.path.start
        found[f"mark {mark.name} end"] = mark.path.end
        found[f"mark {mark.name} middle"] = mark.path.point_at(mark.path.length / 2)
    return found


def path_distance(a: Path, b: Path) -> float:
    return max(
        a.point_at(a.length * k / 40).distance(b.point_at(b.length * k / 40)) for k in range(41)
    )


def test_every_change_has_a_row() -> None:
    """No change without a row in the table."""
    assert {c.id for c in CHANGES} - {row.change.id for row in ROWS} == set()


@BY_ROW
def test_a_true_change_changes_something(row: Row) -> None:
    """Each row's parameters really alter the pattern (else the other promises prove nothing)."""
    pattern = row.pattern()
    assert differences(row.change.apply(pattern, row.params).pattern, pattern, 0.01)


@by([row for row in ROWS if row.none is not None])
def test_no_change_gives_an_equal_pattern(row: Row) -> None:
    """Parameters that mean "no change" give an equal pattern."""
    pattern = row.pattern()
    assert differences(row.change.apply(pattern, row.none).pattern, pattern, 1e-6) == []


@by([row for row in ROWS if row.undo is not None])
def test_do_and_undo_comes_back(row: Row) -> None:
    """Doing it and undoing it comes back within the row's tolerance."""
    pattern = row.pattern()
    done = row.change.apply(pattern, row.params).pattern
    back = row.change.apply(done, row.undo).pattern
    assert differences(pattern, back, row.undo_mm) == []


@BY_ROW
@pytest.mark.parametrize("move", MOVES.values(), ids=MOVES)
def test_a_moved_input_gives_a_moved_output(row: Row, move: Transform) -> None:
    """Turned, shifted or mirrored pieces come out turned, shifted or mirrored."""
    pattern = row.pattern()
    first = row.change.apply(moved_pattern(pattern, move), row.params).pattern
    second = moved_pattern(row.change.apply(pattern, row.params).pattern, move)
    assert differences(first, second, row.move_mm) == []


@by([row for row in ROWS if not row.renames])
def test_names_stay(row: Row) -> None:
    """Pieces, edges, corners and seams keep their names, in their order."""
    pattern = row.pattern()
    changed = row.change.apply(pattern, row.params).pattern
    for old, new in zip(pattern.pieces, changed.pieces, strict=True):
        assert old.name == new.name
        assert [(e.name, e.corner) for e in old.edges] == [(e.name, e.corner) for e in new.edges]
    assert [s.name for s in pattern.seams] == [s.name for s in changed.seams]


@BY_ROW
def test_notches_and_darts_lie_on_their_edges(row: Row) -> None:
    """Every notch lies on its edge, in order; every dart's legs are equal where they were."""
    pattern = row.pattern()
    for piece in row.change.apply(pattern, row.params).pattern.pieces:
        for edge in piece.edges:
            at = [n.at for n in edge.notches]
            assert at == sorted(at)
            assert all(-1e-6 <= x <= edge.length + 1e-6 for x in at)
        for dart in piece.darts:
            path = piece.edge(dart.edge).path
            legs = [path.point_at(x).distance(dart.point) for x in (dart.a, dart.b)]
            assert legs[0] == pytest.approx(legs[1], abs=1e-3)


@BY_ROW
def test_no_outline_crosses_itself(row: Row) -> None:
    """Neither the stitching line nor the cutting line crosses itself afterwards."""
    for piece in row.change.apply(row.pattern(), row.params).pattern.pieces:
        assert self_crossings(piece.outline) == ()
        assert self_crossings(cutting_line(piece).outline) == ()


@BY_ROW
def test_pieces_not_mentioned_are_the_same_objects(row: Row) -> None:
    """What a change does not speak of it does not touch, not even to copy it."""
    pattern = row.pattern()
    changed = row.change.apply(pattern, row.params).pattern
    known = {id(p) for p in pattern.pieces}
    for piece in changed.pieces:
        if piece.name not in row.touched:
            assert id(piece) in known


@BY_ROW
def test_the_sentence_names_the_pieces(row: Row) -> None:
    """The sentence for the record can be said in any unit and names what was changed."""
    pattern = row.pattern()
    said = row.change.apply(pattern, row.params).said
    changed = row.touched or tuple(s.name for s in pattern.seams)
    for unit in (Unit.inch, Unit.cm):
        words = say(said, unit)
        assert not re.search(r"\. [a-z]", words), words
        assert words[0].isupper()
        assert words.endswith(".")
        assert strays(words, unit, row.pattern()) == []
    assert any(name in words for name in (*changed, "all seams"))


@BY_ROW
def test_the_impossible_is_refused_with_the_nearest_possible(row: Row) -> None:
    """Impossible parameters raise a sentence that says where, and what would do."""
    for params, words in row.impossible:
        with pytest.raises(ClothwrightError) as caught:
            row.change.apply(row.pattern(), params)
        assert isinstance(caught.value, BadInput | CannotDo)
        if isinstance(caught.value, CannotDo):
            assert caught.value.nearest
        for word in words:
            assert word in str(caught.value)
        for unit in (Unit.inch, Unit.cm):
            assert strays(told(caught.value, unit), unit, row.pattern()) == []


@pytest.mark.parametrize("change", CHANGES, ids=lambda c: c.id)
def test_every_parameter_is_explained(change: object) -> None:
    """Each parameter has a kind, a label and a help text, or words for each choice.

    Each change has a title, a reason and a source.
    """
    for text in (change.title, change.why, change.source):  # type: ignore[attr-defined]
        assert len(text) > 5
    assert unexplained(change.params) == []  # type: ignore[attr-defined]


@pytest.mark.parametrize("change", CHANGES, ids=lambda c: c.id)
def test_every_parameter_is_kept_beside_what_is_said_of_the_change(change: Any) -> None:
    """None is called as an entry of the change itself: one of the two would be lost when saved."""
    step = _step(change.id, declared(change.params))
    assert _kept(step) == step


def _step(kind: str, names: Iterable[str]) -> Step:
    given = dict.fromkeys(names, "front")
    return Step(change=kind, params=given, on=False, why="because", toile="first")


def _kept(step: Step) -> Step | None:
    """The change after it was written into a workbook and read again."""
    data = writing_in(Unit.cm).plain(Step, step)
    read = reading_in(Unit.cm).value(Step, data, ())
    assert read is None or isinstance(read, Step)
    return read


def test_a_planted_parameter_that_would_be_lost_is_found() -> None:
    """As once the kind of a zip, which took the place of the kind of the change."""
    step = _step("set-zip", ("seam", "kind"))
    assert _kept(step) != step


def unexplained(params: Any) -> list[str]:
    """The parameters that a maker cannot understand: without a label of words, or explanation."""
    return [
        name
        for name, it in declared(params).items()
        if not it.kind
        or not re.match(r"[A-Z]", it.label)
        or it.label.casefold() == name.replace("_", " ")
        or not (it.help or it.kind == "choice")
        or not all(it.choices.values())
        or (it.kind == "choice") != bool(it.choices)
    ]


@dataclass(frozen=True)
class Planted:
    """Parameters of which each but the last is not told."""

    by: float = param("length", "how far")
    at: str = param("choice", "", choices={"end": ""}, label="Which end")
    edge: str = param("edge", "the edge", label="Edge")
    seam: str = param("seam", "", label="Which seam")
    dart: str = param("dart", "the one that moves", label="Which dart")


def test_a_planted_omission_is_found() -> None:
    """No label, a choice without words, the bare name as a label, nothing explained."""
    assert unexplained(Planted) == ["by", "at", "edge", "seam"]


# --- and these tests can fail --------------------------------------------------------------------


def test_a_planted_difference_is_found() -> None:
    """A shifted notch, a moved corner, another allowance: each is told."""
    pattern = bodice()
    front = pattern.piece("front")
    side = front.edge("side")
    plants = (
        front.with_edge(replace(side, allowance=1.0)),
        front.with_edge(replace(side, notches=(replace(side.notches[0], at=61.0),))),
        moved(front, translation((0.001, 0.0))),
        replace(front, levels=front.levels[:1]),
        replace(front, darts=()),
    )
    for plant in plants:
        assert differences(pattern, pattern.with_piece(plant), 1e-4)
    assert differences(pattern, pattern, 0.0) == []


@BY_ROW
def test_what_is_renamed_divided_or_joined_is_told(row: Row) -> None:
    """A piece or edge that is no more stands in the trail, with where it has gone; a point too.

    What the trail names is there. A point whose place no name is left for may be gone.
    """
    before = row.pattern()
    outcome = row.change.apply(before, row.params)
    after, trail = outcome.pattern, outcome.trail
    pieces = {p.name: p for p in after.pieces}
    old = {p.name for p in before.pieces}
    for piece in before.pieces:
        now = pieces.get(piece.name)
        if now is None:
            assert trail.piece(piece.name) != (piece.name,)
            assert set(trail.piece(piece.name)) <= set(pieces)
        for edge in piece.edges:
            if now is None or all(e.name != edge.name for e in now.edges):
                assert (piece.name, edge.name) in dict(trail.edges)
                found = trail.edge(piece.name, edge.name)
                closed = (piece.name, edge.name) in row.closes
                assert found or closed or edge.role is Role.FOLD
                for where, name in found:
                    pieces[where].edge(name)
        for name, at in piece.points().items():
            if now is not None and name in now.points():
                continue
            parts = [pieces[n] for n in trail.piece(piece.name)]
            parts += [p for p in after.pieces if p.name not in old]
            places = [p for one in parts for p in one.points().values()]
            if any(p.is_near(at, 0.01) for p in places):
                ((where, called),) = trail.point(piece.name, name)
                assert pieces[where].point(called).is_near(at, 0.01)
    for (where, name), _ in (*trail.edges, *trail.points):
        assert before.piece(where)
        assert name


@pytest.mark.parametrize("change", CHANGES, ids=lambda c: c.id)
def test_it_stands_in_the_menu_under_what_it_is_about(change: Any) -> None:
    """Every change has one of the topics, and the menu has every change once."""
    assert change.topic in TOPICS
    assert [id_ for _, kinds in BY_TOPIC for id_, _ in kinds].count(change.id) == 1
