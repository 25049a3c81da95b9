"""Sizes in a DXF file become one piece in sizes, however they are kept apart there.

By two independent writers (`dxf_sized`): held against the formulas the pieces were drawn by.
"""

from __future__ import annotations

import pytest

from clothwright.errors import BadInput
from clothwright.intake.answers import Answers
from clothwright.intake.dxf import read_dxf
from clothwright.intake.waiting.at_once import Draft, drawn_draft
from clothwright.units import Unit
from tests.intake.dxf_sized import (
    NO_WORDS,
    STEPS,
    ByHand,
    ByLibrary,
    Words,
    labelled,
    panels,
    piece,
)

P = tuple[float, float]
PIECES = ("front", "back")
OFF_MM = 0.01
Writer = ByLibrary | ByHand


def layers(to: Writer, called: str, words: Words = NO_WORDS) -> Writer:
    """Sizes in each other, each on a layer of its own."""
    for size in STEPS:
        for k, name in enumerate(PIECES):
            layer = called.format(size=size, name=name.upper())
            to.draw(piece(name, size), words(name, size), (500.0 * k, 0.0), layer)
    return to


def blocks(to: Writer, called: str, words: Words = NO_WORDS, apart: P = (500.0, 900.0)) -> Writer:
    """A block a size, drawn about its own zero, used side by side."""
    for k, name in enumerate(PIECES):
        for n, size in enumerate(STEPS):
            into = to.block(
                called.format(size=size, name=name.upper(), n=3 * k + n),
                (apart[0] * n, apart[1] * k),
            )
            to.draw(piece(name, size), words(name, size), (0.0, 0.0), space=into)
    return to


def in_place(to: Writer, called: str, words: Words, rows: bool = True) -> Writer:
    """A block a size, drawn where it lies, all used at 0,0: side by side by their own lines."""
    for k, name in enumerate(PIECES):
        for n, size in enumerate(STEPS):
            into = to.block(called.format(size=size, name=name.upper(), n=3 * k + n))
            at = (500.0 * n, 900.0 * k) if rows else (500.0 * k, 900.0 * n)
            to.draw(piece(name, size), words(name, size), at, space=into)
    return to


def whole_sets(to: Writer) -> Writer:
    """A block a size that holds all pieces."""
    for n, size in enumerate(STEPS):
        into = to.block(f"Size {size}", (0.0, 900.0 * n))
        for k, name in enumerate(PIECES):
            to.draw(piece(name, size), [name], (500.0 * k, 0.0), space=into)
    return to


def filled_in(to: ByLibrary) -> ByLibrary:
    """What a block is is filled in where it is used (attributes), its name says nothing."""
    for k, name in enumerate(PIECES):
        for n, size in enumerate(STEPS):
            fields = {"PIECE_NAME": name.upper(), "SIZE": size}
            into = to.block(f"X{3 * k + n}A", (500.0 * n, 900.0 * k), fields)
            to.draw(piece(name, size), (), (0.0, 0.0), space=into)
    return to


def only_name(name: str, size: str) -> list[str]:
    """The name alone."""
    del size
    return [name]


FILES = {
    "layers, spline": lambda: layers(ByLibrary(), "{size}", only_name),
    "layers, polyline": lambda: layers(ByLibrary("R2000", poly=True), "Size {size}", only_name),
    "layers, by hand": lambda: layers(ByHand(), "{size}", only_name),
    "layers with names": lambda: layers(ByLibrary(poly=True), "{name}_{size}"),
    "layers with names, by hand": lambda: layers(ByHand(), "{name}_{size}"),
    "blocks": lambda: blocks(ByLibrary(), "{name}-{size}"),
    "blocks on each other": lambda: blocks(ByLibrary(poly=True), "{name} {size}", apart=(0, 900)),
    "blocks all at zero": lambda: blocks(ByHand(), "{name} {size}", apart=(0, 0)),
    "blocks, by hand": lambda: blocks(ByHand(), "{name}_{size}"),
    "words": lambda: blocks(ByLibrary(), "B{n}X", labelled),
    "words in a paragraph": lambda: blocks(ByLibrary(paragraph=True), "B{n}X", labelled),
    "words, by hand": lambda: blocks(ByHand(), "B{n}X", labelled),
    "in place": lambda: in_place(ByLibrary(poly=True), "{name}-{size}", NO_WORDS),
    "in place, by hand": lambda: in_place(ByHand(), "B{n}X", labelled, rows=False),
    "whole sets": lambda: whole_sets(ByLibrary()),
    "whole sets, by hand": lambda: whole_sets(ByHand()),
    "filled in": lambda: filled_in(ByLibrary()),
}


def made(to: Writer, **said: str) -> Draft:
    answers = Answers(allowance="none", size="12", scale="mm", **said)
    return drawn_draft(read_dxf(to.data(), "sizes.dxf", answers), answers, Unit.mm)


@pytest.mark.parametrize("kind", FILES)
def test_one_piece_in_three_sizes(kind: str) -> None:
    """Two pieces, each in 10, 12 and 14 within 0.01 mm, with its dart and notch in every size."""
    draft = made(FILES[kind]())
    assert sorted(p.name.lower() for p in draft.pieces) == ["back", "front"]
    assert draft.sizes is not None, draft.notes
    assert draft.sizes.names == tuple(STEPS)
    for size, pieces in zip(draft.sizes.names, draft.sizes.pieces, strict=True):
        for got in pieces:
            want = piece(got.name.lower(), size)
            low = got.outline.bounds()[0]
            off = max(got.outline.nearest((x + low.x, y + low.y))[1] for x, y in want.truth())
            assert off < OFF_MM, f"{got.name} {size}: {off:.4f} mm"
            (dart,) = got.darts
            edge = got.edge(dart.edge).path
            a, point, b = want.dart
            legs = sorted((edge.point_at(dart.a) - low, edge.point_at(dart.b) - low))
            for found, wanted in zip((*legs, dart.point - low), (a, b, point), strict=True):
                assert found.is_near(wanted, OFF_MM)
            (notch,) = (e.path.point_at(n.at) - low for e in got.edges for n in e.notches)
            assert notch.is_near(want.notch, OFF_MM)
            assert "size" not in got.note.lower()
    lows = [
        p.outline.bounds()[0]
        for set_ in draft.sizes.pieces
        for p in set_
        if p.name.lower() == "front"
    ]
    assert max(a.distance(b) for a in lows for b in lows) < OFF_MM, "they lie on each other"


def test_small_numbers_on_what_is_alike_are_asked() -> None:
    """Panel 1, 2, 3, each a little wider: sizes or pieces? Said, they are that."""
    read = read_dxf(panels().data(), "panels.dxf")
    assert (read.alike, read.sizes) == ("unsure", ())
    with pytest.raises(BadInput, match=r'"panel 1", "panel 2" and "panel 3".*--alike sizes'):
        drawn_draft(read, Answers(allowance="none"), Unit.mm)
    said = Answers(allowance="none", alike="pieces")
    apart = drawn_draft(read_dxf(panels().data(), "panels.dxf", said), said, Unit.mm)
    assert [p.name for p in apart.pieces] == ["panel 3", "panel 2", "panel 1"]
    assert apart.sizes is None
    said = Answers(allowance="none", alike="sizes", size="2")
    sized = drawn_draft(read_dxf(panels().data(), "panels.dxf", said), said, Unit.mm)
    assert sized.sizes is not None
    assert sized.sizes.names == ("1", "2", "3")
    assert [p.name for p in sized.pieces] == ["panel"]
    with pytest.raises(BadInput, match="--alike"):
        read_dxf(panels().data(), "panels.dxf", Answers(alike="both"))


@pytest.mark.parametrize("to", [panels(like=False), panels(grow=0.0), panels(10, like=False)])
def test_what_is_not_alike_are_pieces(to: ByLibrary) -> None:
    """Blocks with numbers that are of other shapes, or copies, are pieces and nothing is asked."""
    read = read_dxf(to.data(), "panels.dxf")
    assert (read.alike, read.sizes) == ("", ())
    assert len(drawn_draft(read, Answers(allowance="none"), Unit.mm).pieces) == 3


def test_layers_with_small_numbers_are_asked() -> None:
    """Layers 1, 2 and 3 may be sizes, or no more than layers."""
    to = ByLibrary()
    for n, size in enumerate(STEPS):
        to.draw(piece("front", size), (), (0.0, 0.0), str(n + 1))
    data = to.data()
    assert read_dxf(data, "x.dxf").alike == "unsure"
    assert read_dxf(data, "x.dxf", Answers(alike="sizes")).sizes == ("1", "2", "3")
    plain = read_dxf(data, "x.dxf", Answers(alike="pieces"))
    assert (plain.alike, plain.sizes) == ("pieces", ())


def test_a_piece_in_one_size_is_one_for_all() -> None:
    """A belt that is there in size 12 only goes with every size, and that is told."""
    to = blocks(ByLibrary(), "B{n}X", labelled)
    assert isinstance(to, ByLibrary)
    into = to.block("belt", (0.0, 2000.0))
    into.add_lwpolyline([(0, 0), (800, 0), (800, 60), (0, 60)], close=True)
    into.add_text("Size: 12", height=6).set_placement((40, 20))
    draft = made(to)
    assert any("belt: drawn in one size only, taken for all" in n for n in draft.notes)
    assert draft.sizes is not None
    assert sorted(draft.sizes.piece_names) == ["back", "belt", "front"]


@pytest.mark.parametrize(("units", "mm"), [(None, None), (0, None), (1, 25.4), (4, 1.0)])
def test_the_unit_in_the_header_of_an_old_file(units: int | None, mm: float | None) -> None:
    """R12 knows no unit, but a file that names it all the same is believed."""
    to = ByHand(units)
    to.draw(piece("front", "12"), (), (0.0, 0.0))
    read = read_dxf(to.data(), "front.dxf")
    assert read.scale_known == (mm is not None)
    low, high = read.lines[0].path.bounds()
    assert high.y - low.y == pytest.approx(607.5 * (mm or 1.0), abs=1e-6)
