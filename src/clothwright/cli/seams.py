"""clothwright seams: which edges are sewn together, proposed and confirmed."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from clothwright.cli.saying import open_book, out
from clothwright.errors import BadInput
from clothwright.pattern.measure import side
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.words import show_length
from clothwright.workroom.editing.edits.whole import Several
from clothwright.workroom.pieces.seam_choices import (
    adding,
    forget_refused,
    open_proposals,
    refuse,
    said_seam,
)
from clothwright.workroom.pieces.seam_ends import ends_words
from clothwright.workroom.pieces.seaming import Proposed


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
    unit = at.book.unit
    if again:
        forget_refused(workbook)
    pattern = book.replayed(at).pattern
    found = open_proposals(workbook, pattern)
    chosen = _numbers(confirm, "--confirm", len(found))
    turns = _numbers(turn, "--turn", len(found))
    none = _numbers(refuse_, "--refuse", len(found))
    eases = _named(ease, "--ease", len(found))
    names = _named(name, "--name", len(found))
    if chosen:
        edits = []
        for n in chosen:
            p = found[n - 1]
            proposed = f"{p.seam.ease:.2f} mm" if p.seam.ease else ""
            seam = said_seam(
                pattern,
                p,
                ease=eases.get(n, proposed),
                turn=n in turns,
                name=names.get(n, ""),
                unit=unit,
            )
            edits.append(adding(seam, unit))
        words = "seams: " + ", ".join(str(e.values["name"]) for e in edits)
        book.edit(Several(edits=tuple(edits), words=words), base=at.revision)
        out.print(f"Added {words}.", markup=False)
    if none:
        refuse(workbook, [found[n - 1].key for n in none])
        out.print(f"Refused: {', '.join(found[n - 1].seam.name for n in none)}.", markup=False)
    if not chosen and not none:
        _show(pattern, found, unit)


def _show(pattern: Pattern, found: tuple[Proposed, ...], unit: Unit) -> None:
    if not found:
        out.print("No edges are left that might be sewn together.")
        return
    out.print("Which edges are sewn together?")
    for n, p in enumerate(found, start=1):
        lengths = [show_length(side(pattern, refs).length, unit) for refs in (p.seam.a, p.seam.b)]
        sides = [" + ".join(map(str, refs)) for refs in (p.seam.a, p.seam.b)]
        start, end = ends_words(pattern, p.seam)
        ease = f"ease {show_length(p.seam.ease, unit)} proposed" if p.seam.ease else "no ease"
        out.print(
            f"{n:3}  {p.seam.name}: {sides[0]} ({lengths[0]}) to {sides[1]} ({lengths[1]})\n"
            f"     {'; '.join((ease, *p.why))}\n"
            f"     what meets: {start}; {end}",
            markup=False,
        )
    out.print("Confirm with --confirm 1,2 (or all), refuse with --refuse 3.", markup=False)


def _numbers(text: str, option: str, most: int) -> tuple[int, ...]:
    plain = text.strip().lower()
    if not plain:
        return ()
    if plain == "all":
        return tuple(range(1, most + 1))
    parts = [p.strip() for p in plain.split(",")]
    if not all(p.isascii() and p.isdigit() and 1 <= int(p) <= most for p in parts):
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
                where=option, what=f'"{value}" is no answer', expected='NUMBER=ANSWER, "1=6 mm"'
            )
        (n,) = _numbers(number, option, most) or (0,)
        out_[n] = text.strip()
    return out_
