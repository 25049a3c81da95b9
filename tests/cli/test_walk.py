"""The walk by the command line: numbered, mended by number, written for paper."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from clothwright.cli.app import run
from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.store import create, load
from clothwright.workbook import Step
from tests.faults.paper import let_out


def test_a_finding_is_mended_and_the_rest_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A front longer at the side: its line says what mends it, --mend does it, walk tells."""
    book = tmp_path / "waistcoat"
    given = {"pieces": "front", "level": "waist", "by": "6 mm", "above": "-40 mm"}
    longer = Step(change="lengthen", params=given)
    create(book, replace(checked_waistcoat(), steps=(longer,)))

    def said(*argv: str) -> tuple[int, str]:
        code = run(["walk", str(book), *argv])
        return code, capsys.readouterr().out

    code, out = said("--out", str(tmp_path / "paper"))
    assert code == 1
    assert out.startswith("1. Fault: ")
    assert "To mend it: " in out
    assert "clothwright walk waistcoat --mend 1" in out
    names = {f.name for f in (tmp_path / "paper").iterdir()}
    assert names == {"toile-on-paper.md", "toile-on-paper.pdf", "pictures"}
    code, after = said("--mend", "1")
    assert after.startswith("Mended: ")
    assert len(load(book).steps) == 2
    assert after.count("Fault: ") == out.count("Fault: ") - 1


def test_the_other_way_is_taken_where_nobody_can_tell(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Front and back of two lengths as they were bought: either may be the one that is wrong."""
    book = tmp_path / "waistcoat"
    bought = checked_waistcoat()
    front = let_out(bought.bought.piece("front"), "hem", 6.0)
    create(book, replace(bought, bought=bought.bought.with_piece(front)))
    run(["walk", str(book)])
    told = capsys.readouterr().out
    assert " was changed by mistake: " in told
    run(["walk", str(book), "--mend", "1", "--other"])
    taken = capsys.readouterr().out
    (step,) = load(book).steps
    run(["undo", str(book)])
    run(["walk", str(book), "--mend", "1"])
    (first,) = load(book).steps
    assert step != first
    assert taken.startswith("Mended: ")
