"""clothwright lay: lay one plan on the cloth."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from clothwright.cli.progress import watching
from clothwright.cli.saying import lines, open_book, out, pictures_written, seconds_ok, write_json
from clothwright.workroom.cloth.pictures import lost_words, photos_in
from clothwright.workroom.cutting.lay_files import garment_files, lay_files
from clothwright.workroom.cutting.printing import written
from clothwright.workroom.editing.opened import OpenBook
from clothwright.workroom.planning.facts import best_in
from clothwright.workroom.planning.folding import fold_edit, foreseen_lines, lay_lines
from clothwright.workroom.planning.looking import first_lines, first_of
from clothwright.workroom.searching.laying import keep_better, lay_by_many


def lay(
    workbook: Path,
    *,
    plan: str = "",
    seconds: float = 20.0,
    seed: int = 0,
    rounds: int | None = None,
    workers: int = 0,
    fold: Annotated[tuple[str, ...], Parameter(consume_multiple=True)] = (),
    json: Annotated[str, Parameter(allow_leading_hyphen=True)] = "",
    out_: Annotated[Path | None, Parameter(name="--out")] = None,
    look: bool = False,
    quiet: bool = False,
) -> int:
    """Lay every piece on its cloth for one plan; better every moment, stopped by Ctrl-C.

    The best lay of each plan is kept with the workbook; a worse one never replaces it. Leaves with
    0 when it fits, 1 when it does not.

    Parameters
    ----------
    workbook
        The workbook's folder.
    plan
        Name of the plan; without it the chosen one.
    seconds
        How long to search. Ctrl-C stops at once and keeps the best lay.
    seed
        A number that makes the search repeatable (together with --rounds).
    rounds
        Stop after this many rounds instead of only by time (with one worker).
    workers
        Searches at once, one core each; the best of them counts. Without it every core searches.
    fold
        Lay cloth double: lengthwise, partial, crosswise or single, or CLOTH=one of these. Written
        into the plan (undo takes it back); refused with the reason where nap, border or a rule on
        the print forbid it.
    json
        Write the lay as JSON to this file ("-" for standard output); docs/lay-json.md.
    out_
        A folder for the lay plan as PDF and SVG, one of each a cloth, and the print on each
        garment, front and back.
    look
        Only look: nothing is searched or kept. Says how the print meets where the plan's rules
        alone put it, and writes it on each garment into the folder of --out.
    quiet
        Do not show the search at work.
    """
    mine = open_book(workbook)
    if fold:
        _fold(mine, plan, fold)
    book = mine.look().book
    if json != "-":
        lines(foreseen_lines(book, plan))
    if look:
        return _look(mine, plan, out_)
    with watching("lay", best_in(book.unit), quiet=quiet) as tell:
        laid = lay_by_many(
            book,
            plan,
            seconds=seconds_ok(seconds),
            seed=seed,
            rounds=rounds,
            workers=workers,
            on_better=tell,
        )
    best = keep_better(workbook, book, laid)
    if json:
        write_json(laid.report, json)
    if json != "-":
        if best is not laid:
            out.print("A better lay of this plan was kept before; it stays the one to cut by.")
        lines(lay_lines(laid, book.unit, seed=seed))
        if not laid.lay.fits:
            name = f' --plan "{laid.plan.name}"'
            out.print(f"  What would make it fit: clothwright ways-to-fit {workbook}{name}")
    if out_ is not None:
        files = written(out_, lay_files(best, book.unit, photos_in(workbook)))
        pictures_written(files, lost_words(book, workbook))
    return 0 if laid.lay.fits else 1


def _look(mine: OpenBook, plan: str, to: Path | None) -> int:
    """Say how the print of a plan meets before it is laid, and write its pictures."""
    book = mine.look().book
    laid = first_of(book, plan)
    for line in first_lines(laid, book.unit):
        out.print(f"  {line}")
    if to is not None:
        files = written(to, garment_files(laid, photos_in(mine.folder)))
        pictures_written(files, lost_words(book, mine.folder))
    return 0


def _fold(book: OpenBook, plan: str, words: tuple[str, ...]) -> None:
    """Write the folds asked for into the plan, as a step."""
    at = book.read()
    edit, notes = fold_edit(at.book, plan, words)
    for note in notes:
        out.print(f"  Note: {note}")
    book.edit(edit, base=at.revision)
