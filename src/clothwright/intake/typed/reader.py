"""Typed measurements read line by line: pieces as far as they go, and every slip with its line."""

from __future__ import annotations

import re
from collections.abc import Callable

from clothwright.errors import BadInput
from clothwright.intake.typed import details
from clothwright.intake.typed.edges import edge_of, is_edge
from clothwright.intake.typed.lines import (
    LENGTH,
    LONGEST_LINE,
    LineSlip,
    Note,
    closest_word,
    found_in,
    length_in,
    new_name,
    notes_of,
    width_in,
)
from clothwright.intake.typed.points import placed, spot_of
from clothwright.intake.typed.sheet import MOST_SLIPS, Typed, TypedSheet
from clothwright.intake.typed.walk import Course, walk_of
from clothwright.intake.typed.whole import finished
from clothwright.units import Unit, parse_unit
from clothwright.words import show_length

MOST_POINTS = 200
MOST_EDGES = 60
MOST_PIECES = 20
FARTHEST_MM = 10_000.0
_I = re.IGNORECASE
_POINT = re.compile(r"(?:point )?(?P<name>[^,:=]+?)(?: is|:| =|=) ?(?P<rest>.+)", _I)
_POINT_FROM = re.compile(r"(?:point )?(?P<name>[^,:=]+?) (?P<rest>from .+)", _I)
_TO_POINT = re.compile(r"(?P<rest>from .+?),? (?:to|is|gives|reaches) (?P<name>[^,:=]+)", _I)
_START = re.compile(r"(?:start|begin)(?:ing)?(?: at| with| from)?:? (?P<name>.+)", _I)
_CENTRE = re.compile(
    r"(?:the )?(?:centre|center|middle)(?: (?:front|back))?:?(?: is| lies)?(?: on| to)? ?(?:the )?"
    r"(?P<side>left|right)(?: side)?",
    _I,
)
_ALLOWANCE = re.compile(
    rf"(?:the )?(?:seam )?allowances?:? ?(?:is |are )?"
    rf"(?:(?P<a>{LENGTH}),? )?(?:is |are )?(?P<not>not )?(?P<how>included|added|to add|to be added)"
    rf"(?:[:,]? (?:add )?(?P<b>{LENGTH}))?(?: all round)?",
    _I,
)
_WITHIN = re.compile(rf"(?:checks? )?within (?P<a>{LENGTH})", _I)
_UNIT = re.compile(r"(?:unit|measured in|all in|in):? (?P<unit>[^\W\d_]+)", _I)
_HEAD = re.compile(r"piece:? (?P<name>.+)", _I)
_SIZE = re.compile(r"size:? (?P<size>[\w/. -]{1,12})", _I)
_NOTE = re.compile(r"notes?:? (?P<text>.+)", _I)
FIRST_WORDS = (
    *("piece", "unit", "centre", "size", "note", "cut", "allowance", "edge", "seam", "hem", "fold"),
    *("bound", "raw", "notch", "double", "dart", "grain", "level", "mark", "check", "within"),
    *("start", "from", "point", "straight", "curve"),
)


def read_typed(text: str, unit: Unit) -> Typed:
    """Read the notes; what is wrong with a line is a slip, and the rest is read all the same.

    unit: of numbers that have none, unless the notes say another one.
    """
    sheets: list[TypedSheet] = []
    loose: list[LineSlip] = []
    for note in notes_of(text):
        head = _HEAD.fullmatch(note.text)
        if head:
            _begin(sheets, note, head["name"], unit)
        elif not sheets:
            loose.append(LineSlip(note.number, _headless(note)))
            sheets.append(TypedSheet(head=note, name="piece", unit=unit))
            _take(sheets[-1], note)
        else:
            _take(sheets[-1], note)
        if len(loose) + sum(len(s.slips) for s in sheets) > MOST_SLIPS:
            break
    if not sheets and not loose:
        loose.append(
            LineSlip(0, BadInput(what="there is nothing in it", expected="piece NAME first"))
        )
    made = tuple(finished(s) for s in sheets)
    slips = sorted((*loose, *(x for p in made for x in p.slips)), key=lambda x: x.line)
    return Typed(pieces=made, slips=tuple(slips[:MOST_SLIPS]))


def says_unit(text: str) -> bool:
    """Tell whether the notes say in which unit numbers alone are."""
    return any(_UNIT.fullmatch(n.text) for n in notes_of(text))


def names_in(text: str) -> tuple[str, ...]:
    """Return the names of the pieces as they follow in the notes; "" for one without a name."""
    names: list[str] = []
    for note in notes_of(text):
        head = _HEAD.fullmatch(note.text)
        if head:
            names.append(" ".join(head["name"].strip().strip("\"':").split()))
        elif not names:
            names.append("")
    return tuple(names)


def _headless(note: Note) -> BadInput:
    return note.fault("no piece has been named before it", "a first line such as: piece front")


def _begin(sheets: list[TypedSheet], note: Note, name: str, unit: Unit) -> None:
    sheet = TypedSheet(head=note, name=name, unit=sheets[-1].unit if sheets else unit)

    def named() -> None:
        if len(sheets) >= MOST_PIECES:
            raise note.fault("there are too many pieces", f"at most {MOST_PIECES}")
        sheet.name = new_name(note, name, [s.name for s in sheets], "piece")

    sheet.tried(note, named)
    sheets.append(sheet)


def _take(sheet: TypedSheet, note: Note) -> None:
    """Read one line into a piece, or put it by until the outline is known."""
    if len(note.text) > LONGEST_LINE:
        error = note.fault("the line is too long", f"at most {LONGEST_LINE} letters")
        sheet.slips.append(LineSlip(note.number, error))
        return
    walks: list[Course | None] = []
    if not sheet.tried(note, lambda: walks.append(walk_of(note, sheet.at))):
        return
    walk = walks[0]
    if walk and (walk.moves or not walk.head):
        sheet.tried(note, lambda: _walked(sheet, note, walk))
        return
    for pattern, read in _SAYINGS:
        m = pattern.fullmatch(note.text)
        if m:
            sheet.tried(note, lambda r=read, m=m: r(sheet, note, m))  # type: ignore[misc]
            return
    first = re.split(r"[ :]", note.text.lower(), maxsplit=1)[0]
    if first == "check":
        sheet.measured.append(note)
    elif first in ("notch", "dart", "grain", "grainline", "level", "mark") or re.match(
        r"(?:single|double) notch|straight grain", note.text, _I
    ):
        sheet.later.append(note)
    elif first == "cut":
        sheet.tried(note, lambda: _cut(sheet, note))
    elif is_edge(note, sheet.at):
        sheet.tried(note, lambda: _edge(sheet, note))
    elif first == "allowance":
        sheet.tried(note, lambda: _allowance_unread(note))
    else:
        sheet.tried(note, lambda: _point(sheet, note))


def _unit(sheet: TypedSheet, note: Note, m: re.Match[str]) -> None:
    unit = parse_unit(m["unit"], where=note.where)
    if unit is not sheet.unit and (sheet.at or sheet.edges):
        raise note.fault("lengths have been read in another unit already", "the unit first of all")
    sheet.unit = unit


def _centre(sheet: TypedSheet, note: Note, m: re.Match[str]) -> None:
    side = m["side"].lower()
    if sheet.inward not in ("", side):
        raise note.fault(f"the centre was said to lie on the {sheet.inward}", "one side of the two")
    sheet.inward = side


def _allowance(sheet: TypedSheet, note: Note, m: re.Match[str]) -> None:
    how, text = m["how"].lower(), m["a"] or m["b"]
    if how == "added" or (m["not"] and how != "included"):
        shown = f"{text} " if text else ""
        raise note.fault(
            f'"{"not " if m["not"] else ""}{how}" may be read two ways',
            f'"allowance {shown}included" when the measured line is the cutting line, '
            f'"allowance {shown}to add" when it is the stitching line',
        )
    if m["a"] and m["b"]:
        raise note.fault("it names two widths", "one width all round; another one at its edge")
    included = how == "included" and not m["not"]
    width = width_in(note, text, sheet.unit) if text else None
    both = width is not None and sheet.width is not None
    if sheet.included not in (None, included) or (both and width != sheet.width):
        raise note.fault(
            f"line {sheet.allowance_line} says something else of the allowance",
            "one such line a piece; a width of its own at the edge",
        )
    sheet.included, sheet.allowance_line = included, sheet.allowance_line or note.number
    sheet.width = sheet.width if width is None else width


def _allowance_unread(note: Note) -> None:
    raise note.fault(
        "it does not say whether the measured line includes the allowance",
        '"allowance 5/8 in included", "allowance not included" or "allowance 5/8 in to add"',
    )


def _within(sheet: TypedSheet, note: Note, m: re.Match[str]) -> None:
    sheet.within = length_in(note, m["a"], sheet.unit, least=0.0)


def _remark(sheet: TypedSheet, note: Note, m: re.Match[str]) -> None:
    del note
    sheet.said.append(m["text"])


def _size(sheet: TypedSheet, note: Note, m: re.Match[str]) -> None:
    del note
    sheet.said.insert(0, f"Size {m['size'].strip()}")


_SAYINGS: tuple[tuple[re.Pattern[str], Callable[[TypedSheet, Note, re.Match[str]], None]], ...] = (
    (_NOTE, _remark),
    (_UNIT, _unit),
    (_CENTRE, _centre),
    (_ALLOWANCE, _allowance),
    (_WITHIN, _within),
    (_SIZE, _size),
)
"""Lines about the whole piece, and what reads them."""


def _cut(sheet: TypedSheet, note: Note) -> None:
    cut, took = details.cut_of(note)
    if len(sheet.cuts) >= 8:
        raise note.fault("there are too many orders to cut", "at most eight")
    sheet.cuts.append(cut)
    sheet.took += [took] if took else []


def _edge(sheet: TypedSheet, note: Note) -> None:
    if len(sheet.edges) >= MOST_EDGES:
        raise note.fault("the piece has too many edges", f"at most {MOST_EDGES}")
    edge = edge_of(note, sheet.unit, sheet.at, sheet.edges)
    sheet.edges[edge.name] = edge


def _point(sheet: TypedSheet, note: Note) -> None:
    m = _START.fullmatch(note.text)
    if m:
        name, rest = m["name"], "start"
    else:
        m = _POINT.fullmatch(note.text) or _TO_POINT.fullmatch(note.text)
        m = m or _POINT_FROM.fullmatch(note.text)
        if m is None:
            raise _unknown(sheet, note)
        name, rest = m["name"], m["rest"]
    if len(sheet.spots) >= MOST_POINTS:
        raise note.fault("the piece has too many points", f"at most {MOST_POINTS}")
    name = new_name(note, name, sheet.spots, "point")
    sheet.failed[name] = note.number
    spot = spot_of(name, rest, note, sheet.unit, sheet.at)
    if spot.kind == "start" and sheet.at:
        first = next(iter(sheet.at))
        raise note.fault(
            f"{first} is where this piece starts", f"where {name} lies, from {first} or another"
        )
    if spot.kind == "at" and not spot.moves:
        raise _not_measured(note, name, spot.names[0])
    here = placed(spot, sheet.at, sheet.inward, sheet.unit)
    if here.norm > FARTHEST_MM:
        raise note.fault(
            f"{name} would lie {show_length(here.norm, sheet.unit)} from the start",
            f"a piece of cloth: at most {show_length(FARTHEST_MM, sheet.unit)}",
        )
    sheet.spots[name] = spot
    sheet.at[name] = here
    del sheet.failed[name]


def _not_measured(note: Note, name: str, base: str) -> BadInput:
    """Return what to say of "from A to B hem": a point without a length, or an edge in disorder."""
    return note.fault(
        f'there is no length in it, so "{name}" would lie on {base}',
        f'a length and a way for a point ("{name} is 3 cm down from {base}"), or an edge with its '
        f'name first ("hem from {base} to B, straight")',
    )


def _walked(sheet: TypedSheet, note: Note, walk: Course) -> None:
    """Read "from A 38 cm down, curve to B 6 mm out": a point and the edge that leads to it."""
    point, said = walk.q, note.said or note.text
    if walk.moves:
        if found_in(sheet.spots, point):
            raise note.fault(
                f"{point} lies somewhere already, and this line measures it again",
                f"an edge to it without lengths: from {walk.p} {walk.how} to {point}",
                "a line that begins with check, for what was measured twice",
            )
        where = f"{point} is from {walk.p} {walk.moves}"
        _point(sheet, Note(note.number, where, said))
    head = walk.head.strip() or "edge"
    edge = f"{head} from {walk.p} {walk.how.split()[-1]} to {point}{walk.rest}"
    _edge(sheet, Note(note.number, edge.replace(" line to ", " straight to "), said))


def _unknown(sheet: TypedSheet, note: Note) -> BadInput:
    hint = closest_word(note.text, FIRST_WORDS, (*sheet.at, *sheet.edges))
    return note.fault(
        f"this line is not understood.{hint}",
        'a point ("B is 38 cm down from A"), an edge ("edge side from B to C, straight"), or '
        "piece, allowance, cut, grain, notch, dart, level, mark, check",
    )
