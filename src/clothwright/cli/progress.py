"""Showing a search at work: the best length so far, on one line that is written over."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from rich.live import Live
from rich.text import Text

from clothwright.cli.saying import err
from clothwright.lay.result import Lay
from clothwright.units import Unit
from clothwright.words import show_length


def best_words(lay: Lay, unit: Unit) -> str:
    """Say what the best lay so far is worth."""
    used = ", ".join(f"{n} {show_length(u, unit)}" for n, u in lay.used.items())
    if lay.unplaced:
        return f"{used}; no place yet for {len(lay.unplaced)}"
    if lay.short_by:
        return f"{used}; short by {show_length(lay.short_by, unit)}"
    return f"{used}; fits" if lay.fits else used


@contextmanager
def watching(label: str, unit: Unit, *, quiet: bool = False) -> Iterator[Callable[[Lay], None]]:
    """Yield a function that shows each better lay; in a pipe each is a line of its own."""
    began = time.monotonic()
    if quiet:
        yield lambda _lay: None
    elif err.is_terminal:
        with Live(console=err, transient=True, refresh_per_second=8) as live:

            def show(lay: Lay) -> None:
                spent = time.monotonic() - began
                live.update(Text(f"{label}: {spent:5.1f} s  best so far {best_words(lay, unit)}"))

            yield show
    else:

        def line(lay: Lay) -> None:
            spent = time.monotonic() - began
            err.print(f"{label}: {spent:.1f} s, best so far {best_words(lay, unit)}", markup=False)

        yield line
