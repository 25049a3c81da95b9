"""clothwright body: the wearer's measurements, the size chart, and the size they suggest."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from clothwright.cli.saying import open_book, out, table
from clothwright.errors import BadInput
from clothwright.units import Unit
from clothwright.words import listed, say, show_length, with_lengths
from clothwright.workroom.editing.edit import Edit
from clothwright.workroom.editing.edits.wearer import SetBody, SetChart
from clothwright.workroom.editing.edits.whole import as_one
from clothwright.workroom.pieces.measured import KnownWearer, chart_examples, to_take, wearer_of
from clothwright.workroom.pieces.sizing import size_edit


def body(
    workbook: Path,
    *measures: str,
    set_: tuple[str, ...] = (),
    chart: str = "",
    chart_unit: str = "",
    how: str = "",
    take: bool = False,
) -> None:
    """Note the wearer's measurements, and say which size of the chart they suggest.

    The measurements stay in the workbook's folder; what is printed does not tell them. A warning
    is a question: bodies vary. Without options what is known is shown.

    Parameters
    ----------
    workbook
        The workbook's folder.
    measures
        The measurements as NAME=VALUE; "bust=" takes it out. Also note=, date=2026-11-25,
        compare=no (not to be held against the measurements of adult women).
    set_
        The same as an option, "bust=36 1/2 in", several times.
    chart
        A text file with the size chart from the envelope: a line "size 8 10 12", then lines such
        as "bust 31 1/2 32 1/2 34". "example" takes the chart of purchased patterns, "none" none.
    chart_unit
        Unit of the chart's numbers where they name none (in, cm); else the workbook's.
    how
        How to take a measurement: its name, or "all".
    take
        Put the change into the list that cuts the pieces in the suggested size.
    """
    if how:
        _how(how)
        return
    book = open_book(workbook)
    edits = _edits((*measures, *set_), chart, chart_unit)
    if edits:
        book.edit(as_one(edits), base=book.read().revision)
    if take:
        book.edit(size_edit(book.read().book), base=book.read().revision)
    at = book.read() if edits or take else book.look()
    _show(wearer_of(at.book, book.replayed(at).pattern), at.book.unit)


def _edits(set_: Sequence[str], chart: str, unit: str) -> list[Edit]:
    edits: list[Edit] = []
    if set_:
        edits.append(SetBody(values=dict(_value(text) for text in set_)))
    if chart == "none":
        edits.append(SetChart(text=""))
    elif chart == "example":
        (it, *_) = chart_examples()
        edits.append(SetChart(text=it.text, name=it.name, source=it.source, unit=it.unit.value))
    elif chart:
        edits.append(SetChart(text=_text(Path(chart)), name=Path(chart).stem, unit=unit))
    return edits


def _value(text: str) -> tuple[str, str]:
    name, equals, value = (part.strip() for part in text.partition("="))
    if not equals:
        raise BadInput(
            where="measurements",
            what=f'"{text}" has no =',
            expected=with_lengths('NAME=VALUE, for example bust="36 1/2 in"'),
        )
    return name, value


def _text(file: Path) -> str:
    try:
        return file.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        raise BadInput(
            where=str(file), what="it could not be read as text", expected="a text file in UTF-8"
        ) from None
    except OSError as error:
        raise BadInput(
            where=str(file),
            what=f"it cannot be read ({error.strerror})",
            expected='a text file with the chart, "example" or "none"',
        ) from None


def _how(name: str) -> None:
    for measure in to_take(name):
        out.print(f"{measure.id}: {measure.name}. {measure.how}")
        out.print(f"  Used for {measure.used}.")


def _show(wearer: KnownWearer, unit: Unit) -> None:
    if not wearer.body.taken:
        out.print('Nobody has been measured yet. Try bust="36 1/2 in", or --how all.')
    else:
        _measures(wearer, unit)
    if wearer.chart is None:
        out.print("There is no size chart yet: --chart FILE, or --chart example.")
    elif wearer.sizing is not None:
        _sizes(wearer, unit)
    if wearer.rooms:
        out.print("Ease of the pieces as changed (a guide):")
    for room in wearer.rooms:
        names = listed(room.girth.pieces)
        out.print(f"  {names}. {say(room.words, unit)}")


def _measures(wearer: KnownWearer, unit: Unit) -> None:
    rows = [
        (one.name, one.figure.text, show_length(one.figure.mm, unit))
        for one in wearer.taken
        if one.figure is not None
    ]
    noted = ", ".join(x for x in (wearer.body.day, wearer.body.note) if x)
    table(("measurement", "as typed", f"in {unit.plural}"), rows, noted)
    for one in wearer.taken:
        if one.doubt is not None:
            out.print(f"Look again: {say(one.doubt.words, unit)}")
    if wearer.compared:
        out.print(f"Compared with {wearer.compared}")


def _sizes(wearer: KnownWearer, unit: Unit) -> None:
    sizing = wearer.sizing
    if wearer.chart is None or sizing is None:
        return
    out.print(f"Size chart: {wearer.chart.name}.")
    for name, place in wearer.places:
        out.print(f"  {name}: {place}")
    for it in sizing.suggestions:
        said = f"{say(it.words, unit)} {say(it.why, unit)}"
        out.print(f"{it.garment.capitalize()}: {said}")
    if not sizing.suggestions:
        out.print("Measure bust and hip, and the chart says which size.")
    if sizing.done:
        out.print("These sizes are used: the change stands in the list.")
    elif sizing.change:
        out.print(f"The change for it: {sizing.change} (--take does it)")
    elif sizing.why_not and sizing.suggestions:
        out.print(sizing.why_not)
