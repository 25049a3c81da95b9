"""From lines to pieces: closed outlines, corners, edges; the unknown is asked, not guessed."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from clothwright.errors import BadInput, did_you_mean
from clothwright.geometry.path import Path
from clothwright.geometry.region import contains, is_simple, polygon_area
from clothwright.geometry.transform import scaling
from clothwright.geometry.vec import Vec, turn_between_deg, unit_at
from clothwright.intake.drawing import Drawing, DrawnLine
from clothwright.pattern.derive import piece_from_cutting
from clothwright.pattern.piece import Cut, Edge, Grain, Join, Piece, Role
from clothwright.units import Unit, parse_angle_deg, parse_length, show_length

JOIN_MM = 0.5
"""mm: ends of open lines nearer than this are taken to meet."""
SMALL_MM2 = 400.0
"""mm2: closed lines with less area (marks, holes, letters) are no pieces."""
CORNER_DEG = 25.0
"""degrees: a bend sharper than this is proposed as a corner."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """What the maker has answered; empty = not answered. Texts as typed on the command line.

    allowance: "none" (the outline is the stitching line), or what the outline includes: "5/8 in",
        or "5/8 in, hem=2 in" with edges of their own.
    scale: "10 cm is 3.94" (a length in the world is so many of the drawing's units), or what one
        unit of the drawing is ("mm", "1/72 in").
    corners: number of corners ("5") or the least bend ("30 deg"). grain: "up" or degrees.
    edges: names in order, counter-clockwise from the lower left corner. add: allowance to add to a
        stitching line. cut: "shell pair", "lining fold", with commas for more.
    """

    name: str = ""
    allowance: str = ""
    add: str = ""
    scale: str = ""
    corners: str = ""
    edges: tuple[str, ...] = ()
    fold: str = ""
    grain: str = ""
    cut: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """Pieces made of a drawing, and what was proposed or left out, in words."""

    pieces: tuple[Piece, ...]
    notes: tuple[str, ...] = field(default=())


def propose(drawing: Drawing, answers: Answers, *, unit: Unit) -> Draft:
    """Return the pieces of a drawing. Raises BadInput that names the option to answer with."""
    factor = _scale(drawing, answers, unit)
    lines = [
        DrawnLine(path=x.path.transformed(scaling(factor)), closed=x.closed, label=x.label)
        for x in drawing.lines
    ]
    found, notes = outlines(lines)
    if not found:
        raise BadInput(
            where=drawing.name,
            what=f"there is no closed outline among its {len(lines)} lines",
            expected="a closed line round each piece",
            try_="joining the ends of the outline in the drawing",
        )
    if not answers.allowance:
        low, high = found[0].path.bounds()
        size = high - low
        raise BadInput(
            where=drawing.name,
            what="it does not say whether the outline includes the seam allowance "
            f"(the first piece is {show_length(size.x, unit)} wide and "
            f"{show_length(size.y, unit)} high)",
            expected='--allowance "5/8 in" when it is included, or --allowance none',
        )
    if answers.edges and len(found) > 1 and not answers.name:
        notes.append("the same edge names were given to every outline")
    pieces = tuple(
        _piece(
            line,
            _name(line, k, len(found), answers),
            answers,
            unit=unit,
            file=drawing.name,
            notes=notes,
        )
        for k, line in enumerate(found, start=1)
    )
    return Draft(pieces=pieces, notes=(*drawing.notes, *notes))


def _scale(drawing: Drawing, answers: Answers, unit: Unit) -> float:
    """Return mm for one unit of the drawing."""
    if not answers.scale:
        if drawing.scale_known:
            return 1.0
        raise BadInput(
            where=drawing.name,
            what="the drawing names no physical size (its width and height have no unit)",
            expected='--scale mm (or cm, in, "1/72 in") for the unit it was drawn in, or --scale '
            '"10 cm is 378" for a measured length',
        )
    known = re.fullmatch(r"\s*(.+?)\s+is\s+(.+?)\s*", answers.scale)
    if known:
        real = parse_length(known.group(1), unit=unit, where="--scale", least_mm=1e-6)
        drawn = parse_length(known.group(2), unit=Unit.mm, where="--scale", least_mm=1e-6)
        return real / drawn
    one = answers.scale if answers.scale.strip()[:1].isdigit() else f"1 {answers.scale}"
    return parse_length(one, unit=unit, where="--scale", least_mm=1e-6)


def outlines(lines: Sequence[DrawnLine]) -> tuple[list[DrawnLine], list[str]]:
    """Return the closed outlines that may be pieces, the largest first, and what was left out.

    Open lines whose ends meet are joined. Small closed lines and those inside another are left
    out and told. All run counter-clockwise.
    """
    closed = [x for x in lines if x.closed]
    joined, loose = _chains([x for x in lines if not x.closed])
    notes = [f"{len(joined)} outlines were joined from open lines"] if joined else []
    if loose:
        notes.append(f"{loose} open lines were left out")
    sized = [(abs(polygon_area(_ring(x.path))), x) for x in (*closed, *joined)]
    small = sum(1 for area, _ in sized if area < SMALL_MM2)
    if small:
        notes.append(f"{small} closed lines too small for a piece were left out")
    big = sorted(((a, x) for a, x in sized if a >= SMALL_MM2), key=lambda ax: -ax[0])
    kept: list[DrawnLine] = []
    inside = 0
    for _, line in big:
        if any(contains(_ring(k.path), _ring(line.path), tol=0.01) for k in kept):
            inside += 1
        else:
            kept.append(_turned(line))
    if inside:
        notes.append(f"{inside} closed lines inside another outline were left out")
    return kept, notes


def _ring(path: Path) -> list[tuple[float, float]]:
    points = [(p.x, p.y) for p in path.flatten(0.1)]
    return points[:-1] if Vec(*points[0]).distance(points[-1]) < 1e-6 else points


def _turned(line: DrawnLine) -> DrawnLine:
    path = line.path
    if path.start.distance(path.end) > 1e-9:
        path = path.with_ends(end=path.start)
    if polygon_area(_ring(path)) < 0:
        path = path.reversed()
    return DrawnLine(path=path, closed=True, label=line.label)


def _chains(open_lines: Sequence[DrawnLine]) -> tuple[list[DrawnLine], int]:
    """Join open lines end to end; return the closed chains and how many lines stayed loose."""
    rest = list(open_lines)
    made: list[DrawnLine] = []
    loose = 0
    while rest:
        chain = [rest.pop(0)]
        grown = True
        path = chain[0].path
        while grown and path.start.distance(path.end) > JOIN_MM:
            grown = False
            for k, other in enumerate(rest):
                for candidate in (other.path, other.path.reversed()):
                    if path.end.distance(candidate.start) <= JOIN_MM:
                        path = path.joined(candidate.with_ends(start=path.end))
                        chain.append(rest.pop(k))
                        grown = True
                        break
                if grown:
                    break
        if path.start.distance(path.end) <= JOIN_MM and len(path.segments) > 1:
            label = next((c.label for c in chain if c.label), "")
            made.append(DrawnLine(path=path.with_ends(end=path.start), closed=True, label=label))
        else:
            loose += len(chain)
    return made, loose


def _name(line: DrawnLine, number: int, count: int, answers: Answers) -> str:
    """Return a piece's name: as answered, else the line's own label, else a number."""
    if answers.name:
        return answers.name if count == 1 else f"{answers.name} {number}"
    return line.label.replace(".", " ") or f"piece {number}"


def _piece(
    line: DrawnLine, name: str, answers: Answers, *, unit: Unit, file: str, notes: list[str]
) -> Piece:
    where = f'{file}, outline "{name}"'
    if not is_simple(_ring(line.path)):
        raise BadInput(
            where=where,
            what="the outline crosses or touches itself",
            expected="a line that goes once round the piece",
        )
    parts = _parts(line.path, answers.corners, where)
    names = _names(parts, answers.edges, where)
    if not answers.edges:
        notes.append(f'"{name}": edges proposed as ' + ", ".join(names))
    edges = _edges(parts, names, answers, unit, where)
    grain = _grain(line.path, answers.grain)
    if not answers.grain:
        notes.append(f'"{name}": grain taken as up the page (--grain DEGREES for another)')
    cuts = _cuts(answers.cut, folded=bool(answers.fold))
    if answers.allowance.strip().lower() == "none":
        return Piece(name=name, edges=edges, grain=grain, cuts=cuts)
    return piece_from_cutting(name, edges, grain=grain, cuts=cuts)


def _bends(path: Path) -> list[tuple[float, int]]:
    """Return (bend in degrees, index of the segment after it) for every joint of a closed path."""
    s = path.segments
    return [
        (abs(turn_between_deg(s[i - 1].tangent(1.0), s[i].tangent(0.0))), i) for i in range(len(s))
    ]


def _parts(path: Path, corners: str, where: str) -> list[Path]:
    """Cut a closed path at its corners, starting at the lower left one."""
    bends = _bends(path)
    text = corners.strip().lower()
    if re.fullmatch(r"\d+", text):
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
    lower_left = min(at, key=lambda i: path.segments[i].start.x + path.segments[i].start.y)
    k = at.index(lower_left)
    at = at[k:] + at[:k]
    n = len(path.segments)
    out = []
    for a, b in zip(at, (*at[1:], at[0]), strict=True):
        out.append(Path(tuple(path.segments[j % n] for j in range(a, b if b > a else b + n))))
    return out


def _halves(path: Path) -> list[Path]:
    """Cut a smooth outline at its lowest and its highest point."""
    points = path.flatten(0.05)
    low = path.nearest(min(points, key=lambda p: (p.y, p.x)))[0]
    high = path.nearest(max(points, key=lambda p: (p.y, p.x)))[0]
    first, second = sorted((low, high))
    if second - first < 1.0 or path.length - second + first < 1.0:
        first, second = 0.0, path.length / 2
    one = path.between(first, second)
    rest = [p for p in ((second, path.length), (0.0, first)) if p[1] - p[0] > 1e-6]
    two = path.between(*rest[0])
    return [one, two.joined(path.between(*rest[1])) if len(rest) > 1 else two]


def _names(parts: Sequence[Path], given: Sequence[str], where: str) -> list[str]:
    if given:
        names = [g.strip() for g in given]
        if len(names) != len(parts):
            lengths = ", ".join(f"{p.length:.0f} mm" for p in parts)
            raise BadInput(
                where=f"{where}, --edges",
                what=f"{len(names)} names were given for {len(parts)} edges "
                f"(counter-clockwise from the lower left corner: {lengths})",
                expected=f"{len(parts)} names, or --corners to find other corners",
            )
        return names
    low = Vec(min(p.bounds()[0].x for p in parts), min(p.bounds()[0].y for p in parts))
    high = Vec(max(p.bounds()[1].x for p in parts), max(p.bounds()[1].y for p in parts))
    middle = (low + high) / 2
    names = []
    for part in parts:
        away = part.point_at(part.length / 2) - middle
        x, y = away.x / max(high.x - low.x, 1e-9), away.y / max(high.y - low.y, 1e-9)
        side = ("right" if x > 0 else "left") if abs(x) > abs(y) else ("top" if y > 0 else "bottom")
        names.append(side)
    return [
        n if names.count(n) == 1 else f"{n} {names[: k + 1].count(n)}" for k, n in enumerate(names)
    ]


def _edges(
    parts: Sequence[Path], names: Sequence[str], answers: Answers, unit: Unit, where: str
) -> tuple[Edge, ...]:
    widths = _allowances(answers, names, unit, where)
    if answers.fold and answers.fold not in names:
        raise BadInput(
            where=f"{where}, --fold",
            what=f'there is no edge "{answers.fold}".{did_you_mean(answers.fold, list(names))}',
            expected="one of " + ", ".join(names),
        )
    roles = [_role(n, answers.fold) for n in names]
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


def _grain(path: Path, text: str) -> Grain:
    """Return a grain line through the middle of the outline, half as long as it is high."""
    plain = text.strip().lower()
    angle = 90.0 if plain in ("", "up") else parse_angle_deg(text, where="--grain")
    low, high = path.bounds()
    middle, u = (low + high) / 2, unit_at(angle)
    reach = max(abs(u.x) * (high.x - low.x), abs(u.y) * (high.y - low.y)) / 4
    return Grain(start=middle - u * reach, end=middle + u * reach)


def _cuts(text: str, *, folded: bool) -> tuple[Cut, ...]:
    if not text.strip():
        return (Cut(how="fold" if folded else "once"),)
    cuts = []
    for part in text.split(","):
        words = part.split()
        count = int(words.pop()) if words and words[-1].isdigit() else 1
        how = words.pop() if words and words[-1] in ("once", "pair", "fold") else ""
        if not how or not words or not 0 < count < 100:
            raise BadInput(
                where="--cut",
                what=f'"{part.strip()}" does not say how to cut',
                expected='MATERIAL and once, pair or fold, for example "shell pair, lining pair"',
            )
        cuts.append(Cut(material=" ".join(words), how=how, count=count))
    return tuple(cuts)
