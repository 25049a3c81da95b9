"""Demo pieces written as PDF by seven programs, and read back.

Promise (docs/intake-pdf.md): outlines within 0.1 mm of what was drawn, 0.2 mm after tiles are
joined; names and sizes right.
"""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path as FilePath

import pikepdf
import pytest

from clothwright.geometry.path import Path
from clothwright.geometry.segment import Line
from clothwright.geometry.transform import Transform, translation
from clothwright.geometry.vec import Vec
from clothwright.intake.answers import Answers
from clothwright.intake.drawing import Drawing
from clothwright.intake.pdf.reader import read_pdf
from clothwright.intake.waiting.at_once import drawn_draft
from clothwright.units import Unit
from tests.intake.pdf.figures import OTHER_VERSIONS_MM, table
from tests.intake.pdf.sheets import (
    MM,
    WRITERS,
    Drawn,
    Sheet,
    by_reportlab,
    farthest,
    nested_sheet,
    skirt_sheet,
)
from tests.intake.pdf.tiled import tiled
from tests.intake.proposing import propose

LARGE_MM = 300.0


def large(sheet: Sheet) -> list[Path]:
    """Return the outlines of a sheet."""
    return [line.path for line in sheet.lines if line.path.length > 2 * LARGE_MM]


def worst(drawing: Drawing, wanted: list[Path], *, by: Transform | None = None) -> float:
    """Return how far the outlines read lie from those drawn, in mm, each from its nearest."""
    found = [x.path for x in drawing.lines if x.closed and x.path.length > 2 * LARGE_MM]
    assert len(found) == len(wanted)
    if by is not None:
        found = [p.transformed(by) for p in found]
    return max(min(farthest(p, w, 8.0) for p in found) for w in wanted)


@pytest.mark.parametrize("writer", WRITERS)
def test_outlines_and_names(writer: str, tmp_path: FilePath) -> None:
    """Two outlines within 0.1 mm, their names, and a line inside each."""
    sheet = skirt_sheet()
    drawing = read_pdf(WRITERS[writer](sheet, tmp_path), "skirt.pdf")
    assert drawing.scale_known
    away = worst(drawing, large(sheet))
    assert away < 0.1
    assert away <= table()[writer][0] + OTHER_VERSIONS_MM, f"{away:.4f} mm, the docs say less"
    pieces = propose(drawing, Answers(allowance="none"), unit=Unit.mm).pieces
    assert {p.name for p in pieces} == {"skirt front", "skirt back"}
    inner = sorted(x.path.length for x in drawing.lines if not x.closed)
    assert inner == pytest.approx([330.0, 370.0], abs=0.2)


@pytest.mark.parametrize("by", ["dash", "colour"])
@pytest.mark.parametrize("writer", WRITERS)
def test_three_nested_sizes(writer: str, by: str, tmp_path: FilePath) -> None:
    """Told apart by dashes or by colour, named by the legend, each outline within 0.1 mm."""
    sheet = nested_sheet(by)
    drawing = read_pdf(WRITERS[writer](sheet, tmp_path), "front.pdf")
    assert drawing.sizes == ("12", "14", "16")
    for name, wanted in zip(drawing.sizes, large(sheet), strict=True):
        found = [x.path for x in drawing.lines if x.size == name]
        assert len(found) == 1
        away = farthest(found[0], wanted, 8.0)
        assert away < 0.1
        said = table()[writer][1 if by == "dash" else 2]
        assert away <= said + OTHER_VERSIONS_MM, f"{away:.4f} mm, the docs say {said}"


def test_all_sizes_become_one_pattern(tmp_path: FilePath) -> None:
    """The size asked for is the piece; the others correspond to it, edge by edge."""
    drawing = read_pdf(by_reportlab(nested_sheet("dash"), tmp_path), "front.pdf")
    made = drawn_draft(drawing, Answers(allowance="5/8 in", size="14"), Unit.inch)
    assert made.sizes is not None
    assert (made.sizes.names, made.sizes.drawn) == (("12", "14", "16"), "14")
    assert made.pieces == made.sizes.pieces[1]
    hems = [p.edge("bottom").length for p in made.sizes.each("skirt front")]
    assert hems == sorted(hems)
    assert hems[2] - hems[1] == pytest.approx(12.7, abs=0.05)  # a quarter of 2 in round the hip


# --- layers --------------------------------------------------------------------------------------


def layered(sheet: Sheet, folder: FilePath, how: str) -> bytes:
    """Write one page whose lines stand in layers. how: "marked", "form" or "member"."""
    out = pikepdf.new()
    out.add_blank_page(page_size=(sheet.width * MM, sheet.height * MM))
    page = out.pages[0]
    forms, properties, groups, content = {}, {}, [], b""
    for k, line in enumerate(sheet.lines):
        single = pikepdf.open(
            io.BytesIO(by_reportlab(replace(sheet, lines=(line,), words=()), folder))
        )
        form = out.copy_foreign(single.pages[0].as_form_xobject())
        group = out.make_indirect(
            pikepdf.Dictionary(Type=pikepdf.Name.OCG, Name=pikepdf.String(line.layer))
        )
        groups.append(group)
        entry = group
        if how == "member":
            entry = pikepdf.Dictionary(Type=pikepdf.Name.OCMD, OCGs=pikepdf.Array([group]))
        if how == "form":
            form.OC = group
        forms[f"/F{k}"], properties[f"/L{k}"] = form, entry
        draw = f"/F{k} Do\n".encode()
        content += draw if how == "form" else f"/OC /L{k} BDC\n".encode() + draw + b"EMC\n"
    page.Resources = pikepdf.Dictionary(
        XObject=pikepdf.Dictionary(forms), Properties=pikepdf.Dictionary(properties)
    )
    page.Contents = out.make_stream(content)
    out.Root.OCProperties = pikepdf.Dictionary(
        OCGs=pikepdf.Array(groups), D=pikepdf.Dictionary(OFF=pikepdf.Array([]))
    )
    saved = io.BytesIO()
    out.save(saved)
    return saved.getvalue()


@pytest.mark.parametrize("how", ["marked", "form", "member"])
def test_sizes_by_layer(how: str, tmp_path: FilePath) -> None:
    """Layers round the content, on a form, or through a membership dictionary name the sizes."""
    sheet = nested_sheet("layer")
    drawing = read_pdf(layered(sheet, tmp_path, how), "front.pdf")
    assert drawing.sizes == ("12", "14", "16")
    for line, wanted in zip(sorted(drawing.lines, key=lambda x: x.size), sheet.lines, strict=True):
        assert f"Size {line.size}" == wanted.layer
        assert farthest(line.path, wanted.path, 8.0) < 0.1


def test_a_hidden_layer_is_left_out_and_told(tmp_path: FilePath) -> None:
    """What the file hides is not taken for a piece, and a note says so."""
    data = layered(nested_sheet("layer"), tmp_path, "marked")
    file = pikepdf.open(io.BytesIO(data))
    groups = list(file.Root.OCProperties.OCGs)
    file.Root.OCProperties.D.OFF = pikepdf.Array(groups[:1])
    out = io.BytesIO()
    file.save(out)
    drawing = read_pdf(out.getvalue(), "front.pdf")
    assert drawing.sizes == ("14", "16")
    assert "left out, lines on layers that the file hides: 1" in drawing.notes


# --- page boxes ----------------------------------------------------------------------------------


def changed(data: bytes, **entries: object) -> bytes:
    """Return a file with entries of its first page set."""
    file = pikepdf.open(io.BytesIO(data))
    for key, value in entries.items():
        file.pages[0].obj[f"/{key}"] = value
    out = io.BytesIO()
    file.save(out)
    return out.getvalue()


@pytest.mark.parametrize("turn", [90, 180, 270, 450, -90])
def test_a_turned_page_is_read_as_it_is_shown(turn: int, tmp_path: FilePath) -> None:
    """Rotate: a quarter clockwise each 90 degrees; the words turn with the page."""
    sheet = skirt_sheet()
    drawing = read_pdf(changed(by_reportlab(sheet, tmp_path), Rotate=turn), "skirt.pdf")
    w, h = sheet.width, sheet.height
    shown = {
        90: Transform(0.0, -1.0, 1.0, 0.0, 0.0, w),
        180: Transform(-1.0, 0.0, 0.0, -1.0, w, h),
        270: Transform(0.0, 1.0, -1.0, 0.0, h, 0.0),
    }[turn % 360]
    assert worst(drawing, [p.transformed(shown) for p in large(sheet)]) < 0.1
    front = next(t for t in drawing.texts if t.words == "skirt front")
    at = next(p for words, p, _ in sheet.words if words == "skirt front")
    assert front.at.distance(shown.apply(at)) < 6.0


def test_a_crop_box_moves_the_page(tmp_path: FilePath) -> None:
    """Lines are measured from the lower left corner of what is shown."""
    sheet = skirt_sheet()
    box = pikepdf.Array([100, 50, sheet.width * MM, sheet.height * MM])
    drawing = read_pdf(changed(by_reportlab(sheet, tmp_path), CropBox=box), "skirt.pdf")
    by = translation(Vec(100 / MM, 50 / MM))
    assert worst(drawing, large(sheet), by=by) < 0.1


def test_user_unit_is_a_scale(tmp_path: FilePath) -> None:
    """UserUnit 2: everything is twice as large (ISO 32000-2, 14.11.1)."""
    sheet = skirt_sheet()
    drawing = read_pdf(changed(by_reportlab(sheet, tmp_path), UserUnit=2), "skirt.pdf")
    by = Transform(0.5, 0.0, 0.0, 0.5, 0.0, 0.0)
    assert worst(drawing, large(sheet), by=by) < 0.1


# --- tiles ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["whole", "frame", "crosses", "halves", "overlap"])
def test_tiles_are_joined(kind: str) -> None:
    """Sixteen pages become one sheet, outlines within 0.2 mm, each name once."""
    sheet = skirt_sheet()
    drawing = read_pdf(tiled(sheet, kind), "skirt.pdf")
    assert any(n.startswith("joined: 16 pages") for n in drawing.notes)
    wanted = large(sheet)
    found = [x.path for x in drawing.lines if x.closed and x.path.length > 2 * LARGE_MM]
    ends = [min(p.bounds()[0].x for p in paths) for paths in (wanted, found)]
    lows = [min(p.bounds()[0].y for p in paths) for paths in (wanted, found)]
    by = translation(Vec(ends[0] - ends[1], lows[0] - lows[1]))
    assert worst(drawing, wanted, by=by) < 0.2
    pieces = propose(drawing, Answers(allowance="none"), unit=Unit.mm).pieces
    assert sorted(p.name for p in pieces) == ["skirt back", "skirt front"]
    assert all(p.grain is not None for p in pieces)


# --- true to size --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("side", "words", "known"),
    [
        (100.0, "100 mm", True),
        (101.6, "4 in", True),
        (50.8, '2" x 2"', True),
        (96.0, "10 cm", False),
    ],
)
def test_a_test_square_checks_the_scale(
    side: float, words: str, known: bool, tmp_path: FilePath
) -> None:
    """A square that is not what is written in it: the size is asked for, not guessed."""
    sheet = skirt_sheet()
    low = Vec(5.0, 720.0)
    ring = [low, low + Vec(side, 0), low + Vec(side, side), low + Vec(0, side)]
    square = Path(tuple(Line(a, b) for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)))
    more = replace(
        sheet,
        lines=(*sheet.lines, Drawn(path=square)),
        words=(*sheet.words, (words, low + Vec(side / 2, side / 2), 5.0)),
    )
    drawing = read_pdf(by_reportlab(more, tmp_path), "skirt.pdf")
    assert drawing.scale_known is known
    assert len([x for x in drawing.lines if x.closed]) == 2  # the square is no piece
