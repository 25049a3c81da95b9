"""clothwright lay: lay one plan on the cloth."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from clothwright.cli.progress import watching
from clothwright.cli.saying import listed, opened, out, seconds_ok, write_json
from clothwright.drawing.lay import lay_picture
from clothwright.units import say, show_length
from clothwright.workroom.guiding import fit_words
from clothwright.workroom.laying import keep_better, lay_by_many, lay_plan, write_whole
from clothwright.workroom.printing import lay_drawing, lay_pdf


def lay(
    workbook: Path,
    *,
    plan: str = "",
    seconds: float = 20.0,
    seed: int = 0,
    rounds: int | None = None,
    workers: int = 1,
    json: Annotated[str, Parameter(allow_leading_hyphen=True)] = "",
    out_: Annotated[Path | None, Parameter(name="--out")] = None,
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
        Searches at once, one core each; the best of them counts.
    json
        Write the lay as JSON to this file ("-" for standard output); docs/lay-json.md.
    out_
        A folder for the lay plan as PDF and SVG, one of each a cloth.
    quiet
        Do not show the search at work.
    """
    book = opened(workbook)
    with watching("lay", book.unit, quiet=quiet) as tell:
        if workers > 1 and rounds is None:
            laid = lay_by_many(
                book,
                plan,
                seconds=seconds_ok(seconds),
                seed=seed,
                workers=workers,
                on_better=tell,
            )
        else:
            laid = lay_plan(
                book, plan, seconds=seconds_ok(seconds), seed=seed, rounds=rounds, on_better=tell
            )
    best = keep_better(workbook, book, laid)
    if json:
        write_json(laid.report, json)
    if json != "-":
        if best is not laid:
            out.print("A better lay of this plan was kept before; it stays the one to cut by.")
        out.print(f"{laid.plan.name}: {fit_words(laid, book.unit)}", markup=False)
        for name, used in laid.lay.used.items():
            share = laid.filled[name]
            out.print(f"  {name}: {show_length(used, book.unit)} used, {share:.0%} of it covered")
        for finding in laid.faults:
            out.print(f"  Fault: {say(finding.words, book.unit)}", markup=False)
        for note in laid.compiled.notes:
            out.print(f"  Note: {note}", markup=False)
        if not laid.lay.fits:
            name = f' --plan "{laid.plan.name}"'
            out.print(f"  Ways out: clothwright ways-out {workbook}{name}", markup=False)
    if out_ is not None:
        files = []
        for region in best.compiled.problem.regions:
            picture = lay_picture(best.compiled, best.lay, region.name, book.unit)
            for suffix, data in (("svg", lay_drawing(picture)), ("pdf", lay_pdf(picture))):
                file = out_ / f"lay-{region.name}.{suffix}"
                write_whole(file, data)
                files.append(file)
        listed(files)
    return 0 if laid.lay.fits else 1
