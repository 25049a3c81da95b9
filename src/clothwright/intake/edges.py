"""Corners and edges of an outline: found, named by where they lie, given roles and allowances."""

from __future__ import annotations

from collections.abc import Sequence

from clothwright.errors import BadInput, did_you_mean
from clothwright.geometry.box import box_of_all
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.intake.answers import Answers
from clothwright.pattern.piece import Edge, Join, Role
from clothwright.units import Unit, is_count, parse_angle_deg, parse_length
from clothwright.words import counted

CORNER_DEG = 25.0
"""degrees: a bend sharper than this is proposed as a corner."""
DRAWN = "drawn"
"""The answer that the line inside the outline is the stitching line."""
SNAP_MM = 1.0
"""mm: a corner asked for this near to a joint of two lines is at the joint."""


def _bends(path: Path) -> list[tuple[float, int]]:
    """Return (bend in degrees, index of the segment after it) for every joint of a closed path."""
    s = path.segments
    return [
        (abs(turn_between_deg(s[i - 1].tangent(1.0), s[i].tangent(0.0))), i) for i in range(len(s))
    ]


def corner_starts(path: Path, least_deg: float) -> list[int]:
    """Return the numbers of the segments that begin at a corner (degrees) of a closed path."""
    return [i for bend, i in _bends(path) if bend >= least_deg]


def bends_of(path: Path) -> list[tuple[Vec, float]]:
    """Return the joints (mm) of a closed path with the degrees by which it bends there."""
    return [(path.segments[i].start, bend) for bend, i in _bends(path)]


def joints_of(path: Path, least_deg: float = 2.0) -> list[Vec]:
    """Return the points (mm) of a closed path where it bends at all: where a corner may be."""
    return [path.segments[i].start for i in corner_starts(path, least_deg)]


def parts_of(path: Path, corners: str, where: str) -> list[Path]:
    """Cut a closed path at its corners, starting at the lower left one.

    corners: how many, the least bend ("30 deg"), or where they are: "at 0,0; 120.5,300" (mm).
    Raises BadInput.
    """
    text = corners.strip().lower()
    if text.startswith("at "):
        return _rotated(_cut_at(path, _points(text, where)))
    bends = _bends(path)
    if is_count(text):
        count = int(text)
        if not 2 <= count <= len(bends):
            raise BadInput(
                where=f"{where}, --corners",
                what=f"{count} corners cannot be found on an outline of {len(bends)} lines",
                expected=f"2 to {len(bends)}",
            )
        sharp = sorted(sorted(bends, reverse=True)[:count], key=lambda b: b[1])
    else:
        least = parse_angle_deg(text, where="--corners") if text else CORNER_DEG
        sharp = [b for b in bends if b[0] >= least]
    if len(sharp) < 2:
        return _halves(path)
    at = [i for _, i in sharp]
    n = len(path.segments)
    out = []
    for a, b in zip(at, (*at[1:], at[0]), strict=True):
        out.append(Path(tuple(path.segments[j % n] for j in range(a, b if b > a else b + n))))
    return _rotated(out)


def _rotated(parts: list[Path]) -> list[Path]:
    """Return parts in the same order, beginning at the lower left corner."""
    k = min(range(len(parts)), key=lambda i: parts[i].start.x + parts[i].start.y)
    return parts[k:] + parts[:k]


def _points(text: str, where: str) -> list[Vec]:
    try:
        pairs = [[float(n) for n in p.split(",")] for p in text[3:].split(";") if p.strip()]
        points = [Vec(x, y) for x, y in pairs]
    except ValueError:
        points = []
    if len(points) < 2:
        raise BadInput(
            where=f"{where}, --corners",
            what=f'"{text[:60]}" does not say where two corners or more are',
            expected='places in millimetres, such as "at 0,0; 120.5,300"',
        )
    return points


def _cut_at(path: Path, points: Sequence[Vec]) -> list[Path]:
    """Cut a closed path at its points nearest to these; a joint is taken where one is near."""
    whole = path.length
    joints, run = [], 0.0
    for s in path.segments:
        joints.append(run)
        run += s.length
    joints.append(whole)
    ats = set()
    for p in points:
        at = path.nearest(p)[0]
        ats.add(min((*joints, at), key=lambda j: (abs(j - at) > SNAP_MM, j == at)) % whole)
    cuts = sorted(ats)
    kept = [at for k, at in enumerate(cuts) if k == 0 or at - cuts[k - 1] > SNAP_MM]
    if len(kept) < 2:
        return _halves(path)
    return [path.onward(a, b) for a, b in zip(kept, (*kept[1:], kept[0]), strict=True)]


def merged(parts: Sequence[Path], names: Sequence[str]) -> tuple[list[Path], list[str]]:
    """Join neighbours of the same name into one edge; the corner between them is no corner."""
    out: list[Path] = []
    kept: list[str] = []
    for part, name in zip(parts, names, strict=True):
        if kept and kept[-1] == name:
            out[-1] = out[-1].joined(part)
        else:
            out.append(part)
            kept.append(name)
    if len(kept) > 1 and kept[0] == kept[-1]:
        out[0] = out.pop().joined(out[0])
        kept.pop()
    return out, kept


def _halves(path: Path) -> list[Path]:
    """Cut a smooth outline at its lowest and its highest point."""
    points = path.flatten(0.05)
    low = path.nearest(min(points, key=lambda p: (p.y, p.x)))[0]
    high = path.nearest(max(points, key=lambda p: (p.y, p.x)))[0]
    first, second = sorted((low, high))
    if second - first < 1.0 or path.length - second + first < 1.0:
        first, second = 0.0, path.length / 2
    return [path.onward(first, second), path.onward(second, first)]


def names_of(parts: Sequence[Path], given: Sequence[str], where: str) -> list[str]:
    """Return the edges' names: as given, or by where they lie (top, left ...). Raises BadInput."""
    if given:
        names = [g.strip() for g in given]
        if len(names) != len(parts):
            lengths = [x for p in parts for x in (", ", p.length)][1:]
            raise BadInput(
                where=f"{where}, --edges",
                what=(
                    f"{counted(len(names), 'name')} for {counted(len(parts), 'edge')} "
                    "(counter-clockwise from the lower left corner: ",
                    *lengths,
                    ")",
                ),
                expected=f"{len(parts)} names (the same name twice running joins two edges), or "
                "--corners to find other corners",
            )
        return names
    box = box_of_all(p.bounds() for p in parts)
    names = []
    for part in parts:
        away = part.middle - box.middle
        x, y = away.x / max(box.size.x, 1e-9), away.y / max(box.size.y, 1e-9)
        side = ("right" if x > 0 else "left") if abs(x) > abs(y) else ("top" if y > 0 else "bottom")
        names.append(side)
    return told_apart(names)


def told_apart(names: Sequence[str]) -> list[str]:
    """Return names with a number behind each that stands more than once.

    >>> told_apart(["left", "top", "left"])
    ['left 1', 'top', 'left 2']
    """
    return [
        n if names.count(n) == 1 else f"{n} {names[: k + 1].count(n)}" for k, n in enumerate(names)
    ]


def edges_of(
    parts: Sequence[Path],
    names: Sequence[str],
    answers: Answers,
    unit: Unit,
    where: str,
    *,
    drawn: Sequence[float] = (),
) -> tuple[Edge, ...]:
    """Return the edges with their roles, allowances and joins. Raises BadInput.

    drawn: the allowance of each edge as drawn, mm; used when the answer is "drawn".
    """
    if answers.allowance.strip().lower() == DRAWN:
        widths = dict(zip(names, drawn, strict=True))
    else:
        widths = _allowances(answers, names, unit, where)
    fold = answers.fold if answers.fold.strip().lower() != "none" else ""
    if fold and fold not in names:
        raise BadInput(
            where=f"{where}, --fold",
            what=f'there is no edge "{fold}".{did_you_mean(fold, list(names))}',
            expected="one of " + ", ".join(names) + ", or none",
        )
    roles = [_role(n, fold) for n in names]
    hems = [r is Role.HEM for r in roles]
    return tuple(
        Edge(
            name=n,
            path=p,
            role=r,
            allowance=0.0 if r is Role.FOLD else widths[n],
            join=Join.FOLDED if hems[k] != hems[k - 1] else Join.EXTENDED,
        )
        for k, (n, p, r) in enumerate(zip(names, parts, roles, strict=True))
    )


def _role(name: str, fold: str) -> Role:
    if name == fold:
        return Role.FOLD
    return Role.HEM if "hem" in name.lower().split() else Role.SEAM


def _allowances(answers: Answers, names: Sequence[str], unit: Unit, where: str) -> dict[str, float]:
    """Read "5/8 in" or "5/8 in, hem=2 in" into mm an edge."""
    included = answers.allowance.strip().lower() != "none"
    text = answers.allowance if included else (answers.add or "0 mm")
    option = "--allowance" if included else "--add"
    first, *others = [t.strip() for t in text.split(", ")]
    every = parse_length(first, unit=unit, where=option, least_mm=0.0)
    widths = dict.fromkeys(names, every)
    for other in others:
        edge, equals, amount = (t.strip() for t in other.partition("="))
        if not equals or edge not in widths:
            raise BadInput(
                where=f"{where}, {option}",
                what=f'"{other}" names no edge of this outline.{did_you_mean(edge, list(names))}',
                expected="EDGE=LENGTH with one of " + ", ".join(names),
            )
        widths[edge] = parse_length(amount, unit=unit, where=option, least_mm=0.0)
    return widths
