"""The commands, listed by hand, and what happens when one goes wrong."""

from __future__ import annotations

import importlib
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from cyclopts import App, CycloptsError

from clothwright import __version__
from clothwright.errors import ClothwrightError

HELP = """Pieces in, changes, the walk of every seam, placing plans compared on your own cloth,
the lay, full-size pages and a guide.

Start with `clothwright demo`, then look into the folder it names. A workbook is a folder with one
text file you can read and edit, and one drawing a piece. Lengths are typed as you write them:
`5/8 in`, `17 1/2"`, `43,5 cm`, `1 3/8 yd`.
"""


class Command(NamedTuple):
    """A command: its name, and the first sentence of its help.

    Its file in this folder is imported when it is run, so that none waits for what another needs.
    """

    name: str
    words: str

    @property
    def target(self) -> str:
        """Where its function stands: "clothwright.cli.walk:walk"; open and print end in "_"."""
        own = self.name.replace("-", "_") + ("_" if self.name in ("open", "print") else "")
        return f"clothwright.cli.{own}:{own}"

    def load(self) -> Callable[..., Any]:
        """Import the command's file and return its function."""
        module, _, own = self.target.partition(":")
        found: Callable[..., Any] = getattr(importlib.import_module(module), own)
        return found


COMMANDS = (
    Command(
        "demo",
        "Make a demo workbook and do the whole job on it: check, lay, compare, print, guide.",
    ),
    Command("new", "Start an empty workbook in a new folder."),
    Command(
        "open",
        "Open a workbook, or a folder of them, as a page in the browser; Ctrl-C ends it.",
    ),
    Command("sheets", "Write marker sheets to print, for pieces that come from photos."),
    Command("add", "Add the pieces of a drawing to a workbook."),
    Command(
        "seams",
        "Show which edges may be sewn together, and make seams of those you confirm.",
    ),
    Command("name", "Add a level or a point to a piece, or name a corner or a notch of it."),
    Command("together", "Show which pieces go with others: facings, linings, bands, collars."),
    Command(
        "body",
        "Note the wearer's measurements, and say which size of the chart they suggest.",
    ),
    Command("show", "Show what a workbook holds, or every edge and named point of one piece."),
    Command("change", "Change the pieces: add to the list of changes, edit it, or show it."),
    Command(
        "again",
        "Do the changes of one workbook again on the pieces of another; ask what is not known.",
    ),
    Command(
        "edit",
        "Edit any one thing: a cloth, a seam, a plan, a rule, the title, the unit, the notes.",
    ),
    Command("undo", "Take back the last step, also one of days ago."),
    Command("redo", "Do again what undo took back, until something new is done."),
    Command(
        "history",
        "Show what was done to the workbook, step by step, and where you are in it.",
    ),
    Command(
        "recover",
        "Bring back a workbook whose files are lost or damaged, from copies kept at every save.",
    ),
    Command("walk", "Walk every seam of the pieces as changed and say what does not agree."),
    Command(
        "toile",
        "Note what the trial garment showed, and take the changes that would answer it.",
    ),
    Command(
        "lay",
        "Lay every piece on its cloth for one plan; better every moment, stopped by Ctrl-C.",
    ),
    Command(
        "ways-to-fit",
        "Find what would make a plan fit that does not: each way is laid, with what it costs.",
    ),
    Command("compare", "Lay several plans on the same cloth and show them side by side."),
    Command(
        "choose",
        "Make the plans that a few wishes allow, lay them all, and show those worth weighing.",
    ),
    Command(
        "chart",
        "Make the yardage chart: what to buy of a material for each plan, width and nap.",
    ),
    Command(
        "print",
        "Write the pieces as changed at full size: pages to join, one large sheet, drawings.",
    ),
    Command(
        "guide",
        "Write the guide: what was changed and found, what to buy and cut, how to lay it.",
    ),
)
"""Every command in the order of the job."""

RENAMED = {"alter": "change", "check": "walk", "ways-out": "ways-to-fit"}
"""Commands under the names they once had; they answer with the name they have now."""


def app() -> App:
    """Return the command line application."""
    it = App(name="clothwright", help=HELP, version=__version__, help_format="markdown")
    for place, command in enumerate(COMMANDS):
        it.command(command.target, name=command.name, help=command.words, sort_key=place)
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
        from clothwright.cli.mistyped import mistyped  # noqa: PLC0415

        print(mistyped(error), file=sys.stderr)  # noqa: T201
        return 2
    except ClothwrightError as error:
        print(_in_her_unit(error, tokens), file=sys.stderr)  # noqa: T201
        return error.exit_code
    except KeyboardInterrupt:
        print("Stopped.", file=sys.stderr)  # noqa: T201
        return 130
    except OSError as error:
        name = f" ({error.filename})" if error.filename else ""
        print(f"The disk says: {error.strerror or error}{name}", file=sys.stderr)  # noqa: T201
        return 2


def _in_her_unit(error: ClothwrightError, tokens: Sequence[str]) -> str:
    """Return what an error says in the unit of the workbook the command names; else in cm."""
    from clothwright.words import Unit, told  # noqa: PLC0415 (only when it is wanted)
    from clothwright.workroom.editing.opened import unit_of  # noqa: PLC0415

    units = (unit_of(Path(token)) for token in tokens[1:])
    return told(error, next((u for u in units if u is not None), Unit.cm))
