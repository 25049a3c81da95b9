"""From a file to a walked pattern on the command line (demo data)."""

from __future__ import annotations

from pathlib import Path

import pytest

from clothwright.cli.app import run
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.store import load, piece_to_svg
from tests.web.intake_demo import bare_file


@pytest.fixture
def made(tmp_path, monkeypatch):
    """An empty workbook and the bare drawings of two pieces."""
    monkeypatch.chdir(tmp_path)
    assert run(["new", "mine", "--unit", "in"]) == 0
    return [bare_file(tmp_path, n) for n in ("skirt front", "skirt back")]


def said(capsys, *argv):
    code = run([str(a) for a in argv])
    out = capsys.readouterr()
    return code, " ".join(out.out.split()), out.err


def test_one_sitting(made, capsys):
    """The question, the answer, the proposals told; seams shown and confirmed; the walk."""
    code, _, err = said(capsys, "add", "mine", made[0])
    assert code == 2
    assert "--allowance drawn" in err
    code, out, _ = said(capsys, "add", "mine", made[0], "--allowance", "drawn")
    assert code == 0
    assert "recognised as darts: 2" in out
    assert "--darts none if not" in out
    assert "shell: cut 1 on the fold" in out
    assert said(capsys, "add", "mine", made[1], "--allowance", "drawn")[0] == 0
    code, out, _ = said(capsys, "seams", "mine")
    assert code == 0
    assert "skirt side" in out
    assert "their names go together" in out
    assert load_seams() == []
    assert said(capsys, "seams", "mine", "--confirm", "all", "--name", "1=long side")[0] == 0
    assert load_seams() == ["long side", "skirt back centre"]
    code, out, _ = said(capsys, "walk", "mine")
    assert code == 0
    assert "All 2 seams agree" in out
    assert "Not looked at: “Is there room for the wearer?”" in out
    assert "No edges are left" in said(capsys, "seams", "mine")[1]
    assert run(["undo", "mine"]) == 0
    assert load_seams() == []


def test_an_annotated_drawing_is_called_as_said(made, capsys, tmp_path):
    """It needs no answer; a name that is said is its name, at a sitting and here."""
    piece = coat_and_skirt().bought.piece("skirt back")
    (tmp_path / "own.svg").write_text(piece_to_svg(piece), encoding="utf-8")
    assert said(capsys, "add", "mine", "own.svg", "--name", "half")[0] == 0
    assert said(capsys, "add", "mine", "own.svg")[0] == 0
    first, second = load(Path("mine")).bought.pieces
    assert (first.name, second) == ("half", piece)


def load_seams() -> list[str]:
    return [s.name for s in load(Path("mine")).bought.seams]


def test_answers_that_say_otherwise(made, capsys):
    """No notches, no darts, no fold, other names: as said."""
    argv = ["--allowance", "5/8 in", "--notches", "none", "--darts", "none", "--fold", "none"]
    code, _, err = said(capsys, "add", "mine", made[0], *argv, "--corners", "4")
    assert code == 0, err
    (piece,) = load_piece()
    assert piece.darts == ()
    assert piece.fold is None
    assert all(not e.notches for e in piece.edges)


def load_piece():
    return load(Path("mine")).bought.pieces


def test_refused_turned_and_eased(made, capsys):
    """A refused pair is gone until --again; a turned one meets the other way; ease is kept."""
    for file in made:
        said(capsys, "add", "mine", file, "--allowance", "drawn")
    assert "Refused: skirt back centre" in said(capsys, "seams", "mine", "--refuse", "2")[1]
    assert "centre" not in said(capsys, "seams", "mine")[1]
    assert "skirt back centre" in said(capsys, "seams", "mine", "--again")[1]
    argv = ["--confirm", "1", "--turn", "1", "--ease", "1=6 mm"]
    assert said(capsys, "seams", "mine", *argv)[0] == 0
    (seam,) = load(Path("mine")).bought.seams
    assert seam.ease == pytest.approx(6.0)
    assert seam.a[0].reversed is seam.b[0].reversed


def test_a_seam_is_added_set_turned_and_taken_out(made, capsys):
    """By its edges, then by its name; each is one step, and the list tells how it is sewn."""
    for file in made:
        said(capsys, "add", "mine", file, "--allowance", "drawn")
    edges = ["skirt front.side", "skirt back.side"]
    code, out, err = said(capsys, "seams", "mine", "--add", *edges, "--name", "long side")
    assert (code, err) == (0, ""), err
    assert "Added the seam" in out
    first = load(Path("mine")).bought.seams[0]
    more = ["--join", "pleated", "--by", "9 cm", "--folds", "3", "--folds-lie", "end"]
    code, out, err = said(capsys, "seams", "mine", "--set", "long side", *more)
    assert (code, err) == (0, ""), err
    assert "pleated now, 3 folds" in out
    assert "Laid in 3 pleats, each 9/16 in deep" in said(capsys, "seams", "mine")[1]
    assert said(capsys, "seams", "mine", "--turn", "long side")[0] == 0
    (seam,) = load(Path("mine")).bought.seams
    laid_on_the_piece_as_before = "start"
    assert (seam.ease, seam.folds) == (pytest.approx(90.0), 3)
    assert seam.fold_to == laid_on_the_piece_as_before
    one, two = (sum(r.reversed for r in (*s.a, *s.b)) % 2 for s in (first, seam))
    assert one != two
    assert "Removed the seam" in said(capsys, "seams", "mine", "--take-out", "long side")[1]
    assert load_seams() == []


def test_a_notch_that_bounds_gathers_is_named_with_the_seam(made, capsys):
    """By its number it would be another one, once a change has put a notch before it."""
    for file in made:
        said(capsys, "add", "mine", file, "--allowance", "drawn")
    edges = ["skirt front.side", "skirt back.side", "--name", "hip side"]
    how = ["--join", "gathered", "--by", "2 cm", "--from", "notch 1"]
    code, out, err = said(capsys, "seams", "mine", "--add", *edges, *how)
    assert code == 0, err
    assert 'is "hip side 1"; Added the seam' in out
    book = load(Path("mine")).bought
    (seam,) = book.seams
    assert seam.ease_from == "hip side 1"
    notches = [n.name for r in seam.b for n in book.edge(r).notches]
    assert "hip side 1" in notches
    assert run(["undo", "mine"]) == 0
    assert load_seams() == []
    assert "hip side 1" not in [n.name for p in load_piece() for e in p.edges for n in e.notches]


@pytest.mark.parametrize(
    "argv",
    [
        ["--add", "skirt front.side", "skirt front"],
        ["--add", "skirt front.side", "skirt back.sid"],
        ["--set", "sid"],
        ["--turn", "side seam"],
        ["--take-out", "side seam"],
        ["--add", "skirt front.side", "skirt back.side", "--join", "knotted"],
        ["--add", "skirt front.side", "skirt back.side", "--from", "notch 99"],
        ["--confirm", "0"],
        ["--confirm", "1,x"],
        ["--refuse", "9"],
        ["--ease", "6 mm"],
        ["--confirm", "1", "--ease", "1=much"],
        ["--confirm", "1", "--name", "1=a.b"],
    ],
)
def test_wrong_answers_are_sentences(made, capsys, argv):
    """Exit code 2, a sentence, nothing added."""
    for file in made:
        said(capsys, "add", "mine", file, "--allowance", "drawn")
    code, _, err = said(capsys, "seams", "mine", *argv)
    assert code == 2
    assert err
    assert "Traceback" not in err
    assert load_seams() == []


@pytest.mark.parametrize(
    ("argv", "words"),
    [
        (["--outline", "7"], "--outline"),
        (["--inside", "x"], "--inside"),
        (["--corners", "at 1"], "two corners"),
        (["--grain", "sideways"], "sideways"),
        (["--fold", "hen"], "Did you mean"),
    ],
)
def test_wrong_answers_about_a_drawing(made, capsys, argv, words):
    """Each says where and what was expected."""
    code, _, err = said(capsys, "add", "mine", made[0], "--allowance", "drawn", *argv)
    assert code == 2
    assert words in err
