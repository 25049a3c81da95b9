"""clothwright walk: the walk of every seam, and all that can be checked on paper."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from clothwright.cli.saying import lines, listed, open_book, out, write_json
from clothwright.errors import BadInput
from clothwright.workroom.walking.mended import take_mend
from clothwright.workroom.walking.report import WalkReport, walk_report


def walk(
    workbook: Path,
    *,
    mend: int | None = None,
    other: bool = False,
    out_: Annotated[Path | None, Parameter(name="--out")] = None,
    paper: str = "",
    json: bool = False,
) -> int:
    """Walk every seam of the pieces as changed and say what does not agree.

    Findings are numbered in the order in which they matter. Leaves with 0 when nothing needs
    mending, 1 when there is a fault. It does not replace the trial garment.

    Parameters
    ----------
    workbook
        The workbook's folder.
    mend
        Take what mends the finding of this number as a change, then walk again. One step, which
        `clothwright undo` takes back.
    other
        With --mend: the other way that is told, which supposes that another piece was changed.
    out_
        A folder: write the toile on paper there, every finding with its picture and what mends
        it, as a PDF and as text.
    paper
        Paper of the PDF.
    json
        Write the findings as JSON to standard output instead of words.
    """
    opened = open_book(workbook)
    if other and mend is None:
        raise BadInput(
            where="--other", what="no finding is named", expected="--mend NUMBER --other"
        )
    if mend is not None:
        said = take_mend(opened, mend, other=other)
        if not json:
            out.print(f"Mended: {said}")
    book = opened.look().book
    found = walk_report(book)
    if json:
        write_json({"format": "clothwright-findings/1", "findings": found.data}, "-")
    else:
        lines(_told(found, workbook.name))
    if out_ is not None:
        from clothwright.workroom.walking.paper import write_toile  # noqa: PLC0415  (writers wait)

        files = write_toile(book, out_, paper)
        if not json:
            out.print(f"Wrote {len(files)} files:")
            listed(files)
    return int(found.faulty)


def _told(found: WalkReport, workbook: str) -> Iterator[str]:
    """Yield the findings, what they come to, what was looked at and what was not."""
    yield from found.lines
    if found.mended:
        yield f"To take what mends one: clothwright walk {workbook} --mend {found.mended}"
    yield found.verdict.words
    if not found.lines:
        yield from (f"  {words}" for words in found.verdict.agree)
    yield from (f"Not looked at: {words}" for words in found.verdict.unlooked)
    yield "Checked on paper. Make a trial garment before you cut cloth that cannot be replaced."
