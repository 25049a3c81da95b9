"""Words behind a label are what the label says, in every kind of file.

The labels are those that files made for pattern programs carry (ASTM D6673's kinds of line, from
memory) and what people write instead; what they must come out as is said here by hand.
"""

from __future__ import annotations

import pytest

from clothwright.geometry.vec import Vec
from clothwright.intake.answers import Answers
from clothwright.intake.drawing import DrawnText
from clothwright.intake.waiting.at_once import drawn_draft
from clothwright.intake.words_read import words_read
from clothwright.units import Unit
from tests.intake.plain import WAYS, Plain, Word, box


def text(words: str, height: float = 5.0) -> DrawnText:
    return DrawnText(words=words, at=Vec(0, 0), height=height)


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("PIECE NAME: FRONT", "front"),
        ("Piece Name: Side front", "Side front"),
        ("Piece: Yoke", "Yoke"),
        ("Piece 3: Yoke", "Yoke"),
        ("PIECE NO. 3: LEFT CUFF", "left cuff"),
        ("Name = Collar", "Collar"),
        ("Part name: CB", "CB"),
        ("Piece name:", ""),
        ("Piece number: 17", ""),
        ("Style name: Anna", ""),
        ("Sample size: 12", ""),
        ("Creation date: 2020-02-02", ""),
        ("Front: cut 2", "Front"),
    ],
)
def test_a_name_without_its_label(words: str, name: str) -> None:
    """The label goes; what another label says names no piece."""
    assert words_read([text(words)]).name == name


def test_a_label_names_the_piece_before_size_of_letters_and_block() -> None:
    """A labelled name is surer than large letters and than what a program called the outline."""
    texts = [text("demo trousers", 12), text("Piece name: Back", 4), text("side", 4)]
    assert words_read(texts, "BACK-10").name == "Back"
    assert words_read([], "Piece name: FRONT").name == "front"


def test_all_labels_in_one_line_or_in_many() -> None:
    """Name, size, count and material; sample size, style and date are nothing that is asked."""
    lines = (
        "STYLE NAME: ANNA",
        "SAMPLE SIZE: 14",
        "PIECE NAME: FRONT LINING",
        "SIZE: 10",
        "QUANTITY: 2",
        "MATERIAL: LINING",
        "ANNOTATION: cut 1 on fold",
    )
    for texts in ([text(x) for x in lines[:-1]], [text(" ".join(lines[:-1]))]):
        read = words_read(texts)
        assert (read.name, read.size, read.cut) == ("front lining", "10", "lining pair")
        assert read.said == "QUANTITY: 2; MATERIAL: LINING"
        assert not read.edges
    assert words_read([text(x) for x in lines]).cut == "lining fold"
    assert words_read([text("Quantity: 2"), text("Material: M3")]).cut == "shell pair"
    assert words_read([text("Size range: 8 to 16")]).size == ""


@pytest.mark.parametrize("way", WAYS)
def test_in_a_drawing(way: str) -> None:
    """SVG and PDF: the piece is called what the label says."""
    lines = ("PIECE NAME: SKIRT BACK", "SIZE: 10", "QUANTITY: 2")
    words = tuple(Word(text=x, at=(120, 250 - 14 * k)) for k, x in enumerate(lines))
    drawing = Plain(shapes=(box(60, 60, 260, 400),), words=words).read(way)
    (piece,) = drawn_draft(drawing, Answers(allowance="none"), Unit.cm).pieces
    assert (piece.name, piece.note) == ("skirt back", "Size 10")
    assert [(c.material, c.how) for c in piece.cuts] == [("shell", "pair")]
