"""DXF files that are written: units, layers, blocks, closed lines, words, ezdxf's own audit."""

from __future__ import annotations

import io
from functools import cache
from typing import Any

import ezdxf
import pytest
from ezdxf import recover

from clothwright.demo import DEMOS
from clothwright.drawing.piece import piece_picture
from clothwright.errors import BadInput
from clothwright.geometry.path import polyline
from clothwright.outputs.dxf import dxf
from clothwright.picture.picture import DrawnRole, Picture, Stroke, Text
from tests.outputs.specimens import cut, ring


@cache
def of_demo(number: int, numbered: bool) -> bytes:
    """Return all pieces of a demo as one DXF file."""
    book = DEMOS[number].make()
    return dxf([piece_picture(p, book.unit) for p in book.bought.pieces], numbered=numbered)


def opened(data: bytes) -> Any:
    """Return a file as ezdxf reads it; it must have had nothing to mend."""
    file, auditor = recover.read(io.BytesIO(data))
    assert not auditor.has_errors, [e.message for e in auditor.errors]
    assert not auditor.has_fixes, [e.message for e in auditor.fixes]
    return file


@pytest.mark.parametrize("numbered", [False, True])
@pytest.mark.parametrize("number", range(len(DEMOS)))
def test_the_audit_has_nothing_to_say(number: int, numbered: bool) -> None:
    """Every demo, both kinds: nothing mended; a block for every piece, each put in once."""
    file = opened(of_demo(number, numbered))
    names = [b.name for b in file.blocks if not b.name.startswith(("*", "_"))]
    assert names == [p.name for p in DEMOS[number].make().bought.pieces]
    put = list(file.modelspace())
    assert [e.dxftype() for e in put] == ["INSERT"] * len(names)
    assert [e.dxf.name for e in put] == names


def test_the_header_says_millimetres() -> None:
    """$INSUNITS is 4 (mm, DXF reference), and the file is R2010 in UTF-8."""
    data = of_demo(0, False)
    file = opened(data)
    assert file.header["$INSUNITS"] == 4
    assert file.header["$MEASUREMENT"] == 1
    assert file.dxfversion == "AC1024"
    data.decode("utf-8")


def test_layers_are_named_by_what_a_line_is() -> None:
    """Every layer that is drawn on is a role of the picture; the boundary is "cut"."""
    file = opened(of_demo(0, False))
    used = {e.dxf.layer for b in file.blocks if not b.name.startswith(("*", "_")) for e in b}
    assert used <= {r.value for r in DrawnRole}
    assert {"cut", "stitch", "notch", "grain", "fold", "dart", "label"} <= used


def test_numbered_layers() -> None:
    """1 boundary, 4 notches, 6 fold, 7 grain, 8 inside, 14 sew lines, 15 words (from memory).

    Words stand on 15 only, whatever they are about; nothing else does.
    """
    file = opened(of_demo(0, True))
    entities = [e for b in file.blocks if not b.name.startswith(("*", "_")) for e in b]
    assert {e.dxf.layer for e in entities} == {"1", "4", "6", "7", "8", "14", "15"}
    assert {e.dxf.layer for e in entities if e.dxftype() == "TEXT"} == {"15"}
    assert {e.dxftype() for e in entities if e.dxf.layer == "15"} == {"TEXT"}


def test_straight_outlines_are_closed_polylines() -> None:
    """A ring of straight lines is one closed polyline, its first point not repeated; open stays."""
    line = Stroke(path=polyline(((0.0, 0.0), (30.0, 5.0), (40.0, 9.0))), role=DrawnRole.STITCH)
    picture = Picture(items=(cut(ring(0, 0, 100, 50)), line), title="panel")
    block = opened(dxf([picture])).blocks.get("panel")
    outline, inner = (e for e in block)
    assert (outline.dxftype(), outline.closed, len(outline)) == ("LWPOLYLINE", True, 4)
    assert (inner.dxftype(), inner.closed, len(inner)) == ("LWPOLYLINE", False, 3)


@pytest.mark.parametrize("words", ["Rückenteil, Größe 38", "přední díl", "przód żółty", "前身頃"])
def test_words_keep_their_accents(words: str) -> None:
    """Names of blocks and words come back letter by letter; the bytes are UTF-8."""
    text = Text(words=words, at=ring(0, 0, 9, 9).start, size=5.0)
    picture = Picture(items=(cut(ring(0, 0, 100, 50)), text), title=words)
    data = dxf([picture])
    assert words.encode("utf-8") in data
    file = opened(data)
    name = words.replace(",", "-")
    assert [e.dxf.text for e in file.blocks.get(name) if e.dxftype() == "TEXT"] == [words]
    assert ezdxf.read(io.StringIO(data.decode("utf-8"))).modelspace()[0].dxf.name == name


def test_two_of_one_name() -> None:
    """Pictures of one title become two blocks; signs that no block may have are replaced."""
    picture = Picture(items=(cut(ring(0, 0, 9, 9)),), title='a/b*"c"')
    file = opened(dxf([picture, picture]))
    names = [b.name for b in file.blocks if not b.name.startswith(("*", "_"))]
    assert names == ["a-b--c-", "a-b--c- 2"]


def test_nothing_to_draw_is_told() -> None:
    """No picture, or empty ones: a sentence."""
    for pictures in ((), (Picture(),)):
        with pytest.raises(BadInput, match="nothing to draw"):
            dxf(pictures)
