"""The other sizes of a drawing: answered as the size that is shown was."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from clothwright.errors import BadInput, ClothwrightError
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.intake.answers import Answers
from clothwright.intake.candidates import Candidate
from clothwright.intake.drafting import base_of, parts_and_names
from clothwright.intake.edges import CORNER_DEG, bends_of
from clothwright.intake.in_sizes import same_one, step_between
from clothwright.intake.named_like import in_common, named_like
from clothwright.intake.recognise import allowance_question, drafted
from clothwright.intake.waiting.edges import corners_text, settled
from clothwright.intake.waiting.said import size_shown, whole_answers
from clothwright.intake.waiting.seen import INNER, Outline, SeenDrawing, all_outlines
from clothwright.pattern.piece import Piece
from clothwright.pattern.sizes import SizeRange
from clothwright.units import Unit
from clothwright.words import counted, told

ALIKE_DEG = 15.0
"""degrees: a corner bends no more or less than this from size to size."""
Sizes = Callable[[str], Sequence[Candidate]]
"""From the name of a size to its outlines."""


def sizes_of(one: SeenDrawing, unit: Unit, drawn: Sizes) -> tuple[SizeRange | None, str]:
    """Return the wanted pieces in every size of the drawing, and what is not the same in all.

    Where pieces do not correspond it is None, and why. drawn: the outlines of any size; what was
    answered about a piece, and about the lines inside it, holds for its other sizes. (None, "")
    for a drawing of one size.
    """
    wanted = [o for o in one.outlines if o.wanted and o.piece is not None and o.candidate]
    if not one.sizes or not wanted:
        return None, ""
    shown = size_shown(one.waiting, one.sizes)
    own = tuple(o.piece for o in wanted if o.piece)
    try:
        sets = tuple(
            own if size == shown else _in_size(one, wanted, drawn(size), size, unit)
            for size in one.sizes
        )
        common, alone = in_common(sets)
        return SizeRange(names=one.sizes, drawn=shown, pieces=common), alone
    except ClothwrightError as error:
        return None, told(error, unit)


def _in_size(
    one: SeenDrawing, wanted: Sequence[Outline], drawn: Sequence[Candidate], size: str, unit: Unit
) -> tuple[Piece, ...]:
    """Return the wanted pieces in another size, with the names and edge names they have.

    drawn: its outlines. The outermost are the same by their names and places, lines inside by
    their order, edges by their order from the same corner. Raises BadInput: no such order.
    """
    left = list(drawn)
    asked = {o.number if o.number < INNER else o.number // INNER - 1 for o in wanted}
    outer = [(o, o.whole) for o in one.outlines if o.whole is not None and o.number < INNER]
    step = step_between([whole for _, whole in outer], drawn)
    here = []
    for o, whole in outer:
        here.append(same_one(whole, o.name, left, size, step) if o.number in asked else whole)
        _check_inside(o, here[-1], size)
    if left and one.waiting.every:
        count = len(wanted)
        what = f"size {size} has {count + len(left)} pieces, the size chosen {count}"
        raise BadInput(what=what)
    found = all_outlines(one.waiting, here)
    return tuple(_made(o, found[o.number][1], size, unit) for o in wanted)


def _check_inside(outline: Outline, here: Candidate, size: str) -> None:
    """Refuse other lines inside when something was said about them. Raises BadInput."""
    said, there = outline.said.answers, len(outline.whole.nested) if outline.whole else 0
    if (said.outline not in ("", "1") or said.inside) and len(here.nested) != there:
        raise BadInput(
            what=f'"{outline.name}" has {counted(len(here.nested), "closed line")} inside in size '
            f"{size} and {there} in the size chosen",
            expected="the same lines inside in every size",
        )


def _made(outline: Outline, here: Candidate, size: str, unit: Unit) -> Piece:
    """Return what an outline of another size becomes by what was answered. Raises BadInput."""
    asked = allowance_question(here, outline.said.answers, unit)
    if asked is not None or outline.piece is None:
        raise BadInput(what=asked.words if asked else outline.trouble)
    name, edges = outline.name, len(outline.piece.edges)
    answers = whole_answers(outline.said, here)
    if answers.corners.startswith("at "):  # places in the size shown
        answers = replace(answers, corners=str(edges))
    where = f'size {size}, "{name}"'

    def draw(answers: Answers) -> Piece | None:
        """The piece by its own corners; None where they make another number of edges."""
        try:
            parts, _ = parts_and_names(here, answers, name, where)
        except BadInput:
            return None
        if len(parts) != edges:
            return None
        return drafted(here, name, answers, unit=unit, where=where).piece

    made = draw(answers)
    if made is None and (places := alike_corners(outline, here)):
        made = draw(replace(answers, corners=corners_text(places)))
    if made is None:
        made = drafted(here, name, answers, unit=unit, where=where).piece
    if len(made.edges) != edges:
        raise BadInput(
            what=f'"{name}" has {len(made.edges)} edges in size {size} and {edges} in the size '
            "chosen",
            expected="the same corners in every size",
            try_="saying how many corners it has",
        )
    return named_like(made, outline.piece)


def alike_corners(outline: Outline, here: Candidate) -> tuple[Vec, ...]:
    """Return where the corners of the size shown are in another size (mm).

    Curves drawn as chords bend a little more or less from size to size, so that one has a corner
    where the next has none. A corner is the bend that lies most like it and bends most like it; ()
    where one bends otherwise, or a bend that is left over is none of a curve.
    """
    answers, base, parts, _ = settled(outline)
    other = base_of(here, answers)
    old, new = base.bounds(), other.bounds()
    joints = bends_of(other)
    out = []
    for part, before in zip(parts, (parts[-1], *parts[:-1]), strict=True):
        p = part.start - old.low
        like = new.low + Vec(p.x * new.size.x / old.size.x, p.y * new.size.y / old.size.y)
        bend = abs(turn_between_deg(before.end_tangent, part.start_tangent))
        cost = [(q.distance(like) + abs(turn - bend), k) for k, (q, turn) in enumerate(joints)]
        place, found = joints[min(cost)[1]]
        if abs(found - bend) > ALIKE_DEG:
            return ()
        out.append(place)
    left = [bend for p, bend in joints if p not in out]
    return tuple(out) if max(left, default=0.0) < CORNER_DEG + ALIKE_DEG else ()
