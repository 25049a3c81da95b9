"""The guide: what was changed and found, what to buy, what to cut, how to lay it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path as FilePath

from clothwright.drawing.folded import folded_picture, sides
from clothwright.drawing.lay import lay_picture
from clothwright.drawing.match import apart_words, match_picture
from clothwright.drawing.piece import piece_picture
from clothwright.lay.leftover import bias_yield
from clothwright.lay.match import SeamMatch
from clothwright.lay.order import laying_list
from clothwright.outputs.arrange import side_by_side
from clothwright.outputs.guide_md import guide_md
from clothwright.outputs.guide_pdf import guide_pdf
from clothwright.outputs.paper import parse_paper
from clothwright.outputs.table_csv import table_csv
from clothwright.pattern.finding import Finding, Severity
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
from clothwright.store.book.file import write_whole
from clothwright.units import Unit
from clothwright.words import say, show_difference, show_length
from clothwright.workbook import Replay, Workbook, check_settings, replay
from clothwright.workroom.searching.laying import BIAS_MM, Laid
from clothwright.workroom.sewing.wearer import wearer_sections
from clothwright.workroom.sewing.wearing import garment_blocks, garment_figures
from clothwright.workroom.walking.checking import checked

TRIAL = (
    "Make a trial garment in cheap cloth before you cut cloth that cannot be replaced. Numbers "
    "for allowances, hems and ease are guides; your body, your cloth and your trial decide."
)
BLADES = (
    "Cut with the blade away from you, fingers behind the ruler; close a rotary cutter after "
    "every cut. Count the pins in and out, never hold them in your mouth, never cut over them. "
    "Rest the iron on its heel and unplug it when you leave the table."
)
CHILD = (
    "For a child: no cords or ties at hood, neck or head; cords elsewhere short, without free ends "
    "or toggles. Nightwear must be close-fitting or of cloth that passes the flame test. Rules "
    "differ from place to place: look up those that hold where the garment is worn."
)
FOLD_WAYS = {
    "lengthwise": "Fold the cloth lengthwise, {1}, selvedge on selvedge ({0} "
    "double). Smooth it until the fold lies without a ripple.",
    "partial": "Fold the upper selvedge over, {1}, only so far that {0} lies "
    "double; the rest stays single. Measure from the selvedge in several places.",
    "crosswise": "Fold the cloth across, {1}, so that {0} from the fold lies "
    "double, selvedge on selvedge on both sides.",
}
PRESHRINK = (
    "Wash or steam the cloth as you will wash the garment, and measure its length and width "
    "again, before you lay anything: a measured sample beats any table."
)


def write_guide(
    book: Workbook, laid: Sequence[Laid], out: FilePath, *, paper: str = "", wearer: bool = False
) -> tuple[FilePath, ...]:
    """Write the guide as text with pictures and as PDF, and the table of cuts as CSV.

    laid: the plan to cut by first, then any others that were compared with it. wearer: with her
    measurements. Returns the files written. Raises BadInput.
    """
    document = guide_document(book, laid, wearer=wearer)
    files = []
    page = parse_paper(paper or book.settings.paper, unit=book.unit)
    parts = [
        *((f.name, f.content) for f in guide_md(document)),
        ("guide.pdf", guide_pdf(document, paper=page)),
        ("cuts.csv", table_csv(cuts_table(replay(book).pattern))),
    ]
    for name, content in parts:
        write_whole(out / name, content)
        files.append(out / name)
    return tuple(files)


def guide_document(
    book: Workbook, laid: Sequence[Laid], done: Replay | None = None, *, wearer: bool = False
) -> Document:
    """Return the guide of a workbook: the plan to cut by, and the others for comparison.

    done: the workbook's changes as applied, where they are at hand. wearer: with her figures,
    which are left out otherwise.
    """
    done = done or replay(book)
    pattern = done.pattern
    cautions: tuple[Block, ...] = (Caution(words=TRIAL),)
    if book.settings.for_child:
        cautions += (Caution(words=CHILD),)
    sections = [
        Chapter(title="The pieces", blocks=_pieces(book, pattern)),
        Chapter(title="What was changed", blocks=_changes(book, done)),
        Chapter(title="What the walk found", blocks=_found(book, pattern)),
        *(wearer_sections(book, pattern) if wearer else ()),
    ]
    if len(laid) > 1:
        sections.append(Chapter(title="The plans compared", blocks=_compared(book, laid)))
    if laid:
        sections += [
            Chapter(title="What to buy", blocks=_buy(book, laid[0])),
            Chapter(title="What to cut", blocks=(cuts_table(pattern),)),
            Chapter(
                title=f"How to lay it: {laid[0].plan.name}",
                blocks=_before_laying(laid[0]),
                sections=tuple(
                    Chapter(title=f"On the {r.name}", blocks=_cloth_blocks(book, laid[0], r.name))
                    for r in laid[0].compiled.problem.regions
                ),
            ),
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


def write_choices(book: Workbook, laid: Sequence[Laid], out: FilePath) -> tuple[FilePath, ...]:
    """Write the plans side by side with a small picture of each lay; return the files."""
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
        words = Para(words=f"{one.plan.why or one.plan.name}: {fit_words(one, book.unit)}.")
        worn = garment_figures(one, width=110.0)
        sections.append(Chapter(title=one.plan.name, blocks=(words, *figures, *worn)))
    document = Document(
        title=f"{book.title}: plans to choose from",
        blocks=(choice_table(book, laid),),
        sections=tuple(sections),
    )
    page = parse_paper(book.settings.paper, unit=book.unit)
    parts = [
        *((f.name, f.content) for f in guide_md(document, "choices")),
        ("choices.pdf", guide_pdf(document, paper=page)),
    ]
    files = []
    for name, content in parts:
        write_whole(out / name, content)
        files.append(out / name)
    return tuple(files)


def _pieces(book: Workbook, pattern: Pattern) -> tuple[Block, ...]:
    pictures = [piece_picture(p, book.unit, fill=True) for p in pattern.pieces]
    sheet = side_by_side(pictures, widest=2600.0, title="The pieces as changed", gap=60.0)
    names = ", ".join(p.name for p in pattern.pieces)
    return (
        Para(words=f"{len(pattern.pieces)} pieces: {names}."),
        Illustration(picture=sheet, alt=f"The pieces as changed, to scale: {names}."),
    )


def _changes(book: Workbook, done: Replay) -> tuple[Block, ...]:
    told = done.told
    if not told:
        return (Para(words="Nothing: the pieces are as bought."),)
    lines = []
    for t in told:
        words = f"Could not be done: {t.error}" if t.error else say(t.said, book.unit)
        why = f" Why: {t.step.why}" if t.step.why else ""
        lines.append(words + why)
    return (Points(items=tuple(lines), numbered=True),)


SEVERITY_WORDS = {
    Severity.FAULT: "Fault",
    Severity.NOTICE: "Notice",
    Severity.SKIPPED: "Could not be checked",
    Severity.NOTE: "Note",
}


def _found(book: Workbook, pattern: Pattern) -> tuple[Block, ...]:
    unmeasured = replace(check_settings(book), body=())  # what is printed tells no body's figures
    findings = checked(pattern, unmeasured)
    if not findings:
        return (
            Para(
                words="The changed pieces sew together: every seam, notch, corner, dart, allowance "
                "and hem that could be checked on paper agrees within "
                f"{show_length(book.settings.checks.agree, Unit.mm)}. "
                "This does not replace the trial garment."
            ),
        )
    return (Points(items=tuple(finding_words(f, book.unit) for f in findings)),)


def finding_words(finding: Finding, unit: Unit) -> str:
    """Return a finding as one line in the maker's unit."""
    mend = f" Mend: {finding.mend.change}." if finding.mend is not None else ""
    return f"{SEVERITY_WORDS[finding.severity]}: {say(finding.words, unit)}{mend}"


def _compared(book: Workbook, laid: Sequence[Laid]) -> tuple[Block, ...]:
    return (compare_table(book, laid),)


def compare_table(book: Workbook, laid: Sequence[Laid]) -> Table:
    """Return the plans side by side: fit, length, what is left, rules, match, grain, cost."""
    columns = [dict(_facts(one, book.unit)) for one in laid]
    labels = list(dict.fromkeys(label for column in columns for label in column))
    rows = tuple((label, *(c.get(label, "–") for c in columns)) for label in labels)
    return Table(head=("", *(x.plan.name for x in laid)), rows=rows)


def choice_table(book: Workbook, laid: Sequence[Laid]) -> Table:
    """Return one row a plan with what weighs most: for more plans than go side by side."""
    rows = []
    for one in laid:
        facts = dict(_facts(one, book.unit))
        crossed = [m for m in one.matches if m.alike and m.level is not None]
        worst = max(crossed, key=lambda m: m.level or 0.0, default=None)
        hand = [c.name for c in one.laid_cloths if c.length is not None] or list(one.lay.used)
        rows.append(
            (
                one.plan.name,
                facts["does it fit?"],
                ", ".join(show_length(one.lay.used[n], book.unit) for n in hand),
                "–" if worst is None else f"{worst.level:.1f} mm ({worst.seam})",
                facts["off the usual grain"],
            )
        )
    head = ("plan", "does it fit?", "length used", "print in height, at most", "off the grain")
    return Table(head=head, rows=tuple(rows), figures=(2,))


def _facts(one: Laid, unit: Unit) -> list[tuple[str, str]]:
    """Return what a maker weighs about one plan, as pairs of a label and words."""
    facts = [("does it fit?", fit_words(one, unit))]
    facts += [(f"{n}: used", show_length(u, unit)) for n, u in one.lay.used.items()]
    for name, left in one.left_over.items():
        wide = show_length(one.usable_width(name), unit)
        facts.append((f"{name}: left over", f"{show_length(left, unit)} of {wide}"))
    for rest in one.rests:
        strip = bias_yield(rest.along, rest.across, BIAS_MM).pieced
        words = f"{show_length(rest.along, unit)} × {show_length(rest.across, unit)}"
        if strip > 0:
            words += f"; {show_length(strip, unit)} of {show_length(BIAS_MM, unit)} bias"
        facts.append((f"{rest.region}: largest rest", words))
    facts.append(("every rule met within", f"{max(one.residuals.values(), default=0.0):.2f} mm"))
    crossed = [m for m in one.matches if m.alike and any(s.counts for s in m.spots)]
    for m in _worst_of_each(crossed):
        facts.append((f"print differs at the {m.seam}", apart_words(m, unit)))
    broken = dict.fromkeys(m.seam for m in one.matches if not m.alike)
    if broken:
        facts.append(("print stops at", ", ".join(broken)))
    facts.append(("off the usual grain", ", ".join(one.off_grain) or "none"))
    if one.cost is not None:
        facts.append(("cost", f"{one.cost:.2f}"))
    return facts


def _worst_of_each(matches: Sequence[SeamMatch]) -> list[SeamMatch]:
    """Return the worse of both sides of the body for every seam, the worst seam first."""
    worst: dict[str, SeamMatch] = {}
    for m in matches:
        if m.seam not in worst or m.worst > worst[m.seam].worst:
            worst[m.seam] = m
    return sorted(worst.values(), key=lambda m: -m.worst)


def fit_words(laid: Laid, unit: Unit) -> str:
    """Say whether a plan fits, or by how much it does not."""
    if laid.lay.fits:
        return "fits"
    if laid.lay.unplaced:
        return f"does not fit: no place for {', '.join(laid.lay.unplaced)}"
    short = laid.lay.short_by
    return "does not fit" if short is None else f"short by {show_length(short, unit)}"


def _buy(book: Workbook, laid: Laid) -> tuple[Block, ...]:
    rows = []
    for cloth in laid.cloths:
        used = laid.lay.used.get(cloth.name)
        if used is None:
            continue
        if cloth.length is None:
            need = laid.buy[cloth.name]
            rows.append(
                (
                    cloth.name,
                    "to buy",
                    show_length(need, book.unit),
                    show_length(cloth.width, book.unit),
                )
            )
        else:
            rows.append(
                (
                    cloth.name,
                    "in hand",
                    show_length(cloth.length, book.unit),
                    show_length(cloth.width, book.unit),
                )
            )
    return (
        Table(head=("cloth", "", "length", "width"), rows=tuple(rows), figures=(2, 3)),
        Para(words=PRESHRINK),
        Para(
            words="Thread to match; what closes the garment (buttons, a zip) as your design asks."
        ),
    )


def cuts_table(pattern: Pattern) -> Table:
    """Return the table of cuts per material."""
    rows = []
    for material in sorted({c.material for p in pattern.pieces for c in p.cuts}):
        for piece in pattern.pieces:
            for cut in piece.cuts:
                if cut.material != material:
                    continue
                number = cut.count * (2 if cut.how == "pair" else 1)
                how = {"pair": "a pair, one turned over", "fold": "on the fold", "once": "single"}[
                    cut.how
                ]
                rows.append((material, piece.name, str(number), how))
    return Table(head=("material", "piece", "cut", "how"), rows=tuple(rows), figures=(2,))


def _before_laying(laid: Laid) -> tuple[Block, ...]:
    blocks: list[Block] = [Caution(words=BLADES)]
    if laid.plan.why:
        blocks.append(Para(words=laid.plan.why))
    if not laid.lay.fits:
        blocks.append(Caution(words="This plan does not fit the cloth: do not cut by it."))
    blocks.append(
        Points(
            items=(
                "Lay the cloth flat, one layer, right side up, the lower selvedge towards you and "
                "the cut end on your left.",
                "Lay the pieces in the order of their numbers, printed side up; those marked "
                "turned over printed side down.",
                "Measure both ends of each grain line from the lower selvedge and from the cut "
                "end. Pin or weight the grain line first, then the rest.",
                "Lay every piece before you cut the first one.",
            ),
            numbered=True,
        )
    )
    return tuple(blocks)


def _cloth_blocks(book: Workbook, laid: Laid, cloth: str) -> tuple[Block, ...]:
    unit = book.unit
    picture = lay_picture(laid.compiled, laid.lay, cloth, unit, folds=laid.folds)
    steps = [s for s in laying_list(laid.compiled, laid.lay) if s.cloth == cloth]
    rows = tuple(
        (
            str(s.number),
            s.shape + (" (turned over)" if s.turned_over else ""),
            show_length(s.tail.x, unit),
            show_length(s.tail.y, unit),
            show_length(s.head.x, unit),
            show_length(s.head.y, unit),
        )
        for s in steps
    )
    table = Table(
        head=(
            "no.",
            "piece",
            "tail: from the cut end",
            "tail: from the lower selvedge",
            "head: from the cut end",
            "head: from the lower selvedge",
        ),
        rows=rows,
        caption="Where each grain line lies (tail and head of its arrow)",
        figures=(2, 3, 4, 5),
    )
    used = show_length(laid.lay.used.get(cloth, 0.0), unit)
    return (
        *_fold_blocks(laid, cloth, unit),
        Para(words=f"{len(steps)} pieces on {used} of cloth."),
        Illustration(picture=picture, alt=f"The lay on the {cloth}, seen from above.", width=180.0),
        table,
        *_match_blocks(laid, cloth, unit),
    )


def _fold_blocks(laid: Laid, cloth: str, unit: Unit) -> tuple[Block, ...]:
    """Say how the cloth is folded, what is cut through both layers, and what after opening it."""
    fold = next((f for f in laid.folds if f.cloth == cloth), None)
    if fold is None:
        return ()
    double = {n for pair in fold.pairs for n in pair} | set(fold.on_fold)
    single = [p.shape for p in laid.lay.placements if p.region == cloth and p.shape not in double]
    steps = [
        FOLD_WAYS[fold.way].format(show_length(fold.depth, unit), sides(laid.compiled.cloth(cloth)))
    ]
    steps.append(
        "Lay the tissue as in the picture, pin through both layers, cut both at once; do not cut "
        "along the fold."
    )
    if fold.pairs:
        steps.append("Cut as pairs: " + "; ".join(" and ".join(pair) for pair in fold.pairs) + ".")
    if fold.on_fold:
        steps.append("On the fold: " + ", ".join(fold.on_fold) + ".")
    if single:
        steps.append(
            "Then open the cloth out, right side up, and cut singly from what is left: "
            + ", ".join(single)
            + "."
        )
    picture = folded_picture(laid.compiled, laid.lay, fold, unit)
    alt = f"The {cloth} folded {fold.way}, seen from above."
    return (Points(items=tuple(steps)), Illustration(picture=picture, alt=alt, width=180.0))


def _match_blocks(laid: Laid, cloth: str, unit: Unit) -> tuple[Block, ...]:
    placed = {p.shape: p.region for p in laid.lay.placements}
    rows = tuple(
        (
            m.seam,
            ", ".join(dict.fromkeys(m.shapes)),
            apart_words(m, unit) if m.alike else "lie in different directions",
            show_difference(m.mean, unit) if m.alike else "",
        )
        for m in laid.matches
        if placed[m.shapes[0]] == cloth and (not m.alike or any(s.counts for s in m.spots))
    )
    if not rows:
        return ()
    return (
        Table(
            head=("seam", "pieces", "print differs at most", "on average"),
            rows=rows,
            caption="How the print meets along each seam it crosses, at the stitching line",
            figures=(2, 3),
        ),
        *_seam_pictures(laid, cloth, unit),
    )


def _seam_pictures(laid: Laid, cloth: str, unit: Unit) -> list[Block]:
    """Return one picture a seam whose two sides lie alike, both edges laid together."""
    placed = {p.shape: p.region for p in laid.lay.placements}
    alike = [
        m
        for m in laid.matches
        if m.alike and placed[m.shapes[0]] == cloth and any(s.counts for s in m.spots)
    ]
    shown = _worst_of_each(alike)
    if not shown:
        return []
    pictures = [match_picture(laid.pattern, laid.compiled, laid.lay, m, unit) for m in shown]
    words = "; ".join(f"{m.seam}, {apart_words(m, unit)}" for m in shown)
    row = side_by_side(pictures, widest=1400.0, title="Seams laid together", gap=60.0)
    caption = "Both edges of each seam laid together: a step at the line is the difference itself"
    return [Illustration(picture=row, alt=f"Seams laid together: {words}.", caption=caption)]
