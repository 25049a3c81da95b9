"""The wearer by the command line: from nothing to the pieces cut in her size."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.body.body import Body
from clothwright.cli.app import run
from clothwright.demo.three_sizes import three_sizes
from clothwright.store import create, load


@pytest.fixture
def book(tmp_path):
    folder = tmp_path / "skirt"
    create(folder, replace(three_sizes(), steps=(), body=Body(), chart=None))
    return folder


def said(capsys, *argv) -> str:
    """Run a command that must succeed; return what it prints, spaces joined."""
    code = run([str(a) for a in argv])
    out = capsys.readouterr()
    assert code == 0, out.err
    return " ".join(out.out.split())


def test_from_nothing_to_the_cut(book, tmp_path, capsys) -> None:
    """Nothing is known; figures; a chart from a file; the change; undo takes it back."""
    assert "Nobody has been measured yet" in said(capsys, "body", book)
    words = said(capsys, "body", book, "waist=26 1/2", "hip=38 in")
    assert "There is no size chart yet" in words
    chart = tmp_path / "envelope.txt"
    chart.write_text("size 12 14 16\nwaist 26 1/2 28 30\nhip 36 38 40\n", encoding="utf-8")
    words = said(capsys, "body", book, "--chart", chart, "--chart-unit", "in")
    assert "Size chart: envelope. waist girth: 12 hip girth: 14" in words
    assert "sizes blended: waist 12, hip 14, waistband 12 (--take does it)" in words
    assert "These sizes are used" in said(capsys, "body", book, "--take")
    assert [s.change for s in load(book).steps] == ["blend-sizes"]
    said(capsys, "undo", book)
    assert load(book).steps == ()
    assert load(book).chart.name == "envelope"


def test_a_slip_is_asked_about(book, capsys) -> None:
    """70 typed in an inch workbook: meant in cm, and it is said who it is compared with."""
    words = said(capsys, "body", book, "--set", "bust=34", "--set", "waist=70", "--set", "hip=38")
    assert "Look again: Waist girth: you measured 70 in" in words
    assert "Try 70 cm (the figure was meant in centimetres)?" in words
    assert "260 physically active adult women" in words
    words = said(capsys, "body", book, "--set", "compare=no")
    assert "Look again" not in words


def test_how_it_is_taken(book, capsys) -> None:
    """One, or all of them."""
    assert "one finger under the tape" in said(capsys, "body", book, "--how", "natural waist")
    assert said(capsys, "body", book, "--how", "all").count("Used for") > 10


def test_the_example_and_none(book, capsys) -> None:
    """The chart of purchased patterns is taken and let go again; ease is told beside it."""
    words = said(capsys, "body", book, "--set", "hip=39 in", "--chart", "example")
    assert "Between 14 and 16, by hip girth" in words
    assert "Hip: 39 15/16 in finished, 15/16 in more than the body" in words
    said(capsys, "body", book, "--chart", "none", "--set", "hip=")
    assert load(book).chart is None
    assert load(book).body.taken == ()


def test_the_check_says_so(book, capsys) -> None:
    """A wearer larger than the skirt is a fault of the check, and its exit code is 1."""
    said(capsys, "body", book, "--set", "hip=42 in")
    assert run(["walk", str(book)]) == 1
    assert "less than the body" in capsys.readouterr().out
