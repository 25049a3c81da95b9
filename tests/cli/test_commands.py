"""The job by the command line, on the small demo workbook (demo data)."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from shapely import STRtree
from shapely.geometry import Polygon, box

from clothwright.cli.app import run
from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.store import create, load
from clothwright.units import Unit
from tests.few_rounds import LONG_S, ROUNDS

FEW = ("--seconds", LONG_S, "--rounds", ROUNDS)


@pytest.fixture
def book(tmp_path):
    folder = tmp_path / "waistcoat"
    create(folder, replace(checked_waistcoat(), steps=()))
    return folder


def said(capsys, *argv):
    code = run([str(a) for a in argv])
    out = capsys.readouterr()
    return code, out.out, out.err


def shapely_agrees(data):
    """Shapely alone, from the JSON alone: nothing overlaps, nothing leaves the cloth."""
    for cloth in data["cloths"]:
        rings = [Polygon(p["outline"]) for p in data["placements"] if p["cloth"] == cloth["name"]]
        for a, b in STRtree(rings).query(rings, predicate="intersects").T:
            if a < b:
                assert rings[a].intersection(rings[b]).area < 0.01
        m = cloth["margins_mm"]
        far = cloth["length_mm"] - m["end"] if cloth["length_mm"] else 1e9
        if data["short_by_mm"]:
            far += data["short_by_mm"]
        room = box(m["start"], m["lower"], far, cloth["width_mm"] - m["upper"]).buffer(0.01)
        if cloth["outline"] is not None and len(cloth["outline"]) != 4:
            room = room.intersection(Polygon(cloth["outline"]).buffer(0.01))
        for flaw in cloth["keep_out"]:
            room = room.difference(Polygon(flaw).buffer(-0.01))
        for ring in rings:
            assert room.contains(ring)


def test_lay_json_holds_what_it_promises_and_shapely_agrees(book, tmp_path, capsys):
    """Every documented entry is there, every rule is met, and the lay is clean by shapely alone."""
    file = tmp_path / "lay.json"
    code, _, _ = said(capsys, "lay", book, *FEW, "--json", file, "--quiet")
    data = json.loads(file.read_text())
    assert code == 0
    assert data["format"] == "clothwright-lay/2"
    for key in (
        "plan",
        "seed",
        "seconds",
        "cloths",
        "placements",
        "used_mm",
        "rules",
        "fits",
        "short_by_mm",
    ):
        assert key in data
    pieces = {(p["piece"], p["material"], p["copy"]) for p in data["placements"]}
    assert ("front", "shell", 1) in pieces
    assert ("front", "shell", 2) in pieces
    assert data["faults"] == []
    assert data["rules"]
    assert all(r["residual"] <= 0.1 for r in data["rules"])
    shapely_agrees(data)


def test_compare_writes_one_entry_a_plan(book, tmp_path, capsys):
    """Both plans, with the same entries; the matched one costs length and meets better."""
    file = tmp_path / "c.json"
    said(capsys, "compare", book, "--seconds", 1.5, "--json", file, "--quiet")
    plans = {p["plan"]: p for p in json.loads(file.read_text())["plans"]}
    assert set(plans) == {p.name for p in load(book).plans}
    for data in plans.values():
        shapely_agrees(data)
    assert len(plans["matched"]["rules"]) > len(plans["as it falls"]["rules"])


def test_check_json_and_exit_code(book, capsys):
    """Clean pieces: no findings, exit 0. A front made longer at the side: a fault, exit 1."""
    code, out, _ = said(capsys, "walk", book, "--json")
    assert (code, json.loads(out)["findings"]) == (0, [])
    name = load(book).bought.pieces[0].name
    edge = next(e.name for e in load(book).bought.pieces[0].edges if e.name.startswith("side"))
    code, _, err = said(capsys, "change", book, "move-edge", f"what={name}.{edge}")
    assert code == 2, err


def test_the_list_of_changes(book, capsys):
    """Add, switch off, edit, move, remove: the list says so and the bought pieces stay."""
    bought = load(book).bought
    add = ["change", book, "set-allowance", "edges=front.side", "amount=2 cm"]
    code, out, err = said(capsys, *add, "--why", "room to fit")
    assert code == 0, err
    assert "room to fit" in out
    assert len(load(book).steps) == 1
    said(capsys, "change", book, "set-allowance", "edges=back.side", "amount=2 cm")
    said(capsys, "change", book, "--move", 2, 1)
    assert load(book).steps[0].params["edges"] == "back.side"
    said(capsys, "change", book, "--off", 1)
    assert [s.on for s in load(book).steps] == [False, True]
    code, _, err = said(capsys, "change", book, "--edit", 2, "amount=2.5 cm")
    assert code == 0, err
    code, out, err = said(capsys, "change", book, "--json")
    record = json.loads(out)["changes"]
    assert [c["on"] for c in record] == [False, True]
    assert record[1]["params"]["amount"] == "2.5 cm"
    said(capsys, "change", book, "--remove", 1)
    said(capsys, "change", book, "--remove", 1)
    assert load(book).steps == ()
    assert load(book).bought == bought


def test_a_change_that_cannot_be_done_is_not_kept(book, capsys):
    """Refused in words, and the list stays as it was."""
    code, _, err = said(capsys, "change", book, "crop", "edges=front.hem", "length=2 m")
    assert code == 2
    assert err
    assert load(book).steps == ()


def test_print_and_guide_write_what_they_name(book, tmp_path, capsys):
    """Pages, sheet, drawings and the guide with its pictures are there and not empty."""
    code, _, err = said(capsys, "print", book, "--out", tmp_path / "p", "--paper", "Letter")
    assert code == 0, err
    names = {f.name for f in (tmp_path / "p").rglob("*") if f.is_file()}
    assert {"pieces-letter.pdf", "pieces-sheet.pdf", "front.svg"} <= names
    code, _, err = said(capsys, "guide", book, "--out", tmp_path / "g", "--seconds", 1, "--quiet")
    assert code == 0, err
    text = (tmp_path / "g" / "guide.md").read_text()
    for words in (
        "What was changed",
        "What the walk found",
        "What to buy",
        "How to lay it",
        "trial garment",
        "turned over",
    ):
        assert words in text
    assert (tmp_path / "g" / "guide.pdf").read_bytes().startswith(b"%PDF")
    assert (tmp_path / "g" / "cuts.csv").read_text(encoding="utf-8-sig").startswith("material")


def test_a_guide_on_no_paper_is_refused_before_anything_is_laid(book, capsys):
    """She does not wait for a search to hear that the paper is not known; no lay is kept."""
    code, _, err = said(capsys, "guide", book, "--paper", "B77", "--seconds", 1, "--quiet")
    assert (code, "B77" in err) == (2, True)
    assert {p.name for p in book.iterdir()} == {"workbook.toml", "pieces"}


def test_the_best_lay_is_kept_and_a_worse_one_does_not_replace_it(book, tmp_path, capsys):
    """A longer search first, then one of a single round: the kept lay is the better of the two."""
    from clothwright.rules.weighing.laid import rank
    from clothwright.workroom.searching.laying import recall

    said(capsys, "lay", book, *FEW, "--quiet")
    first = recall(book, load(book))
    assert first is not None
    said(capsys, "lay", book, "--seconds", LONG_S, "--rounds", 1, "--seed", 7, "--quiet")
    second = recall(book, load(book))
    assert second is not None
    assert rank(second) <= rank(first)


def test_a_kept_lay_is_forgotten_when_the_pieces_change(book, capsys):
    """After a change the old lay no longer counts."""
    from clothwright.workroom.searching.laying import recall

    said(capsys, "lay", book, *FEW, "--quiet")
    assert recall(book, load(book)) is not None
    said(capsys, "change", book, "set-allowance", "edges=front.side", "amount=2 cm")
    assert recall(book, load(book)) is None


def test_ctrl_c_keeps_the_best_lay(book, tmp_path):
    """Interrupted in the middle of a long search, the lay found so far is written and kept."""
    file = tmp_path / "lay.json"
    with subprocess.Popen(
        [
            sys.executable,
            "-c",
            # A shell that runs the tests in the background has Ctrl-C ignored in all below it.
            "import signal; signal.signal(signal.SIGINT, signal.default_int_handler); "
            "from clothwright.cli import main; main()",
            "lay",
            str(book),
            "--seconds",
            "60",
            "--json",
            str(file),
        ],
        stderr=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        start_new_session=True,
    ) as child:
        assert child.stderr is not None
        while "best so far" not in child.stderr.readline():
            assert child.poll() is None
        os.kill(child.pid, signal.SIGINT)
        child.communicate(timeout=120)
        assert child.returncode == 0
    data = json.loads(file.read_text())
    assert data["stopped"] == "interrupted"
    assert data["faults"] == []
    shapely_agrees(data)


@pytest.mark.parametrize(
    ("old", "now"), [("alter", "change"), ("check", "walk"), ("ways-out", "ways-to-fit")]
)
def test_a_command_by_its_old_name_tells_the_new_one(
    old: str, now: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Who types what the command was once called is told what it is called now."""
    code, _, err = said(capsys, old, "coat", "--json")
    assert code == 2
    assert f'Did you mean "clothwright {now}"?' in err


@pytest.mark.parametrize(
    ("unit", "said_so"), [(Unit.inch, "2 in below"), (Unit.cm, "5.1 cm below")]
)
def test_an_error_is_told_in_the_unit_of_the_workbook(
    unit: Unit, said_so: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A workbook kept in inches knows no mm, also where something cannot be done."""
    create(tmp_path / "mine", replace(checked_waistcoat(), unit=unit, steps=()))
    asked = ("crop", "edges=front.hem", "length=2 in")
    code, _, err = said(capsys, "change", tmp_path / "mine", *asked)
    assert code == 2
    assert said_so in err
    assert " mm" not in err


def test_lay_only_looked_at_keeps_nothing_and_writes_the_garment(book, tmp_path, capsys):
    """Nothing is searched: seams are told, each garment is a picture, no lay is kept."""
    code, printed, _ = said(capsys, "lay", book, "--look", "--out", tmp_path / "look")
    assert code == 0
    assert "Side: " in printed
    assert {p.suffix for p in (tmp_path / "look").iterdir()} == {".svg", ".pdf"}
    assert all(p.name.startswith("garment-") for p in (tmp_path / "look").iterdir())
    assert not list(book.glob("**/*lay*.json"))


def test_square_brackets_in_a_name_are_said_as_they_stand(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    title = "coat [lined] [/b]"
    assert run(["new", "mine", "--title", title]) == 0
    assert run(["edit", "mine", "rename-workbook", f"title={title} altered"]) == 0
    capsys.readouterr()
    assert run(["show", "mine"]) == 0
    assert f"{title} altered" in capsys.readouterr().out
    assert run(["history", "mine"]) == 0
    assert f"{title} altered" in " ".join(capsys.readouterr().out.split())
