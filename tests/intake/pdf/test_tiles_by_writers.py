"""Tiles written by six programs, with three kinds of frame: joined within 0.2 mm.

The table in docs/intake-pdf.md is read here, so that it cannot say other than what is measured.
"""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path as FilePath

import pikepdf
import pytest

from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.intake.pdf.reader import read_pdf
from tests.intake.pdf.figures import OTHER_VERSIONS_MM, table
from tests.intake.pdf.sheets import CHROMIUM, WRITERS, Sheet, _run, skirt_sheet, svg_of
from tests.intake.pdf.test_writers import large, worst
from tests.intake.pdf.tiled import A4, MARGIN, marks, part_of, tiled, tiles_of

KINDS = ("frame", "crosses", "halves")


def pages_of(sheet: Sheet, kind: str) -> list[Sheet]:
    """Return every tile as a sheet of its own, with its marks."""
    window, corner = A4 - Vec(2 * MARGIN, 2 * MARGIN), Vec(MARGIN, MARGIN)
    move = translation(corner)
    out = []
    for column, row, at in tiles_of(sheet, window, 0.0):
        part = part_of(sheet, at, window)
        strokes, words = marks(kind, window, column, row)
        lines = (*part.lines, *strokes)
        out.append(
            Sheet(
                width=A4.x,
                height=A4.y,
                lines=tuple(replace(x, path=x.path.transformed(move)) for x in lines),
                words=tuple((w, p + corner, s) for w, p, s in (*part.words, *words)),
            )
        )
    return out


def tiled_by(writer: str, kind: str, folder: FilePath) -> bytes:
    """Return the skirt over many pages, every page by one program."""
    pages = pages_of(skirt_sheet(), kind)
    if writer == "ghostscript":
        first = folder / "first.pdf"
        first.write_bytes(tiled(skirt_sheet(), kind))
        options = ("-q", "-dNOPAUSE", "-dBATCH", "-sDEVICE=pdfwrite", "-o{out}", str(first))
        return _run("gs", folder, *options)
    if writer == "chromium":
        html = folder / "pages.html"
        style = f"@page{{size:{A4.x}mm {A4.y}mm;margin:0}}html,body{{margin:0}}"
        style += "svg{display:block;break-after:page}"
        html.write_text(f"<style>{style}</style>" + "".join(map(svg_of, pages)), encoding="utf-8")
        flags = ("--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer")
        return _run(CHROMIUM, folder, *flags, "--print-to-pdf={out}", html.as_uri())
    out = pikepdf.new()
    for page in pages:
        one = pikepdf.open(io.BytesIO(WRITERS[writer](page, folder)))
        out.pages.append(one.pages[0])
    saved = io.BytesIO()
    out.save(saved)
    return saved.getvalue()


def misfit(data: bytes) -> float:
    """Return how far the joined outlines lie from those drawn, mm."""
    wanted = large(skirt_sheet())
    drawing = read_pdf(data, "skirt.pdf")
    assert drawing.pages is not None
    assert (len(drawing.pages.sheets), drawing.pages.loose) == (16, 0)
    assert drawing.pages.miss < 0.2
    names = [t.words for t in drawing.texts if t.words.startswith("skirt")]
    assert sorted(names) == ["skirt back", "skirt front"]
    found = [x.path for x in drawing.lines if x.closed and x.path.length > 600.0]
    low = [
        Vec(*(min(p.bounds()[0][k] for p in paths) for k in (0, 1))) for paths in (wanted, found)
    ]
    return worst(drawing, wanted, by=translation(low[0] - low[1]))


@pytest.mark.parametrize("writer", [w for w in WRITERS if w != "inkscape"])
def test_three_kinds_of_frame(writer: str, tmp_path: FilePath) -> None:
    """Page frames, corner crosses, half diamonds: within 0.2 mm, and as the docs' table says."""
    for kind in KINDS:
        away = misfit(tiled_by(writer, kind, tmp_path))
        assert away < 0.2, f"{writer}, {kind}: {away:.4f} mm"
        said = table()[writer][3]
        assert away <= said + OTHER_VERSIONS_MM, f"{writer}, {kind}: {away:.4f} mm, docs {said}"


def test_the_docs_table_has_every_writer() -> None:
    """A row for each program that a test writes with, four figures each, all within the promise."""
    found = table()
    assert set(found) == set(WRITERS)
    for writer, figures in found.items():
        assert len(figures) == (3 if writer == "inkscape" else 4)
        assert max(figures[:3]) < 0.1
        assert max(figures) < 0.2
