"""What became of a name that is not there: which change took it, or would have made it.

Changes of the list, placing rules and the borders that the walk looks at follow by this alone.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from clothwright.errors import CannotDo
from clothwright.pattern.names import Ref, is_there, known_by, later
from clothwright.words import listed, within

if TYPE_CHECKING:
    from clothwright.pattern.pattern import Pattern


class Done(NamedTuple):
    """A change of the list, and the pieces before and after it. off: it is switched off."""

    number: int
    title: str
    before: Pattern
    after: Pattern
    off: bool = False

    @property
    def called(self) -> str:
        """Its number and title."""
        return f"change {self.number} ({within(self.title)})"


class History(NamedTuple):
    """Changes of the list. done: as they were done; whole: with those switched off done too."""

    done: tuple[Done, ...] = ()
    whole: tuple[Done, ...] = ()


NO_PAST = History()
"""Of pieces of which nobody needs to know what they were."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """A name that is not there, and what it may be now. why: what became of it.

    ways: what to try where that is not one thing; move: for a change, where to put it, "" for
    nowhere else.
    """

    ref: Ref
    now: tuple[Ref, ...]
    why: str
    ways: tuple[str, ...]
    move: str = ""

    @property
    def words(self) -> str:
        """What is the matter with it."""
        several = f"is not one {self.ref.kind} any more"
        return f"{self.ref.words} {several if len(self.now) > 1 else 'is not there'}"

    @property
    def nearest(self) -> str:
        """What a change that names it can try."""
        return ", or ".join((*((self.move,) if self.move else ()), *self.ways))

    @property
    def refusal(self) -> CannotDo:
        """Why a change that names it cannot be done."""
        return CannotDo(what=self.words, why=self.why, nearest=self.nearest)


def called_now(pattern: Pattern, ref: Ref, named: Collection[Ref] = ()) -> tuple[Ref, ...]:
    """Return what a name of the pieces as bought, or as changed once, is called now.

    Forward through what changes renamed, divided or joined; back to the whole of what a change
    would make that is not done, where one thing can be meant. A name that never was stays.
    named: all that is named together with it.
    """
    if is_there(pattern, ref):
        return (ref,)
    found = tuple(later(pattern.trail, ref))
    if any(is_there(pattern, r) for r in found):
        return found
    lost = missing_of(pattern, ref, pattern.past, (*named, ref))
    return lost.now if lost is not None and lost.now else found


def missing_of(
    pattern: Pattern,
    ref: Ref,
    past: History,
    named: Collection[Ref],
    lines: Collection[str] = (),
) -> Missing | None:
    """Return what became of a name that is not there; None for one that never was.

    named: all that is named together with it, itself too. lines: those it has to have.
    """
    took = _last(past.done, lambda d: is_there(d.before, ref) and not is_there(d.after, ref))
    if took is not None:
        now = (r for r in later(pattern.trail, ref) if is_there(pattern, r))
        return _taken(pattern, ref, tuple(now), took)
    makes = _last(past.whole, lambda d: _makes(d, ref))
    if makes is None:
        return None
    return _unmade(pattern, ref, _earlier(pattern, ref, past.whole[-1].after, named, lines), makes)


def _last(steps: Sequence[Done], did: Callable[[Done], bool]) -> Done | None:
    return next((d for d in reversed(steps) if did(d)), None)


def _makes(step: Done, ref: Ref) -> bool:
    return is_there(step.after, ref) and not is_there(step.before, ref)


def _earlier(
    pattern: Pattern,
    ref: Ref,
    whole: Pattern,
    named: Collection[Ref],
    lines: Collection[str],
) -> tuple[Ref, ...]:
    """Return what a name would have been made from, where that is one thing as a whole.

    whole: the pieces if nothing were switched off. What was to be divided is meant as a whole when
    every part of it is named, or when the line asked for would lie on this part alone.
    """
    for before in known_by(whole.trail):
        if before.kind != ref.kind or not is_there(pattern, before):
            continue
        parts = tuple(later(whole.trail, before))
        lined = lines if ref.kind == "piece" else ()
        on = [p for p in parts if all(is_there(whole, Ref("line", p.piece, n)) for n in lined)]
        if ref in parts and (set(parts) <= set(named) or (lined and on == [ref])):
            return (before,)
    return ()


def _taken(pattern: Pattern, ref: Ref, now: tuple[Ref, ...], by: Done) -> Missing:
    """Say what became of a name that a change has taken away."""
    parts = [n for n in pattern.trail.piece(ref.piece) if is_there(pattern, Ref("piece", n, ""))]
    gone = bool(ref.piece) and not is_there(pattern, Ref("piece", ref.piece, ""))
    if gone and len(parts) > 1:
        why = f'{by.called} divided "{ref.piece}" into {listed(parts)}'
    elif gone and parts:
        why = f'{by.called} made "{parts[0]}" of "{ref.piece}"'
    elif now:
        why = f"{by.called} made it {listed([r.words for r in now])}"
    else:
        why = f"{by.called} took it away"
    one = "one of them" if len(parts) > 1 or len(now) > 1 else f"another {ref.kind}"
    move = f"to move this change before change {by.number}"
    return Missing(ref=ref, now=now, why=why, ways=(f"to name {one} here",), move=move)


def made_below(pattern: Pattern, ref: Ref, coming: History) -> Missing | None:
    """Return which change of those that come makes what is not there; None where none does."""
    makes = next((d for steps in coming for d in steps if _makes(d, ref)), None)
    if makes is None:
        return None
    off = "would make it, stands below this one and is switched off"
    state = off if makes.off else "makes it, and stands below this one"
    move = f"to move this change below change {makes.number}"
    move += f" and to switch change {makes.number} on" if makes.off else ""
    ways = (_whole_named(pattern, ref, makes),)
    return Missing(ref=ref, now=(), why=f"{makes.called} {state}", ways=ways, move=move)


def _unmade(pattern: Pattern, ref: Ref, now: tuple[Ref, ...], by: Done) -> Missing:
    """Say why a name is not there that a change before would have made."""
    state = "is switched off" if by.off else "could not be done"
    on = (f"to switch change {by.number} on",) if by.off else ()
    ways = (*on, _whole_named(pattern, ref, by))
    return Missing(ref=ref, now=now, why=f"{by.called} would make it and {state}", ways=ways)


def _whole_named(pattern: Pattern, ref: Ref, by: Done) -> str:
    """Say that the piece it is made from can be named, or another where that is not there."""
    trail = by.after.trail
    made_from = [p for p, parts in trail.pieces if ref.piece in parts]
    made_from += [p for (p, _), parts in trail.edges if ref.piece in (n for n, _ in parts)]
    whole = next((p for p in made_from if is_there(pattern, Ref("piece", p, ""))), None)
    return f'to name "{whole}" here' if whole else f"to name another {ref.kind} here"
