"""clothwright seams: which edges are sewn together, proposed and confirmed."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from clothwright.cli.saying import open_book, out
from clothwright.errors import BadInput
from clothwright.units import is_count
from clothwright.words import listed, with_lengths
from clothwright.workroom.pieces.seam_cards import PairCard, pairs_of, sew
from clothwright.workroom.pieces.seam_choices import Yes, forget_refused, refuse

MOST = 500
"""Proposals that are told."""


def seams(
    workbook: Path,
    *,
    confirm: str = "",
    ease: tuple[str, ...] = (),
    turn: str = "",
    name: tuple[str, ...] = (),
    refuse_: Annotated[str, Parameter(name="--refuse")] = "",
    again: bool = False,
) -> None:
    """Show which edges may be sewn together, and make seams of those you confirm.

    Edges are paired by their names, their lengths with darts folded out, and their notches.
    Nothing becomes a seam until it is confirmed. Confirming is one step that undo takes back.

    Parameters
    ----------
    workbook
        The workbook's folder.
    confirm
        Numbers of the proposals to confirm, with commas, or all.
    ease
        "1=6 mm": what one side of proposal 1 is meant to be longer by; several times. Without it
        the ease is as proposed.
    turn
        Numbers of the proposals whose ends meet the other way round.
    name
        "1=side": what the seam of proposal 1 is called; several times.
    refuse_
        Numbers of the proposals that are none; they are not made again.
    again
        Propose what has been refused, too.
    """
    book = open_book(workbook)
    at = book.read() if confirm else book.look()
    if again:
        forget_refused(workbook)
    cards = pairs_of(workbook, at.book, book.replayed(at).pattern, most=MOST).cards
    chosen = _numbers(confirm, "--confirm", len(cards))
    turns = _numbers(turn, "--turn", len(cards))
    none = _numbers(refuse_, "--refuse", len(cards))
    eases = _named(ease, "--ease", len(cards))
    names = _named(name, "--name", len(cards))
    if chosen:
        said = [
            Yes(key=cards[n - 1].key, ease=eases.get(n), turn=n in turns, name=names.get(n, ""))
            for n in chosen
        ]
        out.print(f"{sew(book, said, at.revision).words}.")
    if none:
        refuse(workbook, [cards[n - 1].key for n in none])
        out.print(f"Refused: {listed([cards[n - 1].name for n in none])}.")
    if not chosen and not none:
        _show(cards)


def _show(cards: Sequence[PairCard]) -> None:
    if not cards:
        out.print("No edges are left that might be sewn together.")
        return
    out.print("Which edges are sewn together?")
    for n, p in enumerate(cards, start=1):
        ease = f"ease {p.ease} proposed" if p.ease else "no ease"
        out.print(
            f"{n:3}  {p.name}: {p.a} ({p.length_a}) to {p.b} ({p.length_b})\n"
            f"     {'; '.join(filter(None, (ease, p.why)))}\n"
            f"     what meets: {p.start}; {p.end}"
        )
    out.print("Confirm with --confirm 1,2 (or all), refuse with --refuse 3.")


def _numbers(text: str, option: str, most: int) -> tuple[int, ...]:
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


def _named(values: tuple[str, ...], option: str, most: int) -> dict[int, str]:
    out_: dict[int, str] = {}
    for value in values:
        number, equals, text = value.partition("=")
        if not equals or not text.strip():
            raise BadInput(
                where=option,
                what=f'"{value}" is no answer',
                expected=with_lengths('NUMBER=ANSWER, "1=6 mm"'),
            )
        (n,) = _numbers(number, option, most) or (0,)
        out_[n] = text.strip()
    return out_
