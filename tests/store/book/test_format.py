"""workbook.toml: exact round trip, comments kept, every mistake placed."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwright.cloth.cloth import Cloth, Flaw
from clothwright.cloth.prints import Border, Figure, Print, PrintPicture
from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.errors import BadInput, Mistakes
from clothwright.pattern.pattern import Along, Companion
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.clear import Clear
from clothwright.rules.kinds.cut_from import CutFrom
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.one_way import OneWay
from clothwright.rules.kinds.pin import Pin
from clothwright.rules.plan import Plan
from clothwright.store import create, load, save
from clothwright.store.book.format import read_table, said_by, to_plain, to_workbook
from clothwright.store.book.places import places
from clothwright.store.book.sync import fresh, synced
from clothwright.units import Unit, parse_length
from clothwright.words.exact import length_text
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
            up="end",
            drop="half-drop",
            half_turn=(3.5, 1.25),
            look="figures",
            picture=PrintPicture(
                file="photo-1.jpg", width=60.5, height=1400.0, along=1.25, across=-3.0
            ),
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
    first, *rest = book.bought.seams
    folded = replace(
        first, join="pleated", ease=60.0, eased_max=64.0, ease_from="n", folds=3, fold_to="box"
    )
    along = (
        Along(edge="armhole", piece="back", edge_of="armhole", longer=-0.5),
        Along(piece="back"),
    )
    companions = (
        Companion(piece="front", kind="lining", of=along),
        Companion(piece="back", kind="flap", of=(Along(piece="front"),), by="drafted"),
    )
    return replace(
        book,
        bought=replace(book.bought, seams=(folded, *rest), companions=companions),
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
    save(replace(book, title="Another"), folder)
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
    save(replace(book, cloths=(new, book.cloths[-1])), folder)
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


SEAM_SLIPS = [
    ('join = "gatherd"', "line 8, seam 1, join: found 'gatherd'"),
    ("folds = -1", "line 8, seam 1, folds: found -1; expected at least 0"),
    ("folds = 2.5", "line 8, seam 1, folds: found 2.5; expected a whole number"),
    ('folds = "some"', "line 8, seam 1, folds: found 'some'; expected a whole number"),
    ('[[companion]]\npiece = "a"\nkind = "shadow"\nof = []', "line 10, companion 1, kind"),
]


@pytest.mark.parametrize(("line", "words"), SEAM_SLIPS)
def test_what_no_seam_and_no_companion_can_be(line, words):
    """How it is joined, how many folds, what a companion is: one of some words, none or more."""
    text = 'format = 4\ntitle = "x"\nunit = "cm"\n[[seam]]\nname = "s"\na = ["a.b"]\nb = ["c.d"]\n'
    with pytest.raises((BadInput, Mistakes)) as caught:
        read_table(text + line, "w")
    assert words in str(caught.value)


def test_a_companion_of_what_is_not_there_is_told_with_its_line(tmp_path):
    """Its place in the text, and the nearest name there is."""
    folder = tmp_path / "w"
    create(folder, everything())
    file = folder / "workbook.toml"
    text = file.read_text()
    at = text.index("[[companion.of]]")
    file.write_text(text[:at] + text[at:].replace('edge = "armhole"', 'edge = "armhoel"', 1))
    with pytest.raises(BadInput, match=r'companion 1: .*Did you mean "armhole"'):
        load(folder)


def test_places_count_nested_tables():
    """The third rule of the second plan is found on its own line."""
    text = "[[plan]]\n[[plan.rule]]\n[[plan]]\n[[plan.rule]]\n[[plan.rule]]\n[[plan.rule]]\nx = 1\n"
    assert places(text)[("plan", 1, "rule", 2, "x")] == 7


def test_an_old_format_is_upgraded():
    """Format 0 had one selvedge margin for both sides."""
    text = 'format = 0\ntitle = "x"\nunit = "cm"\n[[cloth]]\nname = "w"\nwidth = 90\nselvedge = 2\n'
    cloth = read_table(text, "w").book.cloths[0]
    assert (cloth.margin_lower, cloth.margin_upper) == (20.0, 20.0)


@pytest.mark.parametrize(
    ("line", "words"),
    [("format = 99", "newer Clothwright"), ("", 'no "format"'), ("format = true", "format")],
)
def test_a_format_that_is_not_ours_is_refused(line, words):
    """A newer, missing or odd format gives a sentence, not a guess."""
    with pytest.raises(BadInput, match=words):
        read_table(f'{line}\ntitle = "x"\nunit = "cm"\n', "w")


# --- an edit by hand, and then a save ------------------------------------------------------------

BY_HAND = '''# my outfit; bought in a market

format = 1
title = "Outfit"   # her name for it
unit = "in"

# ---- settings ----
settings.gap = "1/8"

# ---- cloths ----

# the good one
[[cloth]]
name = "wool"
width = 55          # measured twice
length = "1 3/8 yd"
nap = false   # checked by hand
print = { repeat_along = "2 1/2" }

# for the inside
[[cloth]]
name = "lining"
material = "lining"
width = "35 in"

# ---- plans ----

[[plan]]
name = "hems"
why = """
At the hems
only."""

# the front first
[[plan.rule]]
kind = "one-way"    # because of the nap
[[plan.rule]]
kind = "clear"
piece = "front"
point = "hem start"
figure = "rose"
by = "1/4"
[[plan.rule]]
kind = "keep-off"
piece = "front"
border = "vine"
by = "1/2"

# ---- changes ----

# shorter
[[change]]
kind = "lengthen"   # she is small
piece = "front"
level = "waist"
by = "-1"
# tail
'''


def said(text: str) -> Workbook:
    """The workbook that a text without pieces describes."""
    return to_workbook(read_table(text, "w"), ())


def saved(text: str, book: Workbook) -> str:
    """The text after a save of the workbook over it, which must read back as that workbook."""
    table = read_table(text, "w")
    after = synced(
        text,
        said_by(table, book.unit),
        to_plain(book, {}),
        bare_counts_anew=table.book.unit is not book.unit,
    )
    assert said(after) == book
    return after


def comments(text: str) -> list[str]:
    return [line.split("#", 1)[1].strip() for line in text.splitlines() if "#" in line]


def test_a_save_without_changes_keeps_every_byte():
    """Her wording, inline tables, dotted keys, defaults said aloud: all stay as they stand."""
    assert saved(BY_HAND, said(BY_HAND)) == BY_HAND


def test_one_value_changed_touches_one_line():
    """Only the line of the cloth's width differs, and its comment is still behind it."""
    book = said(BY_HAND)
    wool = replace(book.cloths[0], width=1473.2)
    after = saved(BY_HAND, replace(book, cloths=(wool, *book.cloths[1:])))
    pairs = zip(BY_HAND.splitlines(), after.splitlines(), strict=True)
    assert [b for a, b in pairs if a != b] == ['width = "58 in"          # measured twice']


@pytest.mark.parametrize(
    "change",
    [
        lambda b: replace(b, title="1/2"),
        lambda b: replace(b, unit=Unit.cm),
        lambda b: replace(b, notes="two\nlines"),
        lambda b: replace(b, settings=replace(b.settings, gap=5.0, for_child=True, currency="EUR")),
        lambda b: replace(b, cloths=b.cloths[::-1]),
        lambda b: replace(b, cloths=(*b.cloths, Cloth(name="third", width=900.0))),
        lambda b: replace(b, cloths=(replace(b.cloths[0], nap=True), b.cloths[1])),
        lambda b: replace(b, cloths=(replace(b.cloths[0], name="tweed"), b.cloths[1])),
        lambda b: replace(b, cloths=(replace(b.cloths[0], length=None), b.cloths[1])),
        lambda b: replace(b, steps=(replace(b.steps[0], params={**b.steps[0].params, "by": "2"}),)),
        lambda b: replace(b, steps=(Step(change="mirror", params={"piece": "a"}), *b.steps)),
        lambda b: replace(b, steps=(replace(b.steps[0], on=False, why="no"),)),
        lambda b: replace(b, plans=(replace(b.plans[0], rules=b.plans[0].rules[::-1]),)),
        lambda b: replace(b, plans=(Plan(name="new", rules=(OneWay(),)), *b.plans)),
    ],
)
def test_her_comments_survive_every_kind_of_change(change):
    """Whatever a program changes short of removing, each of her comments is still in the file."""
    after = saved(BY_HAND, change(said(BY_HAND)))
    assert sorted(comments(after)) == sorted(comments(BY_HAND))


def test_a_comment_goes_with_the_table_below_it():
    """When cloths change places, the comment right above each one goes along."""
    book = said(BY_HAND)
    after = saved(BY_HAND, replace(book, cloths=book.cloths[::-1]))
    assert after.index("# for the inside") < after.index('name = "lining"')
    assert after.index('name = "lining"') < after.index("# the good one")
    assert after.index("# the good one") < after.index('name = "wool"')


def test_what_is_removed_takes_only_its_own_comments():
    """With the first cloth go its own comments; the headings above stay."""
    book = said(BY_HAND)
    after = comments(saved(BY_HAND, replace(book, cloths=book.cloths[1:], steps=(), plans=())))
    gone = {"the good one", "measured twice", "checked by hand", "the front first"}
    gone |= {"because of the nap", "shorter", "she is small"}
    assert set(comments(BY_HAND)) - set(after) == gone


def test_lines_are_counted_past_texts_that_look_like_tables():
    """A note of many lines with brackets in it does not lead the line numbers astray."""
    text = BY_HAND.replace("only.", "[[cloth]]\nwidth = 3").replace('"35 in"', '"35 inn"')
    with pytest.raises(BadInput) as caught:
        read_table(text, "workbook.toml")
    line = next(n for n, x in enumerate(text.splitlines(), 1) if '"35 inn"' in x)
    assert f"line {line}, cloth 2, width" in str(caught.value)


def test_mistakes_of_text_drawings_seams_and_changes_come_together(tmp_path):
    """One reading tells them all: a spoilt drawing, a missing one, a seam, a change, a double."""
    folder = tmp_path / "w"
    create(folder, checked_waistcoat())
    file = folder / "workbook.toml"
    text = file.read_text().replace('["back.side reversed"]', '["back.sied"]', 1)
    text = text.replace("pieces/pocket.svg", "pieces/pokcet.svg")
    text += '[[change]]\nkind = "croop"\n[[change]]\nkind = "crop"\nedges = "front.hem"\n'
    text += 'length = "17 inn"\nlevel = "hip"\n[[plan]]\nname = "matched"\n'
    file.write_text(text)
    with pytest.raises(Mistakes) as caught:
        load(folder)
    told = str(caught.value)
    crop = "(crop to a length from the high point of the shoulder)"
    for words in (
        'piece 3: the drawing pieces/pokcet.svg of "pocket" cannot be read',
        'piece "back" has no edge "sied". Did you mean "side"?',
        'change 1, kind: there is no change "croop". Did you mean "crop"?',
        f'change 2, length {crop}: "17 inn" is not a length',
        f'change 2, level {crop}: "level" is not asked for',
        'the name "matched" stands twice',
    ):
        assert words in told, told
    assert len(caught.value.mistakes) == 6
    assert all("line " in str(m) for m in caught.value.mistakes)


@settings(max_examples=60, deadline=None)
@given(share=st.floats(0, 0.5).filter(lambda v: v == 0 or v >= 1e-12))
def test_a_share_written_is_read_back_as_the_same_float(share):
    """Shrinkage goes through text exactly, however odd."""
    book = Workbook(title="t", cloths=(Cloth(name="c", width=900.0, shrink_along=share),))
    assert said(fresh(to_plain(book, {}), "")).cloths == book.cloths


@settings(max_examples=80, deadline=None)
@given(words=st.text(st.characters(exclude_categories=["Cs"]), max_size=30))
def test_any_text_is_read_back_as_it_was(words):
    """Titles, notes and reasons may hold anything, quotes, brackets and line ends too."""
    book = Workbook(title=words, notes=words, plans=(Plan(name="p", why=words),))
    text = fresh(to_plain(book, {}), "")
    assert said(text) == book
    assert saved(text, book) == text


def test_an_upgrade_keeps_comments_and_the_old_text(tmp_path):
    """An old format opens; a save writes the present one, comments stay, the old text is kept."""
    folder = tmp_path / "w"
    folder.mkdir()
    old = 'format = 0\ntitle = "x"\nunit = "cm"\n[[cloth]]\nname = "w"\nwidth = 90\n'
    old += "selvedge = 2  # both sides alike\n"
    (folder / "workbook.toml").write_text(old)
    book = load(folder)
    save(replace(book, title="y"), folder)
    text = (folder / "workbook.toml").read_text()
    assert load(folder) == replace(book, title="y")
    assert "margin_upper = 2  # both sides alike" in text
    assert "format = 4" in text
    assert (folder / "workbook.format-0.toml").read_text() == old


BANDS = {
    "a table": '[settings]\ngap = 3  # mine\n[settings.check]  # bands\nagree = "1 mm"\n'
    '[[settings.check.border]]\npiece = "a"\nedge = "check"\n',
    "dotted": 'settings.check.agree = "1 mm"  # check by hand\nsettings.gap = 3\n',
    "inline": 'settings = { paper = "check", check = { agree = "1 mm" } }\n',
    "dotted in its table": '[settings]\ncheck.agree = "1 mm"\npaper = "check = 1"\n',
    "inline in its table": '[settings]\ncheck = { agree = "1 mm" }  # check = 3\n',
}
"""The bands of the walk, in every way that format 1 allowed."""


@pytest.mark.parametrize("way", BANDS)
def test_format_1_called_the_walk_a_check(tmp_path, way):
    """It opens, is shown the same; the first save writes today's format and keeps the old text."""
    folder = tmp_path / "w"
    folder.mkdir()
    old = f'title = "x"\nformat = 1 # yes\nunit = "cm"\n{BANDS[way]}'
    old += '[[cloth]]\nname = "check"\nwidth = 9\n'
    (folder / "workbook.toml").write_text(old)
    book = load(folder)
    assert book.settings.checks.agree == 1.0
    assert book.settings.paper == {"inline": "check", "dotted in its table": "check = 1"}.get(
        way, "A4"
    )
    assert (book.cloths[0].name, book.title) == ("check", "x")
    assert [b.edge for b in book.settings.checks.borders] == ["check"] * (way == "a table")
    save(replace(book, title="y"), folder)
    text = (folder / "workbook.toml").read_text()
    assert load(folder) == replace(book, title="y")
    assert read_table(text, "w").format == 4
    assert "format = 4" in text
    assert comments(text) == comments(old)
    assert (folder / "workbook.format-1.toml").read_text() == old


ONE_WAY = {
    "a table": "[[cloth]]\nname = 'one_way = true'\nwidth = 9\n"
    "[cloth.print]\none_way = true  # up\n",
    "dotted": "[[cloth]]\nname = 'one_way = true'\nwidth = 9\nprint.one_way = true  # up\n",
    "inline": "[[cloth]]\nname = 'one_way = true'\nwidth = 9\nprint = { one_way = true }  # up\n",
}
"""A print with a top, in every way that format 2 allowed."""


@pytest.mark.parametrize("way", ONE_WAY)
@pytest.mark.parametrize("top", [True, False])
def test_format_2_said_only_that_a_print_has_a_top(tmp_path, way, top):
    """It pointed away from the cut end; now that is said, and the comment stays."""
    folder = tmp_path / "w"
    folder.mkdir()
    lines = ONE_WAY[way] if top else "= false".join(ONE_WAY[way].rsplit("= true", 1))
    old = f'title = "x"\nformat = 2\nunit = "cm"\n{lines}'
    (folder / "workbook.toml").write_text(old)
    book = load(folder)
    assert book.cloths[0].print.up == ("end" if top else "either")
    assert book.cloths[0].name == "one_way = true"
    save(replace(book, title="y"), folder)
    text = (folder / "workbook.toml").read_text()
    assert load(folder) == replace(book, title="y")
    assert comments(text) == comments(old)


def test_format_3_knew_no_kinds_of_joining(tmp_path):
    """Its seams are eased and nothing goes with anything; a format 4 says so itself."""
    folder = tmp_path / "w"
    create(folder, checked_waistcoat())
    file = folder / "workbook.toml"
    old = file.read_text().replace("format = 4", "format = 3")
    file.write_text(old)
    book = load(folder)
    assert book == checked_waistcoat()
    assert {s.join for s in book.bought.seams} == {"eased"}
    save(replace(book, title="y"), folder)
    assert (folder / "workbook.format-3.toml").read_text() == old


def test_format_1_knew_no_walk_and_format_2_no_check():
    """The other name is an entry that is not known, with the nearest that is."""
    with pytest.raises(BadInput, match="settings, check: this entry is not known"):
        read_table('format = 4\ntitle = "x"\nunit = "cm"\n[settings.check]\nagree = 1\n', "w")
