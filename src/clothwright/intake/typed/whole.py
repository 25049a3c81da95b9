"""A piece put together from its lines: outline, checks, and what lies on it."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from clothwright.errors import BadInput
from clothwright.geometry.box import box_of_all
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.intake.typed import checks as diagonals
from clothwright.intake.typed import details
from clothwright.intake.typed.checks import Checked, CheckLine, Owner
from clothwright.intake.typed.curves import Lines, line_of
from clothwright.intake.typed.edges import TypedEdge
from clothwright.intake.typed.lines import Lengths, LineSlip, Note, as_typed
from clothwright.intake.typed.noticed import bare_told, outside_told
from clothwright.intake.typed.outline import Round, check_simple, round_of
from clothwright.intake.typed.sheet import MOST_SLIPS, TypedPiece, TypedSheet
from clothwright.pattern.piece import Dart, Edge, Grain, Join, Level, Mark, Role
from clothwright.units import Unit
from clothwright.words import show_length

MOST_CHECKS = 40
MOST_DETAILS = 200


def finished(sheet: TypedSheet) -> TypedPiece:
    """Put a piece together as far as its lines go."""
    round_, paths, edges = _outlined(sheet)
    compared = _compared(sheet, round_)
    found = _detailed(sheet, edges) if edges else _Found()
    own = {e.name: e.allowance for e in sheet.edges.values() if e.allowance is not None}
    if edges and not sheet.slips:
        _told_centre(sheet, edges)
        sheet.took += [*outside_told(edges, found.marks, found.levels, sheet.unit)]
        sheet.took += [*bare_told(edges, sheet.included, sheet.width, own)]
    return TypedPiece(
        name=sheet.name,
        line=sheet.head.number,
        points=dict(sheet.at),
        paths=paths,
        edges=tuple(found.edges.values()) if edges else (),
        darts=tuple(found.darts),
        grain=found.grain,
        levels=tuple(found.levels),
        marks=tuple(found.marks),
        cuts=tuple(sheet.cuts),
        included=sheet.included,
        width=sheet.width,
        own=own,
        note=". ".join(sheet.said),
        checks=compared,
        took=tuple(sheet.took),
        slips=tuple(sheet.slips),
    )


def _outlined(
    sheet: TypedSheet,
) -> tuple[Round | None, tuple[tuple[str, Path], ...], tuple[Edge, ...]]:
    """Return the outline, the lines that can be drawn, and the edges going round when all can."""
    edges = tuple(sheet.edges.values())
    trouble = bool(sheet.slips)
    try:
        where = f"line {sheet.head.number} ({sheet.head.text})"
        round_ = round_of(edges, sheet.at, sheet.unit, min(sheet.within, diagonals.TAPE_MM), where)
    except BadInput as error:
        if not trouble:  # a line that was not read may be the one that is missing
            sheet.slips.append(LineSlip(_line_of(error, sheet.head.number), error))
        return None, _drawable(sheet, edges), ()
    left = {t.edge.name: not t.reversed for t in round_.turns}
    lines = Lines(edges=sheet.edges, at=sheet.at, inside_left=left, unit=sheet.unit)
    paths: dict[str, Path] = {}
    for edge in edges:
        path, wrong = line_of(lines, edge.name)
        if path is not None:
            paths[edge.name] = path
        elif wrong is not None and not any(s.error.what == wrong.what for s in sheet.slips):
            sheet.slips.append(LineSlip(edge.note.number, wrong))
    drawn = tuple(paths.items())
    if len(paths) < len(edges):
        return round_, drawn, ()
    made = _going_round(sheet, round_, paths)
    return (
        (round_, drawn, made)
        if sheet.tried(sheet.head, lambda: check_simple([e.path for e in made], sheet.head.where))
        else (round_, drawn, ())
    )


def _line_of(error: BadInput, default: int) -> int:
    m = re.match(r"line (\d+)", error.where)
    return int(m[1]) if m else default


def _drawable(sheet: TypedSheet, edges: Sequence[TypedEdge]) -> tuple[tuple[str, Path], ...]:
    """Return the lines that can be drawn while it stands open, the piece taken to their left."""
    sides = {e.name: True for e in edges}
    lines = Lines(edges=sheet.edges, at=sheet.at, inside_left=sides, unit=sheet.unit)
    found = ((e.name, line_of(lines, e.name)[0]) for e in edges)
    return tuple((n, p) for n, p in found if p is not None)


def _going_round(sheet: TypedSheet, round_: Round, paths: Mapping[str, Path]) -> tuple[Edge, ...]:
    """Return the edges counter-clockwise, ends on each other, corners named by their points."""
    turns = round_.turns
    roles = [t.edge.role for t in turns]
    out = []
    for k, turn in enumerate(turns):
        path = paths[turn.edge.name]
        path = path.reversed() if turn.reversed else path
        start, end = (sheet.at[round_.joined.get(p, p)] for p in (turn.start, turn.end))
        out.append(
            Edge(
                name=turn.edge.name,
                path=path.with_ends(start, end),
                role=turn.edge.role,
                corner=round_.joined.get(turn.start, turn.start),
                join=_join(roles[k - 1], roles[k]),
            )
        )
    for p, q in round_.joined.items():
        gap = show_length(sheet.at[p].distance(sheet.at[q]), Unit.mm)
        sheet.took.append(f"{p} and {q}, {gap} apart, taken as one point")
    return tuple(out)


def _join(before: Role, after: Role) -> Join:
    """Return how a corner is turned: a hem folds back what it meets, but for a fold."""
    both = (before, after)
    return Join.FOLDED if both.count(Role.HEM) == 1 and Role.FOLD not in both else Join.EXTENDED


def _compared(sheet: TypedSheet, round_: Round | None) -> tuple[Checked, ...]:
    """Compare every measured distance; misses are slips that name what is likely wrong."""
    found: list[CheckLine] = []
    usable = sheet.edges if round_ is not None else {}
    for note in sheet.measured[:MOST_CHECKS]:
        sheet.tried(
            note,
            lambda n=note: found.append(  # type: ignore[misc]
                diagonals.check_of(n, sheet.unit, sheet.at, sheet.edges, sheet.within)
            ),
        )
    left = {t.edge.name: not t.reversed for t in round_.turns} if round_ else {}

    def line(name: str, at: Mapping[str, Vec], mm: Lengths) -> Path:
        lines = Lines(edges=sheet.edges, at=at, inside_left=left, unit=sheet.unit, mm=mm)
        return lines.line(name)

    spots = tuple(sheet.spots.values())
    drawn = diagonals.drawn_by(spots, sheet.inward, sheet.unit, line)
    checked = []
    for check in found:
        if check.edge and check.edge not in usable:
            continue
        try:
            far = drawn(check, as_typed)
        except BadInput:
            continue
        checked.append(diagonals.told(check, far, sheet.unit))
    lone = diagonals.unchecked(checked, spots, drawn)
    if lone:
        few = ", ".join(lone[:12]) + (f" and {len(lone) - 12} more" if len(lone) > 12 else "")
        sheet.took.append(
            f"no check tells of every length of {few}: a slip there would not be seen"
        )
    for error in diagonals.misses(checked, spots, _depths(sheet), drawn, sheet.unit):
        sheet.slips.append(LineSlip(_line_of(error, sheet.head.number), error))
    return tuple(checked)


def _depths(sheet: TypedSheet) -> tuple[Owner, ...]:
    """Return the measures of every curve that is given by its depth."""
    return tuple(
        Owner(f"the curve of {e.name}", e.note, m)
        for e in sheet.edges.values()
        for step in e.steps
        for depth in step.depths
        for m in (depth.measure, *([depth.at] if depth.at else []))
    )


@dataclass(slots=True)
class _Found:
    """What was found on an outline."""

    edges: dict[str, Edge] = field(default_factory=dict)
    darts: list[Dart] = field(default_factory=list)
    grain: Grain | None = None
    levels: list[Level] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)


def _detailed(sheet: TypedSheet, edges: Sequence[Edge]) -> _Found:
    """Read the lines about what lies on the outline."""
    found = _Found(edges={e.name: e for e in edges})
    ground = details.MeasuredOn(
        at=sheet.at, edges=dict(found.edges), inward=sheet.inward, unit=sheet.unit
    )
    for note in sheet.later[:MOST_DETAILS]:
        if len(sheet.slips) > MOST_SLIPS:
            break
        sheet.tried(note, lambda n=note: _one_detail(found, ground, n))  # type: ignore[misc]
    return found


def _one_detail(found: _Found, ground: details.MeasuredOn, note: Note) -> None:
    low = note.text.lower()
    if "notch" in low.split(" on ")[0].split(",")[0]:
        name, notch = details.notch_of(note, ground)
        edge = found.edges[name]
        found.edges[name] = edge.with_notches((*edge.notches, notch))
    elif low.startswith("dart"):
        found.darts.append(details.dart_of(note, ground, [d.name for d in found.darts]))
    elif low.startswith("level"):
        found.levels.append(details.level_of(note, ground))
    elif low.startswith("mark"):
        found.marks.append(details.mark_of(note, ground, [m.name for m in found.marks]))
    else:
        grain = details.grain_of(note, ground)
        if found.grain is not None:
            raise note.fault("a line above gives the grain already", "one grain line a piece")
        found.grain = grain


def _told_centre(sheet: TypedSheet, edges: Sequence[Edge]) -> None:
    """Refuse a fold or centre on the other side than where the centre was said to lie."""
    own = [e for e in edges if e.role in (Role.FOLD, Role.CENTRE)]
    if not sheet.inward or not own:
        return
    box = box_of_all(e.path.bounds() for e in edges)
    off = own[0].path.middle.x - box.middle.x
    if off * (1 if sheet.inward == "right" else -1) < -0.2 * box.size.x:
        other = "left" if sheet.inward == "right" else "right"
        note = sheet.edges[own[0].name].note
        sheet.slips.append(
            LineSlip(
                note.number,
                note.fault(
                    f'the centre was said to lie on the {sheet.inward}, and "{own[0].name}" lies '
                    f"on the {other}",
                    "in measured towards the centre, out away from it",
                    f"centre on the {other}",
                ),
            )
        )
