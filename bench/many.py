"""The demo outfit several times over, each under its own names, with its own list of changes."""

from __future__ import annotations

import re
from dataclasses import replace

from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.workbook import Step, Workbook


def many(outfits: int, steps: int = 0) -> Workbook:
    """Return a workbook of so many outfits of eleven pieces, and the first `steps` changes of all.

    The changes go round the outfits: the first of each, then the second of each.
    """
    book = coat_and_skirt()
    tags = ["" if k == 0 else f" {k + 1}" for k in range(outfits)]
    pieces = tuple(replace(p, name=p.name + tag) for tag in tags for p in book.bought.pieces)
    seams = tuple(_seam(s, tag) for tag in tags for s in book.bought.seams)
    listed = tuple(_step(s, tag, book.bought) for s in book.steps for tag in tags)
    return replace(book, bought=Pattern(pieces=pieces, seams=seams), steps=listed[:steps], plans=())


def _seam(seam: Seam, tag: str) -> Seam:
    a, b = (
        tuple(EdgeRef(r.piece + tag, r.edge, r.reversed) for r in run) for run in (seam.a, seam.b)
    )
    return replace(seam, name=seam.name + tag, a=a, b=b)


def _step(step: Step, tag: str, pattern: Pattern) -> Step:
    """Return a step that means the pieces, and the seam, of one outfit."""
    names = "|".join(sorted((re.escape(p.name) for p in pattern.pieces), key=len, reverse=True))
    params: dict[str, object] = {}
    for key, value in step.params.items():
        text = re.sub(rf"\b({names})(?=\.|,|$)", rf"\1{tag}", str(value))
        params[key] = f"{value}{tag}" if key == "seam" else text
    return replace(step, params=params)
