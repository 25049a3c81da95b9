"""What lies beside the workbook: files of before still open, damaged ones are told, none raises."""

from __future__ import annotations

import ast
import errno
import json
import os
from dataclasses import replace
from pathlib import Path

import pytest

import clothwright
from clothwright.errors import BadInput
from clothwright.geometry.segment import Cubic, Line
from clothwright.geometry.vec import Vec
from clothwright.intake.waiting.said import Answered, Sitting
from clothwright.lay.folded import Fold
from clothwright.photo.correct import Correction
from clothwright.photo.doubts import PhotoDoubt
from clothwright.photo.said import DoubtTick, Photos, Taken
from clothwright.rules.weighing.yardage import Cell
from clothwright.store import create
from clothwright.store.beside import cut
from clothwright.store.beside.cut import KeptCut
from clothwright.store.beside.kept import Damaged, read_kept, sound, write_kept
from clothwright.store.beside.lays import KeptLay, KeptPlace, KeptWays
from clothwright.store.noticed import PutAway, noticed
from clothwright.units import Unit
from clothwright.workbook import Workbook
from clothwright.workroom.cutting.ticks import Tick, Ticks
from clothwright.workroom.pieces import photo_found, photo_said
from clothwright.workroom.pieces.photo_found import KeptFound
from clothwright.workroom.pieces.photo_solving import FlatTable
from clothwright.workroom.pieces.seam_choices import Refused
from clothwright.workroom.planning.chart import Cells

DRAWING = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="50mm" viewBox="-10 -30 40 50"'
    ' data-clothwright-piece="a" data-format="1"><path class="edge hem" data-edge="hem" '
    'data-role="hem" data-allowance="10" data-join="extended" d="M 0 0 L 10 0"/><path class="edge"'
    ' data-edge="side" data-role="seam" data-allowance="10" data-join="extended" d="M 10 0 L 0 -20'
    '"/><path class="edge" data-edge="left" data-role="seam" data-allowance="10" data-join='
    '"extended" d="M 0 -20 L 0 0"/><line class="grain" data-grain="up" x1="2" y1="-4" x2="2" '
    'y2="-9"/><g data-cut="shell" data-how="once" data-count="1"/></svg>'
)
"""A piece as a drawing had it when the first was kept with what is cut."""
BEFORE = {
    Ticks: '{"format": "clothwright-ticks/1", "plan": "all hems", "ticks": {"lay 1": '
    '{"done": true, "at": "2026-11-28T10:00:00.000+00:00", "device": "phone"}}}',
    Sitting: '{"format": "clothwright-inbox/1", "file": "coat.svg", "came": "2026-11-28", "scale":'
    ' "mm", "how": {"tiles": "3x2"}, "said": {"0": {"take": "yes", "replace": "", "answers": '
    '{"name": "coat", "edges": ["hem", "side"], "asked once": "x"}, "widths": {"hem": "2 in"}}}}',
    PutAway: '{"format": "clothwright-put-away/1", "away": ["set-aside/chart.json.damaged-1"]}',
    Refused: '{"format": "clothwright-refused-seams/1", "refused": ["a|b", "c|d"]}',
    Photos: '{"format": "clothwright-photos/1", "photos": [{"file": "drawing.jpg", "name": "a.jpg",'
    ' "used": true}], "bar": "200 mm", "moves": [[[1.5, 2], [3, 4]], [[5, 6], null]], "before": '
    '[[]], "after": [], "ticks": [["gap", 7.0, 8.0, "right"]], "frame": {"3": [[0, 0], [1, 1]]},'
    ' "inside": [[9, 10], {"3": [[0, 0]]}]}',
    KeptFound: '{"format": "clothwright-found/1", "used": ["drawing.jpg"], "name": "a",'
    ' "px_per_mm": 4,'
    ' "size": [800, 600], "path": [[[0, 0], [1, 0]], [[1, 0], [1, 1], [0, 1], [0, 0]]], "inner":'
    ' [], "doubts": [["gap", 1.0, 2.0, "a gap"]], "error_mm": 0.4, "by_line": false, "notes": [],'
    ' "sheets": {"3": [[0, 0]]}}',
    FlatTable: '{"size": [812.5, 600], "sheets": {"3": [[0, 0]]}, "used": ["drawing.jpg"]}',
    Cells: '{"format": "clothwright-chart/1", "cells": {"k": {"plan": "p", "size": "as changed",'
    ' "width": 900.0, "nap": false, "need": 1234.5, "why": "", "like": [1150.0, true]}}}',
    KeptLay: '{"format": "clothwright-lay/1", "plan": "p", "seed": 1, "seconds": 0.5, "rounds": 3,'
    ' "stopped": "time", "gap_mm": 2.0, "placements": [{"piece": "a", "copy": 1, "shape": "a 1",'
    ' "material": "shell", "cloth": "wool", "turn_deg": 180, "flipped": true, "x_mm": 1.5,'
    ' "y_mm": 2.5, "outline": [[0, 0]]}], "unplaced": {"b 1": "too wide",'
    ' "c 1": ["it is ", 12.5, " too wide"]}, "fits": false,'
    ' "short_by_mm": null, "digest": "ff00", "folds": [{"cloth": "wool", "way": "lengthwise",'
    ' "axis": "across", "at": 700.0, "depth": 700.0, "pairs": [["a 1", "a 2"]], "on_fold": []}]}',
    KeptCut: json.dumps(
        {
            "format": "clothwright-cut/1",
            "pieces": [
                {
                    "shape": "a 1",
                    "piece": DRAWING,
                    "copy": 1,
                    "material": "shell",
                    "cloth": "wool",
                    "x": 1.5,
                    "y": 2.5,
                    "turn_deg": 90,
                    "flipped": False,
                    "again": True,
                    "called": ["green wool"],
                }
            ],
        }
    ),
    KeptWays: '{"format": "clothwright-ways-to-fit/1", "plan": "p", "digest": "ff00",'
    ' "short_by_mm": 12.5, "short_cloths": ["wool"], "least_hem_mm": 30, "ways": [{"number": 1}]}',
}
"""A file of every format, as the program wrote it before there was one writer."""

ROWS = {**photo_found.ROWS, **photo_said.ROWS, **cut.OWN}

MEANT = {
    Ticks: Ticks(
        plan="all hems",
        ticks={"lay 1": Tick(done=True, at="2026-11-28T10:00:00.000+00:00", device="phone")},
    ),
    PutAway: PutAway(away=("set-aside/chart.json.damaged-1",)),
    Refused: Refused(refused=("a|b", "c|d")),
    Photos: Photos(
        taken=(Taken("drawing.jpg", "a.jpg", used=True),),
        bar="200 mm",
        moves=(Correction(Vec(1.5, 2), Vec(3, 4)), Correction(Vec(5, 6), None)),
        before=((),),
        ticks=(DoubtTick("gap", Vec(7, 8), "right"),),
        frame={3: (Vec(0, 0), Vec(1, 1))},
        inside=(Vec(9, 10), {3: (Vec(0, 0),)}),
    ),
    FlatTable: FlatTable(size=(812.5, 600.0), sheets={3: (Vec(0, 0),)}, used=("drawing.jpg",)),
    Cells: Cells(cells={"k": Cell(plan="p", width=900, nap=False, need=1234.5, like=(1150, True))}),
}


def read(file: Path, kind):
    return read_kept(file, kind, ROWS)


@pytest.mark.parametrize("kind", BEFORE, ids=lambda kind: kind.__name__)
def test_files_of_before_still_open(tmp_path, kind):
    """Every format as it was written until now is read; what was read is kept and read again."""
    file = tmp_path / "kept.json"
    file.write_text(BEFORE[kind], encoding="utf-8")
    value = read(file, kind)
    assert isinstance(value, kind), value
    assert kind not in MEANT or value == MEANT[kind]
    write_kept(file, value, ROWS)
    assert read(file, kind) == value
    assert json.loads(file.read_text())["format"] == kind.FORMAT


def test_the_formats_mean_what_they_meant(tmp_path):
    """Answers, outline and doubts, placements and folds: each value where it belongs."""
    file = tmp_path / "kept.json"

    def of(kind):
        file.write_text(BEFORE[kind], encoding="utf-8")
        return read(file, kind)

    sitting = of(Sitting)
    assert isinstance(sitting.said[0], Answered)
    assert sitting.said[0].answers.edges == ("hem", "side")
    assert (sitting.how.tiles, sitting.size, sitting.said[0].widths) == ("3x2", "", {"hem": "2 in"})
    found = of(KeptFound)
    assert [type(s) for s in found.path.segments] == [Line, Cubic]
    assert found.doubts == (PhotoDoubt("gap", Vec(1, 2), "a gap"),)
    along = PhotoDoubt("second-line", Vec(1, 2), "a line", (Vec(3, 4), Vec(5, 6)))
    write_kept(file, replace(found, doubts=(*found.doubts, along)), ROWS)
    assert read(file, KeptFound).doubts == (*found.doubts, along)
    lay = of(KeptLay)
    assert lay.placements == (
        KeptPlace(shape="a 1", cloth="wool", x_mm=1.5, y_mm=2.5, turn_deg=180, flipped=True),
    )
    assert lay.unplaced == {"b 1": "too wide", "c 1": ("it is ", 12.5, " too wide")}
    (one,) = of(KeptCut).pieces
    assert (one.shape, one.x, one.y, one.turn_deg, one.again) == ("a 1", 1.5, 2.5, 90, True)
    assert [e.name for e in one.piece.edges] == ["hem", "side", "left"]
    assert one.cloth_among(["wool", "green wool"]) == "green wool"
    assert isinstance(lay.folds[0], Fold)
    assert lay.folds[0].pairs == (("a 1", "a 2"),)


@pytest.mark.parametrize("kind", BEFORE, ids=lambda kind: kind.__name__)
def test_whatever_a_file_holds_it_is_damaged_with_a_reason_or_read(tmp_path, kind):
    """Cut anywhere, of another format, each entry gone or of another kind: never an exception."""
    file = tmp_path / "kept.json"
    text, whole = BEFORE[kind], json.loads(BEFORE[kind])
    assert read(file, kind) is None
    spoiled = [text[: len(text) * k // 9] for k in range(9)]
    spoiled += ["[]", "3", "null", "[" * 100_000, json.dumps({**whole, "format": "other/9"})]
    for key in whole.keys() - {"format"}:
        rest = {k: v for k, v in whole.items() if k != key}
        spoiled += [json.dumps({**rest, key: bad}) for bad in (float("nan"), {"a": [None]}, [[]])]
    told = 0
    for each in spoiled:
        file.write_text(each, encoding="utf-8")
        found = read(file, kind)
        assert isinstance(found, Damaged | kind)
        if isinstance(found, Damaged):
            told += 1
            assert found.why
            assert sound(found) is None
    assert told > 14
    file.write_bytes(b"\xff\xfe{")
    assert isinstance(read(file, kind), Damaged)
    file.unlink()
    file.mkdir()
    assert isinstance(read(file, kind), Damaged)


def test_a_reason_names_the_entry(tmp_path):
    """The first thing that is wrong, and where it stands."""
    file = tmp_path / "kept.json"
    file.write_text(BEFORE[Ticks].replace("true", '"yes"'))
    found = read(file, Ticks)
    assert isinstance(found, Damaged)
    assert found.why == "ticks, lay 1, done: found 'yes'"


def test_a_power_cut_leaves_the_file_of_before(tmp_path, monkeypatch):
    """Written to the side, flushed, then put in its place: half a file is never there."""
    file = tmp_path / "kept.json"
    write_kept(file, Refused(refused=("a",)))

    def cut(_: int) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", cut)
    with pytest.raises(KeyboardInterrupt):
        write_kept(file, Refused(refused=("a", "b")))
    assert read(file, Refused) == Refused(refused=("a",))


@pytest.mark.parametrize("kind", BEFORE, ids=lambda kind: kind.__name__)
def test_what_is_damaged_is_set_aside_before_it_is_written_over(tmp_path, kind):
    """Half a file, an unknown format, a folder in its place: whole under set-aside, and noticed."""
    create(tmp_path, Workbook(title="w", unit=Unit.cm))
    file = tmp_path / "inbox" / "one" / "kept.json"
    file.parent.mkdir(parents=True)
    file.write_text(BEFORE[kind])
    value = read(file, kind)
    spoiled = [BEFORE[kind][:-2], BEFORE[kind].replace(kind.FORMAT, kind.FORMAT + "9"), ""]
    for text in spoiled if kind is not FlatTable else spoiled[::2]:
        file.write_text(text)
        write_kept(file, value, ROWS)
        assert text in [(tmp_path / n.lies).read_text() for n in noticed(tmp_path)]
        assert read(file, kind) == value
    write_kept(file, value, ROWS)
    before = len(noticed(tmp_path))
    file.unlink()
    file.mkdir()
    (file / "hers.txt").write_text("a note")
    write_kept(file, value, ROWS)
    assert read(file, kind) == value
    assert len(noticed(tmp_path)) == before + 1
    assert [f.read_text() for f in tmp_path.rglob("hers.txt")] == ["a note"]


def test_what_is_damaged_is_noticed_when_it_is_read(tmp_path):
    """Told before anything is written; read once more, it is not told twice; the file stays."""
    create(tmp_path, Workbook(title="w", unit=Unit.cm))
    file = tmp_path / "chart.json"
    file.write_text("{")
    for _ in range(2):
        assert sound(read(file, Cells)) is None
        assert [n.lies for n in noticed(tmp_path)] == ["set-aside/chart.json.damaged-1"]
    assert file.read_text() == "{"


def test_what_cannot_be_set_aside_is_not_written_over(tmp_path, monkeypatch):
    """The disk is full: a sentence, and the damaged file is as it was."""
    file = tmp_path / "kept.json"
    file.write_text("{")

    def full(*_):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr("clothwright.store.aside.write_whole", full)
    assert sound(read(file, Refused)) is None
    with pytest.raises(BadInput, match="could not be saved"):
        write_kept(file, Refused(refused=("a",)))
    assert file.read_text() == "{"


SRC = Path(clothwright.__file__).parent


def test_every_format_has_its_file_of_before():
    """Whoever adds a format puts a file of it here, so that it opens for ever."""
    named = {
        node.name
        for file in SRC.rglob("*.py")
        for node in ast.walk(ast.parse(file.read_text()))
        if isinstance(node, ast.ClassDef)
        and any(
            isinstance(a, ast.AnnAssign) and ast.unparse(a.target) == "FORMAT" for a in node.body
        )
        and [ast.unparse(b) for b in node.bases] != ["Protocol"]
    }
    assert named == {kind.__name__ for kind in BEFORE}


def test_no_other_room_reads_or_writes_json_files():
    """What is kept is read here alone; doors read what was sent to them, workers their orders."""
    found = {
        str(file.relative_to(SRC))
        for file in SRC.rglob("*.py")
        if "import json" in file.read_text() and file.relative_to(SRC).parts[0] == "workroom"
    }
    assert found == set()
