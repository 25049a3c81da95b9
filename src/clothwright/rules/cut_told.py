"""How what is cut does not go with the pieces, cloths and plan as they are now, in words."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from clothwright.errors import MissedBy, Sentence, joined
from clothwright.geometry.region import distances
from clothwright.lay.compiled import ring_of
from clothwright.lay.copies import Copy, points_of
from clothwright.lay.cut_piece import CutPiece
from clothwright.lay.judge import RULE as KEPT_MM
from clothwright.lay.judge import judge, residuals
from clothwright.lay.lying import lie_pinned
from clothwright.lay.naming import words_of
from clothwright.lay.problem import LayProblem, Pinned, Rule, Shape, asked_by, cut_of, names_of
from clothwright.lay.result import Lay
from clothwright.pattern.finding import Finding

SAME_MM = 0.15
"""A cutting line nearer to another everywhere is the same: both are flattened (`FLATTEN_MM`)."""
TOLD_MM = 0.5
"""Less than this (mm) longer or wider is not told as such."""
STAYS = " What is cut stays as it was cut: cut it again from what is left, or undo the change."


def _line(copy: Copy) -> np.ndarray:
    ring = ring_of(copy.piece, copy.to_frame)
    return np.asarray((*ring, ring[0]), dtype=float)


def _off(was: Copy, now: Copy) -> float:
    """Return how far (mm) the farther of two cutting lines strays from the other."""
    if was.piece == now.piece:
        return 0.0
    a, b = _line(was), _line(now)
    return max(float(distances(a, b).max()), float(distances(b, a).max()))


def moved(was: Copy, now: Copy) -> bool:
    """Tell whether the cutting line of a copy is another than what was cut."""
    return _off(was, now) > SAME_MM


def differing(was: Copy, now: Copy) -> Sentence:
    """Say what of a copy is another than what was cut; () when nothing is."""
    off = _off(was, now)
    if off > SAME_MM:
        (a, b), (c, d) = (tuple(map(float, np.ptp(_line(x), axis=0))) for x in (was, now))
        parts = [*_by(c - a, "longer", "shorter"), *_by(d - b, "wider", "narrower")]
        how = joined(parts[0], " and ", parts[1]) if len(parts) > 1 else (parts or [()])[0]
        changed = (
            joined(how, " than what was cut")
            if how
            else (
                "its cutting line runs up to ",
                off,
                " beside where it was cut",
            )
        )
        lead = "it is now " if how else ""
        return joined(f"“{now.id}” is cut, and was changed since: {lead}", changed, ".", STAYS)
    if was.piece == now.piece or _points_alike(was, now):
        return ()
    return (
        f"“{now.id}” is cut, and was changed since: notches or marks on it are not where they were."
        " Mark them anew on what is cut, or undo the change.",
    )


def _by(mm: float, more: str, less: str) -> list[Sentence]:
    return [] if abs(mm) < TOLD_MM else [(abs(mm), f" {more if mm > 0 else less}")]


def _points_alike(was: Copy, now: Copy) -> bool:
    a, b = (sorted(points_of(c).values()) for c in (was, now))
    return len(a) == len(b) and all(math.dist(p, q) <= SAME_MM for p, q in zip(a, b, strict=True))


def no_cloth(one: CutPiece) -> Sentence:
    """Say that something was cut from a cloth that is no more."""
    return (
        f"“{one.shape}” was cut from “{one.cloth}”, which is no cloth of the workbook now, so it "
        "is not laid. Give its cloth that name again, or take the tick back.",
    )


def no_piece(one: CutPiece) -> Sentence:
    """Say that what was cut is no piece any more."""
    return (
        f"“{one.shape}” is cut from “{one.cloth}”, and is no piece of the pattern now. The rest is "
        "laid around it.",
    )


def other_cloth(name: str, one: CutPiece, homes: Mapping[str, Sequence[str]]) -> Sentence:
    """Say that the plan would cut from another cloth what is cut already. homes: by shape."""
    wanted = " or ".join(f"“{c}”" for c in homes[name])
    return (
        f"“{name}” would be cut from {wanted} now, and is cut from “{one.cloth}” already. It "
        "stays; cut it again from what is left, or undo the change.",
    )


# --- against the cloth and the rules --------------------------------------------------------------


def unkept(shapes: Sequence[Shape], pins: Sequence[Pinned], rules: Sequence[Rule]) -> list[Rule]:
    """Return the rules on cut shapes alone, where they lie, that they do not keep, by the judge.

    A pin of the plan is none for what is cut, wherever it says.
    """
    names = {p.shape for p in pins}
    alone = [r for r in rules if set(names_of(r)) <= names]
    problem = LayProblem(regions=(), shapes=tuple(shapes), rules=tuple(alone))
    missed = residuals(problem, _where(shapes, pins))
    return [r for r in alone if isinstance(r, Pinned) or missed[r.id] > KEPT_MM]


def _where(shapes: Sequence[Shape], pins: Sequence[Pinned]) -> Lay:
    at = {p.shape: p for p in pins}
    return Lay(placements=tuple(lie_pinned(s, at[s.id]) for s in shapes))


class ToldOfCut(NamedTuple):
    """What is wrong with what is cut: rules of the plan that it does not keep, and all else."""

    rules: tuple[Sentence, ...]
    others: tuple[Sentence, ...]


def told_of_cut(problem: LayProblem, rules: Sequence[Rule]) -> ToldOfCut:
    """Say which of these rules what is cut does not keep, and how it does not go with the cloth.

    What of it overlaps, or lies off the cloth or on a flaw as they are described now, is told. Of
    what one rule of the plan asks of several copies the worst is told.
    """
    pins = cut_of(problem)
    shapes = tuple(s for s in problem.shapes if s.id in pins)
    bare = replace(problem, shapes=shapes, rules=tuple(rules), gap=0.0)
    found = judge(bare, _where(shapes, tuple(pins.values())))
    by_rule: dict[str, Finding] = {}
    for each in found:
        by = asked_by(each.where.rule)
        if by.isdigit() and _missed(each) > _missed(by_rule.get(by)):
            by_rule[by] = each
    mine = [f for f in found if not asked_by(f.where.rule).isdigit()]
    return ToldOfCut(
        tuple(_unkept(bare, f) for f in by_rule.values()),
        tuple(dict.fromkeys(words for f in mine for words in _told(f))),
    )


def _missed(found: Finding | None) -> float:
    return (found.measured if found else None) or 0.0


def _unkept(problem: LayProblem, found: Finding) -> Sentence:
    rule = next(r for r in problem.rules if r.id == found.where.rule)
    by = f"” is not kept by “{found.where.point}”, which is cut: it is missed by "
    return joined("“", words_of(problem, rule), by, (MissedBy(_missed(found)), "."))


def _told(found: Finding) -> Iterator[Sentence]:
    words = found.words if str(found.words[-1]).endswith(".") else (*found.words, ".")
    if found.code in ("lay-off-cloth", "lay-keep-out"):
        lead = "What is cut does not go with the cloth as it is described now: "
        yield joined(lead, words, " Look at the cloth, and put right how it is described.")
    elif found.code == "lay-overlap":
        lead = "Two pieces cannot both be cut where they are ticked: "
        yield joined(lead, words, " Look at the cloth, and take the wrong tick back.")
    elif found.code == "lay-rule":
        lead = "What is cut does not lie as the print asks: "
        yield joined(lead, words, " It stays as it is.")
