"""Answers that change a waiting drawing: its size, lines, allowance, corners and edges."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from clothwright.errors import BadInput, CannotDo, ClothwrightError
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.intake.answers import Answers
from clothwright.intake.drafting import base_of, parts_and_names
from clothwright.intake.edges import DRAWN, joints_of, parts_of
from clothwright.intake.nested import fates_of
from clothwright.intake.waiting.said import Waiting, shown_answers
from clothwright.intake.waiting.seen import Outline

NEAR_MM = 4.0
"""mm: a press this near to a corner means that corner."""
FAR_MM = 30.0
"""mm: a press farther from the outline means nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """A place (mm) where the outline bends, or a corner was made. on: it is a corner now."""

    at: Vec
    on: bool
    words: str


def settled(outline: Outline) -> tuple[Answers, Path, list[Path], list[str]]:
    """Return the answers as shown, the line (mm) cut into edges, these, their names. BadInput."""
    if outline.candidate is None:
        raise BadInput(what="this drawing is read exactly; its edges are as they are")
    shown = shown_answers(outline.said, outline.candidate)
    base = base_of(outline.candidate, shown)
    parts, names = parts_and_names(outline.candidate, shown, outline.name, outline.name)
    return shown, base, parts, names


def corners_of(outline: Outline) -> tuple[Corner, ...]:
    """Return every place that is a corner or may become one by a press."""
    try:
        _, base, parts, names = settled(outline)
    except ClothwrightError:
        return ()
    on = [p.start for p in parts]
    out = [
        Corner(at=p, on=True, words=f"corner between {names[k - 1]} and {names[k]}")
        for k, p in enumerate(on)
    ]
    for joint in joints_of(base):
        if all(joint.distance(p) > 1.0 for p in on):
            words = f"bend {len(out) + 1}, no corner"
            out.append(Corner(at=joint, on=False, words=words))
    return tuple(out)


def corners_text(points: Sequence[Vec]) -> str:
    """Return places (mm) as the answer that cuts an outline there."""
    return "at " + "; ".join(f"{p.x:.3f},{p.y:.3f}" for p in points)


def with_corner(one: Waiting, outline: Outline, at: Vec) -> Waiting:
    """Return the drawing with a corner made at a place (mm), or unmade where there is one.

    Raises BadInput for a place that is not on the outline, CannotDo when it needs the corner.
    """
    shown, base, parts, names = settled(outline)
    if base.nearest(at)[1] > FAR_MM:
        raise BadInput(where="corner", what="that is not on the outline", expected="a press on it")
    points = [p.start for p in parts]
    near = min(points, key=at.distance)
    if near.distance(at) <= NEAR_MM:
        points.remove(near)
    else:
        points.append(base.point_at(base.nearest(at)[0]))
    if len(points) < 2:
        raise CannotDo(
            what="this corner stays", why="an outline needs two corners or more to have edges"
        )
    return _cut_at(one, outline, (shown, base, parts, names), points)


def _cut_at(
    one: Waiting,
    outline: Outline,
    before: tuple[Answers, Path, list[Path], list[str]],
    points: Sequence[Vec],
) -> Waiting:
    """Cut an outline at these points; an edge keeps its name where one had been given."""
    _, base, parts, names = before
    corners = corners_text(points)
    given = outline.said.answers.edges
    edges: list[str] = []
    if given:
        for part in parts_of(base, corners, outline.name):
            middle = part.middle
            name = min(zip(parts, names, strict=True), key=lambda x: x[0].nearest(middle)[1])[1]
            tries = (name, *(f"{name} {k}" for k in range(2, 99)))
            edges.append(next(t for t in tries if t not in edges))
    said = replace(
        outline.said,
        answers=replace(outline.said.answers, corners=corners, edges=tuple(edges)),
    )
    return one.with_said(outline.number, said)


def with_edges(
    one: Waiting, outline: Outline, names: Sequence[str], fold: str, widths: Mapping[int, str]
) -> Waiting:
    """Return the drawing with its edges named, in the order shown. Raises BadInput.

    fold: the name of the edge on the fold, "none", or "" (not answered). widths: an allowance of
    its own for an edge, by its number from 0, as typed.
    """
    _, base, parts, _ = settled(outline)
    tidy = [" ".join(n.split()) for n in names]
    wrong = next((n for n in tidy if not n or set(n) & set(",.=;")), None)
    if wrong is not None:
        raise BadInput(
            where="edges",
            what=f'"{wrong}" cannot name an edge' if wrong else "an edge has no name",
            expected="a plain name without comma, dot or equals sign",
        )
    if len(tidy) != len(parts):
        raise CannotDo(
            what="the names were not saved",
            why="the corners were changed meanwhile",
            nearest="to look at the edges as they are now",
        )
    corners = corners_text([p.start for p in parts])
    again = parts_of(base, corners, outline.name)
    turn = min(range(len(parts)), key=lambda k: parts[k].start.distance(again[0].start))
    order = [(turn + k) % len(parts) for k in range(len(parts))]
    answers = replace(
        outline.said.answers,
        corners=corners,
        edges=tuple(tidy[k] for k in order),
        fold=fold,
    )
    kept = {tidy[k]: w for k, w in widths.items() if k < len(tidy) and w.strip()}
    said = replace(outline.said, answers=answers, widths=kept)
    return one.with_said(outline.number, said)


def with_nested(one: Waiting, number: int, outline: str, inside: str) -> Waiting:
    """Return the drawing with another closed line as an outline's own, and what those inside are.

    Corners and names that were given belonged to the line before and begin anew. Raises BadInput.
    """
    said = one.about(number)
    fates_of(inside, 99)
    answers = replace(said.answers, outline=outline, inside=inside)
    if (outline or "1") != (said.answers.outline or "1"):
        answers = replace(answers, corners="", edges=(), fold="", marks="")
        said = replace(said, widths={})
    return one.with_said(number, replace(said, answers=answers))


def with_scale(one: Waiting, scale: str) -> Waiting:
    """Return the drawing with another size; corners that were pressed are found anew.

    Whether it is the true one is asked anew, where it is unusual.
    """
    said = {
        k: replace(s, answers=replace(s.answers, corners="", edges=()))
        if s.answers.corners.startswith("at ")
        else s
        for k, s in one.said.items()
    }
    return replace(one, scale=scale.strip(), true_size="", said=said)


def with_allowance(one: Waiting, outline: Outline, allowance: str, add: str) -> Waiting:
    """Return the drawing with the question of the allowance answered. Raises BadInput.

    When another line is cut into edges by it, corners and names that were given begin anew.
    """
    if outline.typed is not None:
        answers = replace(outline.said.answers, allowance=allowance, add=add)
        return one.with_said(outline.number, replace(outline.said, answers=answers))
    if outline.candidate is None:
        raise BadInput(what="this drawing is read exactly; its allowances are as they are")
    before = shown_answers(outline.said, outline.candidate).allowance
    answers = replace(outline.said.answers, allowance=allowance, add=add)
    widths = outline.said.widths
    if allowance != before and DRAWN in (allowance, before):
        answers, widths = replace(answers, corners="", fold="", edges=()), {}
    said = replace(outline.said, answers=answers, widths=widths)
    return one.with_said(outline.number, said)
