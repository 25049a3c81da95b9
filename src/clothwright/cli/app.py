"""The commands, listed by hand, and what happens when one goes wrong."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from typing import Any

from cyclopts import App, CycloptsError

from clothwright import __version__
from clothwright.cli import (
    add,
    body,
    change,
    chart,
    choose,
    compare,
    demo,
    guide,
    history,
    lay,
    new,
    open_,
    print_,
    redo,
    seams,
    sheets,
    show,
    undo,
    walk,
    ways_to_fit,
)
from clothwright.errors import ClothwrightError

HELP = """Pieces in, changes, the walk of every seam, placing plans compared on your own cloth,
the lay, full-size pages and a guide.

Start with `clothwright demo`, then look into the folder it names. A workbook is a folder with one
text file you can read and edit, and one drawing a piece. Lengths are typed as you write them:
`5/8 in`, `17 1/2"`, `43,5 cm`, `1 3/8 yd`.
"""

COMMANDS: tuple[tuple[str, Callable[..., Any]], ...] = (
    ("demo", demo.demo),
    ("new", new.new),
    ("open", open_.open_),
    ("sheets", sheets.sheets),
    ("add", add.add),
    ("seams", seams.seams),
    ("body", body.body),
    ("show", show.show),
    ("change", change.change),
    ("undo", undo.undo),
    ("redo", redo.redo),
    ("history", history.history),
    ("walk", walk.walk),
    ("lay", lay.lay),
    ("ways-to-fit", ways_to_fit.ways_to_fit),
    ("compare", compare.compare),
    ("choose", choose.choose),
    ("chart", chart.chart),
    ("print", print_.print_),
    ("guide", guide.guide),
)
"""Every command in the order of the job."""

RENAMED = {"alter": "change", "check": "walk", "ways-out": "ways-to-fit"}
"""Commands under the names they once had; they answer with the name they have now."""


def app() -> App:
    """Return the command line application."""
    it = App(name="clothwright", help=HELP, version=__version__, help_format="markdown")
    for place, (name, command) in enumerate(COMMANDS):
        it.command(command, name=name, sort_key=place)
    return it


def main(argv: Sequence[str] | None = None) -> None:
    """Run a command and leave with its exit code.

    0 done; 1 done, and there is something to mend (faults found, a plan that does not fit);
    2 bad input, said in a sentence; 130 stopped by the maker.
    """
    tokens = list(sys.argv[1:] if argv is None else argv)
    sys.exit(run(tokens))


def run(tokens: Sequence[str]) -> int:
    """Run a command; return its exit code."""
    if tokens and tokens[0] in RENAMED:
        now = RENAMED[tokens[0]]
        print(  # noqa: T201
            f'There is no command "{tokens[0]}". Did you mean "clothwright {now}"?', file=sys.stderr
        )
        return 2
    try:
        result = app()(tokens, exit_on_error=False, print_error=False, result_action="return_value")
        return result if isinstance(result, int) else 0
    except CycloptsError as error:
        print(f"{error}\nTry: clothwright --help", file=sys.stderr)  # noqa: T201
        return 2
    except ClothwrightError as error:
        print(error, file=sys.stderr)  # noqa: T201
        return error.exit_code
    except KeyboardInterrupt:
        print("Stopped.", file=sys.stderr)  # noqa: T201
        return 130
    except OSError as error:
        name = f" ({error.filename})" if error.filename else ""
        print(f"The disk says: {error.strerror or error}{name}", file=sys.stderr)  # noqa: T201
        return 2
