"""workbook.toml: exact round trip, comments kept, every mistake placed."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwright.cloth.cloth import Cloth, Flaw
from clothwright.cloth.plan import AtPhase, Clear, CutFrom, Meets, OneWay, Pin, Plan
from clothwright.cloth.prints import Border, Figure, Print
from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.errors import BadInput, Mistakes
from clothwright.store import create, load, save
from clothwright.store.format import read_table
from clothwright.store.places import places
from clothwright.store.plain import length_text
from clothwright.units import Unit, parse_length
from clothwright.workbook import Step, Workbook


@settings(max_examples=200, deadline=None)
@given(
    mm=st.floats(-1e5, 1e5).filter(lambda v: v == 0 or abs(v) >= 1e-12),
    unit=st.sampled_from(list(Unit)),
)
def test_a_length_written_is_read_back_as_the_same_float(mm, unit):
    """Whatever the unit, text written for a length gives the very same number of mm."""
    assert parse_length(length_text(mm, unit), unit=unit) == mm


def everything() -> Workbook:
    """A workbook with every kind of entry (demo data)."""
    cloth = Cloth(
        name="odd",
        width=1400.0,
        length=2222.2,
        nap=True,
        shrink_along=0.035,
        stretch=0.1,
        price_per_m=12.5,
        outline=((0.0, 0.0), (2000.0, 0.0), (1900.0, 1400.0)),
        note="demo data",
        flaws=(Flaw(name="hole", ring=((1.0, 1.0), (2.0, 1.0), (2.0, 2.0))),),
        print=Print(
            borders=(
                Border(name="b", side="upper", base=3.0, height=100.0, down="middle", repeat=33.3),
            ),
            repeat_along=60.0,
            repeat_across=45.5,
            origin_along=1.25,
            axes_along=(0.0, 30.0),
            axes_across=(2.0,),
            figures=(Figure(name="f", x=1.0, y=2.0, radius=30.0),),
            one_way=True,
            look="figures",
        ),
    )
    rules = (
        AtPhase(piece="back", point="neck point", along=0.0),
        AtPhase(piece="back", point="neck point", across=12.7, copies="first"),
        Meets(piece_a="a", point_a="b", piece_b="c", point_b="d", match="both"),
        Clear(piece="a", point="b", figure="f", by=5.0),
        OneWay(),
        OneWay(pieces=("a", "b")),
        CutFrom(piece="a", material="shell", cloth="odd"),
        Pin(piece="a", copy=2, cloth="odd", x=1.5, y=2.5, turn_deg=90.0, flipped=True),
    )
    book = checked_waistcoat()
    return replace(
        book,
        cloths=(*book.cloths, cloth),
        plans=(*book.plans, Plan(name="odd", why="why", rules=rules)),
        steps=(
            Step(
                change="crop",
                params={"length": "17 in", "edges": ("front.hem", "back.hem")},
                on=False,
                why="because",
            ),
        ),
        notes='quotes " and \\ and ⅝',
    )


def test_round_trip_of_every_kind_of_entry(tmp_path):
    """What is saved is loaded as an equal workbook."""
    book = everything()
    create(tmp_path / "w", book)
    assert load(tmp_path / "w") == book


def test_comments_and_wording_a_person_added_survive_a_save(tmp_path):
    """A comment, a blank line and a length in other words stay; only what changed is rewritten."""
    folder = tmp_path / "w"
    create(folder, everything())
    file = folder / "workbook.toml"
    text = file.read_text()
    text = text.replace("[[cloth]]", "# bought at the fair\n[[cloth]]", 1)
    text = text.replace('gap = "0.2 cm"', 'gap = "2,0 mm"  # a chalk line', 1)
    text += "\n# the end\n"
    file.write_text(text)
    book = load(folder)
    save(replace(book, title="Another"), folder, previous=book)
    after = file.read_text()
    assert "# bought at the fair\n[[cloth]]" in after
    assert 'gap = "2,0 mm"  # a chalk line' in after
    assert "# the end" in after
    assert load(folder).title == "Another"


def test_rows_moved_added_and_removed_keep_their_comments(tmp_path):
    """A cloth's comment goes with the cloth when another is put before it or taken away."""
    folder = tmp_path / "w"
    create(folder, everything())
    file = folder / "workbook.toml"
    file.write_text(file.read_text().replace('name = "odd"', 'name = "odd"  # mine', 1))
    book = load(folder)
    new = Cloth(name="new", width=900.0)
    save(replace(book, cloths=(new, book.cloths[-1])), folder, previous=book)
    assert [c.name for c in load(folder).cloths] == ["new", "odd"]
    assert 'name = "odd"  # mine' in file.read_text()


def test_all_mistakes_are_told_at_once_with_their_lines():
    """Five mistakes of different kinds: five sentences, each with its line and its place."""
    text = "\n".join(
        [
            "format = 1",
            'title = "x"',
            'unit = "cm"',
            'nap = "odd"',
            "[[cloth]]",
            'name = "wool"',
            'width = "14o cm"',
            "nap = 1",
            "[[cloth]]",
            "width = -3",
            "[[plan]]",
            'name = "p"',
            "[[plan.rule]]",
            'kind = "on-boarder"',
        ]
    )
    with pytest.raises(Mistakes) as caught:
        read_table(text, "workbook.toml")
    told = str(caught.value)
    for words in (
        "line 4, nap: this entry is not known",
        "line 7, cloth 1, width",
        "line 8, cloth 1, nap",
        "cloth 2, name: is missing",
        "line 10, cloth 2, width: found",
        'there is no placing rule "on-boarder". Did you mean "on-border"?',
    ):
        assert words in told, told


def test_places_count_nested_tables():
    """The third rule of the second plan is found on its own line."""
    text = "[[plan]]\n[[plan.rule]]\n[[plan]]\n[[plan.rule]]\n[[plan.rule]]\n[[plan.rule]]\nx = 1\n"
    assert places(text)[("plan", 1, "rule", 2, "x")] == 7


def test_an_old_format_is_upgraded():
    """Format 0 had one selvedge margin for both sides."""
    text = 'format = 0\ntitle = "x"\nunit = "cm"\n[[cloth]]\nname = "w"\nwidth = 90\nselvedge = 2\n'
    cloth = read_table(text, "w").cloth[0]
    assert (cloth.margin_lower, cloth.margin_upper) == (20.0, 20.0)


@pytest.mark.parametrize(
    ("line", "words"),
    [("format = 99", "newer Clothwright"), ("", 'no "format"'), ("format = true", "format")],
)
def test_a_format_that_is_not_ours_is_refused(line, words):
    """A newer, missing or odd format gives a sentence, not a guess."""
    with pytest.raises(BadInput, match=words):
        read_table(f'{line}\ntitle = "x"\nunit = "cm"\n', "w")
