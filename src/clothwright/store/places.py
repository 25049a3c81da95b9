"""Where each entry of a TOML text stands: line numbers for messages."""

from __future__ import annotations

import re
from typing import Any

Place = tuple[Any, ...]
_HEADER = re.compile(r"^\s*(\[\[?)\s*([\w.\-\"' ]+?)\s*\]\]?\s*(#.*)?$")
_KEY = re.compile(r"^\s*(?:\"([^\"]+)\"|'([^']+)'|([A-Za-z0-9_\-]+))\s*=")


def places(text: str) -> dict[Place, int]:
    r"""Return the line (from 1) of every table and key, by its path with list places from 0.

    >>> places('[[cloth]]\nwidth = 3\n[[cloth]]\nwidth = 4\n')[("cloth", 1, "width")]
    4
    """
    found: dict[Place, int] = {}
    counts: dict[Place, int] = {}
    at: Place = ()
    for number, line in enumerate(text.splitlines(), start=1):
        header = _HEADER.match(line)
        if header:
            at = _table(header.group(2), header.group(1) == "[[", counts)
            found.setdefault(at, number)
            continue
        key = _KEY.match(line)
        if key:
            found.setdefault((*at, next(g for g in key.groups() if g)), number)
    return found


def _table(name: str, many: bool, counts: dict[Place, int]) -> Place:
    path: Place = ()
    parts = [p.strip().strip("\"'") for p in name.split(".")]
    for i, part in enumerate(parts):
        path = (*path, part)
        last = i == len(parts) - 1
        if last and many:
            counts[path] = counts.get(path, -1) + 1
            for longer in [k for k in counts if len(k) > len(path) and k[: len(path)] == path]:
                if longer[len(path)] == counts[path]:
                    del counts[longer]
        if path in counts:
            path = (*path, counts[path])
    return path


def place_words(place: Place) -> str:
    """Return a path in words, list places counted from 1.

    >>> place_words(("plan", 1, "rule", 0, "above"))
    'plan 2, rule 1, above'
    """
    words: list[str] = []
    for part in place:
        if isinstance(part, int) and words:
            words[-1] += f" {part + 1}"
        else:
            words.append(str(part))
    return ", ".join(words) or "the file"
