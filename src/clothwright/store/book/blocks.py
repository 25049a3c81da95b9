"""A TOML text as blocks: each table with the comments above it, every byte kept.

A block is a header with the blank and comment lines that lead up to it, its entries, and the
blocks of the tables below it. Put together again, an untouched text comes out as it went in; a
block that moves takes its own comments along.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any, NamedTuple


class Entry(NamedTuple):
    """One logical line of TOML text with its line end: an entry may run over several lines.

    key: the first part of an entry's key; "" for a comment or a blank line.
    line: number of its first line in the text, from 1 (0 = not from a text).
    """

    text: str
    key: str = ""
    line: int = 0


@dataclass(slots=True)
class Block:
    """One table. `header` is empty for the top of the file and for tables that go unsaid.

    lead: blank and comment lines before the header. after: comments kept from removed blocks.
    """

    name: str = ""
    many: bool = False
    lead: str = ""
    header: str = ""
    line: int = 0
    entries: list[Entry] = field(default_factory=list)
    children: list[Block] = field(default_factory=list)
    after: str = ""

    def text(self) -> str:
        """Return the block and all below it as TOML text."""
        out = ""
        for part in self._parts():
            if part and out and not out.endswith("\n"):
                out += "\n"
            out += part
        return out

    def _parts(self) -> Iterator[str]:
        yield self.lead
        yield self.header
        yield from (e.text for e in self.entries)
        for child in self.children:
            yield child.text()
        yield self.after


class Logical(NamedTuple):
    """A logical line and what it is: "blank", "comment", "header" or "entry"."""

    kind: str
    text: str
    line: int


def logical_lines(text: str) -> Iterator[Logical]:
    """Return the text's logical lines: strings and arrays that run over several lines stay whole.

    The text must be valid TOML.
    """
    at, line = 0, 1
    while at < len(text):
        end = _line_end(text, at)
        part = text[at:end]
        bare = part.strip()
        kind = "blank" if not bare else {"#": "comment", "[": "header"}.get(bare[0], "entry")
        yield Logical(kind, part, line)
        line += part.count("\n")
        at = end


def _line_end(text: str, at: int) -> int:
    depth = 0
    while at < len(text):
        letter = text[at]
        if letter in "\"'":
            at = _string_end(text, at)
            continue
        if letter == "#":
            found = text.find("\n", at)
            at = len(text) if found < 0 else found
            continue
        at += 1
        if letter in "[{":
            depth += 1
        elif letter in "]}":
            depth -= 1
        elif letter == "\n" and depth <= 0:
            return at
    return at


def _string_end(text: str, at: int) -> int:
    quote = text[at]
    long = text.startswith(quote * 3, at)
    close = quote * 3 if long else quote
    at += len(close)
    while at < len(text):
        if text[at] == "\\" and quote == '"':
            at += 2
        elif text.startswith(close, at):
            at += len(close)
            while long and text.startswith(quote, at):
                at += 1
            return at
        else:
            at += 1
    return at


def blocks(text: str) -> Block:
    """Cut a valid TOML text into blocks; `blocks(text).text() == text`."""
    root = Block()
    here = root
    open_: dict[tuple[str, ...], Block] = {(): root}
    waiting: list[Entry] = []
    for kind, part, line in logical_lines(text):
        if kind == "entry":
            here.entries += [*waiting, Entry(part, _key(part), line)]
            waiting = []
        elif kind == "header":
            path, many = _header_path(part)
            here = _opened(open_, path, many)
            here.lead, here.header, here.line = "".join(e.text for e in waiting), part, line
            waiting = []
        else:
            waiting.append(Entry(part, "", line))
    root.after = "".join(e.text for e in waiting)
    return root


@lru_cache(maxsize=2048)
def _key(entry: str) -> str:
    """Return the key of a line of TOML; the same lines come again and again."""
    return next(iter(tomllib.loads(entry)))


def _header_path(header: str) -> tuple[tuple[str, ...], bool]:
    path: list[str] = []
    value: Any = tomllib.loads(header)
    while isinstance(value, dict) and value:
        key, value = next(iter(value.items()))
        path.append(key)
    return tuple(path), isinstance(value, list)


def _opened(open_: dict[tuple[str, ...], Block], path: tuple[str, ...], many: bool) -> Block:
    """Return the block that a header opens, put below its parent; parents left unsaid are made."""
    for n in range(1, len(path)):
        if path[:n] not in open_:
            open_[path[:n]] = _below(open_[path[: n - 1]], Block(name=path[n - 1]))
    if many or path not in open_:
        for longer in [p for p in open_ if len(p) > len(path) and p[: len(path)] == path]:
            del open_[longer]
        open_[path] = _below(open_[path[:-1]], Block(name=path[-1], many=many))
    return open_[path]


def _below(parent: Block, child: Block) -> Block:
    parent.children.append(child)
    return child
