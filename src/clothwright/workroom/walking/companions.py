"""What goes with a piece follows it: the same change there, and what is sewn to that follows on."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from clothwright.changes.alike import asked_alike
from clothwright.errors import ClothwrightError
from clothwright.pattern.companions import LAID, companions
from clothwright.pattern.finding import Finding
from clothwright.pattern.pattern import Companion, Pattern, Seam
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.workbook import change_of
from clothwright.workroom.editing.mending import Mending


def with_companions(mending: Mending, before: Pattern, after: Pattern, unit: Unit) -> Pattern:
    """Return the pattern after a change with the same done to linings and facings.

    before, after: without and with the change. Where it cannot be done there, they stay.
    """
    change = change_of(mending.change)
    params = read_params(change.params, mending.params, unit=unit, where=change.title)
    try:
        for alike in asked_alike(change, before, params):
            after = change.apply(after, alike).pattern
    except ClothwrightError:
        return after
    return after


class Late(NamedTuple):
    """A companion that is as bought, what it goes with not; and the pattern they are of."""

    own: Companion
    pattern: Pattern


def left_as_bought(bought: Pattern | None, pattern: Pattern, places: set[str]) -> dict[str, Late]:
    """Return, of these pieces, the companions that have not followed yet, by name.

    bought: the pieces before the first change; None where that is not known.
    """
    was = {} if bought is None else {p.name: p for p in bought.pieces}
    stay = {p.name for p in pattern.pieces if was.get(p.name) == p}
    return {
        c.piece: Late(c, pattern)
        for c in companions(pattern)
        if c.piece in places & stay and any(a.piece in was.keys() - stay for a in c.of)
    }


def handed_on(new: Sequence[Finding], piece: str, late: dict[str, Late]) -> bool:
    """Tell whether all that is new after a change of a late companion is handed on by it.

    It is where a seam is off that joins it to something that follows, too: by the edge by which it
    goes with its piece (a facing to the collar), or both are bands (the two collars).
    """
    if piece not in late or not new or any(x.code != "seam-length" for x in new):
        return False
    own, pattern = late[piece]
    return all(_follows_on(own, pattern, pattern.seam(x.where.seam)) for x in new)


def _follows_on(own: Companion, pattern: Pattern, seam: Seam) -> bool:
    kinds = {c.piece: c.kind for c in companions(pattern)}
    others = seam.pieces - {own.piece}
    mine = {r.edge for r in seam.refs if r.piece == own.piece}
    if not mine or not others <= kinds.keys():
        return False
    linked = bool(mine & {a.edge for a in own.of})
    return linked or all(kinds[n] not in LAID for n in (own.piece, *others))
