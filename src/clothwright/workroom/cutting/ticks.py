"""Ticks of the laying list and of the guide: what is done at the table, kept beside the workbook.

They are no part of the workbook and of its undo: undoing a change does not put a cut piece back on
the cloth. Each list of ticks belongs to a plan and to one lay of it (its digest); another lay
begins another list, and the old one comes back with the old lay.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path as FilePath
from typing import ClassVar

from clothwright.errors import BadInput
from clothwright.store.beside.kept import read_kept, sound, write_kept
from clothwright.store.beside.places import ticks_file
from clothwright.store.book.lock import held
from clothwright.store.noticed import is_noticed

MOST_LISTS = 40
"""How many lists are kept; those not ticked for longest go first."""
OURS = re.compile(r".+\.[A-Za-z0-9]{1,64}\.json")
"""The names of lists; a second copy of one, and what else lies there, is not ours to remove."""
MOST_TICKS = 2000
LONGEST = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Tick:
    """One tick. done: ticked or unticked. at: when, UTC. device: who said so."""

    done: bool
    at: str
    device: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ticks:
    """A list of ticks as it is kept: of which plan, and each tick by its key."""

    FORMAT: ClassVar[str] = "clothwright-ticks/1"
    plan: str = ""
    ticks: Mapping[str, Tick] = field(default_factory=dict)


def read_ticks(folder: FilePath, plan: str, lay: str) -> dict[str, Tick]:
    """Return every tick of a plan's lay by its key; a damaged file counts as none.

    lay: its digest. Raises BadInput when that is none.
    """
    kept = sound(read_kept(ticks_file(folder, plan, lay), Ticks))
    return dict(kept.ticks) if kept else {}


def done_ticks(folder: FilePath, plan: str, lay: str) -> frozenset[str]:
    """Return the keys that are ticked."""
    return frozenset(k for k, t in read_ticks(folder, plan, lay).items() if t.done)


def ticks_lost(folder: FilePath, plan: str, lay: str) -> bool:
    """Tell whether earlier ticks of this list could not be read, and that is not put away yet.

    Raises BadInput.
    """
    return is_noticed(folder, ticks_file(folder, plan, lay))


def set_ticks(
    folder: FilePath,
    plan: str,
    lay: str,
    ticks: Mapping[str, bool],
    *,
    device: str = "",
    at: str = "",
) -> dict[str, Tick]:
    """Tick and untick; return all ticks then.

    ticks: key ("lay 3", "sew 12") -> done. at: when it was ticked, UTC ("2030-01-31T10:15:00Z"),
    for a device that was away from the others; "" = now. The later word counts on each key by
    itself, and the same word twice is the same as once. Raises BadInput.
    """
    file = ticks_file(folder, plan, lay)
    when = _time(at)
    for key in ticks:
        if not key or len(key) > LONGEST:
            raise BadInput(where="ticks", what="a key is empty or too long", expected='"lay 3"')
    with held(folder):
        kept = read_ticks(folder, plan, lay)
        out = dict(kept)
        for key, done in ticks.items():
            was = kept.get(key)
            if was is None or (was.done != done and was.at <= when):
                out[key] = Tick(done=done, at=when, device=device[:LONGEST])
        if len(out) > MOST_TICKS:
            raise BadInput(
                where="ticks", what=f"{len(out)} ticks", expected=f"at most {MOST_TICKS}"
            )
        if out != kept:
            _write(file, out, plan)
    return out


def _time(at: str) -> str:
    """Return a time as UTC text that sorts. One in the future counts as now. Raises BadInput."""
    now = datetime.now(UTC)
    if not at:
        return now.isoformat(timespec="milliseconds")
    try:
        then = datetime.fromisoformat(at)
    except ValueError:
        then = None
    if then is None or then.tzinfo is None:
        raise BadInput(
            where="ticks", what=f'"{at[:40]}" is no time', expected="one such as 2030-01-31T10:15Z"
        )
    return min(then.astimezone(UTC), now).isoformat(timespec="milliseconds")


def _write(file: FilePath, ticks: Mapping[str, Tick], plan: str) -> None:
    write_kept(file, Ticks(plan=plan, ticks=ticks))
    own = (f for f in file.parent.glob("*.json") if OURS.fullmatch(f.name))
    lists = sorted(own, key=lambda f: f.stat().st_mtime, reverse=True)
    for old in lists[MOST_LISTS:]:
        old.unlink(missing_ok=True)
