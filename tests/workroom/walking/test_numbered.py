"""Findings in the order in which they matter, numbered alike everywhere, and mended by number."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from clothwright.demo.workbooks import DEMOS
from clothwright.errors import BadInput, CannotDo
from clothwright.sewing import order_of_work
from clothwright.store import create, load
from clothwright.workbook import Workbook, replay
from clothwright.workroom.editing.opened import OpenBook
from clothwright.workroom.walking.checking import findings_of
from clothwright.workroom.walking.findings import all_found
from clothwright.workroom.walking.mended import take_mend
from clothwright.workroom.walking.paper import toile_of
from clothwright.workroom.walking.report import walk_report
from tests.listed import switched

SIDE, ELBOW = 3, 6
"""Changes of the demo: the coat's side made to match; its sleeve straightened."""


def faulty() -> Workbook:
    """The coat and skirt with two seams that do not agree, and a hem askew to its border."""
    return switched(switched(DEMOS[0].make(), SIDE, on=False), ELBOW, on=False)


@pytest.fixture
def opened(tmp_path: Path) -> OpenBook:
    """The faulty workbook in a folder."""
    create(tmp_path / "coat", faulty())
    return OpenBook(name="coat", folder=tmp_path / "coat")


def test_what_is_sewn_first_comes_first() -> None:
    """Of one weight, findings come in the order of work, whatever order the seams are named in."""
    book = faulty()
    turned = replace(book, bought=replace(book.bought, seams=book.bought.seams[::-1]))
    for one in (book, turned):
        pattern = replay(one).pattern
        sewn = [s.key.removeprefix("sew seam ") for s in order_of_work(pattern)]
        found = [f.where.seam for f in findings_of(one) if f.where.seam]
        assert len(found) > 1
        assert found == sorted(found, key=sewn.index)


def test_page_command_and_paper_number_alike() -> None:
    """A finding has one number, and the numbers run from 1 without a gap."""
    book = faulty()
    done = replay(book)
    shown = [f for g in all_found(book, done).groups for f in g.found]
    lines = walk_report(book).lines
    titles = [c.title for _, c in toile_of(book, done).walk() if c.title[0].isdigit()]
    assert [f.number for f in shown] == list(range(1, len(lines) + 1))
    for f, line, title in zip(shown, lines, titles, strict=True):
        assert line.startswith(f"{f.number}. ")
        assert f.words in line
        assert title == f"{f.number}. {f.place}"


def test_a_finding_is_mended_by_its_number(opened: OpenBook) -> None:
    """Its change, whole with what it is given, is one step; the finding is gone; undo brings it."""
    before = load(opened.folder)
    first = findings_of(before)[0]
    said = take_mend(opened, 1)
    after = load(opened.folder)
    assert len(after.steps) == len(before.steps) + 1
    assert after.steps[-1].params["seam"] == first.where.seam
    assert "side" in said
    assert first.where.seam not in [f.where.seam for f in findings_of(after)]
    opened.undo()
    assert load(opened.folder).steps == before.steps


def test_what_cannot_be_mended_is_said(opened: OpenBook) -> None:
    """A number that is not there, a finding without a mend: refused, and nothing is written."""
    found = findings_of(load(opened.folder))
    plain = next(n for n, f in enumerate(found, start=1) if f.mend is None)
    with pytest.raises(BadInput, match=f"a number from 1 to {len(found)}"):
        take_mend(opened, len(found) + 1)
    with pytest.raises(CannotDo, match="no one change mends it"):
        take_mend(opened, plain)
    assert load(opened.folder).steps == faulty().steps


def test_where_nothing_was_found_there_is_nothing_to_mend(tmp_path: Path) -> None:
    """A number asked for on pieces that agree is answered by that, not by a range of none."""
    book = DEMOS[1].make()
    assert not findings_of(book)
    create(tmp_path / "waistcoat", book)
    with pytest.raises(CannotDo, match="nothing to mend"):
        take_mend(OpenBook(name="waistcoat", folder=tmp_path / "waistcoat"), 1)
