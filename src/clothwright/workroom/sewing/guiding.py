"""The guide: what was changed and found, what to buy, what to cut, how to lay it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path as FilePath

from clothwright.drawing.guide_blocks import buying_blocks, cuts_table, pieces_blocks
from clothwright.drawing.lay import lay_picture
from clothwright.drawing.laying_chapter import laying_section
from clothwright.drawing.wearing import garment_blocks, garment_figures
from clothwright.outputs.table_csv import table_csv
from clothwright.outputs.writer import OutFile
from clothwright.pattern.pattern import Pattern
from clothwright.picture.document import (
    Block,
    Caution,
    Chapter,
    Document,
    Illustration,
    Para,
    Points,
    Table,
)
from clothwright.picture.picture import PhotoFiles
from clothwright.rules.weighing.laid import Laid
from clothwright.words import begun
from clothwright.workbook import Replay, Workbook, check_settings, replay
from clothwright.workroom.changing.record import lines_of
from clothwright.workroom.cutting.documents import document_files
from clothwright.workroom.cutting.printing import written
from clothwright.workroom.planning.facts import compare_table
from clothwright.workroom.sewing.wearer import wearer_sections
from clothwright.workroom.toile.told import toile_chapters
from clothwright.workroom.walking.checking import checked
from clothwright.workroom.walking.report import finding_lines
from clothwright.workroom.walking.verdict import verdict

TRIAL = (
    "Make a trial garment in cheap cloth before you cut cloth that cannot be replaced. "
    "Allowances, hems and ease given here are guides; your body, your cloth and your trial decide."
)
NOTHING: Mapping[str, str] = {}
CHILD = (
    "For a child: no cords or ties at hood, neck or head; cords elsewhere short, without free ends "
    "or toggles. Nightwear must be close-fitting or of cloth that passes the flame test. Rules "
    "differ from place to place: look up those that hold where the garment is worn."
)


def write_guide(
    book: Workbook,
    laid: Sequence[Laid],
    out: FilePath,
    photos: PhotoFiles,
    *,
    paper: str = "",
    wearer: bool = False,
    days: Sequence[str] = (),
) -> tuple[FilePath, ...]:
    """Write the guide as text with pictures and as PDF, and the table of cuts as CSV.

    laid: the plan to cut by first, then any others that were compared with it. wearer: with her
    measurements. photos: of the cloths. days: on which each change was added.
    Returns the files written. Raises BadInput.
    """
    done = replay(book)
    document = guide_document(book, laid, done, wearer=wearer, days=days).with_photos(photos)
    files = (*document_files(document, book, "guide", paper), cuts_file(done.pattern))
    return written(out, files)


def cuts_file(pattern: Pattern) -> OutFile:
    """Return the table of cuts for a spreadsheet."""
    return OutFile("cuts.csv", table_csv(cuts_table(pattern)))


def guide_document(
    book: Workbook,
    laid: Sequence[Laid],
    done: Replay | None = None,
    *,
    wearer: bool = False,
    days: Sequence[str] = (),
) -> Document:
    """Return the guide of a workbook: the plan to cut by, and the others for comparison.

    done: the workbook's changes as applied, where they are at hand. wearer: with her figures,
    which are left out otherwise. days: on which each change was added, where known.
    """
    done = done or replay(book)
    pattern = done.pattern
    cautions: tuple[Block, ...] = (Caution(words=TRIAL),)
    if book.settings.for_child:
        cautions += (Caution(words=CHILD),)
    sections = [
        Chapter(title="The pieces", blocks=pieces_blocks(pattern, book.unit)),
        Chapter(title="What was changed", blocks=_changes(book, done, days)),
        *toile_chapters(book, done),
        Chapter(title="What the walk found", blocks=_found(book, done)),
        *(wearer_sections(book, pattern) if wearer else ()),
    ]
    if len(laid) > 1:
        table = compare_table(book, laid)
        sections.append(Chapter(title="The plans compared", blocks=(table,)))
    if laid:
        sections += [
            Chapter(title="What to buy", blocks=buying_blocks(laid[0], book.unit)),
            Chapter(title="What to cut", blocks=(cuts_table(pattern),)),
            laying_section(laid[0], book.unit),
        ]
        worn = garment_blocks(laid[0], book.unit)
        sections += [Chapter(title="Where the print comes to lie", blocks=worn)] if worn else []
    note: tuple[Block, ...] = (Para(words=book.notes),) if book.notes else ()
    return Document(
        title=book.title,
        subtitle="Guide to this outfit as changed",
        blocks=note + cautions,
        sections=tuple(sections),
    )


def write_choices(
    book: Workbook,
    laid: Sequence[Laid],
    out: FilePath,
    photos: PhotoFiles,
    *,
    table: Table,
    apart: Mapping[str, str] = NOTHING,
) -> tuple[FilePath, ...]:
    """Write the plans side by side with a small picture of each lay; return the files.

    table: what is weighed about them; apart: what is said of a plan, by its name, else what it is
    for.
    """
    sections = []
    for one in laid:
        figures = tuple(
            Illustration(
                picture=lay_picture(one.compiled, one.lay, r.name, book.unit, positions=False),
                alt=f"{one.plan.name} on the {r.name}",
                width=110.0,
            )
            for r in one.compiled.problem.regions
            if r.length is not None or len(one.compiled.problem.regions) == 1
        )
        fit = one.fit_words(book.unit)
        told = apart.get(one.plan.name, one.plan.why).rstrip(".")
        words = Para(words=f"{begun(fit)}. {told}{'.' if told else ''}".rstrip())
        worn = garment_figures(one, width=110.0)
        sections.append(Chapter(title=one.plan.name, blocks=(words, *figures, *worn)))
    document = Document(
        title=f"{book.title}: plans to choose from",
        blocks=(table,),
        sections=tuple(sections),
    )
    return written(out, document_files(document.with_photos(photos), book, "choices"))


def _changes(book: Workbook, done: Replay, days: Sequence[str]) -> tuple[Block, ...]:
    told = done.told
    if not told:
        return (Para(words="Nothing: the pieces are as bought."),)
    lines = lines_of(book, done, days)
    items = tuple(
        " ".join(
            (
                f"Could not be done: {line.error}" if line.error else line.said,
                *((f"Why: {line.why}",) if line.why else ()),
                *((f"{line.day}.",) if line.day else ()),
            )
        )
        for line in lines
    )
    measured = tuple((str(line.number), *f) for line in lines for f in line.figures)
    points = Points(items=items, numbered=True)
    if not measured:
        return (points,)
    return (
        points,
        Table(
            head=("change", "what", "before", "after"),
            rows=measured,
            caption="Before and after: edges as sewn, allowances, darts; what differs most.",
            figures=(2, 3),
        ),
    )


def _found(book: Workbook, done: Replay) -> tuple[Block, ...]:
    pattern = done.pattern
    unmeasured = replace(check_settings(book), body=())  # what is printed tells no body's figures
    found = checked(pattern, unmeasured)
    nobody = "Body measurements are not printed unless you ask for them."
    told = verdict(pattern, found, nobody, unmeasured)
    lines = finding_lines(found, book, done) or told.agree
    not_looked = (f"Not looked at: {words}" for words in told.unlooked)
    return (
        Para(words=told.words),
        Points(items=lines),
        *(Para(words=words) for words in not_looked),
        Para(words="Checked on paper. This does not replace the trial garment."),
    )
