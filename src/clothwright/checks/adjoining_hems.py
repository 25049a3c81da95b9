"""Are hems that run on from piece to piece equally deep?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.weigh import each, length_band
from clothwright.pattern.beside import Across, Beside, sewn_flat
from clothwright.pattern.finding import Finding, Mend, Severity, Where
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Join, Role
from clothwright.words import Sentence, counted, edge_name, listed

ID = "adjoining-hems"

_CORNERS = {Join.FOLDED: "folded", Join.SQUARED_BEFORE: "squared", Join.SQUARED_AFTER: "squared"}


class Member(NamedTuple):
    """One edge of a line that runs on over seams. seams: which join it to which of the others."""

    piece: str
    edge: Edge
    seams: tuple[tuple[str, str], ...]

    def beside(self, usual: list[Member]) -> tuple[str, Member]:
        """Return a seam of it, and who is as deep as usual, beyond that seam if anyone is."""
        at = {m.piece: m for m in usual}
        return next(((s, at[p]) for s, p in self.seams if p in at), (self.seams[0][0], usual[0]))


def adjoining_hems(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Compare the depths of the hems, and of other free edges, that are one line when sewn."""
    met: list[tuple[Seam, Across]] = []
    beside = Beside(pattern)

    def look(seam: Seam) -> Iterator[Finding]:
        met.extend((seam, across) for across in _free(beside, seam))
        yield from ()

    yield from each(ID, sewn_flat(pattern), lambda s: Where(seam=s.name), look)
    for line in _lines(met):
        yield from _line(line, settings)
    for seam in (s for s in pattern.seams if s.kind == "facing"):
        yield from _facing(beside, seam, settings)


def _facing(beside: Beside, seam: Seam, settings: CheckSettings) -> Iterator[Finding]:
    """Compare the hem of a facing with the hem that it is turned up with: a notice at the most."""
    for across in beside.lines_across(seam):
        ways = (across.a, across.b), (across.b, across.a)
        shallow, deep = sorted(
            (Member(c.tip.piece, c.beside, ((seam.name, o.tip.piece),)) for c, o in ways),
            key=lambda m: m.edge.allowance,
        )
        hems = all(m.edge.role is Role.HEM for m in (shallow, deep))
        if hems and length_band(deep.edge.allowance - shallow.edge.allowance, settings):
            yield Finding(
                code="facing-hem-differs",
                severity=Severity.NOTICE,
                where=Where(seam=seam.name, piece=shallow.piece, edge=shallow.edge.name),
                measured=shallow.edge.allowance,
                expected=deep.edge.allowance,
                unit="mm",
                words=_facing_words(shallow, deep),
                mend=_mend(deep, [shallow], deep.edge.allowance, hems=True),
            )


def _facing_words(shallow: Member, deep: Member) -> Sentence:
    first, second = (edge_name(m.piece, m.edge.name) for m in (shallow, deep))
    return (
        f"{first} is turned up ", shallow.edge.allowance, f", {second} beside it ",
        deep.edge.allowance, ": where they are turned up together they would not end level.",
    )  # fmt: skip


def lines_of(pattern: Pattern) -> tuple[tuple[Member, ...], ...]:
    """Return the free lines (hems, bound and raw edges) that run on over seams."""
    beside = Beside(pattern)
    met = [(s, across) for s in sewn_flat(pattern) for across in _free(beside, s)]
    return tuple(_lines(met))


def _free(beside: Beside, seam: Seam) -> Iterator[Across]:
    """Edges that are sewn to something are compared with what they are sewn to, elsewhere."""
    for across in beside.lines_across(seam):
        if not beside.is_sewn(across.a) and not beside.is_sewn(across.b):
            yield across


def _lines(met: list[tuple[Seam, Across]]) -> Iterator[tuple[Member, ...]]:
    """Yield the edges in sets that run on from one to the next."""
    groups: list[dict[tuple[str, str], Member]] = []
    for seam, across in met:
        ways = (across.a, across.b), (across.b, across.a)
        mine = {
            (c.tip.piece, c.tip.edge): Member(
                c.tip.piece, c.beside, ((seam.name, other.tip.piece),)
            )
            for c, other in ways
        }
        for group in [g for g in groups if g.keys() & mine.keys()]:
            groups.remove(group)
            shared = {
                k: m._replace(seams=(*m.seams, *mine[k].seams))
                for k, m in group.items()
                if k in mine
            }
            mine = {**mine, **group, **shared}
        groups.append(mine)
    yield from (tuple(g.values()) for g in groups if len(g) > 1)


def _line(line: tuple[Member, ...], settings: CheckSettings) -> Iterator[Finding]:
    depths = Counter(round(m.edge.allowance, 2) for m in line)
    usual = max(depths, key=lambda d: (depths[d], d))
    odd = [m for m in line if length_band(m.edge.allowance - usual, settings)]
    if not odd:
        return
    worst = max(odd, key=lambda m: abs(m.edge.allowance - usual))
    seam, like = worst.beside([m for m in line if abs(m.edge.allowance - usual) < 0.01])
    hems = like.edge.role is Role.HEM and all(m.edge.role is Role.HEM for m in odd)
    yield Finding(
        code="hem-depths-differ" if hems else "free-allowances-differ",
        severity=length_band(worst.edge.allowance - usual, settings) or Severity.NOTICE,
        where=Where(seam=seam, piece=worst.piece, edge=worst.edge.name),
        measured=worst.edge.allowance,
        expected=usual,
        unit="mm",
        words=_words(worst, like, odd, seam, hems=hems),
        mend=_mend(like, odd, usual, hems=hems),
    )


def _words(worst: Member, like: Member, odd: list[Member], seam: str, *, hems: bool) -> Sentence:
    first, second = (edge_name(m.piece, m.edge.name) for m in (worst, like))
    others = [m.piece for m in odd if m is not worst]
    also = f" (so do {listed(others)})" if others else ""
    if hems:
        return (
            f"{first} is turned up ", worst.edge.allowance, f", {second} beside it ",
            like.edge.allowance, f'{also}: the hem would step at seam "{seam}".',
        )  # fmt: skip
    return (
        f"{first} has an allowance of ", worst.edge.allowance, f", {second} beside it of ",
        like.edge.allowance, f'{also}: the cut edges would not run on over seam "{seam}".',
    )  # fmt: skip


def _mend(like: Member, odd: list[Member], usual: float, *, hems: bool) -> Mend:
    edges = tuple(f"{m.piece}.{m.edge.name}" for m in odd)
    if not hems:
        return Mend(change="set-allowance", params={"edges": edges, "amount": usual})
    corners = _CORNERS.get(like.edge.join, "extended")
    return Mend(change="set-hem", params={"edges": edges, "depth": usual, "corners": corners})


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count the lines that run on from piece to piece."""
    del settings
    lines = len(lines_of(pattern))
    return LookedAt(
        lines, counted(lines, "hem or free edge over a seam", "hems and free edges over seams")
    )


CHECK = Check(
    id=ID,
    title="Are hems that run on from piece to piece equally deep?",
    why="A hem changed on one of two pieces that are sewn beside each other leaves a step in the "
    "cut edge, and one half turned up deeper than the other.",
    source="Common practice; bands as for seam lengths. Depths: docs/sources.md, hem depths.",
    codes=("hem-depths-differ", "facing-hem-differs", "free-allowances-differ", f"{ID}-skipped"),
    run=adjoining_hems,
    looked=looked,
)
