"""Folding asked for, offered, kept, taken back."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.cli.app import run
from clothwright.demo import checked_waistcoat
from clothwright.errors import BadInput, CannotDo
from clothwright.rules.kinds.folded import Folded
from clothwright.rules.weighing import folding
from clothwright.rules.weighing.folding import worth_folding
from clothwright.store import create, load
from clothwright.workroom.editing.committing import apply_edit
from clothwright.workroom.planning.folding import folds_edit
from clothwright.workroom.planning.tried import ways_to_fit
from clothwright.workroom.searching.laying import compile_plan, keep_better, lay_plan, recall
from clothwright.workroom.sewing.guiding import guide_document
from tests.few_rounds import LONG_S, ROUNDS

PLAN = "as it falls"


def with_folds_in(book, plan, folds):
    return apply_edit(book, folds_edit(book, plan, folds))


def folds_asked(book, plan, words):
    return folding.folds_asked(compile_plan(book, book.plan(plan)).compiled, words)


def test_a_way_alone_is_for_every_cloth_that_allows_it():
    """The matched check stays single and says why; its lining is folded."""
    folds, notes = folds_asked(checked_waistcoat(), "matched", ("lengthwise",))
    assert [(f.cloth, f.way) for f in folds] == [("lining", "lengthwise")]
    assert len(notes) == 1
    assert "check" in notes[0]
    assert "out of sight" in notes[0]


def test_mistakes_are_sentences():
    """An unknown cloth, an unknown way, a cloth that forbids it."""
    book = checked_waistcoat()
    with pytest.raises(BadInput, match='Did you mean "lining"'):
        folds_asked(book, PLAN, ("linning=partial",))
    with pytest.raises(BadInput, match='Did you mean "partial"'):
        folds_asked(book, PLAN, ("partiel",))
    with pytest.raises(CannotDo, match="out of sight"):
        folds_asked(book, "matched", ("check=lengthwise",))


def test_single_takes_every_fold_out():
    """--fold single."""
    book = with_folds_in(checked_waistcoat(), PLAN, (Folded(cloth="check", way="lengthwise"),))
    assert folds_asked(book, PLAN, ("single",)) == ((), ())
    assert with_folds_in(book, PLAN, ()) == checked_waistcoat()


def test_a_fold_is_offered_only_where_it_spares_cutting_at_the_same_length():
    """The plain lay of the waistcoat: both cloths; never for one that folds already."""
    book = checked_waistcoat()
    laid = lay_plan(book, PLAN, seconds=LONG_S, rounds=ROUNDS)
    hints = {h.folded.cloth: h for h in worth_folding(laid)}
    assert set(hints) <= {"check", "lining"}
    assert hints
    for hint in hints.values():
        assert hint.lines < hint.lines_single
        assert hint.used <= hint.used_single * 1.02
    folded = with_folds_in(book, PLAN, tuple(h.folded for h in hints.values()))
    again = lay_plan(folded, PLAN, seconds=0.0, rounds=0)
    assert again.faults == ()
    assert worth_folding(again) == ()


def test_a_folded_lay_is_kept_and_found_again_with_its_fold(tmp_path):
    """The fold comes back with the lay; a plan without the fold has a lay of its own."""
    book = with_folds_in(checked_waistcoat(), PLAN, (Folded(cloth="check", way="lengthwise"),))
    laid = lay_plan(book, PLAN, seconds=0.0, rounds=0)
    keep_better(tmp_path, book, laid)
    again = recall(tmp_path, book, PLAN)
    assert again is not None
    assert again.folds == laid.folds
    assert again.compiled.problem == laid.compiled.problem
    assert recall(tmp_path, checked_waistcoat(), PLAN) is None


def test_a_workbook_keeps_the_fold(tmp_path):
    """Written and read again: the same rule."""
    fold = Folded(cloth="check", way="partial", depth=300.0)
    book = with_folds_in(checked_waistcoat(), PLAN, (fold,))
    create(tmp_path / "w", book)
    assert load(tmp_path / "w").plan(PLAN).rules[-1] == fold


def test_the_guide_says_how_to_fold():
    """What is cut through both layers, what on the fold, what after opening out."""
    book = with_folds_in(checked_waistcoat(), PLAN, (Folded(cloth="check", way="lengthwise"),))
    laid = lay_plan(book, PLAN, seconds=0.0, rounds=0)
    words = repr(guide_document(book, (laid,)))
    for part in ("right sides out", "Cut as pairs", "On the fold", "do not cut along"):
        assert part in words


def test_the_first_way_out_of_a_folded_plan_is_a_single_layer():
    """Cloth too short for the folded lay but not for the single one."""
    book = checked_waistcoat()
    cloths = tuple(replace(c, length=1000.0) if c.name == "lining" else c for c in book.cloths)
    book = with_folds_in(
        replace(book, cloths=cloths), PLAN, (Folded(cloth="lining", way="crosswise"),)
    )
    laid = lay_plan(book, PLAN, seconds=0.0, rounds=0)
    assert not laid.lay.fits
    ways = ways_to_fit(book, laid, seconds=LONG_S, rounds=ROUNDS)
    assert ways[0].fits
    assert [c.kind for c in ways[0].given] == ["fold"]


def test_on_the_command_line(tmp_path, capsys):
    """The fold is written, said, drawn, and taken back by undo."""
    folder = tmp_path / "w"
    create(folder, checked_waistcoat())
    out = tmp_path / "o"
    words = ["lay", str(folder), "--plan", PLAN, "--quiet", "--rounds", "1"]
    assert run([*words, "--fold", "check=lengthwise", "--out", str(out)]) == 0
    said = capsys.readouterr().out
    assert "check folded lengthwise" in said
    assert (out / "lay-check-folded.pdf").read_bytes().startswith(b"%PDF")
    assert Folded(cloth="check", way="lengthwise") in load(folder).plan(PLAN).rules
    assert run(["undo", str(folder)]) == 0
    assert load(folder) == checked_waistcoat()
    assert run([*words, "--fold", "sideways"]) == 2
