"""What an edit does, in words for the record."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any
from xml.sax.saxutils import unescape

from clothwright.store import Opened
from clothwright.workroom.editing import kinds

MOST = 160
"""Letters of the longest words kept."""


def edit_words(edit: kinds.Edit, at: Opened | None = None) -> str:
    """Return what an edit does. at: what it was made on, to name the changes it speaks of."""
    said = SAY[type(edit)](edit, at)
    return said if len(said) <= MOST else said[: MOST - 1].rstrip() + "…"


def change_words(name: str, at: Opened | None) -> str:
    """Return what a change is called: its kind and its number."""
    if at is None:
        return f"change {name}"
    number = int(name) if name.isdigit() else [*at.ids, name].index(name) + 1
    if not 1 <= number <= len(at.book.steps):
        return f"change {name}"
    return f"change {number} ({at.book.steps[number - 1].change})"


def _values(values: Mapping[str, Any]) -> str:
    return ", ".join(f"{k} {_value(v)}" for k, v in values.items() if k not in ("name", "kind"))


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Mapping):
        return f"({_values(value)})"
    if isinstance(value, tuple | list):
        return ", ".join(_value(v) for v in value)
    return "as left out" if value is None else str(value)


def _plan(name: str) -> str:
    return f'plan "{name}"' if name else "the chosen plan"


def _add_change(e: kinds.AddChange, _: Opened | None) -> str:
    return f"{e.kind}: {_values(e.params)}" if e.params else e.kind


def _set_change(e: kinds.SetChange, at: Opened | None) -> str:
    new = _values(e.params) or "another reason"
    return f"{change_words(e.change, at)}: {new}"


def _set_plan(e: kinds.SetPlan, _: Opened | None) -> str:
    if e.name is not None:
        return f'called {_plan(e.plan)} "{e.name}"'
    return f"{_plan(e.plan)}: another reason"


def _drawn_name(drawing: str) -> str:
    """Return the name of the piece that a drawing of ours shows."""
    found = re.search(r'data-clothwright-piece="([^"]*)"', drawing)
    return unescape(found[1], {"&quot;": '"'}) if found else "a piece"


def _several(e: kinds.Several, at: Opened | None) -> str:
    return e.words or "; ".join(edit_words(each, at) for each in e.edits) or "nothing"


SAY: dict[type, Callable[[Any, Opened | None], str]] = {
    kinds.AddChange: _add_change,
    kinds.SetChange: _set_change,
    kinds.RemoveChange: lambda e, at: f"took out {change_words(e.change, at)}",
    kinds.MoveChange: lambda e, at: f"moved {change_words(e.change, at)} to place {e.to}",
    kinds.SwitchChange: lambda e, at: (
        f"switched {change_words(e.change, at)} {'on' if e.on else 'off'}"
    ),
    kinds.AddCloth: lambda e, _: f'added cloth "{e.values.get("name", "")}"',
    kinds.SetCloth: lambda e, _: f'cloth "{e.cloth}": {_values(e.values) or "another name"}',
    kinds.RemoveCloth: lambda e, _: f'took out cloth "{e.cloth}"',
    kinds.SetPicture: lambda e, _: f'cloth "{e.cloth}": drawn from a photo',
    kinds.RemovePicture: lambda e, _: f'cloth "{e.cloth}": no photo any more',
    kinds.AddPlan: lambda e, _: f'added plan "{e.plan}"',
    kinds.SetPlan: _set_plan,
    kinds.RemovePlan: lambda e, _: f"took out {_plan(e.plan)}",
    kinds.ChoosePlan: lambda e, _: f"chose {_plan(e.plan)}",
    kinds.AddRule: lambda e, _: (
        f"{_plan(e.plan)}: added {e.values.get('kind', 'rule')} ({_values(e.values)})"
    ),
    kinds.SetRule: lambda e, _: f"{_plan(e.plan)}, rule {e.rule}: {_values(e.values)}",
    kinds.RemoveRule: lambda e, _: f"{_plan(e.plan)}: took out rule {e.rule}",
    kinds.PinShape: lambda e, _: f"{_plan(e.plan)}: pinned {e.piece} {e.copy} on {e.cloth}",
    kinds.UnpinShape: lambda e, _: f"{_plan(e.plan)}: let {e.piece} {e.copy} go",
    kinds.AddSeam: lambda e, _: f'added seam "{e.values.get("name", "")}"',
    kinds.SetSeam: lambda e, _: f'seam "{e.seam}": {_values(e.values) or "another name"}',
    kinds.RemoveSeam: lambda e, _: f'took out seam "{e.seam}"',
    kinds.AddPieces: lambda e, _: "added " + ", ".join(_drawn_name(d) for d in e.drawings),
    kinds.RemovePiece: lambda e, _: f'took out piece "{e.piece}"',
    kinds.SetBody: lambda e, _: "measured " + (", ".join(e.values) or "nothing"),
    kinds.SetChart: lambda e, _: (
        f'size chart "{e.name or "my chart"}"' if e.text.strip() else "took the size chart out"
    ),
    kinds.SetUnit: lambda e, _: f"unit {e.unit}",
    kinds.SetSettings: lambda e, _: f"settings: {_values(e.values)}",
    kinds.RenameWorkbook: lambda e, _: f'called the workbook "{e.title}"',
    kinds.SetNotes: lambda _e, _: "other notes",
    kinds.Several: _several,
}
