"""One outline and the answers about it become one piece, with a question for every proposal."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from clothwright.errors import BadInput
from clothwright.geometry.path import Path, ring
from clothwright.geometry.region import is_simple
from clothwright.geometry.vec import unit_at
from clothwright.intake.answers import NONE, Answers, Question, says
from clothwright.intake.as_read import Apart, as_read
from clothwright.intake.candidates import Candidate
from clothwright.intake.dart_lines import DartFind, loose_words
from clothwright.intake.edges import DRAWN, edges_of, merged, names_of, parts_of, told_apart
from clothwright.intake.inner_lines import BRACKET_MM
from clothwright.intake.made_cutting import hems_told, with_corners_as_drawn
from clothwright.intake.marks import marks_of
from clothwright.intake.notch_shapes import NotchFind
from clothwright.intake.stitching import distance_to
from clothwright.intake.words_read import edge_names
from clothwright.pattern.derive import piece_from_cutting
from clothwright.pattern.piece import Cut, Dart, Edge, Grain, Level, Notch, Piece
from clothwright.units import Unit, is_count, parse_angle_deg
from clothwright.words import show_length, with_lengths

FOLD_MM = 12.0
"""mm: words about a fold this near to an edge, and their height more, are about it."""
ALONG = 0.3
"""Sine of the angle up to which words run along an edge."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft1:
    """One piece made of an outline. questions: what was proposed; notes: what was left out.

    apart: where its lines are not those that were drawn.
    """

    piece: Piece
    questions: tuple[Question, ...]
    notes: tuple[str, ...]
    apart: tuple[Apart, ...]


def base_of(candidate: Candidate, answers: Answers) -> Path:
    """Return the closed line that is cut into edges: the outline, or the stitching line in it.

    Raises BadInput.
    """
    if says(answers.allowance, DRAWN):
        if candidate.stitching is None:
            raise BadInput(
                where="--allowance",
                what="no line inside the outline runs along it at steady distances",
                expected=with_lengths('a length such as "5/8 in", or none'),
            )
        return candidate.stitching.line.path
    return candidate.outline.path if says(answers.notches, NONE) else candidate.plain[0]


def parts_and_names(
    candidate: Candidate, answers: Answers, name: str, where: str
) -> tuple[list[Path], list[str]]:
    """Return the edges of an outline and what they are called. Raises BadInput."""
    base = base_of(candidate, answers)
    if not is_simple(ring(base)):
        raise BadInput(
            where=where,
            what="the outline crosses or touches itself",
            expected="a line that goes once round the piece",
        )
    parts = parts_of(base, answers.corners, where)
    if not answers.corners and not says(answers.darts, NONE):
        parts = without_mouths(parts, candidate.read.darts)
    names = names_of(parts, answers.edges, where)
    if not answers.edges:
        said = edge_names(parts, candidate.words.edges, name)
        names = told_apart([s or n for s, n in zip(said, names, strict=True)])
    return merged(parts, names)


def draft(candidate: Candidate, name: str, answers: Answers, *, unit: Unit, where: str) -> Draft1:
    """Return the piece that an outline becomes. Raises BadInput, CannotDo."""
    parts, names = parts_and_names(candidate, answers, name, where)
    fold = answers.fold or fold_proposed(candidate, parts, names)
    settled = replace(answers, fold="" if says(fold, NONE) else fold)
    cutting = candidate.plain[0]
    drawn = [0.01 * round(100 * distance_to(cutting, p)[0]) for p in parts]
    edges = edges_of(parts, names, settled, unit, where, drawn=drawn)
    notches = () if says(answers.notches, NONE) else candidate.notches
    darts = () if says(answers.darts, NONE) else candidate.read.darts
    edges = _notched(edges, notches)
    asked = _asked(candidate, answers, edges, settled.fold, unit)
    cuts = cuts_of(answers.cut or candidate.words.cut, folded=bool(settled.fold))
    marks, left = marks_of(candidate, answers)
    rest = {
        "grain": _grain(candidate, answers),
        "cuts": cuts,
        "marks": marks,
        "levels": () if says(answers.levels, NONE) else _levels(candidate),
        "note": f"Size {candidate.words.size}" if candidate.words.size else "",
    }
    found, stray = _darts(edges, darts)
    notes = [*left, *([f"left out, darts whose legs end on two edges: {stray}"] if stray else [])]
    if says(answers.allowance, NONE) or says(answers.allowance, DRAWN):
        piece = Piece(name=name, edges=edges, darts=found, **rest)  # type: ignore[arg-type]
    else:
        piece = piece_from_cutting(name, edges, found, **rest)
    inner = candidate.stitching.line.path if candidate.stitching else None
    if says(answers.allowance, NONE):
        apart = as_read(piece, unit, stitching=cutting)
    else:
        turned = with_corners_as_drawn(piece, cutting)
        notes += hems_told(piece, turned)
        piece = turned
        apart = as_read(piece, unit, cutting=cutting, stitching=inner)
    return Draft1(
        piece=piece,
        questions=tuple(replace(q, piece=name) for q in asked),
        notes=tuple(notes),
        apart=apart,
    )


def without_mouths(parts: Sequence[Path], darts: Sequence[DartFind]) -> list[Path]:
    """Return parts joined where a corner lies in a dart's mouth: its ends, its cap."""
    out = list(parts)
    for dart in darts:
        wide = dart.a.distance(dart.b)
        for k in range(len(out) - 1, -1, -1):
            p = out[k].start
            if len(out) > 2 and max(p.distance(dart.a), p.distance(dart.b)) <= wide + 0.5:
                before = out[k - 1]
                out[k - 1] = before.joined(out[k])
                del out[k]
    return out


def fold_proposed(candidate: Candidate, parts: Sequence[Path], names: Sequence[str]) -> str:
    """Return the edge that a fold mark or the word "fold" points to; "" without one."""
    straight = [k for k, p in enumerate(parts) if p.is_straight]
    at = candidate.read.fold_at
    if at is not None and straight:
        away, k = min((parts[k].nearest(at)[1], k) for k in straight)
        if away < BRACKET_MM:
            return names[k]
    for text in candidate.words.folds:
        near = [
            (parts[k].nearest(text.at)[1], k)
            for k in straight
            if abs(parts[k].start_tangent.cross(unit_at(text.turn_deg))) < ALONG
        ]
        if near and min(near)[0] < FOLD_MM + text.height:
            return names[min(near)[1]]
    called = [n for k, n in enumerate(names) if "fold" in n.split() and k in straight]
    return called[0] if len(called) == 1 else ""


def _asked(
    candidate: Candidate, answers: Answers, edges: Sequence[Edge], fold: str, unit: Unit
) -> list[Question]:
    """Return what was taken for granted about a piece, a question each."""
    out: list[Question] = []
    read, words = candidate.read, candidate.words

    def ask(id_: str, said: str, default: str, choices: tuple[str, ...] = ()) -> None:
        if not getattr(answers, id_):
            out.append(Question(id=id_, words=said, default=default, choices=choices))

    names = ",".join(e.name for e in edges)
    ask("edges", "edges named, counter-clockwise from the lower left: " + names, names)
    if read.grain:
        ask("grain", "grain taken from the arrow that is drawn", DRAWN, (DRAWN, "up"))
    else:
        ask("grain", "grain taken as up the page", "up", ("up", "90 deg"))
    if candidate.notches:
        shown = _count_words([n.shape for n in candidate.notches])
        ask("notches", f"recognised as notches: {shown}", "found", ("found", NONE))
    if read.darts:
        wide = ", ".join(show_length(d.a.distance(d.b), unit) for d in read.darts)
        said = f"recognised as darts: {len(read.darts)} (as wide as {wide})"
        ask("darts", said + loose_words(read.darts, unit), "found", ("found", NONE))
    if read.levels:
        said = "recognised as level lines: " + ", ".join(x.name for x in read.levels)
        ask("levels", said, "found", ("found", NONE))
    if fold:
        ask("fold", f'"{fold}" taken as lying on the fold, as it is marked', fold, (fold, NONE))
    elif words.on_fold:
        ask("fold", f'it says "{words.said}", and no edge is marked as the fold', NONE, (NONE,))
    cut = words.cut or f"shell {'fold' if fold and not says(fold, NONE) else 'once'}"
    if words.cut:
        ask("cut", f'it says "{words.said}": taken as {cut}', cut, (cut,))
    else:
        ask("cut", f"it does not say how often it is cut: taken as {cut}", cut, (cut, "shell pair"))
    return out


def _count_words(shapes: Sequence[str]) -> str:
    names = {"tick": "mark", "slit": "slit", "V": "V", "T": "T", "box": "box", "point": "point"}
    return ", ".join(
        f"{shapes.count(s)} {names.get(s, s)}" + ("s" if shapes.count(s) > 1 else "")
        for s in dict.fromkeys(shapes)
    )


def _notched(edges: Sequence[Edge], found: Sequence[NotchFind]) -> tuple[Edge, ...]:
    """Return the edges with each notch on the edge it lies nearest to."""
    mine: list[list[Notch]] = [[] for _ in edges]
    for notch in found:
        near = [(e.path.nearest(notch.at), k) for k, e in enumerate(edges)]
        (at, _), k = min(near, key=lambda x: x[0][1])
        mine[k].append(Notch(at=round(at, 4), kind=notch.kind))
    return tuple(e.with_notches(m) for e, m in zip(edges, mine, strict=True))


def _darts(edges: Sequence[Edge], found: Sequence[DartFind]) -> tuple[tuple[Dart, ...], int]:
    """Return darts on the edge that both legs reach, and how many reach two edges."""
    out: list[Dart] = []
    stray = 0
    for dart in found:
        best = min(edges, key=lambda e: max(e.path.nearest(dart.a)[1], e.path.nearest(dart.b)[1]))
        a, b = best.path.nearest(dart.a), best.path.nearest(dart.b)
        if max(a[1], b[1]) > 2.0 or abs(a[0] - b[0]) < 1.0:
            stray += 1
            continue
        low, high = sorted((a[0], b[0]))
        out.append(Dart(name="", edge=best.name, a=low, b=high, point=dart.point))
    many = [d.edge for d in out]
    named = []
    for k, d in enumerate(out):
        nth = many[: k + 1].count(d.edge)
        name = f"{d.edge} dart" if many.count(d.edge) == 1 else f"{d.edge} dart {nth}"
        named.append(replace(d, name=name))
    return tuple(named), stray


def _levels(candidate: Candidate) -> tuple[Level, ...]:
    return tuple(Level(name=x.name, at=x.at) for x in candidate.read.levels)


def _grain(candidate: Candidate, answers: Answers) -> Grain:
    """Return the arrow that is drawn, or a line through the middle, half as long as it is high."""
    plain = answers.grain.strip().lower()
    drawn = candidate.read.grain
    if drawn and plain in ("", DRAWN):
        return drawn
    if plain == DRAWN:
        raise BadInput(
            where="--grain", what="no grain arrow was recognised", expected="up, or degrees"
        )
    angle = 90.0 if plain in ("", "up") else parse_angle_deg(answers.grain, where="--grain")
    box, u = candidate.outline.path.bounds(), unit_at(angle)
    reach = max(abs(u.x) * box.size.x, abs(u.y) * box.size.y) / 4
    return Grain(start=box.middle - u * reach, end=box.middle + u * reach)


def cuts_of(text: str, *, folded: bool) -> tuple[Cut, ...]:
    """Read "shell pair, lining fold 2" into cutting counts. Raises BadInput."""
    if not text.strip():
        return (Cut(how="fold" if folded else "once"),)
    cuts = []
    for part in text.split(","):
        words = part.split()
        count = int(words.pop()) if words and is_count(words[-1]) else 1
        how = words.pop() if words and words[-1] in ("once", "pair", "fold") else ""
        if not how or not words or not 0 < count < 100:
            raise BadInput(
                where="--cut",
                what=f'"{part.strip()}" does not say how to cut',
                expected='MATERIAL and once, pair or fold, for example "shell pair, lining pair"',
            )
        cuts.append(Cut(material=" ".join(words), how=how, count=count))
    return tuple(cuts)
