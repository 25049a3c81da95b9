"""Write new data into an existing TOML text, so that what a person added to it stays."""

from __future__ import annotations

import copy
from typing import Any

import tomlkit
from tomlkit.container import Container
from tomlkit.items import AoT, Item, Table

from clothwright.errors import BadInput
from clothwright.units import Unit, parse_length

Data = dict[str, Any]


def synced(text: str, data: Data, unit: Unit) -> str:
    """Return the text with its values brought to `data`; comments and order of entries stay.

    An entry whose meaning is unchanged (the same length in other words) is left as it stands.
    """
    document = tomlkit.parse(text)
    _sync(document, data, unit)
    return tomlkit.dumps(document)


def fresh(data: Data, head: str) -> str:
    """Return new TOML text under a head of comment lines."""
    document = tomlkit.document()
    for line in head.splitlines():
        document.add(tomlkit.comment(line))
    document.add(tomlkit.nl())
    _sync(document, data, Unit.mm)
    return tomlkit.dumps(document)


def _sync(box: Container | Table, data: Data, unit: Unit) -> None:
    for key in [k for k in box if k not in data]:
        del box[key]
    for key, value in data.items():
        old = box.get(key)
        if isinstance(value, dict):
            if not isinstance(old, Table):
                box[key] = old = tomlkit.table()
            _sync(box[key], value, unit)
        elif _is_tables(value):
            box[key] = _tables(old if isinstance(old, AoT) else None, value, unit)
        elif isinstance(value, list) and not value and old is None:
            continue
        elif old is None or not _same(old, value, unit):
            box[key] = value


def _is_tables(value: object) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(v, dict) for v in value)


def _tables(old: AoT | None, rows: list[Data], unit: Unit) -> AoT:
    """Return the array of tables for the rows, each built on the old table it continues."""
    earlier = list(old.body) if old is not None else []
    if len(earlier) == len(rows) and old is not None:
        for table, row in zip(earlier, rows, strict=True):
            if _label(table) != _label(row):
                break
        else:
            for table, row in zip(earlier, rows, strict=True):
                _sync(table, row, unit)
            return old
    spare = list(earlier)
    new = tomlkit.aot()
    for row in rows:
        base = next((t for t in spare if _label(t) == _label(row)), None)
        if base is not None:
            spare.remove(base)
            table = copy.deepcopy(base)
        else:
            table = tomlkit.table()
        _sync(table, row, unit)
        new.append(table)
    return new


def _label(table: Table | Data) -> tuple[str, ...]:
    """Return what a row is recognised by: its name, or for rules and changes all it says."""
    if "name" in table:
        return (str(table["name"]),)
    return tuple(f"{k}={_plain(v)}" for k, v in sorted(table.items()) if k != "on")


def _plain(value: object) -> object:
    return value.unwrap() if isinstance(value, Item) else value


def _same(old: object, new: object, unit: Unit) -> bool:
    old = _plain(old)
    if type(old) is type(new) and old == new:
        return True
    if isinstance(new, bool) or isinstance(old, bool):
        return False
    if isinstance(old, list) and isinstance(new, list):
        return len(old) == len(new) and all(
            _same(a, b, unit) for a, b in zip(old, new, strict=True)
        )
    if isinstance(new, str) and isinstance(old, str | int | float):
        try:
            return parse_length(old, unit=unit) == parse_length(new, unit=unit)
        except BadInput:
            return False
    return isinstance(old, int | float) and isinstance(new, int | float) and old == new
