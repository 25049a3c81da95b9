"""clothwright again: the changes of one workbook done on the pieces of another."""

from __future__ import annotations

from pathlib import Path

from clothwright.cli.saying import open_book, out
from clothwright.errors import BadInput
from clothwright.workroom.changing.again import Again, carry_over, done_again


def again(
    source: Path,
    workbook: Path,
    *,
    name: tuple[str, ...] = (),
    rest: bool = False,
    try_: bool = False,
) -> int:
    """Do the changes of one workbook again on the pieces of another; ask what is not known.

    What carries over is added to the list of changes, as one step, which `clothwright undo` takes
    back. A name that a change before has divided or renamed is followed; one that never was there
    is asked, with what may be meant. Nothing is written until every one is answered, or left out
    with --rest. Leaves with 1 while something is asked. Amounts are carried over as they are: look
    at each for another body.

    Parameters
    ----------
    source
        The folder of the workbook with the changes.
    workbook
        The folder of the workbook they are done on.
    name
        What a name there means here: "coat front=jacket front", "12=14"; may be given again.
    rest
        Leave out the changes that need an answer, and do the others.
    try_
        Show what would be done, and write nothing.
    """
    names = dict(_pair(text) for text in name)
    there, opened = open_book(source).look().book, open_book(workbook)
    found = done_again(there, opened.look().book, names)
    _tell(found)
    if found.questions and not rest:
        out.print(
            "Nothing was written. Answer with --name, or leave these changes out with --rest."
        )
        return 1
    if try_:
        return 0
    out.print(f"{carry_over(there, opened, names, rest=rest).words}.")
    return 0


def _pair(text: str) -> tuple[str, str]:
    there, equals, here = (part.strip() for part in text.partition("="))
    if not (there and equals and here):
        raise BadInput(where="--name", what=f'"{text}" is no answer', expected="THERE=HERE")
    return there, here


def _tell(found: Again) -> None:
    for line in found.lines:
        lead = "" if line.carried else "ASKED: " if line.asks else "LEFT OUT: "
        out.print(f"{line.number}. {line.title}. {lead}{line.words}")
    for q in found.questions:
        may = "It may be one of these:" if q.choices else "Nothing of its kind is here."
        out.print(f"There is no {q.words} here. {may}")
        for key, said in q.choices[:5]:
            mark = "likely: " if key == q.proposed else ""
            out.print(f'   {mark}{said}   --name "{q.asked}={key}"')
