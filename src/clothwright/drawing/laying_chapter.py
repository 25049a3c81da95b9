"""How to lay and cut a plan, as a chapter of the guide: cloth by cloth, and how the print meets."""

from __future__ import annotations

from collections.abc import Sequence

from clothwright.drawing.arrange import side_by_side
from clothwright.drawing.folded import folded_picture, sides
from clothwright.drawing.lay import lay_picture
from clothwright.drawing.match import match_picture
from clothwright.drawing.tops import has_top
from clothwright.lay.folded import Fold
from clothwright.lay.meeting.say import meeting_line, meeting_sentence
from clothwright.lay.meeting.values import SeamMeeting, worse_of_each
from clothwright.lay.order import laying_list
from clothwright.lay.problem import cut_of
from clothwright.picture.document import Block, Caution, Chapter, Illustration, Para, Points, Table
from clothwright.rules.weighing.laid import Laid
from clothwright.rules.weighing.print_facts import TWO_CLOTHS
from clothwright.units import Unit
from clothwright.words import begun, counted, listed, say, show_difference, show_length

BLADES = (
    "Cut with the blade away from you, fingers behind the ruler; close a rotary cutter after "
    "every cut. Count the pins in and out, never hold them in your mouth, never cut over them. "
    "Rest the iron on its heel and unplug it when you leave the table."
)
LAYING = (
    "Lay the cloth flat, one layer, right side up, the lower selvedge towards you and the cut end "
    "on your left.",
    "Lay the pieces in the order of their numbers, printed side up; those marked turned over "
    "printed side down.",
    "Measure both ends of each grain line from the lower selvedge and from the cut end. Pin or "
    "weight the grain line first, then the rest.",
    "Lay every piece before you cut the first one.",
)
TOPS = (
    "Which way is up: the arrows before the cut end show where the tops of the print point, the "
    "filled head of each grain line shows the top of its piece."
)
PARTLY_CUT = (
    "Those marked cut are cut already: lay the others around where they lay, and look at the cloth "
    "before each of them."
)
HALVES = (
    "{0} printed as a half and {1} here opened out: chalk round the printed half, turn it over "
    "along its fold line and chalk round the other half."
)
FOLD_WAYS = {
    "lengthwise": "Fold the cloth lengthwise, {1}, selvedge on selvedge ({0} "
    "double). Smooth it until the fold lies without a ripple.",
    "partial": "Fold the upper selvedge over, {1}, only so far that {0} lies "
    "double; the rest stays single. Measure from the selvedge in several places.",
    "crosswise": "Fold the cloth across, {1}, so that {0} from the fold lies "
    "double, selvedge on selvedge on both sides.",
}


def laying_section(laid: Laid, unit: Unit) -> Chapter:
    """Return how to lay and cut a plan, a part for each cloth; lengths in `unit`."""
    cloths = [r.name for r in laid.compiled.problem.regions]
    return Chapter(
        title=f"How to lay it: {laid.plan.name}",
        blocks=_before(laid, unit),
        sections=tuple(
            Chapter(title=f"On the {name}", blocks=_on_cloth(laid, name, unit)) for name in cloths
        ),
    )


def _before(laid: Laid, unit: Unit) -> tuple[Block, ...]:
    blocks: list[Block] = [Caution(words=BLADES)]
    if laid.plan.why:
        blocks.append(Para(words=laid.plan.why))
    if not laid.lay.fits:
        blocks.append(Caution(words="This plan does not fit the cloth: do not cut by it."))
    told = (*laid.compiled.gave_way, *laid.compiled.of_cut)
    blocks += [Caution(words=say(words, unit)) for words in told]
    halves = _opened_out(laid)
    one = len(halves) == 1
    named = f"{listed(halves)} {'is' if one else 'are'}"
    turn = (HALVES.format(begun(named), "lies" if one else "lie"),)
    partly = (PARTLY_CUT,) if cut_of(laid.compiled.problem) else ()
    points = (*LAYING[:2], *partly, *(turn if halves else ()), *LAYING[2:])
    return (*blocks, Points(items=points, numbered=True))


def _opened_out(laid: Laid) -> tuple[str, ...]:
    """Return the pieces that are printed as a half and still to be cut whole, not on a fold."""
    done = {n for fold in laid.folds for n in fold.on_fold} | cut_of(laid.compiled.problem).keys()
    copies = [laid.compiled.copy(p.shape) for p in laid.lay.placements]
    names = [c.piece.name for c in copies if c.fold is not None and c.id not in done]
    return tuple(dict.fromkeys(names))


def _on_cloth(laid: Laid, cloth: str, unit: Unit) -> tuple[Block, ...]:
    steps = [s for s in laying_list(laid.compiled, laid.lay) if s.cloth == cloth]
    rows = tuple(
        (str(s.number), s.called, *tail, *head) for s in steps for tail, head in (s.ends(unit),)
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
    picture = lay_picture(laid.compiled, laid.lay, cloth, unit, folds=laid.folds)
    fold = next((f for f in laid.folds if f.cloth == cloth), None)
    return (
        *(_fold_blocks(laid, fold, unit) if fold is not None else ()),
        Para(words=f"{counted(len(steps), 'piece')} on {used} of cloth."),
        *((Para(words=TOPS),) if has_top(laid.compiled.cloth(cloth)) else ()),
        Illustration(picture=picture, alt=f"The lay on the {cloth}, seen from above.", width=180.0),
        table,
        *_match_blocks(laid, cloth, unit),
    )


def _fold_blocks(laid: Laid, fold: Fold, unit: Unit) -> tuple[Block, ...]:
    """Say how the cloth is folded, what is cut through both layers, and what after opening it."""
    double = {n for pair in fold.pairs for n in pair} | set(fold.on_fold)
    here = [p.shape for p in laid.lay.placements if p.region == fold.cloth]
    cut = cut_of(laid.compiled.problem)
    single = [n for n in here if n not in double and n not in cut]
    deep = show_length(fold.depth, unit)
    steps = [
        FOLD_WAYS[fold.way].format(deep, sides(laid.compiled.cloth(fold.cloth))),
        "Lay the tissue as in the picture, pin through both layers, cut both at once; do not cut "
        "along the fold.",
    ]
    if fold.pairs:
        steps.append("Cut as pairs: " + "; ".join(" and ".join(pair) for pair in fold.pairs) + ".")
    if fold.on_fold:
        steps.append(f"On the fold: {listed(fold.on_fold)}.")
    if single:
        steps.append(
            "Then open the cloth out, right side up, and cut singly from what is left: "
            f"{listed(single)}."
        )
    picture = folded_picture(laid.compiled, laid.lay, fold, unit)
    alt = f"The {fold.cloth} folded {fold.way}, seen from above."
    return (Points(items=tuple(steps)), Illustration(picture=picture, alt=alt, width=180.0))


def _match_blocks(laid: Laid, cloth: str, unit: Unit) -> tuple[Block, ...]:
    """Say how the print meets along each seam, and draw the seams along which any of it may."""
    placed = {p.shape: p.region for p in laid.lay.placements}
    seen = [m for m in laid.meetings if m.worn and placed[m.shapes[0]] == cloth]
    others = {n: s for n, s in laid.between_cloths.items() if cloth in (placed[p] for p in s)}
    if not seen and not others:
        return ()
    table = Table(
        head=("seam", "pieces", "the print", "meets along", "apart on average"),
        rows=(
            *(_match_row(m, unit) for m in seen),
            *((n, ", ".join(s), f"not compared: {TWO_CLOTHS}", "", "") for n, s in others.items()),
        ),
        caption="How the print meets along each seam it crosses, at the stitching line",
        figures=(3, 4),
    )
    return (table, *_seam_pictures(laid, [m for m in seen if m.worst is not None], unit))


def _match_row(m: SeamMeeting, unit: Unit) -> tuple[str, ...]:
    pieces = ", ".join(dict.fromkeys(m.shapes))
    mean = "" if m.mean is None else show_difference(m.mean, unit, none="")
    return (m.seam, pieces, meeting_line(m, unit), f"{m.share:.0%}", mean)


def _seam_pictures(laid: Laid, seen: Sequence[SeamMeeting], unit: Unit) -> tuple[Block, ...]:
    """Return one picture a seam, both edges laid together."""
    shown = worse_of_each(seen)
    if not shown:
        return ()
    pictures = [match_picture(laid.pattern, laid.compiled, laid.lay, m) for m in shown]
    words = " ".join(meeting_sentence(m, unit) for m in shown)
    row = side_by_side(pictures, widest=1400.0, title="Seams laid together", gap=60.0)
    caption = "Both edges of each seam laid together: a step at the line is the difference itself"
    return (Illustration(picture=row, alt=f"Seams laid together. {words}", caption=caption),)
