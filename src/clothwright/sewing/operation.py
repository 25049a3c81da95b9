"""What an operation of sewing is: a kind of work, and its steps for a pattern."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from clothwright.errors import Sentence
from clothwright.pattern.fullness import difference, fuller, fullness_to_do
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.words import listed

SIDES = frozenset({"inner", "outer", "upper", "lower", "top", "bottom", "left", "right"})
"""Names of edges that say only which edge it is; "edge" is said after them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SewStep:
    """One step of the work.

    key: its lasting name for a tick, never shown. words: what is done, a sentence. more: what to
    mind at it, sentences. Floats in both are lengths in mm (`words.say`).
    """

    key: str
    words: Sentence
    more: Sentence = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation:
    """One kind of work. id: kebab-case. steps: what is to be done of it for a pattern, in order.

    sews: the kind of seam it sews, as `Seam.kind`; "" for none.
    """

    id: str
    steps: Callable[[Pattern], Iterator[SewStep]]
    sews: str = ""


def seams_of(kind: str, said: Callable[[Seam], Sentence]) -> Callable[[Pattern], Iterator[SewStep]]:
    """Return the steps of the seams of one kind, as listed in the pattern.

    kind: as `Seam.kind`. said: what is done at a seam, a sentence.
    """

    def steps(pattern: Pattern) -> Iterator[SewStep]:
        for seam in (s for s in pattern.seams if s.kind == kind):
            more = (*_allowances(pattern, seam), *_ease(pattern, seam))
            yield SewStep(key=f"sew seam {seam.name}", words=said(seam), more=more)

    return steps


def side(refs: Sequence[EdgeRef]) -> str:
    """Return one side of a seam in words, each piece named once.

    >>> side((EdgeRef("front", "shoulder"), EdgeRef("lining front", "inner")))
    'front (shoulder) and lining front (inner edge)'
    >>> side((EdgeRef("front", "neck"), EdgeRef("front", "front edge")))
    'front (neck and front edge)'
    """
    pieces = dict.fromkeys(r.piece for r in refs)
    edges = {p: listed([edge_words(r.edge) for r in refs if r.piece == p]) for p in pieces}
    return listed([f"{p} ({names})" for p, names in edges.items()])


def edge_words(edge: str) -> str:
    """Return an edge's name so that it can stand alone: "inner" becomes "inner edge"."""
    return f"{edge} edge" if edge in SIDES else edge


def _ease(pattern: Pattern, seam: Seam) -> Sentence:
    """Say by how much a side differs on purpose, and how it is brought to length, and where."""
    to_do = fullness_to_do(pattern, seam)
    return (f" The {side(fuller(seam))} is ", *difference(seam), ": ", *to_do, ".") if to_do else ()


def _allowances(pattern: Pattern, seam: Seam) -> Sentence:
    """Say the seam allowance of a seam, once where both sides have the same."""
    one, two = (
        [round(pattern.piece(r.piece).edge(r.edge).allowance, 3) for r in refs]
        for refs in (seam.a, seam.b)
    )
    sizes = sorted({*one, *two})
    if len(sizes) == 1:
        return ("Seam allowance ", sizes[0], ".")
    if len(set(one)) == len(set(two)) == 1:
        words = (f" on {side(seam.a)}, ", two[0], f" on {side(seam.b)}.")
        return ("Seam allowance ", one[0], *words)
    out: list[str | float] = ["The seam allowances differ: ", sizes[0]]
    for size in sizes[1:]:
        out += [", ", size]
    return (*out, ".")
