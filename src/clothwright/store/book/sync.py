"""Write new data into an existing TOML text, so that what a person added to it stays.

Nothing is rewritten that means the same as before: a length in other words, an entry that only
repeats a default, the order of entries and tables, blank lines and comments all stay. A comment
goes with the table it stands in or directly above; when a table is removed, comments that a blank
line parts from it stay in the file.
"""

from __future__ import annotations

import tomllib
from typing import Any

import tomlkit
from tomlkit.items import String

from clothwright.store.book.blocks import Block, Entry, blocks

Data = dict[str, Any]


def synced(text: str, old: Data, new: Data, *, bare_counts_anew: bool = False) -> str:
    """Return the text with what differs between `old` and `new` brought to `new`.

    old: what the text says now, in the same form as `new`. bare_counts_anew: the unit has changed,
    so that numbers without a unit have to be written again.
    """
    root = blocks(text)
    _Sync(bare_counts_anew).table(root, (), old, new)
    return root.text()


def fresh(data: Data, head: str) -> str:
    """Return new TOML text under a head of comment lines."""
    root = Block(entries=[Entry(f"# {line}\n") for line in head.splitlines()] + [Entry("\n")])
    _Sync(False).table(root, (), {}, data)
    return root.text()


class _Sync:
    """One run over a tree of blocks."""

    def __init__(self, bare_counts_anew: bool) -> None:
        self.anew = bare_counts_anew

    def table(self, block: Block, path: tuple[str, ...], old: Data, new: Data) -> None:
        """Bring one table and all below it from `old` to `new`."""
        for key in [*new, *(k for k in old if k not in new)]:
            was, now = old.get(key), new.get(key)
            if not (_nested(was) or _nested(now)):
                self._value(block, key, was, now)
                continue
            inline = [e for e in block.entries if e.key == key]
            if inline:
                if was == now and not (self.anew and any(_is_bare(e, key) for e in inline)):
                    continue
                _remove(block, key)
                was = None
            if isinstance(was, dict) or isinstance(now, dict):
                self._one(block, (*path, key), was or {}, now)
            else:
                self._rows(block, (*path, key), was or [], now or [], list(new))

    def _value(self, block: Block, key: str, was: object, now: object) -> None:
        at = next((i for i, e in enumerate(block.entries) if e.key == key), None)
        if at is None:
            if now is not None and now != was:
                block.entries.append(Entry(_entry(key, now), key))
            return
        entry = block.entries[at]
        if was == now and not (self.anew and _is_bare(entry, key)):
            return
        if now is None:
            if was is not None:
                _remove(block, key)
            return
        document = tomlkit.parse(entry.text)
        document[key] = _item(now)
        block.entries[at] = Entry(tomlkit.dumps(document), key)

    def _one(self, block: Block, path: tuple[str, ...], was: Data, now: Data | None) -> None:
        child = next((c for c in block.children if c.name == path[-1]), None)
        if now is None:
            if child is not None:
                _drop(block, child)
            return
        if child is None:
            if was == now:
                return
            child = _new(path, many=False)
            block.children.append(child)
        self.table(child, path, was, now)

    def _rows(
        self,
        block: Block,
        path: tuple[str, ...],
        was: list[Data],
        now: list[Data],
        order: list[str],
    ) -> None:
        name = path[-1]
        kept = [c for c in block.children if c.name == name]
        was = was[: len(kept)]
        partner = _partners(was, now)
        rows: list[Block] = []
        for k, row in enumerate(now):
            old = partner[k]
            child = _new(path, many=True) if old is None else kept[old]
            self.table(child, path, {} if old is None else was[old], row)
            rows.append(child)
        for gone in [c for i, c in enumerate(kept) if i not in partner]:
            _drop(block, gone)
        at = _place(block, name, order)
        rest = [c for c in block.children if c.name != name]
        block.children = [*rest[:at], *rows, *rest[at:]]


def _nested(value: object) -> bool:
    return isinstance(value, dict) or (
        isinstance(value, list) and bool(value) and isinstance(value[0], dict)
    )


def _place(block: Block, name: str, order: list[str]) -> int:
    """Where among the other children the rows of a name stand: where they were, or in order."""
    others = 0
    for child in block.children:
        if child.name == name:
            return others
        others += 1
    before = set(order[: order.index(name)]) if name in order else set()
    rest = [c.name for c in block.children]
    return max((i + 1 for i, n in enumerate(rest) if n in before), default=0 if before else others)


def _partners(was: list[Data], now: list[Data]) -> list[int | None]:
    """For each new row the old row it continues: the same, or of the same name, or of its kind."""
    free = list(range(len(was)))
    found: list[int | None] = [None] * len(now)

    def pair(alike: Any) -> None:
        for k, row in enumerate(now):
            match = None if found[k] is not None else [i for i in free if alike(was[i], row)]
            if match:
                found[k] = match[0]
                free.remove(match[0])

    pair(lambda a, b: a == b)
    pair(lambda a, b: a.get("name") is not None and a.get("name") == b.get("name"))
    pair(lambda a, b: "name" not in a and a.get("kind") == b.get("kind"))
    pair(lambda a, b: {**a, "name": ""} == {**b, "name": ""})
    return found


def _drop(parent: Block, child: Block) -> None:
    """Remove a block; comments that a blank line parts from its header go to what follows."""
    i = parent.children.index(child)
    lines = child.lead.splitlines(keepends=True)
    last_blank = max((k for k, line in enumerate(lines) if not line.strip()), default=-1)
    loose = "".join(lines[: last_blank + 1]) if any(s.strip() for s in lines[:last_blank]) else ""
    loose += child.after
    del parent.children[i]
    if i < len(parent.children):
        parent.children[i].lead = (
            loose + parent.children[i].lead.lstrip("\r\n") if loose else (parent.children[i].lead)
        )
    else:
        parent.after = loose + parent.after


def _remove(block: Block, key: str) -> None:
    """Take an entry out; a comment behind it stays as a line of its own."""
    out: list[Entry] = []
    for entry in block.entries:
        if entry.key != key:
            out.append(entry)
            continue
        comment = _comment_behind(entry.text)
        if comment:
            out.append(Entry(comment + "\n"))
    block.entries = out


def _comment_behind(text: str) -> str:
    """Return the comment at the end of a one-line entry, with its hash; "" without one."""
    for _, item in tomlkit.parse(text).body:
        comment = item.trivia.comment
        if comment:
            return comment
    return ""


def _new(path: tuple[str, ...], *, many: bool) -> Block:
    dotted = ".".join(path)
    header = f"[[{dotted}]]\n" if many else f"[{dotted}]\n"
    return Block(name=path[-1], many=many, lead="\n", header=header)


def _entry(key: str, value: object) -> str:
    document = tomlkit.document()
    document.add(key, _item(value))
    return tomlkit.dumps(document)


def _item(value: object) -> Any:
    """Return a TOML value; text of several lines is written as several lines."""
    if isinstance(value, str) and "\n" in value:
        many: String = tomlkit.string(value, multiline=True)
        try:
            if tomllib.loads("x = " + many.as_string() + "\n")["x"] == value:
                return many
        except (ValueError, KeyError):
            pass
    return tomlkit.item(value)


def _is_bare(entry: Entry, key: str) -> bool:
    """Tell whether an entry's value has a number without a unit in it."""

    def bare(value: object) -> bool:
        if isinstance(value, list | dict):
            return any(bare(v) for v in (value.values() if isinstance(value, dict) else value))
        if isinstance(value, str):
            return not any(c.isalpha() or c in "\"'”″′%" for c in value)
        return isinstance(value, int | float) and not isinstance(value, bool)

    return bare(tomlkit.parse(entry.text).unwrap()[key])
