"""What page and command show of the walk: in her unit, in words, with mends that mend."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from clothwright.demo.workbooks import DEMOS
from clothwright.pattern.finding import Severity
from clothwright.units import Unit
from clothwright.workbook import Step, Workbook, replay
from clothwright.workroom.walking.checking import findings_of, seam_table
from clothwright.workroom.walking.findings import FindingShown, all_found
from tests.listed import switched, with_step

SIDE = 3
"""The change of the demo that makes the coat's side match."""
FOREIGN = {Unit.inch: r"\d (mm|cm|m)\b", Unit.cm: r"\d (in|yd|mm)\b"}


def unmatched(unit: Unit) -> Workbook:
    """Return the coat and skirt with sides that differ by 9.6 mm, to be read in a unit."""
    return switched(replace(DEMOS[0].make(), unit=unit), SIDE, on=False)


def shown(book: Workbook) -> list[FindingShown]:
    """Return every finding as it is shown."""
    return [f for g in all_found(book, replay(book)).groups for f in g.found]


@pytest.mark.parametrize("unit", [Unit.inch, Unit.cm])
def test_what_mends_is_written_in_her_unit_and_mends(unit: Unit) -> None:
    """Added as it stands, its seam's finding is gone; no length of it is in another unit."""
    book = unmatched(unit)
    mends = [f for f in shown(book) if f.mending]
    assert mends
    for found in mends:
        mending = found.mending
        assert mending is not None
        assert not re.search(FOREIGN[unit], f"{mending.params} {mending.does} {mending.after}")
        step = Step(change=mending.change, params=mending.params, why=mending.why)
        left = findings_of(with_step(book, step))
        assert found.place not in {f.where.seam for f in left if f.severity is Severity.FAULT}


@pytest.mark.parametrize("unit", [Unit.inch, Unit.cm])
def test_words_of_findings_and_seams(unit: Unit) -> None:
    """No dotted name, no other unit: in findings, in the table, in every section of every seam."""
    book = unmatched(unit)
    done = replay(book)
    said = [f"{f.place} {f.words}" for f in shown(book)]
    for seam in done.pattern.seams:
        table = seam_table(book, done, seam.name)
        one = table.shown
        assert one is not None
        assert one.name == seam.name
        said += [one.words, one.walked.words, one.walked.caption, *table.loose]
        said += [f"{s.name} {s.a} {s.b} {s.difference}" for s in one.sections]
    said += [f"{s.a} {s.b} {s.length_a} {s.ease} {s.difference}" for s in table.lines]
    for words in said:
        assert not re.search(FOREIGN[unit], words), words
        assert not re.search(r"[a-z]\.[a-z]", words), words


def test_the_heads_of_a_seam_tell_its_sides_apart() -> None:
    """Pieces by their names; a sleeve's own seam, one piece on both sides, by its edges."""
    book = DEMOS[0].make()
    done = replay(book)
    side, sleeve = (seam_table(book, done, n).shown for n in ("coat side", "coat sleeve seam"))
    assert side is not None
    assert sleeve is not None
    assert (side.a, side.b) == ("coat front", "coat back")
    assert (sleeve.a, sleeve.b) == ("front seam", "back seam")


def test_a_seam_that_is_not_there() -> None:
    """It is named, and the first seam is shown instead."""
    book = DEMOS[0].make()
    table = seam_table(book, replay(book), "nowhere")
    assert table.missing == "nowhere"
    assert table.shown is not None
    assert table.shown.name == table.lines[0].name
