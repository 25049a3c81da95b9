"""Old formats of workbook.toml, brought up to date one step at a time.

A step edits the text's blocks in place, so that comments and wording come through an upgrade.
The file on disk is written in the current format at the next save; the text as it was is kept
beside it once.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from functools import lru_cache

from clothwright.errors import BadInput
from clothwright.store.book.blocks import Block, Entry, blocks


def from_0(root: Block) -> None:
    """Format 0 (drafts before the first release): one `selvedge` for both margins of a cloth."""
    for cloth in (c for c in root.children if c.name == "cloth"):
        named = {e.key for e in cloth.entries}
        out: list[Entry] = []
        for entry in cloth.entries:
            if entry.key != "selvedge":
                out.append(entry)
                continue
            rest = entry.text.split("=", 1)[1]
            rest = rest if rest.endswith("\n") else rest + "\n"
            out += [
                Entry(f"{side} ={rest}", side, entry.line)
                for side in ("margin_lower", "margin_upper")
                if side not in named
            ]
        cloth.entries = out


def from_1(root: Block) -> None:
    """Format 1: the bands of the walk stood in [settings.check]; now in [settings.walk]."""
    root.entries = [
        _renamed(e, r"^(\s*settings\s*\.\s*)check\b") if e.key == "settings" else e
        for e in root.entries
    ]
    for settings in (c for c in root.children if c.name == "settings"):
        settings.entries = [
            e._replace(key="walk", text=re.sub(r"^(\s*)check\b", r"\1walk", e.text))
            if e.key == "check"
            else e
            for e in settings.entries
        ]
        for check in (c for c in settings.children if c.name == "check"):
            check.name = "walk"
            for block in (check, *check.children):
                block.header = re.sub(r"(settings\s*\.\s*)check\b", r"\1walk", block.header)


def from_2(root: Block) -> None:
    """Format 2: a print said only whether it is `one_way`; now where its top points, `up`."""
    for cloth in (c for c in root.children if c.name == "cloth"):
        for block in (cloth, *(c for c in cloth.children if c.name == "print")):
            block.entries = [_with_up(e) for e in block.entries]


def from_3(root: Block) -> None:
    """Format 3 knew no kinds of joining and no companions; what it says means the same."""


def _with_up(entry: Entry) -> Entry:
    """Return one_way = true, print.one_way = true or print = { one_way = true } as `up`."""
    key = "up" if entry.key == "one_way" else entry.key
    if key == entry.key and key != "print":
        return entry
    said = re.compile(r"((?:^|[{,.])\s*)one_way(\s*=\s*)(true|false)\b")
    text = said.sub(
        lambda m: f'{m[1]}up{m[2]}"{"end" if m[3] == "true" else "either"}"', entry.text, count=1
    )
    return entry._replace(key=key, text=text)


def _renamed(entry: Entry, pattern: str) -> Entry:
    """Return settings.check.agree = ..., or settings = { check = { ... } }, under the new name."""
    if re.match(pattern, entry.text):
        return entry._replace(text=re.sub(pattern, r"\1walk", entry.text))
    inline = re.compile(r"([{,]\s*)check(\s*[=.])")
    return entry._replace(text=inline.sub(r"\1walk\2", entry.text, count=1))


STEPS: dict[int, Callable[[Block], None]] = {0: from_0, 1: from_1, 2: from_2, 3: from_3}
"""From each old format to the next."""


@lru_cache(maxsize=8)
def format_of(text: str, current: int, where: str) -> int:
    """Return a TOML text's format. Raises BadInput for a newer, missing or odd one."""
    raw = tomllib.loads(text)
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
    return version


def upgraded(text: str, current: int, where: str) -> str:
    """Return the text in the current format. Raises BadInput for a newer, missing or odd one."""
    version = format_of(text, current, where)
    if version == current:
        return text
    root = blocks(text)
    for step in range(version, current):
        STEPS[step](root)
    root.entries = [
        e._replace(text=re.sub(r"=\s*\d+", f"= {current}", e.text, count=1))
        if e.key == "format"
        else e
        for e in root.entries
    ]
    return root.text()
