"""What commands have in common: opening a workbook, printing tables and JSON."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path

from rich.console import Console
from rich.table import Table

from clothwright.errors import BadInput
from clothwright.units import is_count
from clothwright.workroom.editing.opened import OpenBook

out = Console(highlight=False, markup=False, soft_wrap=True)
err = Console(stderr=True, highlight=False, markup=False, soft_wrap=True)


def open_book(folder: Path) -> OpenBook:
    """Return the workbook in a folder, to be read and edited as a page does it."""
    return OpenBook(name=folder.name, folder=folder)


def table(head: Sequence[str], rows: Sequence[Sequence[str]], title: str = "") -> None:
    """Print a table of words."""
    grid = Table(*head, title=title or None, title_justify="left", header_style="bold")
    for row in rows:
        grid.add_row(*row)
    out.print(grid)


def write_json(data: object, target: str) -> None:
    """Write JSON to a file, or to standard output for "-". Raises BadInput."""
    text = json.dumps(data, indent=1, ensure_ascii=False) + "\n"
    if target == "-":
        sys.stdout.write(text)
        return
    try:
        Path(target).write_text(text, encoding="utf-8")
    except OSError as error:
        raise BadInput(
            where=target, what=f"cannot be written ({error.strerror})", try_="another file name"
        ) from None


def lines(words: Iterable[str]) -> None:
    """Print lines of words, one below the other."""
    for line in words:
        out.print(line)


def listed(files: Sequence[Path], limit: int = 12) -> None:
    """Print the files that were written."""
    for file in files[:limit]:
        out.print(f"  {file}")
    if len(files) > limit:
        out.print(f"  … and {len(files) - limit} more")


def pictures_written(files: Sequence[Path], lost: Sequence[str]) -> None:
    """List the files of pictures that were written, and say which photos they are without."""
    listed(files)
    lines(lost)


def seconds_ok(seconds: float) -> float:
    """Return a sensible time in seconds. Raises BadInput."""
    if not 0 < seconds <= 86400:
        raise BadInput(
            where="--seconds",
            what=f"{seconds:g} is no time to search for",
            expected="more than 0 and at most 86400",
            try_="--seconds 20",
        )
    return seconds


def numbers(text: str, option: str, most: int) -> tuple[int, ...]:
    """Return the numbers of proposals that an option names: "1,3", or all. Raises BadInput."""
    plain = text.strip().lower()
    if not plain:
        return ()
    if plain == "all":
        return tuple(range(1, most + 1))
    parts = [p.strip() for p in plain.split(",")]
    if not all(is_count(p) and 1 <= int(p) <= most for p in parts):
        raise BadInput(
            where=option,
            what=f'"{text}" does not say which proposals',
            expected=f"numbers from 1 to {most}, with commas, or all"
            if most
            else "nothing: there are no proposals",
        )
    return tuple(dict.fromkeys(map(int, parts)))
