"""Old formats of workbook.toml, brought up to date one step at a time."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from clothwright.errors import BadInput

Table = dict[str, Any]


def from_0(old: Table) -> Table:
    """Format 0 (drafts before the first release): one `selvedge` for both margins of a cloth."""
    new = {**old, "format": 1}
    cloths = []
    for cloth in old.get("cloth", []):
        table = dict(cloth)
        if "selvedge" in table:
            margin = table.pop("selvedge")
            table.setdefault("margin_lower", margin)
            table.setdefault("margin_upper", margin)
        cloths.append(table)
    if cloths:
        new["cloth"] = cloths
    return new


STEPS: dict[int, Callable[[Table], Table]] = {0: from_0}
"""From each old format to the next."""


def upgraded(raw: Table, current: int, where: str) -> Table:
    """Return the data in the current format. Raises BadInput for a newer or unknown format."""
    version = raw.get("format")
    if isinstance(version, bool) or not isinstance(version, int) or version < 0:
        raise BadInput(
            where=where,
            what=f'its "format" is {version!r}' if "format" in raw else 'it has no "format"',
            expected=f"format = {current}",
        )
    if version > current:
        raise BadInput(
            where=where,
            what=f"the workbook has format {version}, made by a newer Clothwright",
            expected=f"format {current} or older",
            try_="a newer Clothwright; nothing was changed",
        )
    while version < current:
        raw = STEPS[version](raw)
        version = raw["format"]
    return raw
