"""More than two hundred broken PDF files: a drawing or a sentence each, nothing else."""

from __future__ import annotations

import pytest

from clothwright.intake.pdf.reader import read_pdf
from tests.intake.mutations import Broken, damaged, outcomes
from tests.intake.pdf.bombs import BOMBS
from tests.intake.pdf.sheets import by_fpdf2, by_reportlab, nested_sheet, skirt_sheet

DAMAGED = 210


@pytest.fixture(scope="module")
def seeds(tmp_path_factory: pytest.TempPathFactory) -> list[bytes]:
    """Whole files: packed and plain, with layers, dashes and words."""
    folder = tmp_path_factory.mktemp("seeds")
    return [
        by_reportlab(skirt_sheet(), folder),
        by_reportlab(nested_sheet("dash"), folder),
        by_fpdf2(nested_sheet("colour"), folder),
    ]


@pytest.mark.parametrize("first", range(0, DAMAGED, 42))
def test_damaged_files(seeds, first):
    """Cut off, bits turned, parts missing or twice, other numbers: a drawing or a sentence.

    What a library calls a file inside itself is not told to the maker.
    """
    found = outcomes(read_pdf, list(damaged(seeds, 42, first=first)), "damaged.pdf")
    assert len(found) == 42
    said = [o.said for o in found if o.said]
    assert all(s.startswith("damaged.pdf: ") for s in said), said
    assert not [s for s in said if "object at" in s or "BytesIO" in s]
    assert 0 < len(said) < 42


REFUSED = {"locked with a password": "password", "a form in itself": "", "400 MB packed": ""}
"""What must not be read, and a word that says why."""


@pytest.mark.parametrize("how", BOMBS)
def test_files_made_to_break_a_reader(how):
    """Endless forms, packed bombs, passwords, rings: a drawing or a sentence.

    A locked file is told as locked; what would be endless is refused or left out.
    """
    (found,) = outcomes(read_pdf, [Broken(how, BOMBS[how]())], "bomb.pdf")
    assert not found.said or found.said.startswith("bomb.pdf: ")
    if how in REFUSED:
        assert found.said
        assert REFUSED[how] in found.said


def test_what_must_be_refused_is_among_them():
    """None of the files that have to be refused is left out above."""
    assert set(REFUSED) <= set(BOMBS)


def test_what_was_mended_is_told(seeds):
    """A file without its end may be read, and then says that it was damaged."""
    whole, cut = read_pdf(seeds[2], "whole.pdf"), read_pdf(seeds[2][:-60], "cut.pdf")
    assert not any("mended" in n for n in whole.notes)
    assert any("mended" in n for n in cut.notes)
    assert len(cut.lines) == len(whole.lines)
