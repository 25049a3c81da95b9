"""Numbers of layers as a meaning, or as no more than names (ASTM D6673, from memory)."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from clothwright.cli.app import run
from clothwright.demo import DEMOS
from clothwright.drawing.piece import piece_picture
from clothwright.errors import BadInput
from clothwright.intake.answers import Answers
from clothwright.intake.dxf import read_dxf
from clothwright.intake.dxf_layers import looks_numbered
from clothwright.outputs.dxf import dxf
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.piece import NotchKind, Role
from clothwright.store import load
from clothwright.units import Unit
from tests.intake.pdf.sheets import farthest
from tests.intake.proposing import propose
from tests.intake.test_dxf import file_of, moved_onto

NUMBERED, NAMES = Answers(layers="numbered"), Answers(layers="names")


def on(layer: str) -> dict[str, str]:
    """Return the attributes of what is drawn on a layer."""
    return {"layer": layer}


def panel(space) -> None:
    """Draw a panel 200 by 300 mm in a block: boundary, sew line, notch, grain, words."""
    block = space.doc.blocks.new("panel")
    block.add_lwpolyline([(0, 0), (200, 0), (200, 300), (0, 300)], close=True, dxfattribs=on("1"))
    inner = [(15, 15), (185, 15), (185, 285), (15, 285)]
    block.add_lwpolyline(inner, close=True, dxfattribs=on("14"))
    block.add_line((200, 140), (195, 140), dxfattribs=on("4"))
    block.add_line((60, 60), (60, 90), dxfattribs=on("7"))
    block.add_point((100, 150), dxfattribs=on("13"))
    block.add_text("cut 2", height=8, dxfattribs=on("15")).set_placement((90, 200))
    space.add_blockref("panel", (0, 0))


@pytest.mark.parametrize("demo", DEMOS, ids=lambda d: d.name)
def test_a_numbered_file_of_ours_comes_back(demo) -> None:
    """No option said: names, allowances, notches, darts, grain, fold, cutting are proposals.

    The cutting line made of the allowances is the one that was drawn, its corners turned as there.
    Edges are compared by their allowance: an edge on the fold comes back as "fold", and two edges
    that meet without a bend as one (nothing in the file says more).
    """
    book = demo.make()
    data = dxf([piece_picture(p, book.unit) for p in book.bought.pieces], numbered=True)
    drawing = read_dxf(data, "pieces.dxf")
    assert drawing.layers == "numbered"
    made = propose(drawing, Answers(), unit=book.unit)
    assert [p.name for p in made.pieces] == [
        c.name for c in sorted(book.bought.pieces, key=lambda p: _place(made, p.name))
    ]
    for piece in book.bought.pieces:
        got = next(p for p in made.pieces if p.name == piece.name)
        widths = [{round(e.allowance, 1) for e in p.edges} for p in (piece, got)]
        assert widths[0] == widths[1], piece.name
        assert sum(e.length for e in got.edges) == pytest.approx(
            sum(e.length for e in piece.edges), abs=0.05
        )
        assert _notches(got) == _notches(piece), piece.name
        assert len(got.darts) == len(piece.darts), piece.name
        assert got.grain is not None
        assert piece.grain is not None
        assert got.grain.direction.dot(piece.grain.direction) == pytest.approx(1.0, abs=1e-6)
        assert got.cuts == piece.cuts
        wanted, found = (cutting_line(p).outline for p in (piece, got))
        away = farthest(moved_onto(found, wanted), wanted, 6.0)
        assert away < 0.05, f"{piece.name}: the cutting line is {away:.3f} mm off"
        assert (got.fold is None) == (piece.fold is None)
    assert not any("off the one that is drawn" in n for n in made.notes)


def _place(made, name: str) -> int:
    return next(k for k, p in enumerate(made.pieces) if p.name == name)


def _notches(piece) -> list[str]:
    return sorted(n.kind.value for e in piece.edges for n in e.notches)


def test_what_numbers_say_is_taken_without_a_shape() -> None:
    """A sew line is the stitching line, a short line of layer 7 the grain, a drill hole a mark."""
    drawing = read_dxf(file_of(panel), "x.dxf")
    assert any("from memory" in n and "--layers names" in n for n in drawing.notes)
    made = propose(drawing, Answers(), unit=Unit.mm)
    (piece,) = made.pieces
    assert {round(e.allowance, 2) for e in piece.edges} == {15.0}
    assert piece.outline.length == pytest.approx(2 * (170 + 270))
    assert [m.name for m in piece.marks] == ["drill hole"]
    assert piece.marks[0].at.is_near((100, 150), 1e-6)
    assert piece.grain.start.is_near((60, 60), 1e-6)
    right = next(e for e in piece.edges if e.notches)
    assert right.path.point_at(right.notches[0].at).is_near((185, 140), 0.01)
    assert {q.id for q in made.questions} >= {"allowance", "notches", "grain", "cut"}


@pytest.mark.parametrize(
    ("words", "how", "said"),
    [
        (None, "once", "does not say how often it is cut: taken as shell once"),
        ("Quantity: 1", "once", 'says "Quantity: 1": taken as shell once'),
        ("Quantity: 2", "pair", 'says "Quantity: 2": taken as shell pair'),
    ],
)
def test_how_often_it_is_cut_is_always_a_proposal(words, how: str, said: str) -> None:
    """Whether the file says a quantity or nothing: it is told, with the option to say otherwise."""

    def draw(space) -> None:
        panel(space)
        block = space.doc.blocks.get("panel")
        for entity in list(block.query("TEXT MTEXT")):
            block.delete_entity(entity)
        if words:
            block.add_text(words, height=6, dxfattribs=on("1")).set_placement((60, 200))

    made = propose(read_dxf(file_of(draw), "x.dxf"), Answers(), unit=Unit.mm)
    (piece,) = made.pieces
    assert [(c.material, c.how, c.count) for c in piece.cuts] == [("shell", how, 1)]
    (question,) = [q for q in made.questions if q.id == "cut"]
    assert question.default == f"shell {how}"
    assert said in question.words
    assert any(said in n and "--cut for another" in n for n in made.notes)
    answered = propose(
        read_dxf(file_of(draw), "x.dxf"), Answers(cut=question.default), unit=Unit.mm
    )
    assert answered.pieces[0].cuts == piece.cuts
    assert "cut" not in {q.id for q in answered.questions}


def test_an_edge_without_a_sew_line() -> None:
    """Where no sew line runs the boundary itself is sewn: the edge has no allowance."""

    def draw(space) -> None:
        block = space.doc.blocks.new("strip")
        ring = [(0, 0), (400, 0), (400, 60), (0, 60)]
        block.add_lwpolyline(ring, close=True, dxfattribs=on("1"))
        block.add_lwpolyline([(10, 60), (10, 10), (390, 10), (390, 60)], dxfattribs=on("14"))
        space.add_blockref("strip", (0, 0))

    (piece,) = propose(read_dxf(file_of(draw), "x.dxf"), Answers(), unit=Unit.mm).pieces
    assert sorted(round(e.allowance) for e in piece.edges) == [0, 10, 10, 10]
    assert piece.outline.length == pytest.approx(2 * (380 + 50))


def test_said_to_be_names_it_is_an_ordinary_file() -> None:
    """--layers names: the allowance is asked again, and layers 2, 3 and 5 are lines."""

    def draw(space) -> None:
        panel(space)
        space.add_line((20, 20), (20, 80), dxfattribs=on("5"))

    data = file_of(draw)
    told = read_dxf(data, "x.dxf", NUMBERED)
    assert "left out, grade reference lines: 1" in told.notes
    plain = read_dxf(data, "x.dxf", NAMES)
    assert len(plain.lines) == len(told.lines) + 1
    assert (told.layers, plain.layers) == ("numbered", "names")
    assert not any(x.kind == "stitch" for x in plain.lines)
    with pytest.raises(BadInput, match='"1" and "14" may be sizes'):
        propose(plain, NAMES, unit=Unit.mm)
    said = replace(NAMES, alike="pieces")
    with pytest.raises(BadInput, match="--allowance"):
        propose(read_dxf(data, "x.dxf", said), said, unit=Unit.mm)


@pytest.mark.parametrize("layer", ["2", "3", "5", "14"])
def test_numbers_in_an_ordinary_file_say_nothing(layer: str) -> None:
    """A file with a layer of another name, or without blocks, keeps what is drawn on 2, 3 and 5."""

    def draw(space) -> None:
        space.add_circle((0, 0), 50.0, dxfattribs=on("outline"))
        space.add_circle((200, 0), 50.0, dxfattribs=on(layer))

    drawing = read_dxf(file_of(draw), "x.dxf")
    assert drawing.layers == "names"
    assert len(drawing.lines) == 2
    assert drawing.lines[1].path.length == pytest.approx(2 * math.pi * 50.0, rel=1e-4)


def test_what_looks_numbered() -> None:
    """A boundary in blocks, and no layer that the table does not have."""
    assert looks_numbered({"0", "1", "7", "14"}, blocks=True)
    assert not looks_numbered({"0", "1", "7", "14"}, blocks=False)
    assert not looks_numbered({"1", "7", "walls"}, blocks=True)
    assert not looks_numbered({"7", "14"}, blocks=True)
    assert not looks_numbered({"1", "99"}, blocks=True)


def test_wrong_answers_are_told() -> None:
    """Another word, or numbered where nothing is on layer 1: a sentence with the option."""
    with pytest.raises(BadInput, match="--layers"):
        read_dxf(file_of(panel), "x.dxf", Answers(layers="astm"))
    other = file_of(lambda m: m.add_circle((0, 0), 9.0, dxfattribs=on("lines")))
    with pytest.raises(BadInput, match="layer 1"):
        read_dxf(other, "x.dxf", NUMBERED)


def by_hand() -> bytes:
    """Return a file as other programs write them: R12 without a header, tag by tag, no library.

    A panel 200 by 300 mm with a peak at its top: its sew line runs straight there (demo data).
    """

    def tags(*pairs: tuple[int, object]) -> str:
        return "".join(f"{code}\n{value}\n" for code, value in pairs)

    def ring(layer: str, points: list[tuple[int, int]]) -> str:
        corners = [tags((0, "VERTEX"), (8, layer), (10, x), (20, y)) for x, y in points]
        head = tags((0, "POLYLINE"), (8, layer), (66, 1), (70, 1))
        return head + "".join(corners) + tags((0, "SEQEND"))

    def point(layer: str, x: int, y: int) -> str:
        return tags((0, "POINT"), (8, layer), (10, x), (20, y))

    outline = [(0, 0), (200, 0), (200, 150), (200, 300), (100, 310), (0, 300)]
    parts = [
        tags((0, "SECTION"), (2, "BLOCKS"), (0, "BLOCK"), (8, "0"), (2, "PANEL"), (70, 0)),
        tags((10, 0), (20, 0)),
        ring("0", outline),
        *(point("2", *p) for p in outline),
        point("4", 200, 150),
        ring("14", [(15, 15), (185, 15), (185, 285), (15, 285)]),
        tags((0, "LINE"), (8, "7"), (10, 60), (20, 60), (11, 60), (21, 250)),
        point("13", 100, 100),
        ring("11", [(80, 200), (120, 200), (120, 240), (80, 240)]),
        tags((0, "TEXT"), (8, "1"), (10, 50), (20, 190), (40, 6), (1, "Size 12")),
        tags((0, "ENDBLK"), (0, "ENDSEC"), (0, "SECTION"), (2, "ENTITIES")),
        tags((0, "INSERT"), (8, "1"), (2, "PANEL"), (10, 0), (20, 0)),
        tags((0, "ENDSEC"), (0, "EOF")),
    ]
    return "".join(parts).encode("ascii")


def test_a_file_written_by_hand() -> None:
    """No unit: asked. The boundary on layer 0 of the block has the insert's layer, 1.

    Turn points are told, not notches; the point of layer 4 is a notch, that of 13 a mark, and the
    square of 11 a mark too. Where boundary and sew line are not parallel it is told.
    """
    drawing = read_dxf(by_hand(), "panel.dxf")
    assert (drawing.scale_known, drawing.layers) == (False, "numbered")
    assert "left out, turn points: 6" in drawing.notes
    assert not any("mended" in n for n in drawing.notes)
    made = propose(drawing, Answers(scale="mm"), unit=Unit.mm)
    (piece,) = made.pieces
    assert (piece.name, piece.note) == ("PANEL", "Size 12")
    assert sorted(round(e.allowance) for e in piece.edges) == [15, 15, 15, 22]
    assert sum(len(e.notches) for e in piece.edges) == 1
    assert {m.name for m in piece.marks} == {"drill hole", "cut-out"}
    told = [n for n in made.notes if "off the one that is drawn" in n]
    off = [n.partition(" lies ")[2].partition(" off ")[0] for n in told]
    assert off == ["6.9 mm", "6.9 mm", "3.1 mm"]
    assert 'at the corner of "right" and "top"' in told[0]
    assert 'on "top", 100 mm from "right"' in told[2]


# --- points --------------------------------------------------------------------------------------


def spotted(*points: tuple[tuple[float, float], str], insunits: int = 4) -> bytes:
    """Return a file with a panel 200 by 300 and points on layers."""

    def draw(space) -> None:
        space.add_lwpolyline([(0, 0), (200, 0), (200, 300), (0, 300)], close=True)
        for at, layer in points:
            space.add_point(at, dxfattribs=on(layer))

    return file_of(draw, insunits=insunits)


def test_points_are_notches_marks_or_told() -> None:
    """On the outline a notch, inside a mark, at a corner of the line nothing; the last is told."""
    data = spotted(((200, 100), "p"), ((80, 90), "p"), ((0, 0), "p"), ((200, 300), "p"))
    drawing = read_dxf(data, "x.dxf")
    assert "left out, points at the ends and corners of lines: 2" in drawing.notes
    (piece,) = propose(drawing, Answers(allowance="none"), unit=Unit.mm).pieces
    (notch,) = [n for e in piece.edges for n in e.notches]
    edge = next(e for e in piece.edges if e.notches)
    assert edge.path.point_at(notch.at).is_near((200, 100), 1e-3)
    assert [m.at.is_near((80, 90), 1e-6) for m in piece.marks] == [True]


def test_two_points_side_by_side_are_a_double_notch() -> None:
    """Two points 6 mm apart on one edge are one double notch."""
    data = spotted(((200, 100), "p"), ((200, 106), "p"))
    (piece,) = propose(read_dxf(data, "x"), Answers(allowance="none"), unit=Unit.mm).pieces
    (notch,) = [n for e in piece.edges for n in e.notches]
    assert notch.kind is NotchKind.DOUBLE


def test_a_point_called_a_notch_is_one_at_a_corner_too() -> None:
    """What stands on a layer of that name is never thrown away."""
    data = spotted(((200, 0), "NOTCHES"))
    (piece,) = propose(read_dxf(data, "x"), Answers(allowance="none"), unit=Unit.mm).pieces
    assert sum(len(e.notches) for e in piece.edges) == 1


def test_points_when_the_scale_is_answered() -> None:
    """A file without a unit, said to be in inches: points stay points, at 25.4 times the place."""
    drawing = read_dxf(spotted(((20, 30), "p"), insunits=0), "x")
    said = Answers(allowance="none", scale="in", true_size="yes")
    (piece,) = propose(drawing, said, unit=Unit.inch).pieces
    assert piece.marks[0].at.is_near((20 * 25.4, 30 * 25.4), 1e-6)


# --- what was mended -----------------------------------------------------------------------------


def test_what_was_mended_is_told() -> None:
    """A text style and a line's layer name that cannot be: counted, in plain words."""
    data = file_of(
        lambda m: m.add_circle((0, 0), 50.0, dxfattribs={"layer": "cut"}),
        lambda m: m.add_line((0, 0), (9, 9), dxfattribs={"linetype": "NO SUCH"}),
    )
    assert not any("mended" in n for n in read_dxf(file_of(panel), "x.dxf").notes)
    note = next(n for n in read_dxf(data, "x.dxf").notes if "mended" in n)
    assert "1 thing was mended" in note
    assert note.endswith("Look whether anything is missing")


# --- the command line ----------------------------------------------------------------------------


def test_on_the_command_line(tmp_path, capsys) -> None:
    """A numbered file is added without an option; --layers names asks for the allowance."""
    file, book = tmp_path / "pieces.dxf", tmp_path / "book"
    file.write_bytes(file_of(panel))
    assert run(["new", str(book)]) == 0
    assert run(["add", str(book), str(file), "--layers", "names"]) != 0
    assert run(["add", str(book), str(file)]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "allowance taken from the sew line" in said
    (piece,) = load(book).bought.pieces
    assert piece.name == "panel"
    assert {e.role for e in piece.edges} == {Role.SEAM}
