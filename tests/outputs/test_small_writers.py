"""Tables for spreadsheets, pieces side by side, words in our typeface."""

from __future__ import annotations

import csv
import io

import pytest

from clothwright.drawing.arrange import side_by_side
from clothwright.outputs.fonts import PLAIN, legible, shortened, width, wrapped
from clothwright.outputs.table_csv import table_csv
from clothwright.picture import Picture, Table
from tests.outputs.specimens import cut, ring


def test_csv_reads_back() -> None:
    """Commas, quotes, line breaks, fractions and umlauts survive; the byte order mark is there."""
    table = Table(head=("Piece", "Note"), rows=(("front, left", 'say "1⅝"'), ("Größe", "a\nb")))
    content = table_csv(table)
    assert content.startswith(b"\xef\xbb\xbf")
    rows = list(csv.reader(io.StringIO(content.decode("utf-8-sig"), newline="")))
    assert rows == [list(table.head), *(list(row) for row in table.rows)]


def test_csv_is_no_program() -> None:
    """A name that a spreadsheet would run as a formula is made plain; a number stays a number."""
    table = Table(head=("A",), rows=(("=1+1",), ("-5 mm",), ("+3",), ("@name",)))
    rows = list(csv.reader(io.StringIO(table_csv(table).decode("utf-8-sig"))))
    assert [row[0] for row in rows[1:]] == ["'=1+1", "-5 mm", "+3", "'@name"]


def test_pieces_lie_side_by_side() -> None:
    """No two boxes overlap, rows keep to the width, nothing is turned or lost, corner at 0, 0."""
    sizes = ((100, 400), (300, 200), (250, 390), (80, 80), (500, 60), (900, 30))
    pictures = [Picture(items=(cut(ring(7, -9, 7 + w, -9 + h)),)) for w, h in sizes]
    whole = side_by_side([*pictures, Picture()], widest=600.0, gap=15.0, title="All")
    boxes = [item.path.bounds() for item in whole.items if not hasattr(item, "words")]
    got = sorted((round(hi.x - lo.x), round(hi.y - lo.y)) for lo, hi in boxes)
    assert got == sorted(sizes)
    for i, (low, high) in enumerate(boxes):
        assert high.x <= 600.0 + 1e-9 or (low.x == 0 and high.x - low.x > 600)
        for other_low, other_high in boxes[i + 1 :]:
            assert (
                high.x + 15 <= other_low.x + 1e-9
                or other_high.x + 15 <= low.x + 1e-9
                or high.y + 15 <= other_low.y + 1e-9
                or other_high.y + 15 <= low.y + 1e-9
            )
    low, _ = whole.bounds()
    assert low == pytest.approx((0.0, 0.0))
    assert whole.title == "All"


@pytest.mark.parametrize(
    ("words", "set_as"),
    [
        ("1⅝″", "1 5/8 in"),
        ("⅛ ½ ¼ ¾ ⅜ ⅞", "1/8 ½ ¼ ¾ 3/8 7/8"),
        ("2⅔ yd", "2 2/3 yd"),
        ("5′ 6″", "5 ft 6 in"),
        ("Größe, été, plná, łódź, čeština", "Größe, été, plná, łódz, čeština"),
        ("Gro\u0308ße", "Größe"),
        ("a → b", "a -> b"),
        ("38\u202fcm", "38 cm"),
        ("soft\u00adly\u200b", "softly"),
        ("布", "?"),
        ("ﬁt", "ﬁt"),
    ],
)
def test_words_are_legible(words: str, set_as: str) -> None:
    """Signs the face lacks are spelt out; accents are joined to their letters; the rest is "?"."""
    assert legible(words) == set_as


def test_no_sign_is_printed_as_an_empty_box() -> None:
    """Whatever is typed, every sign that is set is in the face."""
    from clothwright.outputs.fonts import _known

    everything = "".join(chr(n) for n in (*range(32, 0x2FFF), *range(0x3000, 0x3100), 0x1F9F5))
    assert {ord(sign) for sign in legible(everything)} <= _known()


def test_lines_break_between_words() -> None:
    """No line is wider than asked but for a single long word; no word is lost."""
    words = "Cut away from yourself and keep the fingers off the edge of the ruler"
    lines = wrapped(words, 3.0, 40.0)
    assert " ".join(lines) == words
    assert len(lines) > 1
    assert all(width(line, 3.0, PLAIN) <= 40.0 for line in lines)
    assert wrapped("Schößchenjackenvorderteil", 3.0, 10.0) == ("Schößchenjackenvorderteil",)
    assert width(shortened(words, 3.0, 40.0), 3.0) <= 40.0
    assert shortened(words, 3.0, 40.0).endswith("…")
