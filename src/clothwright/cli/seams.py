"""clothwright seams: which edges are sewn together, proposed and confirmed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from clothwright.cli.saying import numbers, open_book, out
from clothwright.errors import BadInput
from clothwright.words import listed, with_lengths
from clothwright.workroom.editing.opened import OpenBook
from clothwright.workroom.pieces.seam_cards import PairCard, pairs_of, sew
from clothwright.workroom.pieces.seam_choices import Yes, forget_refused, refuse
from clothwright.workroom.pieces.seam_form import said_in
from clothwright.workroom.pieces.seam_named import NamedSeam, add_seam, set_seam, take_out

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
    add: tuple[str, str] | None = None,
    set_: Annotated[str, Parameter(name="--set")] = "",
    take_out_: Annotated[str, Parameter(name="--take-out")] = "",
    join: str | None = None,
    by: str | None = None,
    up_to: str | None = None,
    start: Annotated[str | None, Parameter(name="--from")] = None,
    end: Annotated[str | None, Parameter(name="--to")] = None,
    folds: str | None = None,
    folds_lie: str | None = None,
    zip_: Annotated[str | None, Parameter(name="--zip")] = None,
    kind: str | None = None,
) -> None:
    """Show which edges may be sewn together, and make seams of those you confirm.

    Edges are paired by their names, their lengths with darts folded out, and their notches.
    Nothing becomes a seam until it is confirmed. Each call is one step that undo takes back. A seam
    that is not proposed is added by its two edges, and one that is named is set, turned or taken
    out:

    `clothwright seams blouse --add yoke.lower "front.top reversed" --join gathered`

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
        Numbers of the proposals whose ends meet the other way round; or the name of a seam.
    name
        "1=side": what the seam of proposal 1 is called; several times. Of an added seam, or one
        that is set, just the name.
    refuse_
        Numbers of the proposals that are none; they are not made again.
    again
        Propose what has been refused, too.
    add
        Two edges that are sewn together, PIECE.EDGE each; several to a side with commas.
    set_
        The name of a seam that is to be sewn as said.
    take_out_
        The name of a seam that is none.
    join
        How its sides are sewn: eased, stretched, gathered, pleated, tucked or elasticated.
    by
        What one side is meant to be longer by. Without it, as much as it is longer.
    up_to
        It may be longer up to this.
    start
        From which mark of the longer side on: its name, or "notch 1". Without it, from the seam's
        start.
    end
        Up to which mark. Without it, to the seam's end.
    folds
        How many pleats or tucks there are.
    folds_lie
        Where they lie: towards the start or the end of the seam, or in pairs, box or inverted.
    zip_
        How long the zip is that is set in it: what it opens.
    kind
        What the seam is: plain, cap (a sleeve), facing, lining, closure (a fastening) or hem.
    """
    book = open_book(workbook)
    if again:
        forget_refused(workbook)
    how = {"join": join, "ease": by, "up_to": up_to, "start": start, "end": end, "kind": kind}
    how |= {"folds": folds, "fold_to": folds_lie, "zip": zip_}
    typed = {key: text for key, text in how.items() if text is not None}
    by_name = _by_name(turn)
    if add is not None or set_ or take_out_ or by_name:
        called = [n for n in name if "=" not in n]
        said = {**typed, "turn": turn, **({"name": called[0]} if called else {})}
        out.print(f"{_named_seam(book, add, set_ or by_name, take_out_, said)}.")
        return
    at = book.read() if confirm else book.look()
    shown = pairs_of(workbook, at.book, book.replayed(at).pattern, most=MOST)
    cards = shown.cards
    chosen = numbers(confirm, "--confirm", len(cards))
    turns = numbers(turn, "--turn", len(cards))
    none = numbers(refuse_, "--refuse", len(cards))
    own = {"ease": _named(ease, "--ease", len(cards)), "name": _named(name, "--name", len(cards))}
    if chosen:
        yes = []
        for n in chosen:
            mine = {key: texts[n] for key, texts in own.items() if n in texts}
            turned = {"turn": "yes"} if n in turns else {}
            yes.append(Yes(key=cards[n - 1].key, said=said_in({**typed, **mine, **turned})))
        out.print(f"{sew(book, yes, at.revision).words}.")
    if none:
        refuse(workbook, [cards[n - 1].key for n in none])
        out.print(f"Refused: {listed([cards[n - 1].name for n in none])}.")
    if not chosen and not none:
        _show(cards)
        _show_named(shown.seams)


def _by_name(turn: str) -> str:
    """Return the seam that --turn names, "" where it says numbers of proposals."""
    plain = turn.replace(",", "").replace(" ", "")
    return "" if plain.isdecimal() or plain.lower() in ("", "all") else turn


def _named_seam(
    book: OpenBook,
    add: tuple[str, str] | None,
    set_: str,
    gone: str,
    said: Mapping[str, str],
) -> str:
    """Add a seam, set or turn one that is named, or take it out; return what came of it."""
    base = book.read().revision
    if add is not None:
        return add_seam(book, add, said_in(said), base).words
    if gone:
        return take_out(book, gone, base).words
    return set_seam(book, set_, said_in(said), base).words


def _show_named(named: Sequence[NamedSeam]) -> None:
    if named:
        out.print("Seams that are named:")
    for s in named:
        out.print(f"     {s.name}: {s.a} to {s.b}{'. ' if s.how else ''}{s.how}")


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
        (n,) = numbers(number, option, most) or (0,)
        out_[n] = text.strip()
    return out_
