"""A finding mended by its number: what mends it becomes a change of the list."""

from __future__ import annotations

from clothwright.errors import BadInput, CannotDo
from clothwright.words import listed
from clothwright.workroom.editing.edits.changes import AddChange
from clothwright.workroom.editing.opened import OpenBook
from clothwright.workroom.walking.alike import offered
from clothwright.workroom.walking.checking import findings_of


def take_mend(opened: OpenBook, number: int, *, other: bool = False) -> str:
    """Add the change that mends a finding, by its number, to the changes; return what it did.

    One step of the history. other: the other way, where there is one (`Mending.other`). Raises
    BadInput for a number that is not there, CannotDo where nothing was found, or no change mends
    it on these pieces.
    """
    at = opened.read()
    done = opened.replayed(at)
    found = findings_of(at.book, done)
    if not found:
        raise CannotDo(
            what="there is nothing to mend", why="the walk found nothing on these pieces"
        )
    if not 1 <= number <= len(found):
        known = f"a number from 1 to {len(found)}"
        raise BadInput(what=f"there is no finding {number}", expected=known)
    f = found[number - 1]
    mending = offered(f, at.book, done)
    if mending is None or mending.trouble:
        why = f"{mending.trouble} {mending.tried}".strip() if mending else "no one change mends it"
        rest = ((n, other) for n, other in enumerate(found, start=1) if other is not f)
        tried = ((n, offered(other, at.book, done)) for n, other in rest)
        others = [str(n) for n, it in tried if it and not it.trouble]
        nearest = f"to take {listed(others, 'or')}" if others else "to change the pieces yourself"
        raise CannotDo(what=f"finding {number} cannot be mended here", why=why, nearest=nearest)
    if other:
        if mending.other is None:
            why, nearest = "only one piece can have been changed", f"--mend {number} alone"
            raise CannotDo(what=f"finding {number} has one way only", why=why, nearest=nearest)
        mending = mending.other
    kind, params, why, alike = mending.change, mending.params, mending.why, mending.alike
    change = AddChange(kind=kind, params=params, why=why, alike=alike)
    return opened.edit(change, base=at.revision).words
