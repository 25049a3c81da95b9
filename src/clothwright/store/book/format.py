"""workbook.toml <-> Workbook: strict reading with every mistake placed, exact writing."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence, Set
from dataclasses import replace
from functools import lru_cache
from typing import Any

from clothwright.errors import BadInput, one_of, raise_all
from clothwright.pattern.companions import check_companion
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.sizes import SizeRange
from clothwright.rules.stating import mistaken_rules
from clothwright.store.book.places import line_of, place_words, places
from clothwright.store.book.shapes import OWN, SHAPES, BookFile, PieceRow, SizesRow, drawing_key
from clothwright.store.book.upgrade import upgraded
from clothwright.store.values import Place, Reading, Slip, Writing
from clothwright.units import Unit, parse_unit
from clothwright.units.params import Wrong, read_fields
from clothwright.words import within
from clothwright.workbook import Step, Workbook, change_of, change_title, replay

Draw = Callable[[str, str], Piece]
"""Returns a piece, given its name and the file of its drawing. Raises BadInput."""

FORMAT = 4
"""The format this program writes; older ones are upgraded on reading (book.upgrade)."""

ORDER = (
    *(
        "format",
        "title",
        "unit",
        "notes",
        "chosen_plan",
        "wishes",
        "settings",
        "body",
        "chart",
        "sizes",
    ),
    *("piece", "seam", "companion", "cloth", "plan", "toile", "change"),
)
"""The order of entries and tables in a new file."""

At = Callable[..., str]
"""Says in words where a path of the text stands: `at("plan", 0, "rule", 1, "border")`."""


# --- reading --------------------------------------------------------------------------------------


def reading_in(unit: Unit) -> Reading:
    """Return a reading of entries as workbook.toml has them; bare lengths count in `unit`."""
    return Reading(unit=unit, shapes=SHAPES, own=OWN)


def read_table(text: str, where: str) -> BookFile:
    """Return the checked contents of workbook.toml. Raises BadInput or Mistakes with places.

    The texts read last are remembered; what is returned is not to be changed.
    """
    found, slips = _read(text, where)
    if found is None:
        at = _placing(text, where)
        raise_all([slip.at(at(*slip.place)) for slip in slips])
        raise BadInput(where=where, what="it cannot be read")
    return found


@lru_cache(maxsize=8)
def _read(text: str, where: str) -> tuple[BookFile | None, tuple[Slip, ...]]:
    """Return the contents, or None and every slip by its line. Raises BadInput for no TOML."""
    found, slips = _checked(tomllib.loads(up_to_date(text, where)))
    if not slips:
        return found, ()
    lines = places(text)
    return None, tuple(sorted(slips, key=lambda slip: line_of(slip.place, lines) or 0))


def _checked(raw: Mapping[str, Any]) -> tuple[BookFile | None, list[Slip]]:
    try:
        unit = parse_unit(raw.get("unit", "mm"))
    except BadInput:
        unit = Unit.mm
    reading = reading_in(unit)
    found: BookFile | None = reading.table(BookFile, raw, ())
    if found is None or reading.slips:
        return None, reading.slips
    return replace(found, bare_chart="unit" not in raw.get("chart", {})), []


@lru_cache(maxsize=8)
def up_to_date(text: str, where: str) -> str:
    """Return the text in the current format. Raises BadInput when it is no TOML, or too new."""
    try:
        tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        slip = isinstance(error, tomllib.TOMLDecodeError)
        why = str(error) if slip else "a number in it is too long, or lists lie too deep in lists"
        raise BadInput(
            where=where,
            what=f"this is not a readable workbook: {within(why)}",
            expected="TOML text (docs/file-format.md)",
        ) from None
    return upgraded(text, FORMAT, where)


def read_book(text: str, where: str, draw: Draw, known: Collection[Step] = ()) -> Workbook:
    """Return the workbook that a text describes; every mistake is told at once, with its place.

    draw: returns the piece of a name and file; what it raises without a place of its own gets the
    place of the entry in the text. known: changes whose parameters have been read in this unit.
    Raises BadInput or Mistakes.
    """
    found, slips = _read(text, where)
    at = _placing(text, where)
    told = [slip.at(at(*slip.place)) for slip in slips]
    misread = {slip.place[:4] for slip in slips}
    table = found or _without_rules(text, where, misread)
    if table is None:
        raise_all([*told, *_drawing_faults(text, draw)])
        raise BadInput(where=where, what="it cannot be read")
    pieces: list[Piece] = []
    own: list[Piece] = []
    mistakes = _twice(table, at)
    for k, row in enumerate(table.pieces):
        try:
            pieces.append(draw(row.name, row.file))
            own += [] if row.size else pieces[-1:]
        except BadInput as error:
            mistakes.append(error if error.where else error.at(at("piece", k)))
    mistakes += _seam_faults(table, own, at)
    mistakes += _companion_faults(table, own, at)
    mistakes += _size_faults(table, at)
    mistakes += _change_faults(table, known, at)
    if told and not mistakes:
        told += _wrong_names(to_workbook(table, tuple(pieces)), misread, at)
    raise_all([*mistakes, *told])
    return to_workbook(table, tuple(pieces))


def _placing(text: str, where: str) -> At:
    found: Mapping[Place, int] | None = None

    def at(*place: str | int) -> str:
        nonlocal found
        found = places(text) if found is None else found
        line = line_of(place, found)
        head = f"{where}, line {line}" if line else where
        return f"{head}, {place_words(place)}"

    return at


def _without_rules(text: str, where: str, misread: Set[Place]) -> BookFile | None:
    """Return the contents without rules that cannot be read; None when other things cannot be."""
    if not all(len(place) == 4 and place[::2] == ("plan", "rule") for place in misread):
        return None
    raw = tomllib.loads(up_to_date(text, where))
    for i, plan in enumerate(raw["plan"]):
        rules = enumerate(plan.get("rule", ()))
        plan["rule"] = [r for j, r in rules if ("plan", i, "rule", j) not in misread]
    return _checked(raw)[0]


def _wrong_names(book: Workbook, misread: Set[Place], at: At) -> Iterator[BadInput]:
    """Yield what the rules that can be read name in vain, when others cannot be read at all.

    Alone such a rule does not keep a workbook closed: the pieces may be changed so that it holds.
    """
    pattern = replay(book).pattern
    for i, plan in enumerate(book.plans):
        out = {place[3] for place in misread if place[1] == i}
        left = [j for j in range(len(plan.rules) + len(out)) if j not in out]
        for found in mistaken_rules(plan, pattern, book.cloths):
            for wrong in found.wrong:
                place = ("plan", i, "rule", left[found.number - 1], wrong.field)
                yield _named(wrong, at(*(place if wrong.field else place[:-1])))


def _named(wrong: Wrong, where: str) -> BadInput:
    e = wrong.error
    return BadInput(where=where, what=e.what, expected=e.expected, try_=e.try_)


def _drawing_faults(text: str, draw: Draw) -> list[BadInput]:
    """Return what is wrong with the drawings that a text with other mistakes names."""
    try:
        rows = tomllib.loads(text).get("piece", [])
    except tomllib.TOMLDecodeError:
        return []
    faults: list[BadInput] = []
    for row in rows if isinstance(rows, list) else []:
        name, file = (row.get(k) if isinstance(row, dict) else None for k in ("name", "file"))
        if isinstance(name, str) and isinstance(file, str):
            try:
                draw(name, file)
            except BadInput as error:
                faults.append(error if error.where else error.at(f'piece "{name}"'))
    return faults


def _twice(table: BookFile, at: At) -> list[BadInput]:
    """Return a mistake for every name that two pieces, seams, cloths or plans share."""
    faults = []
    book = table.book
    rows: tuple[tuple[str, tuple[Any, ...]], ...] = (
        ("piece", table.pieces),
        ("seam", table.seams),
        ("companion", table.companions),
        ("cloth", book.cloths),
        ("plan", book.plans),
        ("toile", book.toile),
    )
    for kind, each in rows:
        names = [getattr(row, "key", None) or row.name for row in each]
        faults += [
            BadInput(
                where=at(kind, k, "name"),
                what=f'the name "{name.replace(chr(10), ", size ")}" stands twice',
                expected=f"a different name for every {kind}",
            )
            for k, name in enumerate(names)
            if name in names[:k]
        ]
    return faults


def _seam_faults(table: BookFile, pieces: Sequence[Piece], at: At) -> list[BadInput]:
    """Return the seams that name what is not there, among pieces whose drawings could be read."""
    read = {p.name: p for p in pieces}
    unread = {row.name for row in table.pieces} - set(read)
    faults = []
    for k, row in enumerate(table.seams):
        if any(ref.piece in unread for ref in row.refs):
            continue
        try:
            Pattern(pieces=tuple(read.values()), seams=(row,))
        except BadInput as error:
            faults.append(error.at(at("seam", k)))
    return faults


def _companion_faults(table: BookFile, pieces: Sequence[Piece], at: At) -> list[BadInput]:
    """Return the companions that name what is not there, among pieces that could be read."""
    read = Pattern(pieces=tuple({p.name: p for p in pieces}.values()))
    unread = {row.name for row in table.pieces} - {p.name for p in pieces}
    faults = []
    for k, row in enumerate(table.companions):
        if unread.isdisjoint({row.piece, *(a.piece for a in row.of)}):
            try:
                check_companion(read, row)
            except BadInput as error:
                faults.append(error.at(at("companion", k)))
    return faults


def _change_faults(table: BookFile, known: Collection[Step], at: At) -> list[BadInput]:
    """Return the changes of a kind that is not known, and parameters that cannot be read."""
    faults: list[BadInput] = []
    sound = {repr(step) for step in known}  # as said, for 1 equals `true`
    new = [(k, step) for k, step in enumerate(table.book.steps) if repr(step) not in sound]
    for k, step in new:
        try:
            kind = change_of(step.change)
        except BadInput as error:
            wrong: tuple[Wrong, ...] = (Wrong("kind", error),)
        else:
            _, wrong = read_fields(kind.params, step.params, unit=table.book.unit)
        for each in wrong:
            named = each.field in ("kind", *step.params)
            place = at("change", k, each.field) if named else at("change", k)
            called = "" if each.field == "kind" else f" ({within(change_title(step.change))})"
            faults.append(_named(each, f"{place}{called}"))
    return faults


def _size_faults(table: BookFile, at: At) -> list[BadInput]:
    """Return the drawings of a size that [sizes] does not name, or of a piece that is not there."""
    known = [] if table.sizes is None else table.sizes.names
    drawn = "" if table.sizes is None else table.sizes.drawn
    own = {row.name for row in table.pieces if not row.size}
    faults = []
    for k, row in enumerate(table.pieces):
        if row.size and (row.size not in known or row.size == drawn):
            faults.append(
                BadInput(
                    where=at("piece", k, "size"),
                    what=f'the size "{row.size}" is not one of the further sizes in [sizes]',
                    expected=one_of(n for n in known if n != drawn),
                )
            )
        elif row.size and row.name not in own:
            faults.append(
                BadInput(
                    where=at("piece", k, "name"),
                    what=f'size {row.size} of "{row.name}", which is no piece of the workbook',
                    expected=f'an entry for "{row.name}" without a size, too',
                )
            )
    return faults


def to_workbook(table: BookFile, pieces: tuple[Piece, ...]) -> Workbook:
    """Return the workbook of a checked file and the pieces it names. Raises BadInput."""
    drawn = list(zip(table.pieces, pieces, strict=False))
    own = tuple(p for row, p in drawn if not row.size)
    several = {row.name for row, _ in drawn if row.size}
    sizes: SizeRange | None = None
    if table.sizes is not None and several:
        of = {row.key: p for row, p in drawn}
        names = tuple(p.name for p in own if p.name in several)
        sizes = SizeRange(
            names=table.sizes.names,
            drawn=table.sizes.drawn,
            pieces=tuple(
                tuple(
                    of[key]
                    for n in names
                    if (key := drawing_key(n, "" if s == table.sizes.drawn else s)) in of
                )
                for s in table.sizes.names
            ),
        )
    bought = Pattern(pieces=own, seams=table.seams, companions=table.companions, sizes=sizes)
    return replace(table.book, bought=bought)


# --- writing --------------------------------------------------------------------------------------


def writing_in(unit: Unit) -> Writing:
    """Return a writing of entries as workbook.toml has them, lengths as text in `unit`."""
    return Writing(unit=unit, shapes=SHAPES, own=OWN)


def to_plain(book: Workbook, files: Mapping[str, str]) -> dict[str, Any]:
    """Return the workbook as plain data for TOML. files: by the key of each drawing.

    Lengths are exact text in the workbook's unit, what would be so anyway is left unsaid. Raises
    BadInput for a length that is not finite.
    """
    rows = [
        PieceRow(name=p.name, size=size, file=files[drawing_key(p.name, size)])
        for p, size in drawings(book.bought)
    ]
    several = book.bought.sizes
    table = BookFile(
        format=FORMAT,
        book=book,
        sizes=None if several is None else SizesRow(names=several.names, drawn=several.drawn),
        pieces=tuple(rows),
        seams=book.bought.seams,
        companions=book.bought.companions,
    )
    return said_by(table, book.unit)


def drawings(pattern: Pattern) -> list[tuple[Piece, str]]:
    """Return every piece with "", then its drawing in each further size with that size's name."""
    out: list[tuple[Piece, str]] = []
    sizes = pattern.sizes
    for piece in pattern.pieces:
        out.append((piece, ""))
        if sizes is not None and piece.name in sizes.piece_names:
            each = zip(sizes.names, sizes.each(piece.name), strict=True)
            out += [(p, size) for size, p in each if size != sizes.drawn]
    return out


def said_by(table: BookFile, unit: Unit) -> dict[str, Any]:
    """Return what a checked file says as plain data, lengths as text in `unit`. Raises BadInput."""
    said = writing_in(unit).table(BookFile, table)
    if table.bare_chart and "chart" in said and unit is not table.book.unit:
        del said["chart"]["unit"]  # left out it meant the old unit; from now on it is said
    return {key: said[key] for key in ORDER if key in said}
