"""What page and command show of the walk: in her unit, in words, with mends that mend."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

import pytest

from clothwright.checks import CHECKS
from clothwright.demo.workbooks import DEMOS
from clothwright.errors import CannotDo
from clothwright.pattern.finding import Finding, Severity
from clothwright.units import Unit
from clothwright.workbook import Step, Workbook, replay
from clothwright.workroom.walking.checking import checked, findings_of, seam_table
from clothwright.workroom.walking.findings import FindingShown, all_found
from clothwright.workroom.walking.report import walk_report
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
    said += all_found(book, done).verdict.unlooked
    for seam in done.pattern.seams:
        table = seam_table(book, done, seam.name)
        one = table.shown
        assert one is not None
        assert one.name == seam.name
        said += [one.words, one.walked.words, one.walked.caption]
        said += [f"{s.name} {s.a} {s.b} {s.difference}" for s in one.sections]
    said += [f"{s.a} {s.b} {s.length_a} {s.ease} {s.difference}" for s in table.lines]
    for words in said:
        assert not re.search(FOREIGN[unit], words), words
        assert not re.search(r"[a-z]\.[a-z]", words), words


def test_a_seam_that_is_told_of_says_where() -> None:
    """Equal lengths do not say what is wrong: the status names the findings of that seam."""
    book = unmatched(Unit.cm)
    told = {f.number: f.place for f in shown(book)}
    for line in seam_table(book, replay(book)).lines:
        numbers = [int(n) for n in re.findall(r"\d+", line.status)]
        assert numbers == [n for n, place in told.items() if place == line.name]
        assert bool(numbers) is (line.kind != "good")


def test_what_would_mend_is_not_told_as_done() -> None:
    """As something to do, on paper, page and command line: the record alone says it as done."""
    book = unmatched(Unit.cm)
    asked = [f.mending.asks for f in shown(book) if f.mending and not f.mending.trouble]
    assert asked
    assert all(re.match(r"(Lengthen|Shorten|Move|Smooth|Square|True)\b", a) for a in asked), asked


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


def test_an_all_clear_says_what_was_not_looked_at() -> None:
    """Nobody measured, edges without a partner: said by page, command and guide alike."""
    book = DEMOS[0].make()
    found = walk_report(book).verdict
    assert found == all_found(book, replay(book)).verdict
    assert found.kind == "good"
    assert [words for words in found.unlooked if "room for the wearer" in words]
    assert [words for words in found.unlooked if "waistband, underlap" in words]
    assert not [words for words in found.agree if words.startswith("Is there room")]


def test_what_is_not_there_does_not_agree() -> None:
    """A waistcoat has no sleeves: nothing is said of its caps but that there are none."""
    book = DEMOS[1].make()
    found = walk_report(book).verdict
    assert found.kind == "good"
    assert not [words for words in found.agree if "sleeve cap" in words]
    assert [words for words in found.unlooked if "no sleeve caps" in words]


def test_an_all_clear_says_how_much_was_looked_at() -> None:
    """Pieces, seams and darts as a hand counts them in the demo's list of pieces."""
    found = walk_report(DEMOS[0].make()).verdict
    said = " ".join(found.agree)
    assert "Can this outline be cut? Yes: 11 pieces." in found.agree
    for figure in ("15 seams, ", "2 sleeve caps", "6 darts", "9 turned hems"):
        assert figure in said


def test_nothing_agrees_where_nothing_is_walked() -> None:
    """An empty workbook, and pieces without a seam, have no all-clear."""
    book = DEMOS[0].make()
    for bought in (replace(book.bought, pieces=(), seams=()), replace(book.bought, seams=())):
        found = walk_report(replace(book, bought=bought, steps=(), plans=())).verdict
        assert (found.kind, found.agree) == ("notice", ())


def test_a_check_that_could_not_run_does_not_agree(monkeypatch: pytest.MonkeyPatch) -> None:
    """A check that stopped is a finding, and not among those that found nothing."""

    def stops(*_: object) -> Iterator[Finding]:
        raise CannotDo(what="this cannot be measured", why="a check stops here")

    broken = tuple(replace(c, run=stops) if c.id == "darts" else c for c in CHECKS)
    monkeypatch.setattr("clothwright.checks.CHECKS", broken)
    book = replace(DEMOS[1].make(), notes="a check stops")
    checked.cache_clear()
    found = walk_report(book).verdict
    checked.cache_clear()
    assert found.kind == "notice"
    title = next(c.title for c in CHECKS if c.id == "darts")
    assert not [words for words in found.agree if words.startswith(title)]
