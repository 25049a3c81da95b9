"""Words set letter by letter, or in bits, are read as the words they are."""

from __future__ import annotations

import pytest
from reportlab.pdfbase.pdfmetrics import stringWidth

from clothwright.intake.answers import Answers
from clothwright.units import Unit
from tests.intake.plain import WAYS, Plain, Word, area
from tests.intake.proposing import propose

SKIRT = area((60, 60), (300, 60), (290, 440), (80, 450))


def set_apart(bits: list[str], at: tuple[float, float], size: float, more: float) -> list[Word]:
    """Bits of text one after another, each with its own place. more: em between letters."""
    out, x = [], at[0]
    for bit in bits:
        if bit.strip():
            out.append(Word(text=bit, at=(x, at[1]), size=size))
        x += stringWidth(bit, "Helvetica", size) + more * size * len(bit)
    return out


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("more", [0.0, 0.05, 0.15, 0.25, 0.5, 0.7, 0.9])
@pytest.mark.parametrize("name", ["BACK", "Skirt front", "LEFT SLEEVE", "Milli"])
def test_letters_one_by_one(way: str, more: float, name: str) -> None:
    """Each letter a text of its own, close together or set apart: one name, with its spaces."""
    words = [
        *set_apart(list(name), (70, 250), 9.0, more),
        *set_apart(list("Cut 2"), (120, 230), 5.0, 0.0),
    ]
    (piece,) = propose(
        Plain(shapes=(SKIRT,), words=tuple(words)).read(way),
        Answers(allowance="none"),
        unit=Unit.mm,
    ).pieces
    assert piece.name == name
    assert [(c.how, c.count) for c in piece.cuts] == [("pair", 1)]


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("bits", [["B", "AC", "K"], ["BA", "CK"], ["BACK", " ", "PA", "NEL"]])
def test_words_in_bits(way: str, bits: list[str]) -> None:
    """A program that kerns cuts words into bits."""
    plain = Plain(shapes=(SKIRT,), words=tuple(set_apart(bits, (120, 250), 9.0, 0.0)))
    (piece,) = propose(plain.read(way), Answers(allowance="none"), unit=Unit.mm).pieces
    assert piece.name == "".join(bits)


@pytest.mark.parametrize("way", WAYS)
def test_texts_side_by_side_stay_apart(way: str) -> None:
    """Sizes in a row, and two labels on one line, are texts of their own."""
    words = [Word(text=t, at=(100 + 20 * k, 250)) for k, t in enumerate(("10", "12", "14"))]
    words += [Word(text="waist", at=(100, 300)), Word(text="centre", at=(180, 300))]
    drawing = Plain(shapes=(SKIRT,), words=tuple(words)).read(way)
    assert sorted(t.words for t in drawing.texts) == ["10", "12", "14", "centre", "waist"]


@pytest.mark.parametrize("words", ["cut 2 x", "1 of 2", "A B C", "Cut 1 on fold", "no. 1 to 4"])
def test_short_words_stay_words(words: str) -> None:
    """Words of few letters in a PDF are not taken for letters set wide."""
    plain = Plain(shapes=(SKIRT,), words=(Word(text=words, at=(120, 250)),))
    assert [t.words for t in plain.read("pdf").texts] == [words]


OTHER_FACES = {
    "Courier": ("Pocket flap", "Skirt back", "Skirt front", "Left sleeve", "Upper collar"),
    "Times-Roman": ("Sleeve", "Skirt back", "Skirt front", "Left sleeve", "Upper collar"),
    "Helvetica-Bold": ("Sleeve", "Skirt back", "Skirt front", "Waistband", "Upper collar"),
}
"""Faces with widths of their own (reportlab's tables of them), and names set at these widths."""


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("share", [1.0, 0.85])
@pytest.mark.parametrize(
    ("face", "name"), [(f, n) for f, some in OTHER_FACES.items() for n in some]
)
def test_letters_at_the_widths_of_another_face(
    way: str, share: float, face: str, name: str
) -> None:
    """A face that was put in for another keeps the places of its letters: gaps differ by letter."""
    words, x = [], 80.0
    for letter in name:
        words += [Word(text=letter, at=(x, 250), size=9.0)] if letter != " " else []
        x += share * stringWidth(letter, face, 9.0)
    drawing = Plain(shapes=(SKIRT,), words=tuple(words)).read(way)
    assert [t.words for t in drawing.texts] == [name]
