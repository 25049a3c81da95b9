"""Showing a search at work: how far it is, on one line that is written over."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TypeVar

from rich.live import Live
from rich.text import Text

from clothwright.cli.saying import err

T = TypeVar("T")


@contextmanager
def watching(
    label: str, words: Callable[[T], str], *, quiet: bool = False
) -> Iterator[Callable[[T], None]]:
    """Yield what shows each better find in words; in a pipe each is a line of its own."""
    began = time.monotonic()

    def said(found: T) -> str:
        return f"{label}: {time.monotonic() - began:.1f} s, {words(found)}"

    if quiet:
        yield lambda _: None
    elif err.is_terminal:
        with Live(console=err, transient=True, refresh_per_second=8) as live:
            yield lambda found: live.update(Text(said(found)))
    else:
        yield lambda found: err.print(said(found))
