"""The changes of one workbook done again on another: renamed pieces, another unit, another size."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from shapely import Polygon

from clothwright.demo.workbooks import DEMOS
from clothwright.errors import CannotDo
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.store import create, load
from clothwright.units import Unit
from clothwright.workbook import Step, Workbook, replay
from clothwright.workroom.changing.again import carry_over, done_again
from clothwright.workroom.editing.opened import OpenBook
from tests.listed import switched
from tests.words.walker import strays

COAT = next(d for d in DEMOS if d.name == "coat-and-skirt").make()
SIZES = next(d for d in DEMOS if d.name == "three-sizes").make()
MEANT = {"coat front": "jacket front"}


def renamed(pattern: Pattern, old: str, new: str) -> Pattern:
    """The pattern with one piece called otherwise."""

    def called(refs: tuple[EdgeRef, ...]) -> tuple[EdgeRef, ...]:
        return tuple(replace(r, piece=new) if r.piece == old else r for r in refs)

    return replace(
        pattern,
        pieces=tuple(replace(p, name=new) if p.name == old else p for p in pattern.pieces),
        seams=tuple(replace(s, a=called(s.a), b=called(s.b)) for s in pattern.seams),
    )


def apart(one: Piece, other: Piece) -> float:
    """How far two outlines are apart at the most, mm, by shapely."""
    a, b = (Polygon(p.outline.flatten(0.01)).exterior for p in (one, other))
    return float(a.hausdorff_distance(b))


def bare(unit: Unit = Unit.cm) -> Workbook:
    """The pieces of the coat as bought, without changes, plans or borders."""
    return replace(COAT, unit=unit, steps=(), plans=(), chosen_plan="", title="Bare")


def jacket() -> Workbook:
    """The same, the front called otherwise."""
    return replace(bare(), bought=renamed(COAT.bought, "coat front", "jacket front"))


@pytest.mark.parametrize("unit", [Unit.inch, Unit.cm])
def test_the_same_pieces_come_out_the_same(unit: Unit, tmp_path: Path) -> None:
    """Though the other workbook thinks in another unit; all in one step, taken back by one undo."""
    create(tmp_path / "bare", bare(unit))
    opened = OpenBook(name="bare", folder=tmp_path / "bare")
    source = replace(COAT, steps=(*COAT.steps, BARE_NUMBER))
    again = done_again(source, opened.read().book, {})
    assert again.questions == ()
    assert all(line.carried for line in again.lines)
    carry_over(source, opened, {})
    made = load(opened.folder)
    for piece, old in zip(replay(made).pattern.pieces, replay(source).pattern.pieces, strict=True):
        assert piece.name == old.name
        assert apart(piece, old) < 0.01
    assert [s.why for s in made.steps] == [s.why for s in source.steps]
    opened.undo()
    assert load(opened.folder).steps == ()


BARE_NUMBER = Step(change="set-hem", params={"edges": "skirt back.hem", "depth": "2"})
"""A length without a unit: inches in the coat's workbook."""


def test_a_name_that_is_not_there_is_asked(tmp_path: Path) -> None:
    """Asked once, with the likeliest first; nothing is written; answered, it is followed."""
    create(tmp_path / "jacket", jacket())
    opened = OpenBook(name="jacket", folder=tmp_path / "jacket")
    again = done_again(COAT, opened.read().book, {})
    assert [(q.asked, q.proposed) for q in again.questions] == [("coat front", "jacket front")]
    waits = [line.number for line in again.lines if line.asks]
    assert waits == [n for n, s in enumerate(COAT.steps, 1) if "coat front" in str(s.params)]
    with pytest.raises(CannotDo, match="coat front"):
        carry_over(COAT, opened, {})
    assert load(opened.folder).steps == ()
    carry_over(COAT, opened, MEANT)
    front = replay(load(opened.folder)).pattern.piece("jacket front")
    was = replay(COAT).pattern.piece("coat front")
    assert apart(front, was) < 0.01


def test_the_rest_is_done_without_what_is_asked(tmp_path: Path) -> None:
    """Left out on purpose: the changes that name nothing unknown are done, the others told."""
    create(tmp_path / "jacket", jacket())
    opened = OpenBook(name="jacket", folder=tmp_path / "jacket")
    carry_over(COAT, opened, {}, rest=True)
    steps = load(opened.folder).steps
    assert 0 < len(steps) < len(COAT.steps)
    assert not [s for s in steps if "coat front" in str(s.params)]


def test_nothing_is_left_out_in_silence() -> None:
    """What is off there, in the list already, or cannot be done here: each line says so."""
    source = switched(COAT, 1, on=False)
    twice = done_again(source, COAT, {})
    assert len(twice.lines) == len(source.steps)
    assert not [line for line in twice.lines if not line.words]
    assert "switched off" in twice.lines[0].words
    assert all("in the list already" in line.words for line in twice.lines[1:])
    assert twice.edits == ()


def test_another_edge_or_line_is_asked_by_its_own_name() -> None:
    """Of a piece that is there, a line that is not: asked as it is typed, and followed."""
    book = bare()
    front = book.bought.piece("skirt front")
    levels = tuple(replace(v, name="hips") if v.name == "hip" else v for v in front.levels)
    pattern = book.bought.with_piece(replace(front, levels=levels))
    source = replace(bare(), steps=(Step(change="lengthen", params=HIP),))
    again = done_again(source, replace(book, bought=pattern), {})
    assert [(q.asked, q.proposed) for q in again.questions] == [("hip", "hips")]
    then = done_again(source, replace(book, bought=pattern), {"hip": "hips"})
    assert then.lines[0].carried


HIP = {"pieces": "skirt front", "level": "hip", "by": "2 cm"}


def test_another_size_is_said_by_its_name() -> None:
    """The same list in another size: what is said for the old one counts."""
    names = SIZES.bought.sizes.names if SIZES.bought.sizes else ()
    source = replace(SIZES, steps=(Step(change="choose-size", params={"size": names[0]}),))
    target = replace(SIZES, steps=(), plans=(), chosen_plan="")
    again = done_again(source, target, {names[0]: names[-1]})
    assert again.lines[0].carried
    assert again.edits[0].params["size"] == names[-1]
    unknown = replace(SIZES, steps=(Step(change="choose-size", params={"size": "huge"}),))
    asked = done_again(unknown, target, {})
    assert [key for key, _ in asked.questions[0].choices] == list(names)


@pytest.mark.parametrize("unit", [Unit.inch, Unit.cm])
def test_lines_and_questions_read_in_her_unit(unit: Unit) -> None:
    """No other unit, no dotted name, no id, whatever unit the other workbook is in."""
    again = done_again(COAT, replace(jacket(), unit=unit), {})
    words = [line.words for line in again.lines] + [q.words for q in again.questions]
    words += [w for q in again.questions for _, w in q.choices]
    assert strays(" ".join((*words, again.words)), unit, jacket().bought) == []


def test_a_name_that_a_change_before_divides_is_followed() -> None:
    """Of the same pieces nothing is asked: the parts are there once the change before was done."""
    steps = (
        Step(change="piece-panel", params={"piece": "skirt back", "line": "hip"}),
        Step(change="set-hem", params={"edges": "skirt back.hem", "depth": "3 cm"}),
    )
    source = replace(bare(), steps=steps)
    again = done_again(source, bare(), {})
    assert again.questions == ()
    assert [line.carried for line in again.lines] == [True, True]
    assert [dict(e.params) for e in again.edits] == [dict(s.params) for s in steps]
