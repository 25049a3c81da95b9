"""DXF files: our own read back, ezdxf's shapes against their formulas, broken files."""

from __future__ import annotations

import io
import math
from functools import cache

import ezdxf
import pytest
from ezdxf import recover

from clothwright.demo import DEMOS
from clothwright.drawing.piece import piece_picture
from clothwright.errors import BadInput
from clothwright.geometry.path import Path
from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.intake import dxf_walk
from clothwright.intake.answers import Answers
from clothwright.intake.by_kind import outlines_by_kind
from clothwright.intake.dxf import read_dxf
from clothwright.intake.outlines import outlines
from clothwright.intake.svg import read_svg
from clothwright.outputs.dxf import dxf
from clothwright.outputs.svg import svg
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.piece import Piece
from clothwright.units import Unit
from tests.intake.mutations import damaged, outcomes
from tests.intake.pdf.sheets import farthest
from tests.intake.proposing import propose


def file_of(*draw, version: str = "R2010", insunits: int | None = 4) -> bytes:
    """Return a DXF file on which each function has drawn."""
    file = ezdxf.new(version)
    if insunits is not None:
        file.header["$INSUNITS"] = insunits
    for each in draw:
        each(file.modelspace())
    out = io.StringIO()
    file.write(out)
    return out.getvalue().encode()


def moved_onto(path: Path, wanted: Path) -> Path:
    """Return a path with its box's lower left corner on another's."""
    return path.transformed(translation(wanted.bounds()[0] - path.bounds()[0]))


WAYS = {
    "dxf": lambda picture: read_dxf(dxf([picture]), "piece.dxf"),
    "dxf-numbered": lambda picture: read_dxf(dxf([picture], numbered=True), "piece.dxf"),
    "svg": lambda picture: read_svg(svg(picture).encode(), "piece.svg"),
}


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("demo", DEMOS, ids=lambda d: d.name)
def test_every_piece_comes_back(demo, way: str) -> None:
    """Every piece of every demo by both kinds of DXF and by SVG: the cutting line in 0.01 mm."""
    book = demo.make()
    strays = {}
    for piece in book.bought.pieces:
        drawing = WAYS[way](piece_picture(piece, book.unit))
        assert drawing.scale_known
        wanted = cutting_line(piece).outline
        made = propose(drawing, Answers(allowance="none"), unit=book.unit)
        assert len(made.pieces) == 1
        found = max((x.path for x in _closed(drawing)), key=lambda p: p.length)
        strays[piece.name] = farthest(moved_onto(found, wanted), wanted, 10.0)
    worst = max(strays, key=lambda n: strays[n])
    assert strays[worst] < 0.01, f"worst of {demo.name} by {way}: {worst}, {strays[worst]:.5f} mm"


def _closed(drawing):
    if drawing.layers == "numbered":
        return outlines_by_kind(drawing.lines).outlines
    return outlines(drawing.lines).outlines


@cache
def demo_file(numbered: bool = False, most: int | None = None) -> bytes:
    """Return all pieces of the first demo, or the first few, as one DXF file."""
    pictures = [piece_picture(p, Unit.inch) for p in DEMOS[0].make().bought.pieces[:most]]
    return dxf(pictures, numbered=numbered)


@pytest.mark.parametrize(("insunits", "mm"), [(1, 25.4), (4, 1.0), (5, 10.0), (6, 1000.0)])
def test_the_unit_is_what_the_file_says(insunits: int, mm: float) -> None:
    """$INSUNITS: inches, millimetres, centimetres, metres."""
    data = file_of(lambda m: m.add_circle((0, 0), 3.0), insunits=insunits)
    line = read_dxf(data, "x.dxf").lines[0]
    assert line.closed
    assert line.path.length == pytest.approx(2 * math.pi * 3.0 * mm, rel=1e-4)


@pytest.mark.parametrize(("version", "insunits"), [("R12", None), ("R2010", 0)])
def test_without_a_unit_it_is_asked(version: str, insunits: int | None) -> None:
    """R12 has no unit; unit 0 is none."""
    data = file_of(lambda m: m.add_line((0, 0), (10, 5)), version=version, insunits=insunits)
    assert not read_dxf(data, "x.dxf").scale_known


def test_bulges_ellipses_and_splines() -> None:
    """A half circle by a bulge, an ellipse against scipy, a spline against ezdxf's own points."""
    special = pytest.importorskip("scipy.special")
    bulge = file_of(lambda m: m.add_lwpolyline([(0, 0, 1.0), (20, 0, 0)], format="xyb"))
    assert read_dxf(bulge, "x").lines[0].path.length == pytest.approx(math.pi * 10, abs=0.01)
    ellipse = file_of(lambda m: m.add_ellipse((0, 0), (50, 0), 0.4))
    wanted = 4 * 50 * special.ellipe(1 - 0.4**2)
    assert read_dxf(ellipse, "x").lines[0].path.length == pytest.approx(wanted, abs=0.02)
    points = [(0, 0), (30, 40), (80, -20), (120, 30), (160, 0)]
    spline = file_of(lambda m: m.add_spline_control_frame(points))
    path = read_dxf(spline, "x").lines[0].path
    tool = recover.read(io.BytesIO(spline))[0].modelspace()[0].construction_tool()
    for p in tool.approximate(200):
        assert path.nearest((p.x, p.y))[1] < 0.01


def test_blocks_mirrored_turned_and_scaled() -> None:
    """An insert's move is applied: mirrored, turned by 90 degrees, twice the size."""

    def draw(space) -> None:
        block = space.doc.blocks.new("leaf")
        block.add_line((0, 0), (10, 0))
        space.add_blockref(
            "leaf", (100, 50), dxfattribs={"xscale": -2, "yscale": 2, "rotation": 90}
        )

    path = read_dxf(file_of(draw), "x.dxf").lines[0].path
    assert path.start.is_near(Vec(100, 50), 1e-6)
    assert path.end.is_near(Vec(100, 30), 1e-6)


def test_words_with_place_and_turn() -> None:
    """TEXT and MTEXT become words."""

    def draw(space) -> None:
        space.add_line((0, 0), (1, 1))
        space.add_text("front", height=5, rotation=90).set_placement((10, 20))
        space.add_mtext("cut 2", dxfattribs={"insert": (30, 40), "char_height": 4})

    texts = read_dxf(file_of(draw), "x.dxf").texts
    assert {t.words for t in texts} == {"front", "cut 2"}
    assert next(t for t in texts if t.words == "front").turn_deg == pytest.approx(90)


def test_a_hidden_layer_is_left_out_and_told() -> None:
    """What the file does not show is not read."""

    def draw(space) -> None:
        space.doc.layers.add("secret").off()
        space.add_line((0, 0), (1, 1), dxfattribs={"layer": "secret"})
        space.add_line((0, 0), (9, 9))

    drawing = read_dxf(file_of(draw), "x.dxf")
    assert len(drawing.lines) == 1
    assert "left out, on layers that the file hides: 1" in drawing.notes


def nested_blocks() -> bytes:
    """Return a file whose blocks double twenty times over: a million lines unfolded."""

    def draw(space) -> None:
        for k in range(20):
            block = space.doc.blocks.new(f"b{k}")
            if k == 0:
                block.add_line((0, 0), (1, 1))
            else:
                block.add_blockref(f"b{k - 1}", (0, 0))
                block.add_blockref(f"b{k - 1}", (1, 0))
        space.add_blockref("b19", (0, 0))

    return file_of(draw)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "no"),
        (b"not a dxf file at all", "no"),
        (file_of(), "no lines"),
        (nested_blocks(), "more than"),
    ],
)
def test_what_is_none_is_refused(data: bytes, words: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Empty, something else, no lines, a bomb of blocks: a sentence.

    The bomb has a million lines; where counting stops makes no other difference.
    """
    monkeypatch.setattr(dxf_walk, "MOST_ENTITIES", 1500)
    with pytest.raises(BadInput, match=words):
        read_dxf(data, "x.dxf")


def read_and_made(data: bytes, name: str) -> None:
    """Read a file and make pieces of what is in it."""
    drawing = read_dxf(data, name)
    allowance = "" if drawing.layers == "numbered" else "5/8 in"
    propose(drawing, Answers(scale="mm", allowance=allowance), unit=Unit.mm)


def test_two_hundred_broken_files() -> None:
    """Each is read after all, or answered with a sentence; nothing else happens."""
    seeds = [
        demo_file(most=2),
        demo_file(True, most=1),
        file_of(
            lambda m: [m.add_point((k, k)) for k in range(9)],
            lambda m: m.add_circle((0, 0), 9),
            version="R12",
        ),
        file_of(lambda m: m.add_lwpolyline([(0, 0, 1.0), (20, 0, 0)], format="xyb")),
        file_of(lambda m: m.add_spline_control_frame([(0, 0), (5, 9), (9, 0), (12, 4)])),
    ]
    said = outcomes(read_and_made, list(damaged(seeds, 200)), "damaged.dxf")
    assert len(said) == 200
    assert sum(bool(o.said) for o in said) > 20


def test_through_the_command_line(tmp_path) -> None:
    """Printed as DXF, added to a new workbook: the piece, named by the file."""
    from clothwright.store import create, load
    from clothwright.workbook import Workbook
    from clothwright.workroom.cutting.printing import printed_pieces, written
    from clothwright.workroom.editing.committing import apply_edit
    from clothwright.workroom.pieces.adding import pieces_of

    book = DEMOS[0].make()
    files = written(tmp_path, printed_pieces(book, kinds=("dxf",), names=("skirt front",)))
    mine = Workbook(title="mine")
    edit, _ = pieces_of(
        mine,
        files[0],
        Answers(allowance="5/8 in, bottom=2.5 in"),
        replace_same=False,
    )
    piece: Piece = edit.pieces[0]
    after = apply_edit(mine, edit)
    assert piece.name == "skirt front"
    create(tmp_path / "w", after)
    assert load(tmp_path / "w").bought.pieces == after.bought.pieces
