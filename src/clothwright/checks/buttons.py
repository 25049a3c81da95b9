"""Do buttons and buttonholes lie where they close: on the centre, evenly, alike on both sides?"""

from __future__ import annotations

from collections.abc import Iterator
from statistics import median

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.patches_fit import beyond
from clothwright.checks.weigh import each, length_band, of_mark
from clothwright.pattern.buttons import (
    ROW_MM,
    SMALLEST_MM,
    ButtonRow,
    button_marks,
    button_rows,
    is_too_narrow,
    least_stand,
    stand_of,
)
from clothwright.pattern.finding import Finding, Mend, Severity, Where
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.sides import Twin, how_apart, spots, two_sides
from clothwright.words import AtLeast, Sentence, begun, counted

ID = "buttons"


def buttons(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Look at each row of buttons, then at what closes on each other."""
    pieces = tuple(p for p in pattern.pieces if any(button_marks(p)))
    yield from each(
        ID, pieces, lambda p: Where(piece=p.name), lambda p: _piece(pattern, p, settings)
    )
    for a, b in two_sides(pattern):
        if a in pieces and b in pieces:
            yield from _sides(pattern, a, b, settings)


def _piece(pattern: Pattern, piece: Piece, settings: CheckSettings) -> Iterator[Finding]:
    marks = tuple(button_marks(piece))
    lost = {}
    if beyond(piece, tuple(at for _, at in marks)):
        offs = ((mark.name, beyond(piece, (at,))) for mark, at in marks)
        lost = {name: off for name, off in offs if length_band(off, settings)}
    for name, off in lost.items():
        words: Sentence = (
            f"{begun(name)} of {piece.name} lies ",
            off,
            " beyond its edge. Mark it anew.",
        )
        yield of_mark(
            piece, name, words, code="button-off-piece", weight=Severity.FAULT, measured=off
        )
    for row in button_rows(pattern, piece):
        if not lost.keys() & set(row.names):
            found = _off_row(row, settings) or _off_centre(row, settings)
            yield from found or _uneven(row, settings)
            yield from _stand(pattern, row)


def _off_row(row: ButtonRow, settings: CheckSettings) -> list[Finding]:
    """Look for buttons that lie beside the line of the others, or beside the centre."""
    base = row.middle_out
    if row.known and (len(row.out) < 3 or _on_centre(row, settings)):
        base = 0.0
    found = []
    for name, out in zip(row.names, row.out, strict=True):
        weight = length_band(out - base, settings)
        if weight and (len(row.out) > 2 or row.known) and max(abs(base), abs(out - base)) <= ROW_MM:
            line = "the centre" if base == 0.0 and row.known else "the line of the others"
            words: Sentence = (
                f"{begun(name)} of {row.piece.name} lies ", abs(out - base),
                f" beside {line}. Mark it on {line}, or it draws the front askew.",
            )  # fmt: skip
            found.append(
                of_mark(
                    row.piece, name, words, code="button-off-row", weight=weight,
                    measured=abs(out - base), mend=_spaced(row),
                )
            )  # fmt: skip
    return [] if len(found) == len(row.out) > 1 else found


def _on_centre(row: ButtonRow, settings: CheckSettings) -> bool:
    """Tell whether most of a row lies on the centre."""
    on = sum(1 for out in row.out if abs(out) <= settings.agree)
    return 2 * on > len(row.out)


def _off_centre(row: ButtonRow, settings: CheckSettings) -> list[Finding]:
    """Look whether a whole row lies beside the centre, and yet too near to be one of two rows."""
    weight = length_band(row.middle_out, settings)
    if not row.known or not weight or abs(row.middle_out) > ROW_MM:
        return []
    words: Sentence = (
        f"The {_noun(row)} of {row.piece.name} lie ", abs(row.middle_out),
        " beside the centre: closed, both fronts lie that far too near or too far. Mark them on "
        "the centre.",
    )  # fmt: skip
    return [
        of_mark(
            row.piece, row.names[0], words, code="buttons-off-centre", weight=weight,
            measured=abs(row.middle_out), mend=_spaced(row, line="centre"),
        )
    ]  # fmt: skip


def _noun(row: ButtonRow) -> str:
    return "buttonholes" if row.holes else "buttons"


def _uneven(row: ButtonRow, settings: CheckSettings) -> list[Finding]:
    """Look whether one of the spaces of a row is not like the others."""
    gaps = row.gaps
    if len(gaps) < 2:
        return []
    due = median(gaps) if len(gaps) > 2 else sum(gaps) / 2
    n = max(range(len(gaps)), key=lambda k: round(abs(gaps[k] - due), 6))
    if abs(gaps[n] - due) <= settings.notice:
        return []
    words: Sentence = (
        f"{begun(row.names[n])} and {row.names[n + 1]} of {row.piece.name} lie ", gaps[n],
        " apart; evenly spaced it would be ", due,
        ". Where that is not meant, space them anew.",
    )  # fmt: skip
    return [
        of_mark(
            row.piece, row.names[n], words, code="buttons-uneven", weight=Severity.NOTICE,
            measured=gaps[n], expected=due, mend=_spaced(row),
        )
    ]  # fmt: skip


def _spaced(row: ButtonRow, **more: object) -> Mend | None:
    """Return the row spaced anew; None where fewer than three buttons tell no row."""
    if len(row.at) < 3:
        return None
    return Mend(change="space-buttons", params={"pieces": (row.piece.name,), **more})


def _stand(pattern: Pattern, row: ButtonRow) -> Iterator[Finding]:
    """Look whether the smallest of buttons goes on the stand."""
    stand, least = stand_of(pattern, row), least_stand(SMALLEST_MM)
    if stand is not None and is_too_narrow(pattern, row):
        words: Sentence = (
            f"The {_noun(row)} of {row.piece.name} lie ", stand,
            " from the edge: even the smallest button hangs over it. Let the front reach ",
            AtLeast(least), " or more beyond them.",
        )  # fmt: skip
        yield of_mark(
            row.piece, row.names[0], words, code="stand-too-narrow", weight=Severity.FAULT,
            measured=stand, expected=least,
        )  # fmt: skip


def _sides(pattern: Pattern, a: Piece, b: Piece, settings: CheckSettings) -> Iterator[Finding]:
    """Look whether what is on the left closes on what is on the right."""
    mine, theirs = (sorted(button_marks(p), key=lambda m: p.up.dot(m[1])) for p in (a, b))
    if len(mine) != len(theirs):
        words: Sentence = (
            f"{begun(a.name)} has {len(mine)} marks for buttons, {b.name} {len(theirs)}. Mark as "
            "many on one side as on the other.",
        )
        yield of_mark(
            a, mine[0][0].name, words, code="button-counts-differ", weight=Severity.FAULT,
            measured=len(mine), expected=len(theirs), unit="count",
        )  # fmt: skip
        return
    measures = spots(pattern, a, b)
    if measures is None:
        return
    for (mark, at), (other, there) in zip(mine, theirs, strict=True):
        one, two = measures[0](at), measures[1](there)
        twin = Twin(a.name, mark.name, b.name, other.name, one.rise - two.rise, one.out - two.out)
        weight = length_band(max(twin.rise, twin.out, key=abs), settings)
        if weight:
            words = (
                f"{begun(mark.name)} of {a.name} lies ", *how_apart(twin, settings.agree),
                f" than {other.name} of {b.name}: closed, the two sides are drawn askew. Mark "
                "one like the other.",
            )  # fmt: skip
            yield of_mark(
                a, mark.name, words, code="buttons-do-not-meet", weight=weight,
                measured=max(twin.rise, twin.out, key=abs),
            )  # fmt: skip


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count buttons and buttonholes; tell how wide a button the stand takes."""
    del settings
    count = sum(1 for p in pattern.pieces for _ in button_marks(p))
    told = [w for p in pattern.pieces for r in button_rows(pattern, p) for w in _takes(pattern, r)]
    words = counted(count, "button or buttonhole", "buttons and buttonholes")
    return LookedAt(count, words, tuple(dict.fromkeys(told)))


def _takes(pattern: Pattern, row: ButtonRow) -> Iterator[str]:
    stand = stand_of(pattern, row)
    if stand is not None and len(row.at) > 1 and stand >= least_stand(SMALLEST_MM):
        yield (
            f"Whether the buttons of {row.piece.name} are too wide for its stand: how wide they "
            "are is not known."
        )


CHECK = Check(
    id=ID,
    title="Do buttons and buttonholes lie where they close?",
    why="A buttonhole that lies lower than its button, or beside the centre, pulls the front "
    "askew.",
    source="On the centre line, at equal distances; the stand is half the button and 1/4 in at "
    "least, and three quarters of it (docs/sources.md: buttons). Bands as for seam lengths.",
    codes=(
        *("button-off-piece", "button-off-row", "buttons-off-centre", "buttons-uneven"),
        *("stand-too-narrow", "button-counts-differ", "buttons-do-not-meet", f"{ID}-skipped"),
    ),
    run=buttons,
    looked=looked,
)
