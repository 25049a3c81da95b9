"""clothwright together: which pieces go with others, proposed and confirmed."""

from __future__ import annotations

from pathlib import Path

from clothwright.cli.saying import numbers, open_book, out
from clothwright.errors import BadInput
from clothwright.workroom.pieces.together import (
    TogetherCard,
    add_together,
    say_together,
    take_apart,
    together_of,
)


def together(
    workbook: Path,
    *,
    confirm: str = "",
    add: tuple[str, str] | None = None,
    kind: str = "",
    take_out: str = "",
) -> None:
    """Show which pieces go with others: facings, linings, bands, collars.

    They are read from names, cuts, seams and lengths, and nothing is taken for granted. What goes
    together is walked: the lining that a lengthened sleeve left behind is told. Every change offers
    to do the same to what lies on its pieces.

    Parameters
    ----------
    workbook
        The workbook's folder.
    confirm
        Numbers of the proposals to confirm, with commas, or all.
    add
        A piece, and the one that it goes with.
    kind
        What it is to the other: facing, interfacing, lining, waistband, collar, binding, pocket,
        flap or stand. Without it, what its name says.
    take_out
        The name of a piece that goes with no other.
    """
    book = open_book(workbook)
    at = book.look()
    shown = together_of(at.book)
    if add is not None:
        said = add_together(book, *add, kind, book.read().revision)
    elif take_out:
        said = take_apart(book, take_out, book.read().revision)
    elif confirm:
        chosen = numbers(confirm, "--confirm", len(shown.proposed))
        if not chosen:
            raise BadInput(where="--confirm", what="there are no proposals")
        pieces = [shown.proposed[n - 1].piece for n in chosen]
        said = say_together(book, pieces, book.read().revision)
    else:
        _show("Which pieces go together?", shown.proposed, numbered=True)
        _show("Pieces that go together:", shown.said, numbered=False)
        if shown.proposed:
            out.print("Confirm with --confirm 1,2 (or all).")
        if not shown.proposed and not shown.said:
            out.print("No piece seems to go with another: say it with --add.")
        return
    out.print(f"{said.words}.")


def _show(head: str, cards: tuple[TogetherCard, ...], *, numbered: bool) -> None:
    if cards:
        out.print(head)
    for n, card in enumerate(cards, start=1):
        lead = f"{n:3}  " if numbered else "     "
        out.print(f"{lead}{card.piece}, as {card.kind}: with {card.along}")
