"""A change of the list follows what it names: pieces, edges, points, darts and seams.

A change before it may have renamed, divided or joined them, or would have made them and is switched
off. Where only one thing can be meant, it is done on that; else the sentence says which change it
was, what there is now, and what to try.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping
from typing import NamedTuple

from clothwright.changes.change import Outcome
from clothwright.changes.named import Now, Request
from clothwright.errors import BadInput, CannotDo, ClothwrightError, Sentence, joined
from clothwright.pattern.names import Ref, is_there
from clothwright.pattern.past import Done, History, Missing, made_below, missing_of
from clothwright.words import listed

MOST_TRIED = 8
"""How many ways of reading a list of pieces are tried."""


class Followed(NamedTuple):
    """A change by the names there are now. missing: what it named that is not there.

    refused: why it cannot be done, where it cannot.
    """

    asked: Request
    missing: tuple[Missing, ...] = ()
    refused: CannotDo | None = None


def done_following(asked: Request, history: Callable[[], History]) -> Outcome:
    """Do a change on what its names are called now.

    history: the changes before it, asked for only where a name is not there or it cannot be done.
    Raises what the change raises, and CannotDo: which change before it stands in its way.
    """
    found = followed(asked, history)
    if found.refused is not None:
        raise found.refused
    try:
        return found.asked.done()
    except ClothwrightError as error:
        refusal = _tried(asked, found, error) or _in_its_way(asked, history(), error)
        if refusal is None:
            raise
        raise refusal from error


def followed(asked: Request, history: Callable[[], History]) -> Followed:
    """Return a change with every name as it is called now.

    What was never there is left as it is, for the change itself to refuse.
    """
    gone = [r for r in asked.refs if not is_there(asked.pattern, r)]
    if not gone:
        return Followed(asked)
    past = history()
    found = {r: _missing(asked, r, past) for r in gone}
    missing = {r: m for r, m in found.items() if m is not None}
    now: dict[Ref, tuple[Ref, ...]] = {}
    unclear: dict[Ref, tuple[Ref, ...]] = {}
    refused: CannotDo | None = None
    for ref, lost in missing.items():
        left = _left(asked, missing, ref)
        if len(left) == 1 or (left and asked.means_all(ref)):
            now[ref] = left
        elif ref.kind == "piece" and left and not asked.of_sizes:
            unclear[ref] = left
        else:
            refused = refused or lost.refusal
    if unclear and refused is None:
        way = _only_way(asked, now, unclear)
        refused = None if way else missing[next(iter(unclear))].refusal
        now = way or now
    return Followed(asked.renamed(now), tuple(missing.values()), refused)


def _left(asked: Request, missing: Mapping[Ref, Missing], ref: Ref) -> tuple[Ref, ...]:
    """Return what a name can mean now: of several pieces those with the lines and points named."""
    left = missing[ref].now
    if ref.kind != "piece" or len(left) < 2:
        return left
    own = [m.now for r, m in missing.items() if r.kind == "point" and r.piece == asked.own_piece]
    return tuple(
        r
        for r in left
        if all(is_there(asked.pattern, Ref("line", r.piece, n)) for n in asked.lines)
        and all([p.piece for p in now] == [r.piece] for now in own)
    )


def _only_way(asked: Request, clear: Now, unclear: Now) -> dict[Ref, tuple[Ref, ...]] | None:
    """Return the one way of reading divided pieces by which a change can be done; None for several.

    clear: what other names are now; unclear: the parts that each piece may mean.
    """
    product = itertools.islice(itertools.product(*unclear.values()), MOST_TRIED + 1)
    ways = [{**clear, **{r: (w,) for r, w in zip(unclear, way, strict=True)}} for way in product]
    can = [w for w in ways if asked.renamed(w).can()]
    return can[0] if len(can) == 1 and len(ways) <= MOST_TRIED else None


def _missing(asked: Request, ref: Ref, past: History) -> Missing | None:
    return missing_of(asked.pattern, ref, past, asked.refs, asked.lines)


def awaited(asked: Request, past: History, coming: History) -> CannotDo | None:
    """Return why a change cannot be done that names what only a change below it makes.

    coming: the changes below it, as they were done without it. None where it names nothing such,
    or a change above it had to do with what is not there.
    """
    gone = [r for r in asked.refs if not is_there(asked.pattern, r)]
    if any(_missing(asked, r, past) for r in gone):
        return None
    found = (made_below(asked.pattern, ref, coming) for ref in gone)
    return next((f.refusal for f in found if f is not None), None)


# --- why it cannot be done ------------------------------------------------------------------------


def _tried(asked: Request, found: Followed, error: ClothwrightError) -> CannotDo | None:
    """Return why a change cannot be done on what it was followed to; None where it was not."""
    if not found.missing:
        return None
    was = {r.piece for r in asked.refs}
    parts = dict.fromkeys(r.piece for r in found.asked.refs if r.piece not in was)
    on = f"; it was tried on {listed(list(parts))}" if parts else ""
    return CannotDo(
        what="; ".join(dict.fromkeys(m.why for m in found.missing)) + on,
        why=_short(error),
        nearest=found.missing[0].nearest,
    )


def _short(error: ClothwrightError) -> Sentence:
    """Return what an error says is wrong, without what to try instead."""
    if isinstance(error, CannotDo):
        return joined(error.what, ": ", error.why)
    if isinstance(error, BadInput) and isinstance(error.what, str):
        return (error.what.partition(" Did you mean")[0],)
    return error.sentence()


def _in_its_way(asked: Request, past: History, error: ClothwrightError) -> CannotDo | None:
    """Return which change before stands in the way of one whose every name is there.

    It took a line or a point from a piece, altered a piece that another size is asked for, or
    divided a piece whose name one of the parts has kept. error: why the change cannot be done.
    """
    pieces = dict.fromkeys(r.piece for r in asked.refs if r.piece)
    for ref in (r for p in pieces for r in asked.of_each(p)):
        lost = None if is_there(asked.pattern, ref) else _missing(asked, ref, past)
        if lost is not None:
            return lost.refusal
    for step in past.done:
        nearest = f"to move this change before change {step.number}"
        for name in pieces:
            parts = _altered(step, name)
            if asked.of_sizes and parts:
                what = f'the size of "{name}" cannot be chosen here'
                why = f"{step.called} has changed it, and that would be lost"
                return CannotDo(what=what, why=why, nearest=nearest)
            if len(parts) > 1:
                what = f'{step.called} divided "{name}" into {listed(parts)}'
                return CannotDo(what=what, why=_short(error), nearest=nearest)
    return None


def _altered(step: Done, name: str) -> tuple[str, ...]:
    """Return what a change made of a piece that kept its name: itself, and parts cut from it."""
    old, new = ({p.name: p for p in at.pieces} for at in (step.before, step.after))
    if name not in old or name not in new or old[name] == new[name]:
        return ()
    places = (*step.after.trail.edges, *step.after.trail.points)
    to = {p for (of, _), now in places if of == name for p, _ in now}
    return tuple(p for p in new if p == name or (p in to and p not in old))
