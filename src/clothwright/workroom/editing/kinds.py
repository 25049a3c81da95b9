"""Every edit a page or a command can make, as plain data.

A change in the list is named by its lasting name (`Opened.ids`), or by its number in the list that
was looked at ("3"). A placing rule is named by its number in the plan that was looked at. `values`
are entries as in workbook.toml: lengths as text, or bare numbers in the workbook's unit; None puts
an entry back to what it is when left out.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

Values = Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class AddChange:
    """Put a change into the list. at: its place (1 = first), None = at the end."""

    kind: str
    params: Values = field(default_factory=dict)
    why: str = ""
    on: bool = True
    at: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SetChange:
    """Give a change other parameters (only those named), or another reason."""

    change: str
    params: Values = field(default_factory=dict)
    why: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveChange:
    """Take a change out of the list."""

    change: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MoveChange:
    """Move a change to another place (1 = first)."""

    change: str
    to: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchChange:
    """Switch a change on or off."""

    change: str
    on: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class AddCloth:
    """Add a cloth."""

    values: Values


@dataclass(frozen=True, slots=True, kw_only=True)
class SetCloth:
    """Give a cloth other values; a new name goes into the plans that name it."""

    cloth: str
    values: Values


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveCloth:
    """Take a cloth out, and the pins on it."""

    cloth: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SetPicture:
    """Show a photo as the ground of a cloth: file, width, height, along, across."""

    cloth: str
    values: Values


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovePicture:
    """Show a cloth without its photo; the figures found in it stay."""

    cloth: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AddPlan:
    """Add a plan. like: a plan whose rules it begins with."""

    plan: str
    why: str = ""
    like: str = ""
    rules: tuple[Values, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SetPlan:
    """Give a plan another name or another reason."""

    plan: str
    name: str | None = None
    why: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovePlan:
    """Take a plan out."""

    plan: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ChoosePlan:
    """Choose the plan to cut by."""

    plan: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AddRule:
    """Add a placing rule to a plan ("" = the chosen one)."""

    plan: str
    values: Values


@dataclass(frozen=True, slots=True, kw_only=True)
class SetRule:
    """Give a placing rule other values. rule: its number, from 1."""

    plan: str
    rule: int
    values: Values


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveRule:
    """Take a placing rule out. rule: its number, from 1."""

    plan: str
    rule: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PinShape:
    """Pin one copy of a piece where it lies, or where it was dragged to.

    x, y: mm in the cloth's frame, of the place where the copy's own zero comes to lie after
    `turn_deg` (counter-clockwise) and `flipped`, as in a lay's placements.
    """

    plan: str
    piece: str
    copy: int
    cloth: str
    x: float
    y: float
    turn_deg: float = 0.0
    flipped: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class UnpinShape:
    """Let a pinned copy go."""

    plan: str
    piece: str
    copy: int


@dataclass(frozen=True, slots=True, kw_only=True)
class AddSeam:
    """Add a seam."""

    values: Values


@dataclass(frozen=True, slots=True, kw_only=True)
class SetSeam:
    """Give a seam other values."""

    seam: str
    values: Values


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveSeam:
    """Take a seam out."""

    seam: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AddPieces:
    """Add pieces, each an annotated drawing (docs/file-format.md). replace: those of their name.

    sizes: nothing, or "names" (smallest first), "drawn" (the size of the pieces) and "drawings":
    for every further size its drawings, of the same pieces.
    """

    drawings: tuple[str, ...]
    replace: bool = False
    sizes: Values = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovePiece:
    """Take a piece out, with the seams and the placing rules that name it."""

    piece: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SetBody:
    """Note measurements of the wearer: by name, as typed; "note", "date", "compare" too."""

    values: Values


@dataclass(frozen=True, slots=True, kw_only=True)
class SetChart:
    """Keep a size chart as typed; with an empty text none is kept. unit: "" = the workbook's."""

    text: str
    name: str = ""
    source: str = ""
    unit: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUnit:
    """Think in another unit; no length changes by it."""

    unit: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SetSettings:
    """Give the settings other values."""

    values: Values


@dataclass(frozen=True, slots=True, kw_only=True)
class RenameWorkbook:
    """Call the outfit something else."""

    title: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SetNotes:
    """Write other notes."""

    notes: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Several:
    """Several edits as one step: all of them or none. words: what they do together."""

    edits: tuple[Edit, ...]
    words: str = ""


Edit = (
    AddChange
    | SetChange
    | RemoveChange
    | MoveChange
    | SwitchChange
    | AddCloth
    | SetCloth
    | RemoveCloth
    | SetPicture
    | RemovePicture
    | AddPlan
    | SetPlan
    | RemovePlan
    | ChoosePlan
    | AddRule
    | SetRule
    | RemoveRule
    | PinShape
    | UnpinShape
    | AddSeam
    | SetSeam
    | RemoveSeam
    | AddPieces
    | RemovePiece
    | SetBody
    | SetChart
    | SetUnit
    | SetSettings
    | RenameWorkbook
    | SetNotes
    | Several
)

EDITS: tuple[type[Edit], ...] = (
    AddChange,
    SetChange,
    RemoveChange,
    MoveChange,
    SwitchChange,
    AddCloth,
    SetCloth,
    RemoveCloth,
    SetPicture,
    RemovePicture,
    AddPlan,
    SetPlan,
    RemovePlan,
    ChoosePlan,
    AddRule,
    SetRule,
    RemoveRule,
    PinShape,
    UnpinShape,
    AddSeam,
    SetSeam,
    RemoveSeam,
    AddPieces,
    RemovePiece,
    SetBody,
    SetChart,
    SetUnit,
    SetSettings,
    RenameWorkbook,
    SetNotes,
    Several,
)
"""Every kind of edit."""
