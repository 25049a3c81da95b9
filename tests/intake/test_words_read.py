"""Words on a piece: its name, orders to cut, its size, names of edges."""

from __future__ import annotations

import pytest

from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import DrawnText
from clothwright.intake.words_read import edge_names, words_read


def text(words, height=5.0, at=(0, 0), turn=0.0):
    return DrawnText(words=words, at=Vec(*at), height=height, turn_deg=turn)


@pytest.mark.parametrize(
    ("words", "cut"),
    [
        ("cut 2", "shell pair"),
        ("Cut 1 on fold", "shell fold"),
        ("CUT 1", "shell once"),
        ("cut 4 of lining", "lining pair 2"),
        ("shell: cut 1 pair", "shell pair"),
        ("Interfacing: cut one on the fold", "interfacing fold"),
        ("cut 3 self", "shell once 3"),
        ("cut 2 (a pair) in shell", "shell pair"),
        ("cut 2 (a pair) from lining", "lining pair"),
        ("cut 1 on the fold from interfacing", "interfacing fold"),
        ("cut 2 pairs", "shell pair 2"),
        ("shortcut 2", ""),
        ("cut here", ""),
        ("Quantity: 2", "shell pair"),
        ("QUANTITY: 1", "shell once"),
        ("Qty. 3", "shell once 3"),
        ("Quantity: 0", ""),
        ("Quantity of buttons 4", ""),
    ],
)
def test_orders_to_cut(words, cut):
    """An even number is taken as mirrored pairs (common practice); it is asked in any case."""
    assert words_read([text(words)]).cut == cut


def test_the_name_is_in_the_largest_letters():
    """The largest words name the piece; a label of the outline goes before; "X: cut 2" names X."""
    texts = [text("Sleeve", 10), text("cut 2"), text("size 12"), text("hem")]
    read = words_read(texts)
    assert (read.name, read.size, read.cut) == ("Sleeve", "12", "shell pair")
    assert words_read(texts, "my sleeve").name == "my sleeve"
    assert words_read([text("Collar: cut 2")]).name == "Collar"
    assert words_read([text("Lining: cut 2")]).name == ""
    assert words_read([text("side", 12, turn=90), text("Yoke", 8)]).name == "Yoke"
    assert words_read([text("place on the fold", 12), text("Yoke", 8)]).name == "Yoke"
    assert words_read([text("front", 5), text("side", 5)]).name == ""


def test_a_quantity_names_no_piece_and_gives_way_to_an_order() -> None:
    """Files made for pattern programs say "Quantity: 2"; "cut 1 on fold" beside it says more."""
    read = words_read([text("Quantity: 2", 12), text("Yoke", 8)])
    assert (read.name, read.cut, read.said) == ("Yoke", "shell pair", "Quantity: 2")
    assert words_read([text("Quantity: 2")]).name == ""
    both = words_read([text("Quantity: 2"), text("cut 1 on fold")])
    assert (both.cut, both.said) == ("shell fold", "cut 1 on fold")


def test_edges_are_named_by_the_words_along_them():
    """Words along an edge and near it name it; words across it or far away do not."""
    square = polyline([(0, 0), (300, 0), (300, 400), (0, 400), (0, 0)])
    parts = square.split_many([300, 700, 1000])
    texts = [
        text("Hem", at=(150, 6)),
        text("side", at=(292, 200), turn=90),
        text("neck", at=(8, 200)),
        text("centre (fold)", at=(8, 150), turn=90),
        text("name", at=(150, 394)),
    ]
    assert edge_names(parts, texts, "name") == ["hem", "side", "", "centre"]


def test_remarks_after_a_name_are_left_off():
    """Allowances and turn-ups are no part of a name; a layer's name is no piece's."""
    edge = polyline([(0, 0), (300, 0)])
    for words in ("hem: turn up 1 1/2 in", "hem · 5/8 in", "Hem 2 cm", "hem (straight)"):
        assert edge_names([edge], [text(words, at=(150, 4))], "") == ["hem"]
    assert edge_names([edge], [text("place on the fold", at=(150, 4))], "") == ["fold"]
    assert words_read([text("Front", 9)], "cut").name == "Front"


def test_words_of_a_fold_and_of_the_grain():
    """Words that speak of a fold or the grain are kept apart, with their places."""
    read = words_read([text("place on fold", at=(5, 9)), text("grain", at=(3, 4))])
    assert [t.at for t in read.folds] == [Vec(5, 9)]
    assert read.grains == (Vec(3, 4),)
